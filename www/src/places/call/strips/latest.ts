import { frames } from '../../../frames.ts';

/** Work that has gone on this long is given up for a newer wish. */
const PATIENCE_MS = 200;

/** What came of a wish. */
export interface Outcome<Wish, Result> {
  readonly wish: Wish;
  readonly result: Result;
}

/**
 * Has the newest wish worked on, one at a time: wishes that come meanwhile replace one another, as while somebody
 * drags. What came of an older one stays until the next is done.
 */
export class Latest<Wish, Result> {
  readonly #work: (signal: AbortSignal, wish: Wish) => Promise<Result>;
  readonly #same: (a: Wish, b: Wish) => boolean;
  readonly #changed: () => void;
  #wanted: Wish | null = null;
  #settled: Wish | null = null;
  #going: { since: number; abort: AbortController } | null = null;
  outcome: Outcome<Wish, Result> | null = null;
  problem: string | null = null;

  constructor(
    work: (signal: AbortSignal, wish: Wish) => Promise<Result>,
    same: (a: Wish, b: Wish) => boolean,
    changed: () => void,
  ) {
    this.#work = work;
    this.#same = same;
    this.#changed = changed;
  }

  /** Asks for something; null: for nothing any more. */
  want(wish: Wish | null): void {
    const before = this.#wanted;
    if (before === wish || (before !== null && wish !== null && this.#same(before, wish))) {
      return;
    }
    this.#wanted = wish;
    const going = this.#going;
    if (going && (wish === null || performance.now() - going.since > PATIENCE_MS)) {
      going.abort.abort(new DOMException('Replaced', 'AbortError'));
    }
    if (wish !== null) {
      void frames.during(this.#proceed());
    }
  }

  /** Drops everything, such as when another recording is shown. */
  clear(): void {
    this.want(null);
    this.#settled = null;
    this.outcome = null;
    this.problem = null;
  }

  async #proceed(): Promise<void> {
    const wish = this.#wanted;
    if (this.#going || wish === null || (this.#settled !== null && this.#same(this.#settled, wish))) {
      return;
    }
    const abort = new AbortController();
    this.#going = { since: performance.now(), abort };
    try {
      const result = await this.#work(abort.signal, wish);
      abort.signal.throwIfAborted();
      this.outcome = { wish, result };
      this.#settled = wish;
      this.problem = null;
    } catch (error) {
      if (!abort.signal.aborted) {
        this.#settled = wish;
        this.problem = error instanceof Error ? error.message : String(error);
      }
    }
    this.#going = null;
    this.#changed();
    await this.#proceed();
  }
}
