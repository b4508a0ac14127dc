import { Problem } from '../core/client.ts';
import { frames } from '../frames.ts';

/** Does what a dialogue's buttons ask for, one wish at a time, and says what came of it. */
export class Doing {
  readonly #changed: () => void;
  #abort: AbortController | null = null;
  /** What came of the last wish; empty before the first. */
  said = '';

  constructor(changed: () => void) {
    this.#changed = changed;
  }

  /** Does something; a wish ends the one before it. `done` is said where it succeeds. */
  begin(done: string, work: (signal: AbortSignal) => Promise<void>): void {
    this.#abort?.abort(new DOMException('Another wish', 'AbortError'));
    const abort = new AbortController();
    this.#abort = abort;
    this.say('One moment …');
    void frames.during(this.#attempt(abort.signal, done, work));
  }

  say(words: string): void {
    this.said = words;
    this.#changed();
  }

  /** Gives up what is under way. */
  end(): void {
    this.#abort?.abort(new DOMException('Closed', 'AbortError'));
    this.said = '';
  }

  async #attempt(signal: AbortSignal, done: string, work: (signal: AbortSignal) => Promise<void>): Promise<void> {
    let said = done;
    try {
      await work(signal);
    } catch (error) {
      said = error instanceof Problem ? `${error.message} ${error.advice}`.trim() : wordsOf(error);
    }
    if (!signal.aborted) {
      this.say(said);
    }
  }
}

function wordsOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
