import type { Opened, Rendering, Tile, TileCodes } from '../../../../core/client.ts';
import { TILE_HEIGHT, TILE_WIDTH, type Level } from './level.ts';
import { TileCache } from './tile-cache.ts';

/** What tiles are of. */
export interface Subject {
  readonly opened: Opened;
  /** Counted from 0. */
  readonly channel: number;
  readonly rendering: Rendering;
}

/** A tile that somebody would like to see. */
export interface Wish {
  readonly level: Level;
  readonly column: number;
  readonly row: number;
}

/** A tile that is being drawn: its levels so far, and how much of it is done. */
export interface Part {
  readonly codes: Uint16Array;
  readonly share: number;
}

interface Pile {
  readonly wishes: readonly Wish[];
  readonly abort: AbortController;
  share: number;
}

/** Levels that are kept: 128 tiles, the screens before and after a large one. */
const MOST_BYTES = 32 * 2 ** 20;
/** Tiles that lie upon one another are drawn together up to this height, rows. */
const MOST_ROWS = 8192;

/**
 * Gets tiles drawn, the most wanted first and as many at once as there are drawers, and keeps them up to a bound. What
 * is not wanted any more is dropped.
 */
export class TileDesk {
  readonly #changed: () => void;
  readonly #cache = new TileCache<Uint16Array<ArrayBuffer>>(MOST_BYTES);
  readonly #parts = new Map<string, Part>();
  /** What each drawer is at, by its number; one more of what is in sight may go on beside it, by a number above all drawers'. */
  readonly #going = new Map<number, Pile>();
  #subject: Subject | null = null;
  #wishes: readonly Wish[] = [];
  /** How many of the wishes are in sight. */
  #inSight = 0;
  /** Ends the wait of `settled`. */
  #waiting: (() => void)[] = [];
  problem: unknown = null;

  /** `changed` is called when a tile came in, or a part of one. */
  constructor(changed: () => void) {
    this.#changed = changed;
  }

  /** Turns to another subject; its tiles are other ones. */
  turn(subject: Subject | null): void {
    this.#wishes = [];
    this.#abort(() => true);
    this.#parts.clear();
    this.problem = null;
    if (subject?.opened !== this.#subject?.opened) {
      this.#cache.clear();
    }
    this.#subject = subject;
  }

  /** The levels of a tile, if it is there. */
  codes({ level, column, row }: Wish): Uint16Array | null {
    return this.#cache.get(this.#key(level, column, row)) ?? null;
  }

  /** A tile that is not done yet. */
  part({ level, column, row }: Wish): Part | null {
    return this.#parts.get(this.#key(level, column, row)) ?? null;
  }

  /** How much of a tile is there, 0 to 1. */
  share(wish: Wish): number {
    if (this.#has(wish)) {
      return 1;
    }
    const key = this.#keyOf(wish);
    const pile = [...this.#going.values()].find(({ wishes }) => wishes.some((one) => this.#keyOf(one) === key));
    return pile?.share ?? 0;
  }

  /** Says what is wanted, the most wanted first, and how many of them are in sight; replaces what was wanted before. */
  want(wishes: readonly Wish[], inSight = 0): void {
    this.#wishes = wishes;
    this.#inSight = inSight;
    // Used last is then what is wanted most, and the whole recording is never the first to go.
    for (const wish of wishes.toReversed()) {
      this.codes(wish);
    }
    const wanted = new Set(wishes.map((wish) => this.#keyOf(wish)));
    this.#abort((pile) => !pile.wishes.some((wish) => wanted.has(this.#keyOf(wish))));
    this.#proceed();
  }

  /** Settles once nothing is being drawn. */
  settled(): Promise<void> {
    return this.#going.size === 0 ? Promise.resolve() : new Promise((resolve) => this.#waiting.push(resolve));
  }

  #proceed(): void {
    const subject = this.#subject;
    if (subject === null || this.problem !== null) {
      return;
    }
    const { drawers } = subject.opened;
    for (let place = 0; place < 2 * drawers; place += 1) {
      // What is in sight does not wait for the end of what is not, which in a long recording takes long; nor does a
      // drawer wait for a busy page before it goes on.
      const among = place < drawers ? this.#wishes.length : this.#inSight;
      const pile = this.#going.has(place) ? null : this.#next(among);
      if (pile !== null) {
        this.#going.set(place, pile);
        void this.#draw(subject, place, pile);
      }
    }
  }

  /** The most wanted tile among the first so many that nobody is at, with those above and below it. */
  #next(among: number): Pile | null {
    const busy = new Set([...this.#going.values()].flatMap((pile) => pile.wishes.map((wish) => this.#keyOf(wish))));
    const open = this.#wishes.slice(0, among).filter((wish) => !this.#has(wish) && !busy.has(this.#keyOf(wish)));
    const [first] = open;
    if (first === undefined) {
      return null;
    }
    const beside = open.filter((wish) => wish.level.equals(first.level) && wish.column === first.column);
    const rows = new Map(beside.map((wish) => [wish.row, wish]));
    const pile = [first];
    for (let row = first.row - 1; rows.has(row); row -= 1) {
      pile.unshift(rows.get(row) ?? first);
    }
    for (let row = first.row + 1; rows.has(row); row += 1) {
      pile.push(rows.get(row) ?? first);
    }
    return { wishes: pile.slice(0, MOST_ROWS / TILE_HEIGHT), abort: new AbortController(), share: 0 };
  }

  async #draw(subject: Subject, place: number, pile: Pile): Promise<void> {
    const { signal } = pile.abort;
    try {
      const take = (codes: TileCodes, share: number) => {
        if (!signal.aborted) {
          this.#partCame(pile, codes, share);
        }
      };
      const tile = tileOf(subject, pile.wishes);
      const drawer = place % subject.opened.drawers;
      const codes = await subject.opened.tiles(signal, drawer, tile, TILE_HEIGHT, subject.rendering, take);
      signal.throwIfAborted();
      pile.wishes.forEach((wish, n) => {
        const key = this.#keyOf(wish);
        this.#parts.delete(key);
        const one = codes[n];
        if (one !== undefined) {
          this.#cache.put(key, one);
        }
      });
    } catch (error) {
      if (!signal.aborted) {
        this.problem = error;
      }
    }
    if (this.#going.get(place) === pile) {
      this.#going.delete(place);
    }
    this.#proceed();
    if (this.#going.size === 0) {
      const waiting = this.#waiting;
      this.#waiting = [];
      for (const resolve of waiting) {
        resolve();
      }
    }
    this.#changed();
  }

  #partCame(pile: Pile, codes: TileCodes, share: number): void {
    pile.share = share;
    pile.wishes.forEach((wish, n) => {
      const one = codes[n];
      if (one !== undefined) {
        this.#parts.set(this.#keyOf(wish), { codes: one, share });
      }
    });
    this.#changed();
  }

  #abort(isOutdated: (pile: Pile) => boolean): void {
    for (const pile of this.#going.values()) {
      if (isOutdated(pile)) {
        pile.abort.abort(new DOMException('Replaced', 'AbortError'));
        for (const wish of pile.wishes) {
          this.#parts.delete(this.#keyOf(wish));
        }
      }
    }
  }

  #has(wish: Wish): boolean {
    return this.#cache.has(this.#keyOf(wish));
  }

  #keyOf({ level, column, row }: Wish): string {
    return this.#key(level, column, row);
  }

  #key(level: Level, column: number, row: number): string {
    const { channel, rendering } = this.#subject ?? {};
    const { scale, window, window_ms: length, sharpened } = rendering ?? {};
    return [channel, scale, window, length, sharpened, level.timeZoom, level.rowZoom, column, row].join(' ');
  }
}

/** Tiles upon one another, as the core knows them. */
export function tileOf({ channel, rendering }: Subject, wishes: readonly Wish[]): Tile {
  const [first] = wishes;
  if (first === undefined) {
    throw new Error('a pile has at least one tile');
  }
  const { level, column, row } = first;
  return {
    channel,
    time_zoom: level.timeZoom,
    rows: level.rows,
    low_khz: rendering.scale === 'logarithmic' ? level.limits.frequency.from : 0,
    first_column: column * TILE_WIDTH,
    width_px: TILE_WIDTH,
    first_row: row * TILE_HEIGHT,
    height_px: wishes.length * TILE_HEIGHT,
  };
}
