import { css, html, LitElement, type TemplateResult } from 'lit';
import type { Axis } from '../../../axis.ts';
import { base } from '../../../parts/base-styles.ts';
import { cssPx, type CssPx, type Kilohertz, type Seconds } from '../../../units.ts';
import { fixed } from '../plus-minus.ts';
import type { Point } from './gestures.ts';
import type { Layer } from './layers.ts';

/** What the read-out needs to know of the picture. */
export interface Sight {
  readonly time: Axis<Seconds>;
  readonly frequency: Axis<Kilohertz>;
  readonly width: CssPx;
  readonly height: CssPx;
  /** The level that the picture shows at a place, dB re full scale; null where there is none. */
  readonly levelAt: (time: Seconds, frequency: Kilohertz) => number | null;
}

/** Steps that the cross-hair takes with a key, CSS pixels; with Shift the longer one. */
const STEPS = [1, 20] as const;
const ARROWS: Readonly<Record<string, readonly [number, number] | undefined>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

/** Time, frequency and level under the pointer, or at a cross-hair that keys move. */
export class CrossHair extends LitElement implements Layer {
  static override properties = {
    on: { state: true },
    words: { state: true },
    said: { state: true },
  };

  /** Whether the cross-hair is there, and arrow keys move it. */
  declare on: boolean;
  declare words: string;
  /** What a screen reader is told. */
  declare said: string;

  /** Set by the picture. */
  sight: (() => Sight) | null = null;
  redraw: () => void = () => undefined;
  #pointer: Point | null = null;
  #place: { readonly time: Seconds; readonly frequency: Kilohertz } | null = null;

  constructor() {
    super();
    this.on = false;
    this.words = '';
    this.said = '';
  }

  /** Reads off what lies under the pointer; null: it is elsewhere. */
  hover(point: Point | null): void {
    this.#pointer = point;
    this.refresh();
  }

  /** Puts the cross-hair to the middle of the picture, or takes it away. */
  toggle(): void {
    const sight = this.sight?.();
    this.on = !this.on;
    this.#place = null;
    if (this.on && sight) {
      this.#put(sight, cssPx(sight.width / 2), cssPx(sight.height / 2));
      this.said = `Cross-hair on. ${this.words}`;
    } else {
      this.said = 'Cross-hair off.';
      this.refresh();
    }
    this.redraw();
  }

  /** Takes a key while the cross-hair is there; false leaves it to others. */
  key(event: KeyboardEvent): boolean {
    const sight = this.sight?.();
    if (!this.on || !sight || event.ctrlKey || event.metaKey || event.altKey) {
      return false;
    }
    const arrow = ARROWS[event.key];
    if (event.key === 'Escape') {
      this.toggle();
      return true;
    }
    if (!arrow) {
      return false;
    }
    const step = STEPS[event.shiftKey ? 1 : 0];
    const { x, y } = this.#point(sight) ?? { x: sight.width / 2, y: sight.height / 2 };
    this.#put(sight, inside(x + arrow[0] * step, sight.width), inside(y + arrow[1] * step, sight.height));
    this.said = this.words;
    this.redraw();
    return true;
  }

  /** Reads off anew, since the picture under the place changed. */
  refresh(): void {
    const sight = this.sight?.();
    if (!sight) {
      return;
    }
    const { time, frequency } = sight;
    const pointer = this.#pointer;
    const place = pointer ? { time: time.value(pointer.x), frequency: frequency.value(pointer.y) } : this.#place;
    this.words = place ? wordsOf(place.time, place.frequency, sight.levelAt(place.time, place.frequency)) : '';
  }

  draw(context: CanvasRenderingContext2D): void {
    const sight = this.sight?.();
    const point = sight ? this.#point(sight) : null;
    if (!sight || !point) {
      return;
    }
    const style = getComputedStyle(this);
    const lines = new Path2D();
    lines.moveTo(point.x, 0);
    lines.lineTo(point.x, sight.height);
    lines.moveTo(0, point.y);
    lines.lineTo(sight.width, point.y);
    for (const [colour, width] of [['--halo', 3], ['--mark', 1]] as const) {
      context.strokeStyle = style.getPropertyValue(colour);
      context.lineWidth = width;
      context.stroke(lines);
    }
  }

  override render(): TemplateResult {
    return html`
      <span class="words" aria-hidden="true">${this.words}</span>
      <button
        aria-pressed=${this.on}
        title="Read off with the keyboard: key C, then arrow keys"
        @click=${() => this.toggle()}
      >
        Cross-hair
      </button>
      <span class="quiet" role="status">${this.said}</span>
    `;
  }

  #point({ time, frequency }: Sight): Point | null {
    const place = this.#place;
    return place && { x: time.pixel(place.time), y: frequency.pixel(place.frequency) };
  }

  #put({ time, frequency, levelAt }: Sight, x: CssPx, y: CssPx): void {
    const place = { time: time.value(x), frequency: frequency.value(y) };
    this.#place = place;
    // The cross-hair moves by keys, wherever the pointer was left.
    this.#pointer = null;
    this.words = wordsOf(place.time, place.frequency, levelAt(place.time, place.frequency));
  }

  static override styles = [
    base,
    css`
      :host {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.3rem 1rem;
        margin-left: auto;
        font-variant-numeric: tabular-nums;
        color: var(--ink);
      }
      button {
        min-height: 2rem;
        padding-block: 0.1rem;
      }
      [aria-pressed='true'] {
        border-color: var(--ink);
        background: var(--wash);
      }
    `,
  ];
}

function inside(value: number, most: number): CssPx {
  return cssPx(Math.min(Math.max(value, 0), most));
}

function wordsOf(time: Seconds, frequency: Kilohertz, level: number | null): string {
  const place = `${fixed(time, 4)} s · ${fixed(frequency, 1)} kHz`;
  return level === null ? place : `${place} · ${fixed(level, 1)} dB`;
}

customElements.define('cross-hair', CrossHair);

declare global {
  interface HTMLElementTagNameMap {
    'cross-hair': CrossHair;
  }
}
