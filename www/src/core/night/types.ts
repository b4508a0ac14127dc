/** The types that the Night place and its workers share, beside those of the core itself. */

import type {
  CheckSoFar,
  Decisions,
  DrawnFiles,
  ExaminedFile,
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
} from '../types.ts';

/** A file as it lies on the card, before anything is known of it. */
export interface Listing {
  /** From the chosen folder on, with `/` between folders. */
  readonly path: string;
  readonly bytes: number;
  /** When it was last written to, milliseconds since 1970 UTC. */
  readonly modified_ms: number;
}

/** A file of a list, by its place in it: some are enough to see whether a card is the one that its names make of it. */
export interface Probe {
  readonly at: number;
  readonly file: Blob;
}

/** What came of examining a file. */
export interface Examination extends ExaminedFile {
  /** Whether it was measured; false: its content was known, and `rows` are where they were. */
  readonly isNew: boolean;
}

/** By what a file is known again without being read: whoever changes its content changes its size or date. */
export function keyOf({ path, bytes, modified_ms }: Listing): string {
  return `${bytes}|${modified_ms}|${path}`;
}

/** What a worker that examines files does for the page. */
export interface ExaminerSide {
  /** `fresh`: measured even where its content is known. */
  examine(job: number, file: Blob, options: ExamineOptions, fresh: boolean): Promise<Examination>;
}

/** What the worker that gathers does for the page. */
export interface BookSide {
  /** Begins another card; returns its number, by which what is still on its way for the one before is told apart. */
  begin(options: ExamineOptions): number;
  /** Takes in what was found before in these files, if `probes` of them hold what they held then; returns the places in the list of those that must be examined. */
  recall(card: number, listings: readonly Listing[], probes: readonly Probe[]): Promise<number[]>;
  /** Takes in what was found in a file, and keeps it; false: what was kept of it cannot be read any more. */
  take(card: number, listing: Listing, found: Examination): Promise<boolean>;
  takeUnreadable(card: number, file: UnreadableFile): void;
  settle(settings: NightSettings): Overview;
  /** What people decided about all files. */
  decide(decisions: Decisions): void;
  /** What people decided about one file. */
  decideOne(sha256: string, labels: readonly Label[], review: Review | null): void;
  /** Lists the files that are wanted; returns how many. Their rows are then asked for. */
  list(wanted: Wanted): number;
  rows(from: number, count: number): Row[];
  /** Where a file stands in the list; null where it does not. */
  placeOf(path: string): number | null;
  /** The paths of wanted files; the list stays as it is. */
  paths(wanted: Wanted): string[];
  /** Draws files of a group at random; the same seed draws the same. */
  draw(nights: readonly NightKey[], group: Group, count: number, seed: number): DrawnFiles;
  /** What looking at drawn files says so far of all that they were drawn from. */
  checkSoFar(contents: readonly string[], of: number): CheckSoFar;
  /** Checks the recorders of these nights. */
  checks(nights: readonly NightKey[]): NightChecks[];
  /** Draws these nights, so many pixels wide. */
  plots(nights: readonly NightKey[], widthPx: number): NightPlots;
  /** A table of these nights; `place`: how exactly Darwin Core may name the place. */
  table(table: NightTable, nights: readonly NightKey[], place: PlaceSharing): string;
  /** The report of these nights as one HTML file. */
  report(nights: readonly NightKey[], order: ReportOrder): string;
  /** Every pulse of these nights as a table; it is put together by the browser and not in memory here. */
  pulseTable(nights: readonly NightKey[]): Promise<Blob>;
  /** The labels of a file, by its path. */
  labelsOf(path: string): Label[];
  /** Why a pattern of date and time in file names cannot be used; null for one that can. */
  patternFault(pattern: string): string | null;
  /** Why nothing outlasts the page; null where it does. */
  refusal(): Promise<string | null>;
  /** Forgets all that was ever found in files; what people decided stays. */
  forget(): Promise<void>;
}
