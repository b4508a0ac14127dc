import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { unsafeHTML } from 'lit/directives/unsafe-html.js';
import type { NightFacts, NightPlots } from '../../../core/types.ts';
import { frames } from '../../../frames.ts';
import { base } from '../../../parts/base-styles.ts';
import { OwnWidth } from '../../../parts/own-width.ts';
import { watch } from '../../../store.ts';
import { NarrowEvent } from '../files/file-filter.ts';
import type { Narrowing, Stretch } from '../files/narrowing.ts';
import { chosenNights, type NightSession } from '../night-session.ts';
import { clockOf, counted, lasting, nightWords, zoneWords } from '../words.ts';
import './plot-brush.ts';
import { StretchEvent } from './plot-brush.ts';
import { plotStyles } from './plot-styles.ts';
import './stretch-fields.ts';

/** Narrowest plot that can be read, CSS pixels; a narrower page scrolls it sideways. */
const LEAST_WIDTH_PX = 330;
/** What the lines at both sides of a plot take of the width, CSS pixels. */
const SIDES_PX = 3;

/** The nights at a glance: activity and frequencies over the time of night, and what they come to. */
export class GlanceLeaf extends LitElement {
  static override properties = {
    session: { attribute: false },
    narrowing: { attribute: false },
    plots: { state: true },
  };

  declare session: NightSession;
  declare narrowing: Narrowing;
  declare plots: NightPlots | null;

  readonly #width = new OwnWidth(this);
  #asked = '';
  #turn = 0;

  constructor() {
    super();
    this.plots = null;
    this.addEventListener(StretchEvent.type, (event) => this.#mark((event as StretchEvent).stretch));
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('session')) {
      watch(this, this.session.store);
    }
    const state = this.session.store.value;
    const width = Math.max(LEAST_WIDTH_PX, Math.floor(this.#width.value) - SIDES_PX);
    const keys = chosenNights(state).map(({ key }) => key);
    const asked = `${state.edition} ${width} ${JSON.stringify(keys)}`;
    if (asked !== this.#asked && this.#width.value > 0) {
      this.#asked = asked;
      void frames.during(this.#ask(width));
    }
  }

  override render(): TemplateResult {
    const state = this.session.store.value;
    const nights = chosenNights(state);
    return html`
      ${nights.map((night) => html`<p class="total">${this.#totalWords(night, nights.length > 1)}</p>`)}
      <div class="tools">
        <label>Activity by
          <select @change=${(event: Event) =>
            this.session.change({ bin_min: Number((event.target as HTMLSelectElement).value) })}>
            ${[5, 10, 60].map(
              (minutes) => html`<option value=${minutes} ?selected=${state.settings.bin_min === minutes}>${minutes} minutes</option>`,
            )}
          </select>
        </label>
      </div>
      ${this.plots === null ? html`<p class="soft" role="status">Drawing …</p>` : this.#drawn(this.plots)}
    `;
  }

  #drawn({ nights, side_by_side }: NightPlots): TemplateResult {
    const { settings } = this.session.store.value;
    const { stretch } = this.narrowing;
    const first = nights[0]?.plots[0]?.geometry;
    return html`
      ${first
        ? html`<stretch-fields
            .stretch=${stretch}
            .from=${first.from}
            .to=${first.to}
            .offsetMin=${settings.utc_offset_min}
          ></stretch-fields>`
        : nothing}
      ${side_by_side === undefined ? nothing : html`<div class="beside" tabindex=${this.#scrolls()}>${unsafeHTML(side_by_side)}</div>`}
      ${nights.map(
        ({ key, plots }) => html`<section aria-label=${`${nightWords(key.evening)}, ${key.recorder}`}>
          ${nights.length > 1 ? html`<h2>${nightWords(key.evening)} <span class="soft">${key.recorder}</span></h2>` : nothing}
          ${plots.map((plot) => html`<div class="scroller" tabindex=${this.#scrolls()}><plot-brush .plot=${plot} .stretch=${stretch}></plot-brush></div>`)}
        </section>`,
      )}
      <p class="soft small">
        Clock times are ${zoneWords(settings.utc_offset_min)}. Sunset and sunrise vary by minutes with the weather.
        A pass is a measure of activity and not a number of animals.
      </p>
    `;
  }

  #totalWords({ key, totals, frame }: NightFacts, isNamed: boolean): string {
    const { utc_offset_min } = this.session.store.value.settings;
    const effort = `${lasting(totals.watch_h * 3600)} on watch`;
    const said = [
      isNamed ? `${nightWords(key.evening)}, ${key.recorder}: ${effort}` : effort,
      `${counted(totals.recordings, 'recording')}, ${counted(totals.holding_pulses, 'holds bat pulses', 'hold bat pulses')}`,
      `${counted(totals.passes, 'pass', 'passes')}, ${counted(totals.buzzes, 'feeding buzz', 'feeding buzzes')}`,
      totals.passes_per_h === undefined ? '' : `${totals.passes_per_h.toFixed(1)} passes an hour`,
      totals.temperature === undefined
        ? ''
        : `${totals.temperature.low_c.toFixed(0)} to ${totals.temperature.high_c.toFixed(0)} °C${totals.temperature.is_inside ? ' inside the recorder' : ''}`,
      frame.twilight?.sunset === undefined ? 'sunset not known: give the position in the settings' : `sunset ${clockOf(frame.twilight.sunset, utc_offset_min)}`,
      frame.twilight?.sunrise === undefined ? '' : `sunrise ${clockOf(frame.twilight.sunrise, utc_offset_min)}`,
    ];
    return said.filter((text) => text !== '').join(' · ');
  }

  /** What must be scrolled sideways must be reached by keys. */
  #scrolls(): '0' | typeof nothing {
    return this.#width.value - SIDES_PX < LEAST_WIDTH_PX ? '0' : nothing;
  }

  #mark(stretch: Stretch | null): void {
    this.dispatchEvent(new NarrowEvent({ stretch }));
  }

  async #ask(width: number): Promise<void> {
    this.#turn += 1;
    const turn = this.#turn;
    const keys = chosenNights(this.session.store.value).map(({ key }) => key);
    const plots = await (await this.session.book()).plots(keys, width);
    if (turn === this.#turn) {
      this.plots = plots;
    }
  }

  static override styles = [
    base,
    plotStyles,
    css`
      :host {
        display: grid;
        gap: 0.9rem;
        min-width: 0;
      }
      .total {
        max-width: none;
        font-variant-numeric: tabular-nums;
      }
      .scroller,
      .beside {
        overflow-x: auto;
        background: var(--sheet);
        border: 1.5px solid var(--line);
        border-radius: 3px;
        margin-top: 0.6rem;
      }
      section {
        min-width: 0;
      }
    `,
  ];
}

customElements.define('glance-leaf', GlanceLeaf);

declare global {
  interface HTMLElementTagNameMap {
    'glance-leaf': GlanceLeaf;
  }
}

