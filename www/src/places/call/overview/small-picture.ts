import type { Whole } from '../picture/painter.ts';
import type { Palette } from '../picture/tiles/palette.ts';
import { TILE_HEIGHT, TILE_WIDTH } from '../picture/tiles/level.ts';

/** Rows of the small picture, bitmap pixels. */
const ROWS = 44;

/** The whole recording on a few rows: each pixel shows the loudest of what it covers, as in the picture itself. */
export class SmallPicture {
  readonly #done = new Set<number>();
  #palette: Palette | null = null;
  #columns = 0;

  /** Forgets what was drawn, such as for another recording. */
  clear(): void {
    this.#done.clear();
    this.#palette = null;
  }

  /** Draws the next tiles that are there and were not yet drawn; true where others follow, for which a frame has no time. */
  drawOn(canvas: HTMLCanvasElement, whole: Whole): boolean {
    const { level, palette } = whole;
    const columns = Math.max(1, Math.ceil(level.column(level.limits.time.to)));
    if (palette !== this.#palette || columns !== this.#columns) {
      this.#done.clear();
      this.#palette = palette;
      this.#columns = columns;
      // What is seen stays until it is drawn anew, unless its place changes.
      if (canvas.width !== columns || canvas.height !== ROWS) {
        canvas.width = columns;
        canvas.height = ROWS;
      }
    }
    const context = canvas.getContext('2d');
    for (let column = 0; column * TILE_WIDTH < columns; column += 1) {
      if (this.#done.has(column) || context === null) {
        continue;
      }
      const rows = level.rows / TILE_HEIGHT;
      const tiles = Array.from({ length: rows }, (_, row) => whole.codes(column, row));
      const all = tiles.filter((codes) => codes !== null);
      if (all.length === rows) {
        context.putImageData(reduced(all, palette), column * TILE_WIDTH, 0);
        this.#done.add(column);
        return this.#done.size * TILE_WIDTH < columns;
      }
    }
    return false;
  }
}

/** Tiles upon one another as one image of `ROWS` rows. */
function reduced(tiles: readonly Uint16Array[], palette: Palette): ImageData {
  const image = new ImageData(TILE_WIDTH, ROWS);
  const pixels = new Uint32Array(image.data.buffer);
  const loudest = new Uint16Array(TILE_WIDTH * ROWS);
  const rows = tiles.length * TILE_HEIGHT;
  for (let row = 0; row < rows; row += 1) {
    const codes = tiles[Math.floor(row / TILE_HEIGHT)];
    const from = (row % TILE_HEIGHT) * TILE_WIDTH;
    const to = Math.floor((row * ROWS) / rows) * TILE_WIDTH;
    for (let x = 0; x < TILE_WIDTH; x += 1) {
      loudest[to + x] = Math.max(loudest[to + x] ?? 0, codes?.[from + x] ?? 0);
    }
  }
  loudest.forEach((code, at) => {
    pixels[at] = palette.colour(code);
  });
  return image;
}
