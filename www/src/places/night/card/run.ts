/** The working through of a card: finding its files, recalling what is known of them, examining the rest. */

import type { Problem } from '../../../core/client.ts';
import { EXAMINERS, type NightDesk } from '../../../core/night/desk.ts';
import type { Listing, Probe } from '../../../core/night/types.ts';
import type { ExamineOptions } from '../../../core/types.ts';
import { Store } from '../../../store.ts';
import { isRecording, type Finding, type Found } from './found.ts';
import { BEGINNING, type Progress } from './progress.ts';

/**
 * Files that are looked up at once: a database is slow for one and quick for many, but browsers ask the disk for the size and
 * date of each, a third of a millisecond of the page's own time.
 */
const LOOKED_UP = 64;
/** ... or as many as were found in this time, so that the first are seen at once. */
const LOOKED_UP_EVERY_MS = 100;

/** Something to wait at until somebody opens it. */
class Gate {
  open: () => void = () => undefined;
  readonly opened = new Promise<void>((resolve) => {
    this.open = resolve;
  });
}

/** A file that must be examined. */
interface Waiting {
  readonly found: Found;
  readonly listing: Listing;
}

/**
 * Works through a card. At most as many recordings are in memory as there are workers. It can be paused and ended at
 * any time: what was found by then is kept, and is recalled the next time.
 */
export class Run {
  readonly progress = new Store<Progress>(BEGINNING);
  readonly #desk: NightDesk;
  readonly #options: ExamineOptions;
  readonly #onNews: () => void;
  readonly #abort = new AbortController();
  readonly #queue: Waiting[] = [];
  /** How each file is had, by its path: it is read anew whenever it is opened. */
  readonly #files = new Map<string, Found>();
  /** The number that the book gave this card. */
  #card = 0;
  #pause: Gate | null = null;
  #news = new Gate();
  #since = performance.now();

  /** `onNews` is called after every file. */
  constructor(desk: NightDesk, options: ExamineOptions, onNews: () => void) {
    this.#desk = desk;
    this.#options = options;
    this.#onNews = onNews;
  }

  /** The file of a path, as it lies on the card now; null where there was none. */
  async file(path: string): Promise<File | null> {
    return (await this.#files.get(path)?.file()) ?? null;
  }

  /** Begins an empty book; what people decided is to be told to it before the first file comes. */
  async begin(): Promise<void> {
    const book = await this.#desk.book();
    this.#card = await book.begin(this.#options);
  }

  /** Works through what is found; returns when all is done, or it was stopped. */
  async work(finding: Finding): Promise<void> {
    this.#since = performance.now();
    const lanes = Array.from({ length: EXAMINERS }, () => this.#lane());
    try {
      await this.#list(finding);
    } finally {
      // Where a folder cannot be read, what was found by then is worked through all the same.
      this.#change({ isListed: true });
      this.#tell();
      await Promise.all(lanes);
      this.#desk.rest();
      this.#spend();
      this.#change({ phase: this.#abort.signal.aborted ? 'stopped' : 'done' });
    }
  }

  pause(): void {
    if (this.progress.value.phase === 'working') {
      this.#pause = new Gate();
      this.#spend();
      this.#change({ phase: 'paused' });
    }
  }

  resume(): void {
    if (this.progress.value.phase === 'paused') {
      this.#since = performance.now();
      this.#change({ phase: 'working' });
      this.#pause?.open();
      this.#pause = null;
    }
  }

  /** Ends the work; what was found stays. */
  stop(): void {
    this.resume();
    this.#abort.abort(new DOMException('Stopped', 'AbortError'));
    this.#tell();
  }

  async #list(finding: Finding): Promise<void> {
    let some: Found[] = [];
    let looked = performance.now();
    for await (const found of finding) {
      if (this.#abort.signal.aborted) {
        return;
      }
      if (!isRecording(found.path)) {
        this.#change({ others: this.progress.value.others + 1 });
        continue;
      }
      some.push(found);
      if (some.length >= LOOKED_UP || performance.now() - looked > LOOKED_UP_EVERY_MS) {
        await this.#lookUp(some);
        some = [];
        looked = performance.now();
      }
    }
    await this.#lookUp(some);
  }

  /** Takes in what is known of some files, and has the others wait for their turn. */
  async #lookUp(some: readonly Found[]): Promise<void> {
    const waiting = await Promise.all(some.map((found) => this.#listed(found)));
    const here = waiting.filter((one) => one !== null);
    const book = await this.#desk.book();
    const listings = here.map(({ listing }) => listing);
    const unknown = new Set(await book.recall(this.#card, listings, probesOf(here.map(({ file }) => file))));
    const queued = here.map(({ found, listing }) => ({ found, listing }));
    this.#queue.push(...queued.filter((_, index) => unknown.has(index)));
    const { recordings, recalled } = this.progress.value;
    this.#change({ recordings: recordings + some.length, recalled: recalled + here.length - unknown.size });
    this.#tell();
    this.#onNews();
  }

  async #listed(found: Found): Promise<(Waiting & { readonly file: File }) | null> {
    this.#files.set(found.path, found);
    try {
      const file = await found.file();
      return { found, file, listing: { path: found.path, bytes: file.size, modified_ms: file.lastModified } };
    } catch (error) {
      await this.#unreadable({ path: found.path, bytes: 0, modified_ms: 0 }, messageOf(error), WHERE_IS_IT);
      return null;
    }
  }

  /** Examines one file after the other, until there are no more. */
  async #lane(): Promise<void> {
    const { signal } = this.#abort;
    for (;;) {
      /* oxlint-disable eslint/no-await-in-loop -- one file after the other is what bounds the memory */
      await this.#pause?.opened;
      const next = signal.aborted ? undefined : this.#queue.shift();
      if (next) {
        await this.#examine(signal, next);
        this.#onNews();
      } else if (this.progress.value.isListed || signal.aborted) {
        return;
      } else {
        await this.#news.opened;
      }
      /* oxlint-enable eslint/no-await-in-loop */
    }
  }

  async #examine(signal: AbortSignal, { found, listing }: Waiting): Promise<void> {
    try {
      const file = await found.file();
      const book = await this.#desk.book();
      const once = async (fresh: boolean): Promise<boolean> =>
        book.take(this.#card, listing, await this.#desk.examine(signal, file, this.#options, fresh));
      if (!(await once(false))) {
        await once(true);
      }
      const { examined, bytes } = this.progress.value;
      this.#spend();
      this.#change({ examined: examined + 1, bytes: bytes + listing.bytes });
    } catch (error) {
      if (!signal.aborted) {
        await this.#unreadable(listing, messageOf(error), (error as Partial<Problem>).advice ?? WHERE_IS_IT);
      }
    }
  }

  async #unreadable(listing: Listing, message: string, advice: string): Promise<void> {
    const book = await this.#desk.book();
    await book.takeUnreadable(this.#card, { ...listing, message, advice });
    this.#change({ unreadable: this.progress.value.unreadable + 1 });
  }

  /** Counts the time since the last count as spent on working. */
  #spend(): void {
    if (this.progress.value.phase === 'working') {
      const now = performance.now();
      this.#change({ spentMs: this.progress.value.spentMs + now - this.#since });
      this.#since = now;
    }
  }

  /** Wakes the lanes that wait for files. */
  #tell(): void {
    this.#news.open();
    this.#news = new Gate();
  }

  #change(change: Partial<Progress>): void {
    this.progress.update((progress) => ({ ...progress, ...change }));
  }
}

/** The first of some files, the middle one and the last: handing all of them to a worker takes the page's time. */
function probesOf(files: readonly File[]): Probe[] {
  const places = new Set([0, files.length >> 1, files.length - 1]);
  return [...places].flatMap((at) => {
    const file = files[at];
    return file ? [{ at, file }] : [];
  });
}

const WHERE_IS_IT = 'Check that the card or disk is still connected and the file is still there, and open the folder again.';

function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
