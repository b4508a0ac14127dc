import type { CallOrder, MadeLink, Opened } from '../../../core/client.ts';
import { frames } from '../../../frames.ts';

/** Makes the link of what was last ordered. */
export class LinkMaker {
  readonly #changed: () => void;
  #abort: AbortController | null = null;
  #wanted = '';
  made: MadeLink | null = null;
  /** How much is done, 0 to 1; null: nothing is being made. */
  share: number | null = null;
  problem: string | null = null;

  constructor(changed: () => void) {
    this.#changed = changed;
  }

  /** Has it made, unless it is just that. */
  want(opened: Opened, channel: number, order: CallOrder): void {
    const wanted = JSON.stringify([channel, order]);
    if (wanted !== this.#wanted) {
      this.#wanted = wanted;
      void frames.during(this.#make(opened, channel, order));
    }
  }

  clear(): void {
    this.#abort?.abort(new DOMException('Closed', 'AbortError'));
    this.#wanted = '';
    this.made = null;
    this.share = null;
    this.problem = null;
  }

  async #make(opened: Opened, channel: number, order: CallOrder): Promise<void> {
    this.#abort?.abort(new DOMException('Other choices', 'AbortError'));
    const abort = new AbortController();
    this.#abort = abort;
    // What was made before is of something else.
    this.made = null;
    this.problem = null;
    this.share = 0;
    this.#changed();
    try {
      const made = await opened.link(abort.signal, channel, order, (share) => {
        this.share = share;
        this.#changed();
      });
      abort.signal.throwIfAborted();
      this.made = made;
    } catch (error) {
      if (abort.signal.aborted) {
        return;
      }
      this.problem = error instanceof Error ? error.message : String(error);
    }
    this.share = null;
    this.#changed();
  }
}
