import type { Axis } from '../../../../axis.ts';
import type { Kilohertz, Seconds } from '../../../../units.ts';
import { TILE_HEIGHT, TILE_WIDTH, type Level, type Slots } from './level.ts';

/**
 * Tiles of one level put together on a canvas, pixel on pixel, so that stretching the whole of it shows no seams. Where
 * a tile is not there yet, what was seen before is stretched to its place.
 */
export class Mosaic {
  readonly level: Level;
  readonly slots: Slots;
  readonly #canvas = document.createElement('canvas');
  readonly #context: CanvasRenderingContext2D;
  /** The palette that each tile was last painted with, by its key; parts of a tile are not noted. */
  readonly #painted = new Map<string, object>();

  constructor(level: Level, slots: Slots) {
    this.level = level;
    this.slots = slots;
    this.#canvas.width = (slots.right - slots.left) * TILE_WIDTH;
    this.#canvas.height = (slots.bottom - slots.top) * TILE_HEIGHT;
    const context = this.#canvas.getContext('2d');
    if (context === null) {
      throw new Error('this browser gives no canvas to draw on');
    }
    this.#context = context;
  }

  /** Whether a tile is painted in a palette, or in any. */
  holds(column: number, row: number, palette: object | null = null): boolean {
    const painted = this.#painted.get(`${column},${row}`);
    return painted !== undefined && (palette === null || painted === palette);
  }

  /** Forgets which tiles it shows, as they are of something else from now on; what is seen stays. */
  age(): void {
    this.#painted.clear();
  }

  /** Paints a tile; a part of one lies over what was there, and counts as nothing. */
  put(column: number, row: number, image: ImageData, palette: object, share = 1): void {
    const left = (column - this.slots.left) * TILE_WIDTH;
    const top = (row - this.slots.top) * TILE_HEIGHT;
    const columns = Math.floor(TILE_WIDTH * share);
    this.#context.putImageData(image, left, top, 0, 0, columns, TILE_HEIGHT);
    if (share === 1) {
      this.#painted.set(`${column},${row}`, palette);
    }
  }

  /** Takes over what another one shows: its tiles where both are of one level, else a stretched picture of them. */
  take(other: Mosaic): void {
    const { level } = other;
    const { slots, canvas } = { slots: other.slots, canvas: other.#canvas };
    const same = level.equals(this.level);
    const left = this.level.column(level.time(slots.left * TILE_WIDTH)) - this.slots.left * TILE_WIDTH;
    const right = this.level.column(level.time(slots.right * TILE_WIDTH)) - this.slots.left * TILE_WIDTH;
    const down = this.level.rows / level.rows;
    const top = (slots.top * down - this.slots.top) * TILE_HEIGHT;
    const height = (slots.bottom - slots.top) * down * TILE_HEIGHT;
    this.#context.imageSmoothingEnabled = !same;
    const at = same ? Math.round(left) : left;
    this.#context.drawImage(canvas, at, top, same ? canvas.width : right - left, height);
    if (same) {
      for (const [key, palette] of other.#painted) {
        this.#painted.set(key, palette);
      }
    }
  }

  /** Draws it onto a canvas whose axes are given in its own pixels. */
  drawOn(context: CanvasRenderingContext2D, time: Axis<Seconds>, frequency: Axis<Kilohertz>): void {
    const { level, slots } = this;
    const left = level.column(time.span.from) - slots.left * TILE_WIDTH;
    const right = level.column(time.span.to) - slots.left * TILE_WIDTH;
    const top = level.row(frequency.span.to) - slots.top * TILE_HEIGHT;
    const bottom = level.row(frequency.span.from) - slots.top * TILE_HEIGHT;
    const { width, height } = context.canvas;
    context.imageSmoothingEnabled = Math.abs(right - left - width) >= 0.5 || Math.abs(bottom - top - height) >= 0.5;
    context.drawImage(this.#canvas, left, top, right - left, bottom - top, 0, 0, width, height);
  }
}
