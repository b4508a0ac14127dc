import type { Theme } from '../../../themes.ts';

/** How the pulses of a sequence are marked: a colour and a shape, which goes with it for who cannot tell colours apart. */
export interface LaneLook {
  readonly colour: string;
  /** The name of the shape. */
  readonly shape: string;
  /** The shape around the origin, some 10 CSS pixels wide, as a path. */
  readonly path: string;
}

/**
 * Schemes that can be told apart with any kind of colour vision, from P. Tol, "Colour schemes", SRON/EPS/TN/09-002
 * (2021): of "muted" the dark ones on paper, of "light" the bright ones on a dark page. Where only red reaches the eye
 * there is one colour.
 */
const COLOURS: Readonly<Record<Theme, readonly string[]>> = {
  paper: ['#332288', '#117733', '#882255', '#AA4499', '#2d7f74', '#6e6e1a'],
  hut: ['#77AADD', '#EEDD88', '#FFAABB', '#44BB99', '#EE8866', '#BBCC33'],
  night: ['var(--ink)'],
};

const SHAPES: readonly (readonly [string, string])[] = [
  ['circles', 'M-4.5 0a4.5 4.5 0 1 0 9 0a4.5 4.5 0 1 0-9 0Z'],
  ['squares', 'M-4 -4H4V4H-4Z'],
  ['triangles', 'M0 -5.2L5 3.8H-5Z'],
  ['diamonds', 'M0 -5.6L5 0L0 5.6L-5 0Z'],
  ['crosses', 'M-1.6 -5H1.6V-1.6H5V1.6H1.6V5H-1.6V1.6H-5V-1.6H-1.6Z'],
  ['hourglasses', 'M-4.5 -5H4.5L1 0L4.5 5H-4.5L-1 0Z'],
];

const ALONE: LaneLook = {
  colour: 'var(--soft)',
  shape: 'slanted crosses',
  path: 'M-5 -3.4L-3.4 -5L0 -1.6L3.4 -5L5 -3.4L1.6 0L5 3.4L3.4 5L0 1.6L-3.4 5L-5 3.4L-1.6 0Z',
};

/** The look of a sequence, by its number; null: of pulses that stand alone. */
export function lookOf(sequence: number | null, theme: Theme): LaneLook {
  if (sequence === null) {
    return ALONE;
  }
  const colours = COLOURS[theme];
  const [shape, path] = SHAPES[(sequence - 1) % SHAPES.length] ?? ['', ''];
  return { colour: colours[(sequence - 1) % colours.length] ?? '', shape, path };
}
