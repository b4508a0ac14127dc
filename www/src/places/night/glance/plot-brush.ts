import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { unsafeHTML } from 'lit/directives/unsafe-html.js';
import type { Plot } from '../../../core/types.ts';
import { base } from '../../../parts/base-styles.ts';
import type { Stretch } from '../files/narrowing.ts';
import { plotStyles } from './plot-styles.ts';

/** A stretch of a plot was marked; null: the mark was taken away. */
export class StretchEvent extends Event {
  static readonly type = 'stretch';
  readonly stretch: Stretch | null;

  constructor(stretch: Stretch | null) {
    super(StretchEvent.type, { bubbles: true, composed: true });
    this.stretch = stretch;
  }
}

/** Less than this is a click and no mark, CSS pixels. */
const LEAST_PX = 5;

interface Drag {
  readonly x: number;
  readonly y: number;
  readonly toX: number;
  readonly toY: number;
}

/**
 * A plot over the time of the night that stretches can be marked on: by dragging, by a finger, or by typing. Where it shows
 * frequencies too, the mark has both sides.
 *
 * @fires stretch - a stretch was marked, or the mark taken away
 */
export class PlotBrush extends LitElement {
  static override properties = {
    plot: { attribute: false },
    stretch: { attribute: false },
    drag: { state: true },
  };

  declare plot: Plot;
  declare stretch: Stretch | null;
  declare drag: Drag | null;

  constructor() {
    super();
    this.stretch = null;
    this.drag = null;
  }

  override render(): TemplateResult {
    const { svg, geometry: { width_px, height_px } } = this.plot;
    return html`<div
      class="plot"
      style=${`width: ${width_px}px; height: ${height_px}px`}
      @pointerdown=${this.#down}
      @pointermove=${this.#move}
      @pointerup=${this.#up}
      @pointercancel=${() => {
        this.drag = null;
      }}
    >
      ${unsafeHTML(svg)} ${this.#mark()}
    </div>`;
  }

  #mark(): TemplateResult | typeof nothing {
    const box = this.drag ? boxOf(this.drag) : this.#boxOf(this.stretch);
    if (box === null) {
      return nothing;
    }
    const { left_px: left, right_px: right, top_px: top, bottom_px: bottom } = this.plot.geometry;
    const [x1, x2] = [clamp(box.x, left, right), clamp(box.toX, left, right)];
    const [y1, y2] = this.#hasBand() ? [clamp(box.y, top, bottom), clamp(box.toY, top, bottom)] : [top, bottom];
    return html`<div
      class="mark"
      style=${`left: ${x1}px; width: ${Math.max(2, x2 - x1)}px; top: ${y1}px; height: ${Math.max(2, y2 - y1)}px`}
    ></div>`;
  }

  #isLogarithmic(): boolean {
    return this.plot.geometry.scale === 'logarithmic';
  }

  #hasBand(): boolean {
    return this.plot.geometry.low_khz !== undefined;
  }

  #boxOf(stretch: Stretch | null): Drag | null {
    if (stretch === null) {
      return null;
    }
    const { left_px: left, right_px: right, top_px: top, bottom_px: bottom, from, to } = this.plot.geometry;
    const at = (utcS: number | null, usual: number): number =>
      utcS === null ? usual : left + ((utcS - from) / (to - from)) * (right - left);
    return {
      x: at(stretch.from, left),
      toX: at(stretch.to, right),
      y: stretch.highKhz === null ? top : this.#yOf(stretch.highKhz),
      toY: stretch.lowKhz === null ? bottom : this.#yOf(stretch.lowKhz),
    };
  }

  #yOf(khz: number): number {
    const { top_px: top, bottom_px: bottom, low_khz = 0, high_khz = 1 } = this.plot.geometry;
    return bottom - this.#share(khz, low_khz, high_khz) * (bottom - top);
  }

  #khzAt(y: number): number {
    const { top_px: top, bottom_px: bottom, low_khz = 0, high_khz = 1 } = this.plot.geometry;
    const share = (bottom - y) / (bottom - top);
    return this.#isLogarithmic() ? low_khz * (high_khz / low_khz) ** share : low_khz + share * (high_khz - low_khz);
  }

  #share(khz: number, low: number, high: number): number {
    return this.#isLogarithmic() ? Math.log(khz / low) / Math.log(high / low) : (khz - low) / (high - low);
  }

  readonly #down = (event: PointerEvent): void => {
    if (event.button !== 0 || !event.isPrimary) {
      return;
    }
    const [x, y] = place(event);
    (event.currentTarget as Element).setPointerCapture(event.pointerId);
    this.drag = { x, y, toX: x, toY: y };
  };

  readonly #move = (event: PointerEvent): void => {
    if (this.drag) {
      const [toX, toY] = place(event);
      this.drag = { ...this.drag, toX, toY };
    }
  };

  readonly #up = (): void => {
    const { drag } = this;
    this.drag = null;
    if (!drag) {
      return;
    }
    const box = boxOf(drag);
    if (box.toX - box.x < LEAST_PX) {
      this.dispatchEvent(new StretchEvent(null));
      return;
    }
    const hasBand = this.#hasBand() && box.toY - box.y >= LEAST_PX;
    this.dispatchEvent(
      new StretchEvent({
        from: this.#timeAt(box.x),
        to: this.#timeAt(box.toX),
        lowKhz: hasBand ? Math.max(0, this.#khzAt(box.toY)) : null,
        highKhz: hasBand ? this.#khzAt(box.y) : null,
      }),
    );
  };

  #timeAt(x: number): number {
    const { left_px: left, right_px: right, from, to } = this.plot.geometry;
    const share = Math.max(0, Math.min(1, (x - left) / (right - left)));
    return from + share * (to - from);
  }

  static override styles = [
    base,
    plotStyles,
    css`
      :host {
        display: block;
        min-width: 0;
      }
      .plot {
        position: relative;
        cursor: crosshair;
        /* A finger that goes along the night marks; one that goes up or down scrolls the page. */
        touch-action: pan-y;
        user-select: none;
      }
      .mark {
        position: absolute;
        border: 2px dashed var(--pencil);
        background: color-mix(in srgb, var(--pencil) 14%, transparent);
        pointer-events: none;
      }
    `,
  ];
}

function clamp(value: number, low: number, high: number): number {
  return Math.max(low, Math.min(high, value));
}

function place(event: PointerEvent): [number, number] {
  const { left, top } = (event.currentTarget as Element).getBoundingClientRect();
  return [event.clientX - left, event.clientY - top];
}

/** The same with its sides in order. */
function boxOf({ x, y, toX, toY }: Drag): Drag {
  return { x: Math.min(x, toX), toX: Math.max(x, toX), y: Math.min(y, toY), toY: Math.max(y, toY) };
}

customElements.define('plot-brush', PlotBrush);

declare global {
  interface HTMLElementTagNameMap {
    'plot-brush': PlotBrush;
  }
}
