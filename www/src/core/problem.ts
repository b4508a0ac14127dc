/** What went wrong, in words for the person. */

import type { Thrown } from './types.ts';

/** A failure that a person can be told of. */
export class Problem extends Error {
  override name = 'Problem';
  /** What can still be done, as a sentence; empty where there is nothing to say. */
  readonly advice: string;
  /** The byte of the file where the fault lies, if it lies in one place. */
  readonly byte: number | null;

  constructor(message: string, advice: string, byte: number | null = null, cause?: unknown) {
    super(message, { cause });
    this.advice = advice;
    this.byte = byte;
  }

  /** The problem that an error stands for; faults of ours become one that says so. */
  static from(error: unknown): Problem {
    if (error instanceof Problem) {
      return error;
    }
    if (isThrown(error) && error.kind === 'problem') {
      return new Problem(error.message, error.advice, error.byte);
    }
    const detail = isThrown(error) && error.kind === 'fault' ? error.message : String(error);
    return new Problem(
      `Dusklens itself failed here; the recording is not at fault as far as is known. (${detail})`,
      'It has been started anew: try again. If it fails again, please report it with the words in brackets.',
      null,
      error,
    );
  }
}

/** Whether a worker threw this. */
export function isThrown(error: unknown): error is Thrown {
  return typeof error === 'object' && error !== null && 'kind' in error;
}
