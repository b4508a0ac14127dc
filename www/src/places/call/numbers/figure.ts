import { css, LitElement, svg, type SVGTemplateResult } from 'lit';
import { OwnWidth } from '../../../parts/own-width.ts';

/** Size of the figures' letters, as a share of the root's. */
const LETTER_SHARE = 0.82;

/**
 * A figure that is laid out anew for the width that it has, so that its letters
 * keep their size on a telephone as on a wall.
 */
export abstract class Figure extends LitElement {
  readonly #width = new OwnWidth(this);

  /** The width that it has, CSS pixels; 0 before it is laid out. */
  protected get width(): number {
    return this.#width.value;
  }

  /** Height of a letter, CSS pixels. */
  protected get em(): number {
    return Number.parseFloat(getComputedStyle(document.documentElement).fontSize) * LETTER_SHARE;
  }
}

type Anchor = 'start' | 'middle' | 'end';

/** Lines of words, the first of them at `y`. */
export function words(x: number, y: number, em: number, lines: readonly string[], anchor: Anchor = 'start', kind = ''): SVGTemplateResult {
  return svg`<text class=${kind} x=${x} y=${y} text-anchor=${anchor}>${lines.map(
    (text, n) => svg`<tspan x=${x} dy=${n === 0 ? 0 : em * 1.15}>${text}</tspan>`,
  )}</text>`;
}

/** A straight line with a head at both ends. */
export function arrow(x1: number, y1: number, x2: number, y2: number): SVGTemplateResult {
  const length = Math.hypot(x2 - x1, y2 - y1);
  const size = Math.min(7, length / 3);
  const [dx, dy] = [((x2 - x1) / length) * size, ((y2 - y1) / length) * size];
  const head = (x: number, y: number, way: number): string =>
    `M${x + way * (dx - dy * 0.5)} ${y + way * (dy + dx * 0.5)}L${x} ${y}L${x + way * (dx + dy * 0.5)} ${y + way * (dy - dx * 0.5)}`;
  return svg`<path class="arrow" d=${`M${x1} ${y1}L${x2} ${y2}${head(x1, y1, 1)}${head(x2, y2, -1)}`} />`;
}

export const figureStyles = css`
  :host {
    display: block;
    min-width: 0;
  }
  svg {
    display: block;
    overflow: visible;
  }
  text {
    font-family: var(--plain);
    font-size: 0.82rem;
    fill: var(--ink);
    paint-order: stroke;
    stroke: var(--sheet);
    stroke-width: 4px;
    stroke-linejoin: round;
  }
  .strong {
    font-weight: 700;
  }
  .quantity {
    font-family: var(--hand);
    font-style: italic;
    fill: var(--soft);
  }
  .frame {
    fill: none;
    stroke: var(--line-strong);
    stroke-width: 1.5;
  }
  .contour {
    fill: none;
    stroke: var(--ink);
    stroke-width: 4.5;
    stroke-linecap: round;
    stroke-linejoin: round;
  }
  .harmonic {
    fill: none;
    stroke: var(--soft);
    stroke-width: 2.5;
    stroke-linecap: round;
  }
  .missed {
    stroke: var(--soft);
    stroke-width: 2;
    stroke-dasharray: 2 4;
  }
  .fill {
    fill: var(--wash);
  }
  .envelope {
    fill: none;
    stroke: var(--ink);
    stroke-width: 2;
    stroke-linejoin: round;
  }
  .rule {
    fill: none;
    stroke: var(--pencil);
    stroke-width: 1.5;
    stroke-dasharray: 6 4;
  }
  .rule.dots {
    stroke-dasharray: 1.5 4;
    stroke-width: 2;
    stroke-linecap: round;
  }
  .edge {
    stroke: var(--soft);
    stroke-width: 1.2;
    stroke-dasharray: 3 3;
  }
  .leader,
  .arrow {
    fill: none;
    stroke: var(--pencil);
    stroke-width: 1.5;
    stroke-linecap: round;
    stroke-linejoin: round;
  }
  .spot {
    fill: var(--sheet);
    stroke: var(--pencil);
    stroke-width: 2.5;
  }
`;
