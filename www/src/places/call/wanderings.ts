import { frames } from '../../frames.ts';
import { format, parse, type Address } from './address.ts';

/** Browsers limit how often an address may change; a row of movements counts once. */
const REST_MS = 250;

/** What the browser keeps beside an address in its history. */
interface Entry {
  /** Recording of this visit; an address alone cannot name a dropped file. */
  readonly recording: number | null;
}

/**
 * Keeps the address in step with the view, so that Back leads to the view
 * before and a reload to the same one.
 */
export class Wanderings {
  readonly #back: (address: Address, recording: number | null) => void;
  #last = location.hash;
  #recording: number | null = null;
  /** Ends the wait of an address that is not written yet. */
  #pending: (() => void) | null = null;
  readonly #listener = (event: PopStateEvent): void => {
    this.#last = location.hash;
    this.#recording = (event.state as Entry | null)?.recording ?? null;
    this.#back(parse(location.hash), this.#recording);
  };

  constructor(back: (address: Address, recording: number | null) => void) {
    this.#back = back;
    addEventListener('popstate', this.#listener);
  }

  /** What the address says now, which is at first what the page was opened with. */
  static here(): Address {
    return parse(location.hash);
  }

  /** Writes where the person is; `leap` makes it a place that Back leads to. */
  write(address: Address, recording: number | null, leap: boolean): void {
    const fragment = format(address);
    this.#pending?.();
    this.#pending = null;
    if (fragment === this.#last) {
      // The same words may come to stand for a recording that an address cannot name.
      if (recording !== this.#recording) {
        this.#put(fragment, recording, false);
      }
      return;
    }
    if (leap) {
      this.#put(fragment, recording, true);
    } else {
      void frames.during(this.#rested(fragment, recording));
    }
  }

  /** Waits until a row of small movements is over. */
  async #rested(fragment: string, recording: number | null): Promise<void> {
    const isOver = await new Promise<boolean>((resolve) => {
      const timer = setTimeout(() => resolve(true), REST_MS);
      this.#pending = () => {
        clearTimeout(timer);
        resolve(false);
      };
    });
    if (isOver) {
      this.#pending = null;
      this.#put(fragment, recording, false);
    }
  }

  #put(fragment: string, recording: number | null, leap: boolean): void {
    this.#last = fragment;
    this.#recording = recording;
    const entry: Entry = { recording };
    try {
      if (leap) {
        history.pushState(entry, '', fragment);
      } else {
        history.replaceState(entry, '', fragment);
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
