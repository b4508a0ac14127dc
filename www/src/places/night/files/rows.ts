/** The list of files, a few rows at a time: twenty thousand are listed in a worker, and some dozen are seen. */

import type { Book } from '../../../core/night/desk.ts';
import type { Row, Wanted } from '../../../core/types.ts';
import { frames } from '../../../frames.ts';
import { Store } from '../../../store.ts';

/** Rows that are fetched at once. */
const PAGE = 100;

/** What is known of the list. */
export interface Listed {
  /** null: it is being made for the first time. */
  readonly count: number | null;
  /** The rows that are at hand, by their place. */
  readonly rows: ReadonlyMap<number, Row>;
}

/** A file was followed from one list to the next; `place` is where it stands now, null where it does not. */
export type OnFollowed = (path: string, place: number | null, count: number) => void;

/** Rows of the wanted files. Those of before stay in sight until the new ones are there. */
export class Rows {
  readonly store = new Store<Listed>({ count: null, rows: new Map() });
  readonly #book: () => Promise<Book>;
  readonly #onFollowed: OnFollowed;
  #wanted: Wanted | null = null;
  /** Which asking the answers must belong to. */
  #turn = 0;
  #asked = new Set<number>();
  #seen: readonly [number, number] = [0, 0];

  constructor(book: () => Promise<Book>, onFollowed: OnFollowed) {
    this.#book = book;
    this.#onFollowed = onFollowed;
  }

  /** Lists other files, or the same ones anew; `follow` is the path of a file to tell the new place of. */
  list(wanted: Wanted, follow: string | null): void {
    this.#wanted = wanted;
    void frames.during(this.#list(follow));
  }

  /** Has the rows from one place up to another at hand. */
  see(from: number, to: number): void {
    this.#seen = [from, to];
    void frames.during(this.#fetch(this.#turn));
  }

  async #list(follow: string | null): Promise<void> {
    const wanted = this.#wanted;
    if (wanted === null) {
      return;
    }
    this.#turn += 1;
    const turn = this.#turn;
    const book = await this.#book();
    const count = await book.list(wanted);
    const followed = follow === null ? null : await book.placeOf(follow);
    const [from, to] = this.#seen;
    const first = Math.max(0, from - (from % PAGE));
    const rows = await book.rows(first, to - first + 1);
    if (turn === this.#turn) {
      this.#asked = new Set();
      if (follow !== null) {
        this.#onFollowed(follow, followed, count);
      }
      this.store.update(() => ({ count, rows: new Map(rows.map((row, index) => [first + index, row])) }));
      await this.#fetch(turn);
    }
  }

  async #fetch(turn: number): Promise<void> {
    const [from, to] = this.#seen;
    const { count, rows } = this.store.value;
    const last = Math.min(to, (count ?? 0) - 1);
    const missing: number[] = [];
    for (let page = Math.floor(from / PAGE); page * PAGE <= last; page += 1) {
      const places = Array.from({ length: PAGE }, (_, index) => page * PAGE + index).filter((at) => at <= last);
      if (!this.#asked.has(page) && places.some((at) => at >= from && !rows.has(at))) {
        missing.push(page);
      }
    }
    const book = await this.#book();
    for (const page of missing) {
      this.#asked.add(page);
      // oxlint-disable-next-line eslint/no-await-in-loop -- what is seen first comes first
      const found = await book.rows(page * PAGE, PAGE);
      if (turn !== this.#turn) {
        return;
      }
      this.store.update((listed) => ({
        count: listed.count,
        rows: new Map([...listed.rows, ...found.map((row, index) => [page * PAGE + index, row] as const)]),
      }));
    }
  }
}
