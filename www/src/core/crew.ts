/** The workers, and who does what. */

import { Hand, Lost, type Source } from './hand.ts';
import { CoreModule } from './module.ts';
import { Problem } from './problem.ts';
import type { Rehearsed } from './types.ts';

/** What a lane is for. Work in one never waits for work in the others; the one for listening is made when somebody listens. */
export type LaneName = 'drawing' | 'drawing-2' | 'drawing-3' | 'measuring' | 'listening';

/** Lanes that draw pieces of a picture side by side: one core stays free for the page, one measures. */
export const DRAWING_LANES: readonly LaneName[] = (['drawing', 'drawing-2', 'drawing-3'] as const).slice(
  0,
  Math.max(1, Math.min(3, Math.floor(navigator.hardwareConcurrency / 2) - 1)),
);

/**
 * Tests that look at something else set this before the page is loaded: practising takes a second of a core for every page
 * that is opened, and there are hundreds.
 */
const UNREHEARSED = 'dusklensUnrehearsed' in globalThis;

/** Work that a worker does under a job's number. */
export type Work<T> = (hand: Hand, job: number) => Promise<T>;

/**
 * A worker for each lane, further ones for drawing once they are needed, and one that is warm to take over.
 *
 *     run -> the lane's worker -> the work
 *              |- aborted: rejects with the signal's reason; the worker is ended only if it does not heed that
 *              |- fault in the core: rejects with a Problem; the warm worker takes over
 *              '- worker ended for another's sake: done once more, by the warm worker
 */
export class Crew {
  readonly #core = new CoreModule();
  readonly #lanes = new Map<LaneName, Hand>();
  #warm: Hand | null = null;
  #hired: readonly Hand[] = [];
  #lastJob = 0;
  #disposed = false;
  /** What came out of the rehearsal; null where there was none. */
  readonly rehearsed: Promise<Rehearsed | null>;

  constructor() {
    this.#lanes.set('drawing', new Hand(this.#core));
    this.#lanes.set('measuring', new Hand(this.#core));
    this.#warm = new Hand(this.#core);
    // Without practice all is only slower.
    this.rehearsed = UNREHEARSED ? Promise.resolve(null) : this.#warm.rehearse().catch(() => null);
  }

  /** Has work done in a lane. */
  async run<T>(signal: AbortSignal, lane: LaneName, work: Work<T>): Promise<T> {
    signal.throwIfAborted();
    try {
      return await this.#attempt(signal, lane, work);
    } catch (error) {
      signal.throwIfAborted();
      if (!(error instanceof Lost) || this.#disposed) {
        throw Problem.from(error);
      }
    }
    try {
      return await this.#attempt(signal, lane, work);
    } catch (error) {
      signal.throwIfAborted();
      throw Problem.from(error);
    }
  }

  /** A further worker, which is whoever's that hires it, until it is ended. */
  hire(): Hand {
    const hand = new Hand(this.#core);
    this.#hired = [...this.#hired.filter(({ usable }) => usable), hand];
    return hand;
  }

  /** A number for a job that has none yet. */
  numbered(): number {
    this.#lastJob += 1;
    return this.#lastJob;
  }

  /** Closes a recording in all workers. */
  close(source: Source): void {
    for (const hand of this.#lanes.values()) {
      hand.close(source);
    }
  }

  /** Ends all workers. */
  dispose(): void {
    this.#disposed = true;
    for (const hand of [...this.#lanes.values(), ...this.#hired, this.#warm]) {
      hand?.end();
    }
  }

  #attempt<T>(signal: AbortSignal, lane: LaneName, work: Work<T>): Promise<T> {
    const hand = this.#hand(lane);
    const job = this.numbered();
    return hand.wait(signal, job, work(hand, job));
  }

  /** The worker of a lane; the warm one if that had to be ended. */
  #hand(lane: LaneName): Hand {
    if (this.#disposed) {
      throw new Problem('The page is being closed.', '');
    }
    const present = this.#lanes.get(lane);
    if (present?.usable === true) {
      return present;
    }
    const next = this.#warm?.usable === true ? this.#warm : new Hand(this.#core);
    this.#lanes.set(lane, next);
    this.#warm = new Hand(this.#core);
    return next;
  }
}
