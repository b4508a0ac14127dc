/** The worker that gathers what was found on a card: nights, lists, tables. */

import type {
  CheckSoFar,
  Decisions,
  DrawnFiles,
  ExamineOptions,
  Group,
  Label,
  NightChecks,
  NightKey,
  NightPlots,
  NightTable,
  NightSettings,
  Overview,
  PlaceSharing,
  ReportOrder,
  Review,
  Row,
  UnreadableFile,
  Wanted,
} from '../../types.ts';
import { keyOf, type BookSide, type Examination, type Listing, type Probe } from '../../night/types.ts';
import { NightBook, patternFault, pulsesHeader, rowsWithPath } from '../../wasm/dusklens_web.js';
import { contentOf } from './examining.ts';
import { openShelf, optionsKey, type Shelf } from './shelf.ts';

/** Text is handed to the browser in pieces of about so many letters. */
const PART_LETTERS = 2 ** 20;

/** Of so many files that are known again by name, size and date, the content of one is looked at. */
const CHECKED_EVERY = 500;
/** Larger files are not read for that. */
const MOST_CHECKED_BYTES = 64 * 2 ** 20;

/** What this worker knows of the card that is open. */
export class Book implements BookSide {
  readonly #shelf: Promise<Shelf> = openShelf();
  #book = new NightBook();
  /** The options that the files of this card are examined under, as they stand in keys. */
  #options = '';
  #examining: ExamineOptions = { expansion: undefined, channel: 0 };
  #card = 0;
  /** Files that were known again since the content of one was looked at. */
  #unchecked = CHECKED_EVERY;
  /** Whether files are what their names, sizes and dates make of them. */
  #isKnown = true;

  /** Begins another card. */
  begin(options: ExamineOptions): number {
    this.#book.free();
    this.#book = new NightBook();
    this.#options = optionsKey(options);
    this.#examining = options;
    this.#unchecked = CHECKED_EVERY;
    this.#isKnown = true;
    this.#card += 1;
    return this.#card;
  }

  /** Takes in what was found before in these files; returns the places in the list of those that must be examined. */
  async recall(card: number, listings: readonly Listing[], probes: readonly Probe[]): Promise<number[]> {
    const shelf = await this.#shelf;
    const found = await shelf.recall(listings.map(keyOf), this.#options);
    const kept = (await this.#areThey(found, probes)) ? found : [];
    if (card !== this.#card) {
      return [];
    }
    const unknown: number[] = [];
    for (const [index, { path, modified_ms }] of listings.entries()) {
      const examined = kept[index] ?? null;
      if (examined === null || !this.#book.take(path, modified_ms, examined)) {
        unknown.push(index);
      }
    }
    return unknown;
  }

  /**
   * Whether the files that are known again are those that they were: recorders of one kind that run side by side write
   * the same names, sizes and dates.
   */
  async #areThey(kept: readonly (string | null)[], probes: readonly Probe[]): Promise<boolean> {
    this.#unchecked += kept.filter((one) => one !== null).length;
    const probe = probes.find(({ at, file }) => kept[at] !== null && file.size <= MOST_CHECKED_BYTES);
    const known = probe && kept[probe.at];
    if (this.#isKnown && this.#unchecked > CHECKED_EVERY && probe && typeof known === 'string') {
      this.#unchecked = 0;
      const { sha256 } = JSON.parse(known) as { readonly sha256: string };
      // What cannot be read is told of when it is examined.
      this.#isKnown = sha256 === (await contentOf(probe.file, this.#examining).catch(() => ''));
    }
    return this.#isKnown;
  }

  /** Takes in what was found in a file, and keeps it. Returns false for what was kept in another form than is now used. */
  async take(card: number, listing: Listing, found: Examination): Promise<boolean> {
    const shelf = await this.#shelf;
    const key = keyOf(listing);
    if (card !== this.#card) {
      return true;
    }
    if (!this.#book.take(listing.path, listing.modified_ms, found.examined)) {
      return false;
    }
    await (found.isNew
      ? shelf.put(key, found, this.#options)
      : shelf.meet(key, found.sha256, this.#options));
    return true;
  }

  takeUnreadable(card: number, file: UnreadableFile): void {
    if (card === this.#card) {
      this.#book.take_unreadable(file);
    }
  }

  settle(settings: NightSettings): Overview {
    return this.#book.settle(settings);
  }

  decide(decisions: Decisions): void {
    this.#book.decide(decisions);
  }

  decideOne(sha256: string, labels: readonly Label[], review: Review | null): void {
    this.#book.decide_one(sha256, [...labels], review ?? undefined);
  }

  /** Lists the files that are wanted; returns how many. */
  list(wanted: Wanted): number {
    return this.#book.list(wanted);
  }

  rows(from: number, count: number): Row[] {
    return this.#book.rows(from, count);
  }

  placeOf(path: string): number | null {
    return this.#book.place_of(path) ?? null;
  }

  paths(wanted: Wanted): string[] {
    return this.#book.paths(wanted);
  }

  draw(nights: readonly NightKey[], group: Group, count: number, seed: number): DrawnFiles {
    return this.#book.draw([...nights], group, count, seed);
  }

  checkSoFar(contents: readonly string[], of: number): CheckSoFar {
    return this.#book.check_so_far([...contents], of);
  }

  checks(nights: readonly NightKey[]): NightChecks[] {
    return this.#book.checks([...nights]);
  }

  plots(nights: readonly NightKey[], widthPx: number): NightPlots {
    return this.#book.plots([...nights], widthPx);
  }

  table(table: NightTable, nights: readonly NightKey[], place: PlaceSharing): string {
    return this.#book.table(table, [...nights], place);
  }

  report(nights: readonly NightKey[], order: ReportOrder): string {
    return this.#book.report([...nights], order);
  }

  async pulseTable(nights: readonly NightKey[]): Promise<Blob> {
    const shelf = await this.#shelf;
    const parts: Blob[] = [];
    let text = pulsesHeader();
    for (const { path, sha256 } of this.#book.pulse_files([...nights])) {
      // oxlint-disable-next-line eslint/no-await-in-loop -- one after the other, so that few are in memory
      text += rowsWithPath((await shelf.rows(sha256, this.#options)) ?? '', path);
      if (text.length > PART_LETTERS) {
        parts.push(new Blob([text]));
        text = '';
      }
    }
    return new Blob([...parts, text], { type: 'text/csv' });
  }

  labelsOf(path: string): Label[] {
    return this.#book.labels_of(path);
  }

  patternFault(pattern: string): string | null {
    return patternFault(pattern) ?? null;
  }

  /** Why nothing outlasts the page; null where it does. */
  async refusal(): Promise<string | null> {
    return (await this.#shelf).refusal;
  }

  /** Forgets all that was ever found in files; what people decided stays. */
  async forget(): Promise<void> {
    await (await this.#shelf).clear();
  }
}
