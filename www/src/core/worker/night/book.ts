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
import { keyOf, type BookSide, type Examination, type Listing } from '../../night/types.ts';
import { NightBook, patternFault, pulsesHeader, rowsWithPath } from '../../wasm/dusklens_web.js';
import { openShelf, optionsKey, type Shelf } from './shelf.ts';

/** Text is handed to the browser in pieces of about so many letters. */
const PART_LETTERS = 2 ** 20;

/** What this worker knows of the card that is open. */
export class Book implements BookSide {
  readonly #shelf: Promise<Shelf> = openShelf();
  #book = new NightBook();
  /** The options that the files of this card are examined under, as they stand in keys. */
  #options = '';
  #card = 0;

  /** Begins another card. */
  begin(options: ExamineOptions): number {
    this.#book.free();
    this.#book = new NightBook();
    this.#options = optionsKey(options);
    this.#card += 1;
    return this.#card;
  }

  /** Takes in what was found before in these files; returns the places in the list of those that must be examined. */
  async recall(card: number, listings: readonly Listing[]): Promise<number[]> {
    const shelf = await this.#shelf;
    const kept = await shelf.recall(listings.map(keyOf), this.#options);
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

  contents(wanted: Wanted): string[] {
    return this.#book.contents(wanted);
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
