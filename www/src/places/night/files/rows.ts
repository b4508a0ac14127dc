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

/** Rows of the wanted files. Those of before stay in sight until the new ones are there. */
export class Rows {
  readonly store = new Store<Listed>({ count: null, rows: new Map() });
  readonly #book: () => Promise<Book>;
  #wanted: Wanted | null = null;
  /** Which asking the answers must belong to. */
  #turn = 0;
  #asked = new Set<number>();
  #seen: readonly [number, number] = [0, 0];

  constructor(book: () => Promise<Book>) {
    this.#book = book;
  }

  /** Lists other files, or the same ones anew. */
  list(wanted: Wanted): void {
    this.#wanted = wanted;
    void frames.during(this.#list());
  }

  /** Has the rows from one place up to another at hand. */
  see(from: number, to: number): void {
    this.#seen = [from, to];
    void frames.during(this.#fetch(this.#turn));
  }

  /** The place of a file in the list; null where it is not in it. */
  async placeOf(path: string): Promise<number | null> {
    return await (await this.#book()).placeOf(path);
  }

  /** A row, fetched if need be; null beyond the list's end. */
  async row(place: number): Promise<Row | null> {
    const known = this.store.value.rows.get(place);
    return known ?? (await (await this.#book()).rows(place, 1))[0] ?? null;
  }

  async #list(): Promise<void> {
    const wanted = this.#wanted;
    if (wanted === null) {
      return;
    }
    this.#turn += 1;
    const turn = this.#turn;
    const book = await this.#book();
    const count = await book.list(wanted);
    const [from, to] = this.#seen;
    const first = Math.max(0, from - (from % PAGE));
    const rows = await book.rows(first, to - first + 1);
    if (turn === this.#turn) {
      this.#asked = new Set();
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
