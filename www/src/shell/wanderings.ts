import { frames } from '../frames.ts';
import type { Whereabouts } from './place.ts';

/** Browsers limit how often an address may change; a row of movements counts once. */
const REST_MS = 250;

/** What the browser keeps beside an address in its history. */
interface Entry {
  readonly note: number | null;
}

/**
 * Keeps the address in step with the view, so that Back leads to the view
 * before and a reload to the same one.
 */
export class Wanderings {
  readonly #back: (where: Whereabouts) => void;
  #last: Whereabouts = { fragment: location.hash, note: null };
  /** An address that is not written yet, and what ends its wait. */
  #pending: { readonly where: Whereabouts; readonly end: () => void } | null = null;
  readonly #listener = (event: PopStateEvent): void => {
    this.#drop();
    this.#last = { fragment: location.hash, note: (event.state as Entry | null)?.note ?? null };
    this.#back(this.#last);
  };

  constructor(back: (where: Whereabouts) => void) {
    this.#back = back;
    addEventListener('popstate', this.#listener);
  }

  /** Writes where the person is; `leap` makes it a place that Back leads to. */
  write(where: Whereabouts, leap: boolean): void {
    this.#drop();
    if (where.fragment === this.#last.fragment) {
      // The same words may come to stand for a recording that an address cannot name.
      if (where.note !== this.#last.note) {
        this.#put(where, false);
      }
      return;
    }
    if (leap) {
      this.#put(where, true);
    } else {
      void frames.during(this.#rested(where));
    }
  }

  /** Writes at once what still waits, before the person goes somewhere else. */
  settle(): void {
    const where = this.#pending?.where;
    this.#drop();
    if (where) {
      this.#put(where, false);
    }
  }

  /** An address that waits is overtaken by where the person has gone. */
  #drop(): void {
    this.#pending?.end();
    this.#pending = null;
  }

  /** Waits until a row of small movements is over. */
  async #rested(where: Whereabouts): Promise<void> {
    const isOver = await new Promise<boolean>((resolve) => {
      const timer = setTimeout(() => resolve(true), REST_MS);
      const end = (): void => {
        clearTimeout(timer);
        resolve(false);
      };
      this.#pending = { where, end };
    });
    if (isOver) {
      this.#pending = null;
      this.#put(where, false);
    }
  }

  #put(where: Whereabouts, leap: boolean): void {
    this.#last = where;
    const entry: Entry = { note: where.note };
    try {
      if (leap) {
        history.pushState(entry, '', where.fragment);
      } else {
        history.replaceState(entry, '', where.fragment);
      }
    } catch {
      // Some browsers refuse this for a page from disk. The view itself does not
      // depend on it.
    }
  }

  stop(): void {
    removeEventListener('popstate', this.#listener);
  }
}
