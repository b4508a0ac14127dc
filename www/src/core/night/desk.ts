/** The workers of the Night place: one that gathers, and some that examine. */

import type { Remote } from 'comlink';

import type { Crew } from '../crew.ts';
import { Lost, type Hand } from '../hand.ts';
import { Problem } from '../problem.ts';
import type { ExamineOptions } from '../types.ts';
import type { BookSide, ExaminerSide, Examination } from './types.ts';

/** More workers than this read faster than cards and disks give. */
const MOST_EXAMINERS = 12;

/**
 * As many as the machine has cores: each needs one all the time, and the page itself has hardly anything to do while a
 * card is worked through.
 */
export const EXAMINERS = Math.max(1, Math.min(MOST_EXAMINERS, navigator.hardwareConcurrency));

/** The gathering worker, as the page calls it. */
export type Book = Remote<BookSide>;

/** A worker that examines, and the way to it. */
interface Examiner {
  readonly hand: Hand;
  readonly side: Promise<Remote<ExaminerSide>>;
}

/** The Night place's workers. They are started when a card is opened, and those that examine are ended after it. */
export class NightDesk {
  readonly #crew: Crew;
  readonly #free: Examiner[] = [];
  #book: Promise<Book> | null = null;

  constructor(crew: Crew) {
    this.#crew = crew;
  }

  /** The worker that gathers. */
  book(): Promise<Book> {
    this.#book ??= this.#crew.hire().side<BookSide>((engine) => engine.book());
    return this.#book;
  }

  /** Examines a file in a worker of its own; as many run side by side as are called for. */
  async examine(signal: AbortSignal, file: File, options: ExamineOptions, fresh: boolean): Promise<Examination> {
    signal.throwIfAborted();
    const examiner = this.#free.pop() ?? this.#start();
    const job = this.#crew.numbered();
    const work = examiner.side.then((side) => side.examine(job, file, options, fresh));
    try {
      return await examiner.hand.wait(signal, job, work);
    } catch (error) {
      signal.throwIfAborted();
      throw error instanceof Lost ? new Problem('The reading of this file was ended.', 'Open it by itself.') : Problem.from(error);
    } finally {
      if (examiner.hand.usable) {
        this.#free.push(examiner);
      }
    }
  }

  /** Ends the workers that have nothing to do; the next file starts one anew. */
  rest(): void {
    for (const { hand } of this.#free.splice(0)) {
      hand.end();
    }
  }

  #start(): Examiner {
    const hand = this.#crew.hire();
    const side = hand.side<ExaminerSide>((engine) => engine.examiner());
    side.catch(() => undefined);
    return { hand, side };
  }
}
