import { html, LitElement, nothing, type TemplateResult } from 'lit';
import type { ColourMap, SpectrumWindow } from '../../../core/client.ts';
import { base } from '../../../parts/base-styles.ts';
import { MAPS } from '../../../themes.ts';
import { fixed } from '../plus-minus.ts';
import { WINDOWS } from '../words.ts';
import { MapEvent, PictureLookEvent } from './events.ts';
import { FLOOR_DB, RANGE_DB, WINDOW_STEPS_MS, type PictureLook } from './look.ts';
import type { Caption } from './painter.ts';
import { settingsStyles } from './settings-styles.ts';

/**
 * How the picture looks: its axis, its window, its levels and colours. Each change shows at once.
 *
 * @fires picture-look - the picture shall look otherwise
 * @fires map - another colour map was chosen
 */
export class ViewSettings extends LitElement {
  static override properties = {
    look: { attribute: false },
    caption: { attribute: false },
    map: { attribute: false },
    usualMap: { attribute: false },
  };

  declare look: PictureLook;
  /** What there is to say of the picture; null: nothing yet. */
  declare caption: Caption | null;
  declare map: ColourMap;
  /** The theme's own colours. */
  declare usualMap: ColourMap;

  override render(): TemplateResult {
    return html`<section aria-label="View settings">
      ${this.#axis()} ${this.#window()} ${this.#levels()}
    </section>`;
  }

  #axis(): TemplateResult {
    const { look } = this;
    const scale = (value: PictureLook['scale'], label: string) => html`<label>
      <input
        type="radio"
        name="scale"
        .checked=${look.scale === value}
        @change=${() => this.#change({ scale: value })}
      />
      ${label}
    </label>`;
    return html`<fieldset>
      <legend>Frequency axis</legend>
      <div class="row" title="Key G">${scale('linear', 'Linear')} ${scale('logarithmic', 'Logarithmic')}</div>
      <label title="Key S">
        <input
          type="checkbox"
          .checked=${look.sharpened}
          @change=${() => this.#change({ sharpened: !look.sharpened })}
        />
        Sharpened
      </label>
      <p class="small soft">
        Sharpened: energy is moved to where it has its centre in time and frequency. Lines get thin; where sounds
        overlap, what you see may lie between them. Measurements do not change.
      </p>
    </fieldset>`;
  }

  #window(): TemplateResult {
    const { look, caption } = this;
    const length = look.windowMs ?? caption?.windowMs ?? 1;
    const nearest = (ms: number) => Math.abs(Math.log2(ms / length));
    const step = WINDOW_STEPS_MS.reduce((best, ms, n) => (nearest(ms) < nearest(WINDOW_STEPS_MS[best] ?? 1) ? n : best), 0);
    const slid = (event: Event) => {
      this.#change({ windowMs: WINDOW_STEPS_MS[Number((event.currentTarget as HTMLInputElement).value)] ?? null });
    };
    const shaped = (event: Event) => {
      this.#change({ window: (event.currentTarget as HTMLSelectElement).value as SpectrumWindow });
    };
    return html`<fieldset>
      <legend>Window</legend>
      <label class="slide">
        <span class="ends"><span>sharper in time</span> <span>sharper in frequency</span></span>
        <input
          type="range"
          aria-label="Window, from sharper in time to sharper in frequency"
          aria-valuetext="${WINDOW_STEPS_MS[step] ?? length} ms"
          min="0"
          max=${WINDOW_STEPS_MS.length - 1}
          step="1"
          .value=${String(step)}
          @input=${slid}
        />
      </label>
      <div class="row">
        <label>
          <input
            type="checkbox"
            .checked=${look.windowMs === null}
            @change=${() => this.#change({ windowMs: look.windowMs === null ? (WINDOW_STEPS_MS[step] ?? null) : null })}
          />
          Suits the zoom
        </label>
        <label>
          Shape
          <select @change=${shaped}>
            ${Object.entries(WINDOWS).map(
              ([window, name]) => html`<option value=${window} .selected=${window === look.window}>${name}</option>`,
            )}
          </select>
        </label>
      </div>
      <p class="small" role="status">${caption ? windowWords(caption) : nothing}</p>
    </fieldset>`;
  }

  #levels(): TemplateResult {
    const { look, caption } = this;
    const floor = look.floorDb ?? caption?.floorDb ?? FLOOR_DB.least;
    const range = look.rangeDb ?? (caption ? caption.topDb - caption.floorDb : RANGE_DB.most);
    const isAutomatic = look.floorDb === null && look.rangeDb === null;
    const chosen = (event: Event) => {
      const value = (event.currentTarget as HTMLSelectElement).value as ColourMap;
      this.dispatchEvent(new MapEvent(value === this.usualMap ? null : value));
    };
    return html`<fieldset>
      <legend>Levels and colours</legend>
      ${this.#level('Floor', floor, FLOOR_DB, (floorDb) => ({ floorDb, rangeDb: Math.round(range) }))}
      ${this.#level('Range', range, RANGE_DB, (rangeDb) => ({ floorDb: Math.round(floor), rangeDb }))}
      <div class="row">
        <button ?disabled=${isAutomatic} @click=${() => this.#change({ floorDb: null, rangeDb: null })}>
          Back to automatic
        </button>
        <span class="small soft">${isAutomatic ? 'Chosen from the noise of the recording.' : ''}</span>
      </div>
      <label>
        Colours
        <select @change=${chosen}>
          ${Object.entries(MAPS).map(
            ([map, label]) => html`<option value=${map} .selected=${map === this.map}>${label}</option>`,
          )}
        </select>
      </label>
    </fieldset>`;
  }

  #level(
    name: string,
    value: number,
    { least, most }: { readonly least: number; readonly most: number },
    change: (value: number) => Partial<PictureLook>,
  ): TemplateResult {
    const put = (event: Event) => {
      const wanted = (event.currentTarget as HTMLInputElement).valueAsNumber;
      if (Number.isFinite(wanted)) {
        this.#change(change(Math.min(Math.max(wanted, least), most)));
      }
    };
    const rounded = String(Math.round(value));
    return html`<div class="level">
      <span id=${name}>${name}</span>
      <input
        type="range"
        aria-labelledby=${name}
        aria-valuetext="${rounded} dB"
        min=${least}
        max=${most}
        step="1"
        .value=${rounded}
        @input=${put}
      />
      <input
        class="field"
        type="number"
        aria-label="${name}, dB"
        min=${least}
        max=${most}
        step="1"
        .value=${rounded}
        @change=${put}
      />
      <span>dB</span>
    </div>`;
  }

  #change(change: Partial<PictureLook>): void {
    this.dispatchEvent(new PictureLookEvent(change));
  }

  static override styles = [base, settingsStyles];
}

/** What the window is, and what it tells apart. */
function windowWords({ window, windowMs, resolution }: Caption): string {
  return `${WINDOWS[window]} window, ${fixed(windowMs, 2)} ms: clicks show apart from ${fixed(resolution.time_ms, 2)} ms on, tones from ${fixed(resolution.frequency_khz, 2)} kHz on.`;
}

customElements.define('view-settings', ViewSettings);

declare global {
  interface HTMLElementTagNameMap {
    'view-settings': ViewSettings;
  }
}
