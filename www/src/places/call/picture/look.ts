/** How the picture looks, as far as the person chose it. */

import type { Scale } from '../../../axis.ts';
import type { Rendering, SpectrumWindow } from '../../../core/types.ts';

/** What a person chose for the picture; null leaves it to the page. */
export interface PictureLook {
  /** How frequency runs up the picture. */
  readonly scale: Scale;
  /** The window function. */
  readonly window: SpectrumWindow;
  /** The window's length, milliseconds; null: what suits the view. */
  readonly windowMs: number | null;
  /** Whether energy is moved to where it has its centre. */
  readonly sharpened: boolean;
  /** The level of the first colour, dB re full scale; null: from the noise. */
  readonly floorDb: number | null;
  /** From the first colour's level to the last one's, dB; null: from the loudest sounds. */
  readonly rangeDb: number | null;
}

export const USUAL_LOOK: PictureLook = {
  scale: 'linear',
  window: 'hann',
  windowMs: null,
  sharpened: false,
  floorDb: null,
  rangeDb: null,
};

/** Window lengths from sharp in time to sharp in frequency, milliseconds. */
export const WINDOW_STEPS_MS: readonly number[] = [0.125, 0.25, 0.5, 1, 2, 4, 8];

/** Bounds of what can be chosen, dB. */
export const FLOOR_DB = { least: -160, most: 0 };
export const RANGE_DB = { least: 10, most: 120 };

/** What must be transformed anew when it changes. */
export function renderingOf(look: PictureLook): Rendering {
  return {
    scale: look.scale,
    window: look.window,
    window_ms: look.windowMs ?? undefined,
    sharpened: look.sharpened,
  };
}

const WINDOWS: readonly SpectrumWindow[] = ['hann', 'hamming', 'blackman_harris', 'gaussian', 'kaiser'];

/** Writes what differs from the usual look into an address's fields. */
export function writeLook(look: PictureLook, fields: URLSearchParams): void {
  const put = (key: string, value: string | number | null, isUsual: boolean) => {
    if (!isUsual && value !== null) {
      fields.set(key, String(value));
    }
  };
  put('scale', 'log', look.scale === 'linear');
  put('window', look.window, look.window === USUAL_LOOK.window);
  put('length', look.windowMs, look.windowMs === null);
  put('sharpened', 'yes', !look.sharpened);
  put('floor', look.floorDb, look.floorDb === null);
  put('range', look.rangeDb, look.rangeDb === null);
}

/** Reads a look; what makes no sense is left at its usual value. */
export function readLook(fields: URLSearchParams): PictureLook {
  const number = (key: string, least: number, most: number): number | null => {
    const text = fields.get(key);
    const value = Number(text);
    return text === null || text === '' || !Number.isFinite(value) ? null : Math.min(Math.max(value, least), most);
  };
  const [shortest, longest] = [WINDOW_STEPS_MS[0] ?? 0, WINDOW_STEPS_MS.at(-1) ?? 0];
  return {
    scale: fields.get('scale') === 'log' ? 'logarithmic' : 'linear',
    window: WINDOWS.find((window) => window === fields.get('window')) ?? USUAL_LOOK.window,
    windowMs: number('length', shortest, longest),
    sharpened: fields.get('sharpened') === 'yes',
    floorDb: number('floor', FLOOR_DB.least, FLOOR_DB.most),
    rangeDb: number('range', RANGE_DB.least, RANGE_DB.most),
  };
}

export function sameLook(a: PictureLook, b: PictureLook): boolean {
  return (Object.keys(a) as (keyof PictureLook)[]).every((key) => a[key] === b[key]);
}
