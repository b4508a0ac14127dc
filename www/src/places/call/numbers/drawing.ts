/**
 * The formulas of the figures. They draw a pulse that is easy to explain, and
 * measure nothing: `u` runs from 0 at its start to 1 at its end.
 */

/** Contour, kHz: a steep beginning, a long gentle part, a small fall at the end. */
export function contourAt(u: number): number {
  return 24 + 26 * Math.exp(-8 * u) - 4 * u - 2.2 * u ** 12;
}

/** Where the envelope is largest. */
export const TOP = 0.3;

/** Envelope, dB re its maximum: -20 at the start and at the end. */
export function envelopeAt(u: number): number {
  return u < TOP ? -20 * ((TOP - u) / TOP) ** 2 : -20 * ((u - TOP) / (1 - TOP)) ** 1.2;
}

/** Noise around the pulse, dB re its maximum, and how it wavers. */
export const NOISE = -31;
function noiseAt(u: number): number {
  return NOISE + 1.5 * Math.sin(61 * u) + 1.1 * Math.sin(103 * u + 1) + 0.7 * Math.sin(197 * u + 2);
}

/** Pulse and noise together, dB re the pulse's maximum. */
export function soundAt(u: number): number {
  return 10 * Math.log10(10 ** (envelopeAt(u) / 10) + 10 ** (noiseAt(u) / 10));
}

const STEP = 0.005;

export interface SpectrumPoint {
  readonly u: number;
  readonly khz: number;
  /** Re the largest. */
  readonly db: number;
}

/** The pulse's spectrum: the longer it stays near a frequency and the louder it is there, the more. */
export function spectrum(): SpectrumPoint[] {
  const raw = steps(0, 1, STEP).map((u) => {
    const slope = Math.abs(contourAt(u + STEP) - contourAt(u - STEP)) / (2 * STEP);
    return { u, khz: contourAt(u), db: envelopeAt(u) - 10 * Math.log10(slope) };
  });
  const top = Math.max(...raw.map((point) => point.db));
  return raw.map(({ u, khz, db }) => ({ u, khz, db: db - top }));
}

/** The flattest fifth of the contour. */
export function flattest(): { readonly from: number; readonly to: number } {
  const length = 0.2;
  const fall = (u: number): number => Math.abs(contourAt(u + length) - contourAt(u));
  const from = steps(0, 1 - length, STEP).reduce((a, b) => (fall(b) < fall(a) ? b : a));
  return { from, to: from + length };
}

/** Evenly spaced values, both ends among them. */
export function steps(from: number, to: number, step: number): number[] {
  const count = Math.round((to - from) / step);
  return Array.from({ length: count + 1 }, (_, n) => from + ((to - from) * n) / count);
}

/** A line through points, as the attribute `d` of a path. */
export function line(points: readonly (readonly [number, number])[]): string {
  return points.map(([x, y], n) => `${n === 0 ? 'M' : 'L'}${x.toFixed(1)} ${y.toFixed(1)}`).join('');
}

/** A pulse of the sequence that is drawn. */
export interface Beat {
  readonly ms: number;
  /** As it is drawn: longer than life, so that the shape is seen. */
  readonly duration: number;
  readonly part: 'search' | 'approach' | 'buzz';
  readonly heard: boolean;
}

const SEARCH = [100, 100, 100, 100, 100];
const APPROACH = [78, 58, 42, 30, 21, 14];
const BUZZ = Array.from({ length: 13 }, () => 7);
/** The one among them that was not heard. */
const MISSED = 3;

/** Pulses from search to attack. */
export function sequence(): Beat[] {
  let ms = 0;
  const all = [0, ...SEARCH, ...APPROACH, ...BUZZ];
  return all.map((interval, n): Beat => {
    ms += interval;
    if (n <= SEARCH.length) {
      return { ms, duration: 30, part: 'search', heard: n !== MISSED };
    }
    const approach = n - SEARCH.length;
    // The last interval of the approach leads to the first pulse of the buzz.
    return approach < APPROACH.length
      ? { ms, duration: 26 - 3 * approach, part: 'approach', heard: true }
      : { ms, duration: 3, part: 'buzz', heard: true };
  });
}
