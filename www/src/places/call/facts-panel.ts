import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import type { Facts, Place, Stamp } from '../../core/client.ts';
import { base } from '../../parts/base-styles.ts';
import { fixed } from './plus-minus.ts';
import './expansion-choice.ts';
import { STAMP_ORIGINS } from './words.ts';

type Row = readonly [label: string, value: string | null];

const MINUTES_PER_HOUR = 60;

/**
 * What the recording says of itself. Everything in it came out of a file and
 * is shown as text. The position is shown only when asked for: where a roost
 * is, not everybody who looks at a screen needs to know.
 */
export class FactsPanel extends LitElement {
  static override properties = {
    facts: { attribute: false },
    placeShown: { state: true },
  };

  declare facts: Facts;
  declare placeShown: boolean;

  constructor() {
    super();
    this.placeShown = false;
  }

  override willUpdate(changed: Map<PropertyKey, unknown>): void {
    if (changed.has('facts')) {
      this.placeShown = false;
    }
  }

  override render(): TemplateResult {
    const { facts } = this;
    return html`
      <h2>What the recording says of itself</h2>
      <expansion-choice .facts=${facts}></expansion-choice>
      <dl>
        ${rowsOf(facts).map(([label, value]) => row(label, value))}
        ${this.#place()}
        ${facts.note ? html`<dt>Note</dt><dd class="note">${facts.note}</dd>` : nothing}
        ${this.#identifications()}
      </dl>
      ${this.#other()}
    `;
  }

  #place(): TemplateResult | typeof nothing {
    const { place } = this.facts;
    if (!place) {
      return nothing;
    }
    return html`<dt>Position</dt>
      <dd>
        ${this.placeShown
          ? html`${placeWords(place)}
              <button class="plain" @click=${() => this.#showPlace(false)}>Hide position</button>`
          : html`<button @click=${() => this.#showPlace(true)}>Show position</button>
              <span class="small soft">Hidden at first: roosts are easily disturbed.</span>`}
      </dd>`;
  }

  #showPlace(shown: boolean): void {
    this.placeShown = shown;
  }

  #identifications(): TemplateResult | typeof nothing {
    const { identifications } = this.facts;
    return identifications.length === 0
      ? nothing
      : html`<dt>Identified before as</dt>
          <dd>
            ${identifications.map(
              (one) => html`<div>${one.name}, by ${one.by_person ? 'a person' : 'a program, unchecked'}</div>`,
            )}
          </dd>`;
  }

  #other(): TemplateResult | typeof nothing {
    const { other } = this.facts;
    return other.length === 0
      ? nothing
      : html`<details>
          <summary>Everything else in the file (${other.length})</summary>
          <dl>${other.map((field) => row(field.key, field.value))}</dl>
        </details>`;
  }

  static override styles = [
    base,
    css`
      :host {
        display: block;
      }
      dl {
        display: grid;
        grid-template-columns: minmax(7rem, auto) minmax(0, 1fr);
        gap: 0.25rem 1.2rem;
        margin: 0.8rem 0 0;
      }
      dt {
        color: var(--soft);
        overflow-wrap: anywhere;
      }
      dd {
        margin: 0;
        overflow-wrap: anywhere;
        font-variant-numeric: tabular-nums;
      }
      .note {
        white-space: pre-line;
        font-family: var(--hand);
        font-style: italic;
      }
      @media (min-width: 80rem) {
        dl {
          grid-template-columns: auto minmax(0, 1fr) auto minmax(0, 1fr);
          column-gap: 1.6rem;
          max-width: 90rem;
        }
      }
      details {
        margin-top: 0.8rem;
      }
      summary {
        cursor: pointer;
        min-height: 2rem;
      }
      .small {
        display: inline-block;
      }
    `,
  ];
}

function row(label: string, value: string | null): TemplateResult | typeof nothing {
  return value === null ? nothing : html`<dt>${label}</dt><dd>${value}</dd>`;
}

function rowsOf(facts: Facts): readonly Row[] {
  return [
    ['Began', facts.start ? stampWords(facts.start) : null],
    ['Lasts', `${fixed(facts.duration_s, 3)} s`],
    ['Sampling rate', rateWords(facts)],
    ['Stored as', `${facts.container}, ${facts.encoding}, ${channelWords(facts.channels)}`],
    ['Recorder', joined([facts.make, facts.model])],
    ['Serial number', facts.serial ?? null],
    ['Firmware', facts.firmware ?? null],
    ['Temperature outside', measured(facts.temperature_c, 1, '°C')],
    ['Temperature inside', measured(facts.temperature_inside_c, 1, '°C')],
    ['Humidity', measured(facts.humidity_percent, 0, '%')],
    ['High-pass filter', measured(facts.high_pass_khz, 1, 'kHz')],
    ['Low-pass filter', measured(facts.low_pass_khz, 1, 'kHz')],
    ['Tags', facts.tags.join(', ') || null],
  ];
}

function rateWords(facts: Facts): string {
  const real = `${fixed(facts.rate_hz / 1000, 1)} kHz`;
  return facts.expansion.factor === 1
    ? real
    : `${real} at the microphone, stored as ${fixed(facts.stored_rate_hz / 1000, 1)} kHz`;
}

function channelWords(channels: number): string {
  return channels === 1 ? 'one channel' : `${channels} channels`;
}

function joined(parts: readonly (string | null | undefined)[]): string | null {
  return parts.filter(Boolean).join(' ') || null;
}

function measured(value: number | null | undefined, decimals: number, unit: string): string | null {
  return value === null || value === undefined ? null : `${fixed(value, decimals)} ${unit}`;
}

/** `2026-06-14, 22:41:05, UTC+1:00 (from the GUANO metadata)`. */
function stampWords(stamp: Stamp): string {
  return `${stamp.local.replace('T', ', ')}, ${zoneWords(stamp.utc_offset_min)} (${STAMP_ORIGINS[stamp.origin]})`;
}

function zoneWords(offset: number | null | undefined): string {
  if (offset === null || offset === undefined) {
    return 'time zone unknown';
  }
  const minutes = Math.abs(offset);
  const hours = Math.floor(minutes / MINUTES_PER_HOUR);
  const rest = String(minutes % MINUTES_PER_HOUR).padStart(2, '0');
  return `UTC${offset < 0 ? '−' : '+'}${hours}:${rest}`;
}

function placeWords(place: Place): string {
  const { latitude_deg, longitude_deg, elevation_m, accuracy_m } = place;
  const north = `${fixed(Math.abs(latitude_deg), 5)}° ${latitude_deg < 0 ? 'S' : 'N'}`;
  const east = `${fixed(Math.abs(longitude_deg), 5)}° ${longitude_deg < 0 ? 'W' : 'E'}`;
  const height = measured(elevation_m, 0, 'm above the sea');
  const error = measured(accuracy_m, 0, 'm');
  return [`${north}, ${east}`, height, error === null ? null : `± ${error}`]
    .filter((part) => part !== null)
    .join(', ');
}

customElements.define('facts-panel', FactsPanel);

declare global {
  interface HTMLElementTagNameMap {
    'facts-panel': FactsPanel;
  }
}
