import { svg, type SVGTemplateResult } from 'lit';
import type { Shape } from '../../../core/types.ts';
import { line } from './drawing.ts';

/** Straight parts that make up a shape: share of the width, and fall as a share of the height. */
const PARTS: Readonly<Record<Shape, readonly (readonly [number, number])[]>> = {
  FM: [[0.4, 0.9]],
  QCF: [[1, 0.14]],
  CF: [[1, 0]],
  'FM-QCF': [
    [0.25, 0.75],
    [0.6, 0.12],
  ],
  'QCF-FM': [
    [0.6, 0.12],
    [0.25, 0.75],
  ],
  'FM-QCF-FM': [
    [0.2, 0.45],
    [0.5, 0.1],
    [0.2, 0.4],
  ],
  'CF-FM': [
    [0.75, 0],
    [0.15, 0.75],
  ],
  'FM-CF': [
    [0.15, 0.75],
    [0.75, 0],
  ],
  'FM-CF-FM': [
    [0.12, -0.55],
    [0.7, 0],
    [0.12, 0.65],
  ],
};

const WIDTH = 84;
const HEIGHT = 46;
const EDGE = 5;

export function isShape(word: string): word is Shape {
  return Object.hasOwn(PARTS, word);
}

/** The shape as one would sketch it. */
export function glyph(shape: Shape): SVGTemplateResult {
  const parts = PARTS[shape];
  const wide = parts.reduce((sum, [width]) => sum + width, 0);
  const points: [number, number][] = [[0.5 - wide / 2, 0]];
  for (const [width, fall] of parts) {
    const [x, y] = points[points.length - 1] ?? [0, 0];
    points.push([x + width, y + fall]);
  }
  const heights = points.map(([, height]) => height);
  const shift = 0.5 - (Math.min(...heights) + Math.max(...heights)) / 2;
  const placed = points.map(
    ([across, down]) =>
      [EDGE + across * (WIDTH - 2 * EDGE), EDGE + (down + shift) * (HEIGHT - 2 * EDGE)] as const,
  );
  return svg`<svg class="glyph" width=${WIDTH} height=${HEIGHT} viewBox="0 0 ${WIDTH} ${HEIGHT}" aria-hidden="true">
    <path d=${line(placed)} />
  </svg>`;
}
