import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import type { Alignment, Comparison, Core } from '../../../core/client.ts';
import { frames } from '../../../frames.ts';
import { base } from '../../../parts/base-styles.ts';
import { download, stem } from '../../../parts/download.ts';
import { PickEvent } from '../picture/events.ts';
import { isDoubted, type Sound } from '../sounds.ts';
import { panelStyles } from './panel-styles.ts';
import { LineEvent } from './overlay-plot.ts';
import './overlay-plot.ts';
import { spreadTable } from './spread-table.ts';
import { outliers, type Outlier } from './standing-out.ts';

const MOMENTS: Readonly<Record<Alignment, string>> = {
  peak: 'moment of most energy',
  start: 'start',
  characteristic: 'characteristic frequency',
};

/** So many that stand out are told at once, the others when asked for. */
const TOLD_AT_ONCE = 5;
/** Of fewer, the core says of none that it stands out. */
const FEWEST = 5;

/** What was compared, and what came of it. */
interface Told {
  readonly sounds: readonly Sound[];
  readonly alignment: Alignment;
  readonly comparison: Comparison;
}

/**
 * The picked pulses laid over one another, which of them stand out, and how their numbers spread.
 *
 * @fires pick - a pulse was chosen
 */
export class ComparePanel extends LitElement {
  static override properties = {
    core: { attribute: false },
    file: { attribute: false },
    sounds: { attribute: false },
    picked: { attribute: false },
    selected: { attribute: false },
    alignment: { state: true },
    told: { state: true },
    problem: { state: true },
  };

  declare core: Core;
  /** The recording's name. */
  declare file: string;
  /** All sounds that are shown. */
  declare sounds: readonly Sound[];
  /** Those that are picked. */
  declare picked: readonly Sound[];
  /** Index into `sounds`. */
  declare selected: number | null;
  declare alignment: Alignment;
  declare told: Told | null;
  declare problem: string | null;

  #abort = new AbortController();

  constructor() {
    super();
    this.alignment = 'peak';
    this.told = null;
    this.problem = null;
    this.addEventListener(LineEvent.type, (event) => this.#choose((event as LineEvent).sound));
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#abort.abort(new DOMException('Closed', 'AbortError'));
  }

  override updated(changed: PropertyValues<this>): void {
    if (changed.has('picked') || changed.has('alignment')) {
      void frames.during(this.#compare(this.picked, this.alignment));
    }
  }

  override render(): TemplateResult {
    const { told } = this;
    const isShown = told !== null && told.sounds.length > 0 && this.picked.length > 0;
    return html`<section aria-labelledby="compare">
      <h3 id="compare">Compare</h3>
      ${this.problem === null ? nothing : html`<p role="alert">${this.problem}</p>`}
      ${isShown ? this.#told(told) : this.#hint()}
    </section>`;
  }

  #hint(): TemplateResult {
    return html`<p class="hint">
      Pick pulses to lay their contours over one another: tick the box in a cell, or press V in a cell or in the picture.
    </p>`;
  }

  #told({ sounds, alignment, comparison }: Told): TemplateResult {
    const striking = outliers(comparison, sounds);
    const selected = this.selected === null ? null : (this.sounds[this.selected] ?? null);
    return html`
      <div class="tools">
        <label>
          Line up at
          <select @change=${this.#aligned}>
            ${Object.entries(MOMENTS).map(
              ([moment, words]) => html`<option value=${moment} .selected=${moment === this.alignment}>${words}</option>`,
            )}
          </select>
        </label>
      </div>
      <overlay-plot
        .sounds=${sounds}
        .comparison=${comparison}
        .striking=${new Set(striking.map(({ sound }) => sound))}
        .selected=${selected}
        .moment=${MOMENTS[alignment]}
      ></overlay-plot>
      <p class="key small">
        <span><i class="sign median"></i> median</span> <span><i class="sign band"></i> middle half</span>
        <span><i class="sign one"></i> one pulse</span> <span><i class="sign striking"></i> stands out</span>
      </p>
      ${this.#standingOut(striking, sounds.length)}
      ${spreadTable(comparison.spreads)}
      <button @click=${() => void this.#save(comparison)}>Save these numbers (CSV)</button>
    `;
  }

  #standingOut(striking: readonly Outlier[], count: number): TemplateResult {
    if (striking.length === 0) {
      const words = count < FEWEST ? 'Pick five or more, and what stands out among them is told here.' : 'None stands out.';
      return html`<p class="small" role="status">${words}</p>`;
    }
    return html`<h4>${striking.length === 1 ? 'One stands out' : `${striking.length} stand out`}</h4>
      ${this.#list(striking.slice(0, TOLD_AT_ONCE))}
      ${striking.length > TOLD_AT_ONCE
        ? html`<details>
            <summary>${striking.length - TOLD_AT_ONCE} more</summary>
            ${this.#list(striking.slice(TOLD_AT_ONCE))}
          </details>`
        : nothing}
      <p class="small soft">
        More than 3.5 robust standard deviations from the median: 1.4826 times the median absolute deviation (Iglewicz and
        Hoaglin 1993), and farther than the measurement may be off.
      </p>`;
  }

  #list(striking: readonly Outlier[]): TemplateResult {
    return html`<ul>
      ${striking.map(
        ({ sound, reasons }) => html`<li>
          <button class="plain" @click=${() => this.#choose(sound)}>
            ${isDoubted(sound.pulse) ? 'Sound' : 'Pulse'} ${sound.name}
          </button>
          <span>${reasons.join('; ')}</span>
        </li>`,
      )}
    </ul>`;
  }

  #choose(sound: Sound): void {
    const index = this.sounds.findIndex(({ pulse }) => pulse.start_s === sound.pulse.start_s);
    if (index >= 0) {
      this.dispatchEvent(new PickEvent(index));
    }
  }

  readonly #aligned = (event: Event): void => {
    this.alignment = (event.currentTarget as HTMLSelectElement).value as Alignment;
  };

  async #compare(sounds: readonly Sound[], alignment: Alignment): Promise<void> {
    this.#abort.abort(new DOMException('Replaced', 'AbortError'));
    this.#abort = new AbortController();
    const { signal } = this.#abort;
    if (sounds.length === 0) {
      this.told = null;
      return;
    }
    try {
      const comparison = await this.core.compare(signal, sounds.map(({ pulse }) => pulse), alignment);
      signal.throwIfAborted();
      this.told = { sounds, alignment, comparison };
      this.problem = null;
    } catch (error) {
      if (!signal.aborted) {
        this.problem = `The pulses could not be compared: ${error instanceof Error ? error.message : String(error)}`;
      }
    }
  }

  async #save(comparison: Comparison): Promise<void> {
    try {
      const text = await frames.during(this.core.spreadCsv(this.#abort.signal, comparison));
      download(`${stem(this.file)}-picked.csv`, 'text/csv', text);
    } catch (error) {
      this.problem = `The numbers could not be saved: ${error instanceof Error ? error.message : String(error)}`;
    }
  }

  static override styles = [base, panelStyles];
}

customElements.define('compare-panel', ComparePanel);

declare global {
  interface HTMLElementTagNameMap {
    'compare-panel': ComparePanel;
  }
}
