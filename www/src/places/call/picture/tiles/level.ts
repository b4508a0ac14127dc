/** The levels of the pyramid of pictures, and where their tiles lie. */

import { Axis, type Scale } from '../../../../axis.ts';
import { cssPx, kilohertz, seconds, type Kilohertz, type Seconds } from '../../../../units.ts';
import type { Extent } from '../../extent.ts';

/** A tile's size, bitmap pixels. */
export const TILE_WIDTH = 512;
export const TILE_HEIGHT = 256;

/** Up to this much a tile is stretched before a finer one is drawn: no eye sees it. */
const STRETCH = 1.05;
const TIME_ZOOM = [-10, 26] as const;
const MOST_ROW_ZOOM = 12;

/** Tiles of a level: columns and rows of tiles, `to` excluded. */
export interface Slots {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** One level of the pyramid of a recording: columns of `2^timeZoom` samples, `TILE_HEIGHT * 2^rowZoom` rows. */
export class Level {
  readonly timeZoom: number;
  readonly rowZoom: number;
  readonly rows: number;
  /** The whole recording. */
  readonly limits: Extent;
  readonly #columnsPerSecond: number;
  readonly #frequency: Axis<Kilohertz>;

  constructor(timeZoom: number, rowZoom: number, limits: Extent, rateHz: number, scale: Scale) {
    this.timeZoom = timeZoom;
    this.rowZoom = rowZoom;
    this.rows = TILE_HEIGHT * 2 ** rowZoom;
    this.limits = limits;
    this.#columnsPerSecond = rateHz / 2 ** timeZoom;
    this.#frequency = new Axis(limits.frequency, cssPx(this.rows), cssPx(0), scale);
  }

  /** The coarsest level that shows an extent sharply on so many pixels. */
  static for(
    extent: Extent,
    size: { readonly width: number; readonly height: number },
    limits: Extent,
    rateHz: number,
    scale: Scale,
  ): Level {
    const perPixel = ((extent.time.to - extent.time.from) * rateHz) / size.width;
    const timeZoom = Math.floor(Math.log2(perPixel * STRETCH));
    const whole = new Axis(limits.frequency, cssPx(1), cssPx(0), scale);
    const share = whole.pixel(extent.frequency.from) - whole.pixel(extent.frequency.to);
    const rowZoom = Math.ceil(Math.log2(size.height / share / TILE_HEIGHT / STRETCH));
    return new Level(
      Math.min(Math.max(timeZoom, TIME_ZOOM[0]), TIME_ZOOM[1]),
      Math.min(Math.max(rowZoom, 0), MOST_ROW_ZOOM),
      limits,
      rateHz,
      scale,
    );
  }

  /** The column, with its part, at a time. */
  column(time: Seconds): number {
    return time * this.#columnsPerSecond;
  }

  time(column: number): Seconds {
    return seconds(column / this.#columnsPerSecond);
  }

  /** The row, with its part, at a frequency; 0 is the upper edge. */
  row(frequency: Kilohertz): number {
    return this.#frequency.pixel(frequency);
  }

  frequency(row: number): Kilohertz {
    return kilohertz(this.#frequency.value(cssPx(row)));
  }

  /** The tiles that an extent lies on. */
  slots(extent: Extent): Slots {
    const left = Math.floor(this.column(extent.time.from) / TILE_WIDTH + 1e-6);
    const top = Math.floor(this.row(extent.frequency.to) / TILE_HEIGHT + 1e-6);
    return this.#within({
      left,
      right: Math.max(endOf(this.column(extent.time.to), TILE_WIDTH), left + 1),
      top,
      bottom: Math.max(endOf(this.row(extent.frequency.from), TILE_HEIGHT), top + 1),
    });
  }

  /** Those and their neighbours in time, as far as the recording goes. */
  widened(slots: Slots): Slots {
    return this.#within({ ...slots, left: slots.left - 1, right: slots.right + 1 });
  }

  equals(other: Level): boolean {
    return this.timeZoom === other.timeZoom && this.rowZoom === other.rowZoom;
  }

  #within({ left, right, top, bottom }: Slots): Slots {
    const columns = Math.max(1, Math.ceil(this.column(this.limits.time.to) / TILE_WIDTH - 1e-6));
    return {
      left: Math.max(left, 0),
      right: Math.min(right, columns),
      top: Math.max(top, 0),
      bottom: Math.min(bottom, 2 ** this.rowZoom),
    };
  }
}

/** The first tile that begins at an edge or after it, but for rounding. */
function endOf(edge: number, size: number): number {
  return Math.ceil(edge / size - 1e-6);
}

/** Every slot, the nearest to the middle of `slots` first. */
export function nearestFirst(slots: Slots): { column: number; row: number }[] {
  const middle = (slots.left + slots.right - 1) / 2;
  const centre = (slots.top + slots.bottom - 1) / 2;
  const all: { column: number; row: number }[] = [];
  for (let column = slots.left; column < slots.right; column += 1) {
    for (let row = slots.top; row < slots.bottom; row += 1) {
      all.push({ column, row });
    }
  }
  const far = (slot: { column: number; row: number }) =>
    Math.abs(slot.column - middle) * 2 + Math.abs(slot.row - centre);
  return all.toSorted((a, b) => far(a) - far(b));
}

/** Whether all of `inner` lies in `outer`. */
export function covers(outer: Slots, inner: Slots): boolean {
  return (
    outer.left <= inner.left &&
    outer.right >= inner.right &&
    outer.top <= inner.top &&
    outer.bottom >= inner.bottom
  );
}
