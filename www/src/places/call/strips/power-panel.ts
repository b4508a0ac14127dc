import { html, LitElement, nothing, svg, type PropertyValues, type TemplateResult } from 'lit';
import { Axis, type Scale } from '../../../axis.ts';
import type { DrawnSpectrum, Opened } from '../../../core/client.ts';
import { base } from '../../../parts/base-styles.ts';
import { OwnWidth } from '../../../parts/own-width.ts';
import { cssPx, kilohertz, type CssPx, type Kilohertz } from '../../../units.ts';
import { frequencyRuler } from '../picture/ticks.ts';
import { fixed } from '../plus-minus.ts';
import type { Recording } from '../recordings.ts';
import { Latest } from './latest.ts';
import { powerStyles } from './power-styles.ts';

/** A power spectrum that somebody wants to see. */
interface Wish {
  readonly opened: Opened;
  readonly channel: number;
  readonly start_s: number;
  readonly end_s: number;
  readonly low_khz: number;
  readonly high_khz: number;
  readonly in_full: boolean;
}

/** Levels below the largest that are shown, decibels. */
const SHOWN_DB = 60;
const TICK_DB = 20;
/** What lies beyond a pulse's own band still belongs to its peak, as in its measurement, kHz. */
const BEYOND_KHZ = 1.5;
const WIDTH = 190;
const LYING_HEIGHT = 190;
const BELOW = 46;
const METHODS = { whole: 'one transform', averaged: 'mean of many' } as const;

/**
 * The power spectrum of what is marked or chosen: beside the picture on the picture's own frequency axis, or lying
 * below it with an axis of its own.
 */
export class PowerPanel extends LitElement {
  static override properties = {
    recording: { attribute: false },
    name: { attribute: false },
    height: { attribute: false },
    lying: { attribute: false },
    scale: { attribute: false },
  };

  declare recording: Recording;
  /** What the table calls the chosen pulse. */
  declare name: string | null;
  /** How frequency runs along the picture. */
  declare scale: Scale;
  /** The picture's height. */
  declare height: CssPx;
  /** Whether it lies below the picture. */
  declare lying: boolean;

  readonly #latest = new Latest<Wish, DrawnSpectrum>(
    (signal, { opened, ...view }) => opened.spectrum(signal, view),
    (a, b) => (Object.keys(a) as (keyof Wish)[]).every((key) => a[key] === b[key]),
    () => this.requestUpdate(),
  );
  readonly #width = new OwnWidth(this);

  constructor() {
    super();
    this.name = null;
    this.height = cssPx(0);
    this.lying = false;
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#latest.clear();
  }

  override willUpdate(changed: PropertyValues<this>): void {
    const before = changed.get('recording');
    if (before && before.opened !== this.recording.opened) {
      this.#latest.clear();
    }
    this.#latest.want(this.#wish());
  }

  /** The band where one is marked, else the pulse. */
  #wish(): Wish | null {
    const { opened, channel, band, selected } = this.recording;
    if (!opened) {
      return null;
    }
    if (band) {
      const { time, frequency } = band;
      return {
        opened,
        channel,
        start_s: time.from,
        end_s: time.to,
        low_khz: frequency.from,
        high_khz: frequency.to,
        in_full: false,
      };
    }
    return selected
      ? {
          opened,
          channel,
          start_s: selected.start_s,
          end_s: selected.end_s,
          low_khz: selected.low_khz - BEYOND_KHZ,
          high_khz: selected.high_khz + BEYOND_KHZ,
          in_full: true,
        }
      : null;
  }

  override render(): TemplateResult {
    const { band, selected } = this.recording;
    const { problem } = this.#latest;
    const outcome = band || selected ? this.#latest.outcome : null;
    return html`<figure>
      ${problem === null ? nothing : html`<p>The power spectrum could not be drawn: ${problem}</p>`}
      ${outcome && problem === null ? this.#plot(outcome.result) : nothing}
      <figcaption aria-live="polite">${this.#caption(outcome?.result ?? null)}</figcaption>
    </figure>`;
  }

  #caption(drawn: DrawnSpectrum | null): TemplateResult {
    const { band, selected } = this.recording;
    const of = band ? 'the band' : selected ? `pulse ${this.name ?? ''}` : null;
    if (of === null) {
      return html`<strong>Power spectrum</strong><br />Choose a pulse or mark a band.`;
    }
    return html`<strong>Power spectrum of ${of}</strong>${drawn
      ? html`<br />${drawn.peak_khz === undefined
            ? 'No sound'
            : html`Peak <b class="peak">${fixed(drawn.peak_khz, 2)} kHz</b>`}
          <span class="soft">· ${METHODS[drawn.method]}</span>`
      : nothing}`;
  }

  #plot(drawn: DrawnSpectrum): TemplateResult {
    const { extent } = this.recording;
    const along = this.lying ? cssPx(this.#width.value - 62) : this.height;
    if (!extent || along < 1 || drawn.levels_db.length === 0) {
      return html``;
    }
    const frequency = this.lying
      ? new Axis(extent.frequency, cssPx(0), along, this.scale)
      : new Axis(extent.frequency, along, cssPx(0), this.scale);
    const across = this.lying ? LYING_HEIGHT : WIDTH;
    const top = Math.ceil(drawn.levels_db.reduce((most, level) => Math.max(most, level), -Infinity) / 10) * 10;
    const level = (db: number): number => {
      const share = Math.min(1, Math.max(0, (db - top + SHOWN_DB) / SHOWN_DB));
      return this.lying ? across * (1 - share) : across * share;
    };
    const place = (x: number, db: number): string => {
      const pair = this.lying ? [x, level(db)] : [level(db), x];
      return pair.map((value) => value.toFixed(1)).join(',');
    };
    const curve = outline(drawn, frequency, along).map(([x, db]) => place(x, db));
    return this.lying ? this.#lyingPlot(drawn, frequency, along, curve, top, level) : this.#standingPlot(drawn, frequency, along, curve, top, level);
  }

  #standingPlot(
    drawn: DrawnSpectrum,
    frequency: Axis<Kilohertz>,
    height: number,
    curve: readonly string[],
    top: number,
    level: (db: number) => number,
  ): TemplateResult {
    const { peak_khz } = drawn;
    return html`<svg class="plot" role="img" aria-label=${this.#description(drawn)} width=${WIDTH + 14} height=${height + BELOW}>
      <rect class="sheet" width=${WIDTH} height=${height} />
      ${ticksDb(top).map((db) => {
        const x = level(db);
        return svg`<line class="grid" x1=${x} x2=${x} y1="0" y2=${height} />
          <line x1=${x} x2=${x} y1=${height} y2=${height + 7} />
          <text x=${x} y=${height + 24} text-anchor="middle">${fixed(db, 0)}</text>`;
      })}
      <text class="unit" x=${WIDTH} y=${height + 44} text-anchor="end">dB re full scale</text>
      <polyline class="curve" points=${curve.join(' ')} />
      ${peak_khz === undefined
        ? nothing
        : svg`<line class="mark" x1="0" x2=${WIDTH} y1=${frequency.pixel(kilohertz(peak_khz))} y2=${frequency.pixel(kilohertz(peak_khz))} />`}
      <rect class="frame" width=${WIDTH} height=${height} />
    </svg>`;
  }

  #lyingPlot(
    drawn: DrawnSpectrum,
    frequency: Axis<Kilohertz>,
    width: number,
    curve: readonly string[],
    top: number,
    level: (db: number) => number,
  ): TemplateResult {
    const { peak_khz } = drawn;
    const ruler = frequencyRuler(frequency, cssPx(width * 0.7));
    return html`<svg class="plot" role="img" aria-label=${this.#description(drawn)} width=${width + 62} height=${LYING_HEIGHT + BELOW}>
      <g transform="translate(56 2)">
        <rect class="sheet" width=${width} height=${LYING_HEIGHT} />
        ${ticksDb(top).map((db) => {
          const y = level(db);
          return svg`<line class="grid" x1="0" x2=${width} y1=${y} y2=${y} />
            <text x="-8" y=${y} dy="0.35em" text-anchor="end">${fixed(db, 0)}</text>`;
        })}
        ${ruler.ticks.map(
          (tick) => svg`<line x1=${tick.at} x2=${tick.at} y1=${LYING_HEIGHT} y2=${LYING_HEIGHT + 6} />
            <text x=${tick.at} y=${LYING_HEIGHT + 22} text-anchor="middle">${tick.label}</text>`,
        )}
        <text class="unit" x=${width} y=${LYING_HEIGHT + 40} text-anchor="end">frequency, kHz</text>
        <text class="unit" x="0" y=${LYING_HEIGHT + 40} text-anchor="middle">dB</text>
        <polyline class="curve" points=${curve.join(' ')} />
        ${peak_khz === undefined
          ? nothing
          : svg`<line class="mark" y1="0" y2=${LYING_HEIGHT} x1=${frequency.pixel(kilohertz(peak_khz))} x2=${frequency.pixel(kilohertz(peak_khz))} />`}
        <rect class="frame" width=${width} height=${LYING_HEIGHT} />
      </g>
    </svg>`;
  }

  #description({ peak_khz }: DrawnSpectrum): string {
    return peak_khz === undefined
      ? 'Power against frequency: no sound'
      : `Power against frequency, with its maximum at ${fixed(peak_khz, 2)} kHz`;
  }

  static override styles = [base, powerStyles];
}

function ticksDb(top: number): number[] {
  return [0, 1, 2, 3].map((step) => top - step * TICK_DB);
}

/** The curve with at most the largest and the smallest level of each pixel. */
function outline(drawn: DrawnSpectrum, frequency: Axis<Kilohertz>, along: number): [number, number][] {
  const { levels_db: levels, bin_khz } = drawn;
  const points: [number, number][] = [];
  const first = Math.max(0, Math.floor(frequency.span.from / bin_khz));
  const last = Math.min(levels.length - 1, Math.ceil(frequency.span.to / bin_khz));
  const bins = last - first + 1;
  const stride = Math.max(1, Math.floor(bins / (2 * along)));
  for (let from = first; from <= last; from += stride) {
    let most = from;
    for (let bin = from; bin < Math.min(from + stride, last + 1); bin += 1) {
      if ((levels[bin] ?? -Infinity) > (levels[most] ?? -Infinity)) {
        most = bin;
      }
    }
    points.push([frequency.pixel(kilohertz(most * bin_khz)), levels[most] ?? 0]);
  }
  return points;
}

customElements.define('power-panel', PowerPanel);

declare global {
  interface HTMLElementTagNameMap {
    'power-panel': PowerPanel;
  }
}
