/** What the Night place knows and does, apart from how it is shown. */

import type { Core } from '../../core/client.ts';
import type { Book } from '../../core/night/desk.ts';
import type { Decisions, Label as LabelGiven, NightFacts, NightKey, NightSettings, Overview } from '../../core/types.ts';
import { frames } from '../../frames.ts';
import type { Keeping } from '../../keep/keeping.ts';
import type { Label } from '../../keep/label.ts';
import { Store } from '../../store.ts';
import type { Finding } from './card/found.ts';
import { Run } from './card/run.ts';
import { remember, rememberedSettings, rememberOf, settingsOf } from './settings/usual.ts';

/** Nights are worked out anew at most so often while files come in: often enough to see that something happens. */
const AT_MOST_EVERY_MS = 500;
/** ... and so many times as rarely as one working-out takes. */
const SHARE = 6;

/** All that is known of the card that is open. */
export interface NightState {
  /** null: no card was opened. */
  readonly run: Run | null;
  readonly overview: Overview | null;
  readonly settings: NightSettings;
  /** The nights that are looked at, by `nameOf`; those that are not there any more are passed over. */
  readonly chosen: ReadonlySet<string>;
  /** Raised whenever nights, lists or tables may have changed. */
  readonly edition: number;
  /** Why nothing outlasts the page; null where it does. */
  readonly refusal: string | null;
  /** What went wrong with the place as a whole, as a sentence. */
  readonly complaint: string | null;
}

/** What a night is called in this page: its date and its recorder. */
export function nameOf({ evening, recorder }: NightKey): string {
  return `${evening} ${recorder}`;
}

export class NightSession {
  readonly store = new Store<NightState>({
    run: null,
    overview: null,
    settings: rememberedSettings(),
    chosen: new Set(),
    edition: 0,
    refusal: null,
    complaint: null,
  });
  readonly core: Core;
  readonly keeping: Keeping;
  #isZoneGiven = false;
  /** Whether the person has said something of this card, or what she once said was brought back. */
  #isTold = false;
  #isDue = false;
  #isSettling = false;

  constructor(core: Core, keeping: Keeping) {
    this.core = core;
    this.keeping = keeping;
    keeping.changed.listen(() => {
      const change = keeping.changed.value;
      if (change && this.store.value.run) {
        void frames.during(this.#decided(change.hash));
      }
    });
  }

  /** The worker that gathers, for whoever asks it for lists, plots and tables. */
  book(): Promise<Book> {
    return this.core.night.book();
  }

  /** Works through a card; one that was open before is let go of. */
  open(finding: Finding): void {
    this.store.value.run?.stop();
    const run = new Run(this.core.night, { expansion: undefined, channel: 0 }, () => this.#renew());
    this.#isZoneGiven = false;
    this.#isTold = false;
    this.#set({ run, overview: null, chosen: new Set(), complaint: null, settings: rememberedSettings() });
    void frames.during(this.#work(run, finding));
    // Asks the browser not to clear results away when space is short; it may say no.
    navigator.storage?.persist?.().catch(() => undefined);
  }

  /** Lets go of the card. What was found in its files stays kept. */
  close(): void {
    this.store.value.run?.stop();
    this.#set({ run: null, overview: null, chosen: new Set() });
  }

  /** Changes what the person says of the nights, and works them out anew. */
  change(change: Partial<NightSettings>): void {
    this.#isZoneGiven ||= change.utc_offset_min !== undefined;
    const settings = { ...this.store.value.settings, ...change };
    remember(settings);
    rememberOf(this.#names(), settings);
    this.#isTold = true;
    this.#set({ settings });
    this.#renew();
  }

  /** Looks at other nights. */
  choose(chosen: ReadonlySet<string>): void {
    this.#set({ chosen, edition: this.store.value.edition + 1 });
  }

  /** A copy of a file with its labels in its metadata; the file itself where it has none. */
  async labelledCopy(signal: AbortSignal, path: string, file: File): Promise<Blob> {
    const labels = await (await this.book()).labelsOf(path);
    if (labels.length === 0) {
      return file;
    }
    const opened = await this.core.open(signal, file, { expansion: null, soon: false });
    try {
      return (await opened.labelledCopy(signal, labels)).file;
    } finally {
      opened.close();
    }
  }

  async #work(run: Run, finding: Finding): Promise<void> {
    try {
      const book = await this.book();
      await run.begin();
      await book.decide(await this.#decisions());
      await run.work(finding);
      this.#set({ refusal: await book.refusal() });
    } catch (error) {
      if (this.store.value.run === run) {
        this.#set({ complaint: error instanceof Error ? error.message : String(error) });
      }
    }
    this.#renew();
  }

  /** Takes over what was decided about a file: here, in the Call place, or in another page. */
  async #decided(sha256: string): Promise<void> {
    try {
      const { labels, reviews } = await this.keeping.remarksOf(sha256);
      const book = await this.book();
      const last = reviews.at(-1);
      await book.decideOne(
        sha256,
        labels.map(given),
        last ? { verdict: last.verdict, who: last.who, when: last.when } : null,
      );
      this.#renew();
    } catch (error) {
      this.#set({ complaint: error instanceof Error ? error.message : String(error) });
    }
  }

  /** Everything that was decided about any file, here or in the Call place. */
  async #decisions(): Promise<Decisions> {
    const labels: Decisions['labels'] = {};
    const reviews: Decisions['reviews'] = {};
    for (const { hash, remarks } of await this.keeping.all()) {
      labels[hash] = remarks.labels.map(given);
      const last = remarks.reviews.at(-1);
      if (last) {
        reviews[hash] = { verdict: last.verdict, who: last.who, when: last.when };
      }
    }
    return { labels, reviews };
  }

  /** Has the nights worked out anew, soon. */
  #renew(): void {
    this.#isDue = true;
    if (!this.#isSettling) {
      this.#isSettling = true;
      void frames.during(this.#settle());
    }
  }

  async #settle(): Promise<void> {
    try {
      while (this.#isDue && this.store.value.run) {
        this.#isDue = false;
        const begun = performance.now();
        // oxlint-disable-next-line eslint/no-await-in-loop -- the next one is only due after this one
        await this.#once();
        const wait = Math.max(AT_MOST_EVERY_MS, SHARE * (performance.now() - begun));
        if (this.store.value.run?.progress.value.phase === 'working') {
          // oxlint-disable-next-line eslint/no-await-in-loop -- not too often
          await new Promise((resolve) => setTimeout(resolve, wait));
        }
      }
    } catch (error) {
      this.#set({ complaint: error instanceof Error ? error.message : String(error) });
    } finally {
      this.#isSettling = false;
    }
    if (this.#isDue && this.store.value.run) {
      this.#renew();
    }
  }

  async #once(): Promise<void> {
    const { run } = this.store.value;
    const book = await this.book();
    const overview = await book.settle(this.store.value.settings);
    if (run !== this.store.value.run) {
      return;
    }
    if (!this.#isTold && overview.nights.length > 0) {
      this.#bringBack(overview);
    }
    const stated = overview.nights.find(({ stated_offset_min }) => stated_offset_min !== undefined)?.stated_offset_min;
    const { settings, edition } = this.store.value;
    if (!this.#isZoneGiven && stated !== undefined && stated !== settings.utc_offset_min) {
      // The recorder's own word on its clock is better than this computer's.
      this.#set({ settings: { ...settings, utc_offset_min: stated } });
      this.#isDue = true;
    }
    this.#set({ overview, edition: edition + 1, chosen: chosenIn(overview, this.store.value.chosen) });
  }

  /** Brings back what the person once said of these nights. */
  #bringBack(overview: Overview): void {
    const kept = settingsOf(overview.nights.map(({ key }) => nameOf(key)));
    if (kept) {
      this.#isTold = true;
      this.#isZoneGiven = true;
      this.#isDue = true;
      this.#set({ settings: kept });
    }
  }

  #names(): readonly string[] {
    return this.store.value.overview?.nights.map(({ key }) => nameOf(key)) ?? [];
  }

  #set(change: Partial<NightState>): void {
    this.store.update((state) => ({ ...state, ...change }));
  }
}

/** A label as it is handed to the core. */
function given(label: Label): LabelGiven {
  return Object.assign({}, label, { about: [...label.about] });
}

/** What is looked at: as chosen, else the night with most files. */
function chosenIn({ nights }: Overview, before: ReadonlySet<string>): ReadonlySet<string> {
  const names = nights.map(({ key }) => nameOf(key));
  if (names.some((name) => before.has(name))) {
    return before;
  }
  const largest = nights.toSorted((a, b) => b.files - a.files)[0];
  return new Set(largest ? [nameOf(largest.key)] : []);
}

/** The nights that are looked at, in order. */
export function chosenNights({ overview, chosen }: NightState): readonly NightFacts[] {
  return overview?.nights.filter(({ key }) => chosen.has(nameOf(key))) ?? [];
}
