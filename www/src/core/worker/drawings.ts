/** The picture that was drawn last, kept so that a change of colours transforms nothing again. */

/** What lives in the core's memory until it is let go. */
interface Freeable {
  free(): void;
}

interface Kept<D> {
  key: string;
  drawing: D;
  users: number;
}

/** Keeps one picture; those that are no longer kept are freed when nobody uses them any more. */
export class Drawings<D extends Freeable> {
  #kept: Kept<D> | null = null;

  /** Uses the picture of `key`, begun with `begin` if it is not the one that is kept. */
  async use<T>(key: string, begin: () => D, work: (drawing: D) => Promise<T>): Promise<T> {
    let used = this.#kept;
    if (used?.key !== key) {
      used = { key, drawing: begin(), users: 0 };
      this.#keep(used);
    }
    used.users += 1;
    try {
      return await work(used.drawing);
    } finally {
      used.users -= 1;
      this.#freeIfUnused(used);
    }
  }

  /** Keeps none. */
  clear(): void {
    this.#keep(null);
  }

  #keep(next: Kept<D> | null): void {
    const last = this.#kept;
    this.#kept = next;
    if (last !== null) {
      this.#freeIfUnused(last);
    }
  }

  #freeIfUnused(picture: Kept<D>): void {
    if (picture.users === 0 && picture !== this.#kept) {
      picture.drawing.free();
    }
  }
}
