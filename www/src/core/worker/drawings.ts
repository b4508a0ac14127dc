/** The picture that was drawn last, kept so that a change of colours transforms nothing again. */

import type { DrawingJob } from '../wasm/dusklens_web.js';

interface Kept {
  key: string;
  drawing: DrawingJob;
  users: number;
}

/** Keeps one picture; those that are no longer kept are freed when nobody uses them any more. */
export class Drawings {
  #kept: Kept | null = null;

  /** Uses the picture of `key`, begun with `begin` if it is not the one that is kept. */
  async use<T>(key: string, begin: () => DrawingJob, work: (drawing: DrawingJob) => Promise<T>): Promise<T> {
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

  #keep(next: Kept | null): void {
    const last = this.#kept;
    this.#kept = next;
    if (last !== null) {
      this.#freeIfUnused(last);
    }
  }

  #freeIfUnused(picture: Kept): void {
    if (picture.users === 0 && picture !== this.#kept) {
      picture.drawing.free();
    }
  }
}
