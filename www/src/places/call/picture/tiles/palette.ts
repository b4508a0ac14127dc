/** Levels of tiles -> colours. */

import { TILE_HEIGHT, TILE_WIDTH } from './level.ts';

/** Steps of a tile's levels to a decibel, and the level that they are counted from, as the core encodes them. */
export const CODES_PER_DB = 128;
export const LOWEST_DB = -240;
/** Up to 20 dB above full scale, which overloaded floating-point recordings may reach. */
const CODES = (20 - LOWEST_DB) * CODES_PER_DB;
const SHADES = 256;

/** The levels that colours stretch over, decibels re full scale. */
export interface Levels {
  readonly floorDb: number;
  readonly topDb: number;
}

/** The level that a code stands for; null: no sound to show. */
export function levelOf(code: number | undefined): number | null {
  return code === undefined || code === 0 ? null : code / CODES_PER_DB + LOWEST_DB;
}

/** The colour of every level, looked up and not reckoned for each pixel. */
export class Palette {
  readonly #colours = new Uint32Array(CODES);
  readonly #image = new ImageData(TILE_WIDTH, TILE_HEIGHT);
  readonly #pixels = new Uint32Array(this.#image.data.buffer);

  /** `shades` are 256 colours from the floor's to the top's: red, green, blue, opacity. */
  constructor(shades: Uint8ClampedArray<ArrayBuffer>, { floorDb, topDb }: Levels) {
    const from = new Uint32Array(shades.buffer, shades.byteOffset, SHADES);
    const first = (floorDb - LOWEST_DB) * CODES_PER_DB;
    const perCode = SHADES / ((topDb - floorDb) * CODES_PER_DB);
    for (let code = 0; code < CODES; code += 1) {
      const shade = Math.min(SHADES - 1, Math.max(0, Math.floor((code - first) * perCode)));
      this.#colours[code] = from[shade] ?? 0;
    }
  }

  /** The colour of a level: red, green, blue and opacity in the order of an image's bytes. */
  colour(code: number): number {
    return this.#colours[Math.min(code, CODES - 1)] ?? 0;
  }

  /** A tile in colours; valid until the next one. */
  paint(codes: Uint16Array): ImageData {
    const colours = this.#colours;
    const pixels = this.#pixels;
    const loudest = colours[CODES - 1] ?? 0;
    for (let at = 0; at < pixels.length; at += 1) {
      pixels[at] = colours[codes[at] ?? 0] ?? loudest;
    }
    return this.#image;
  }
}
