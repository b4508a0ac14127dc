import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { Problem, type ColourMap, type Core, type Opened } from '../../../core/client.ts';
import { frames } from '../../../frames.ts';
import { base } from '../../../parts/base-styles.ts';

/** The highest frequency that is shown, kHz: the highest calls known end below it. */
const HIGHEST_KHZ = 220;
/** Height of the picture in CSS pixels. */
const HEIGHT_PX = 190;

/** How a file is had whose picture is shown. */
export interface Pictured {
  readonly path: string;
  readonly file: () => Promise<File | null>;
}

/** A small spectrogram of a whole recording, to see at a glance what is in it. */
export class FilePicture extends LitElement {
  static override properties = {
    core: { attribute: false },
    pictured: { attribute: false },
    map: { attribute: false },
    words: { state: true },
    isDrawn: { state: true },
  };

  declare core: Core;
  /** null: none. */
  declare pictured: Pictured | null;
  declare map: ColourMap;
  /** What is said in place of a picture, or below it. */
  declare words: string;
  declare isDrawn: boolean;

  #abort = new AbortController();
  #range = '';

  constructor() {
    super();
    this.pictured = null;
    this.words = '';
    this.isDrawn = false;
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#abort.abort(new DOMException('Gone', 'AbortError'));
  }

  override updated(changed: PropertyValues<this>): void {
    const before = changed.get('pictured') as Pictured | null | undefined;
    const isOther = changed.has('pictured') && before?.path !== this.pictured?.path;
    if (isOther || changed.has('map')) {
      this.#abort.abort(new DOMException('Replaced', 'AbortError'));
      this.#abort = new AbortController();
      this.isDrawn = false;
      this.words = '';
      if (this.pictured) {
        void frames.during(this.#show(this.#abort.signal, this.pictured));
      }
    }
  }

  override render(): TemplateResult {
    return html`
      <div class="frame">
        <canvas
          role="img"
          aria-label=${this.pictured ? `Spectrogram of ${this.pictured.path}` : 'No picture'}
          class=${this.isDrawn ? '' : 'empty'}
        ></canvas>
        ${this.isDrawn
          ? html`<span class="top">${this.#range}</span>`
          : html`<span class="words" role="status">${this.words || (this.pictured ? 'Drawing …' : '')}</span>`}
      </div>
      ${this.isDrawn && this.words !== '' ? html`<p class="soft small">${this.words}</p>` : nothing}
    `;
  }

  async #show(signal: AbortSignal, { file }: Pictured): Promise<void> {
    let opened: Opened | null = null;
    try {
      const own = await file();
      signal.throwIfAborted();
      if (own === null) {
        this.words = 'This file is not in the folder that is open.';
        return;
      }
      opened = await this.core.open(signal, own, { expansion: null, soon: true });
      await this.#draw(signal, opened);
    } catch (error) {
      if (!signal.aborted) {
        this.words = error instanceof Problem ? `${error.message} ${error.advice}` : `It could not be drawn: ${String(error)}`;
      }
    } finally {
      opened?.close();
    }
  }

  async #draw(signal: AbortSignal, opened: Opened): Promise<void> {
    const canvas = this.renderRoot.querySelector('canvas');
    if (!canvas) {
      return;
    }
    const { duration_s, rate_hz } = opened.facts;
    const high_khz = Math.min(HIGHEST_KHZ, rate_hz / 2000);
    const scale = Math.min(2, devicePixelRatio);
    const size = {
      width_px: Math.max(64, Math.round(canvas.clientWidth * scale)),
      height_px: Math.round(HEIGHT_PX * scale),
    };
    const view = { channel: 0, start_s: 0, end_s: duration_s, low_khz: 0, high_khz, ...size };
    const look = { map: this.map, floor_db: undefined, range_db: undefined };
    const { pixels, width_px, height_px } = await opened.drawBeside(signal, view, look);
    signal.throwIfAborted();
    canvas.width = width_px;
    canvas.height = height_px;
    canvas.getContext('2d')?.putImageData(new ImageData(pixels, width_px, height_px), 0, 0);
    this.#range = `${duration_s.toFixed(1)} s · 0 to ${Math.round(high_khz)} kHz`;
    this.isDrawn = true;
  }

  static override styles = [
    base,
    css`
      :host {
        display: block;
        min-width: 0;
      }
      .frame {
        position: relative;
        height: 190px;
        border: 1.5px solid var(--line-strong);
        background: var(--picture);
      }
      canvas {
        display: block;
        width: 100%;
        height: 100%;
        mix-blend-mode: var(--picture-blend);
      }
      canvas.empty {
        visibility: hidden;
      }
      .words {
        position: absolute;
        inset: 0;
        display: grid;
        place-content: center;
        padding: 1rem;
        text-align: center;
      }
      .top {
        position: absolute;
        top: 0.2rem;
        right: 0.3rem;
        padding: 0 0.4rem;
        background: var(--sheet);
        color: var(--ink);
        font-size: 0.85rem;
      }
    `,
  ];
}

customElements.define('file-picture', FilePicture);

declare global {
  interface HTMLElementTagNameMap {
    'file-picture': FilePicture;
  }
}
