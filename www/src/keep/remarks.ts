import { fieldsOf, listOf, Unfit, type Where } from './check.ts';
import type { Entry } from './entry.ts';
import { readHand, type HandEntry } from './hand.ts';
import { readLabel, type Label } from './label.ts';
import { readReview, type Review } from './review.ts';

/**
 * All that a person decided about one recording: lists of entries, each list with a name. It never changes; a change
 * makes another one. A new list is added here and in `READERS`, and nowhere else: what was kept before it existed has
 * it empty.
 */
export interface Remarks {
  readonly labels: readonly Label[];
  readonly hand: readonly HandEntry[];
  readonly reviews: readonly Review[];
}

type Kind = keyof Remarks;

/** How an entry of each list is read from a file that others may have written. */
const READERS: { readonly [K in Kind]: (value: unknown, where: Where) => Remarks[K][number] } = {
  labels: readLabel,
  hand: readHand,
  reviews: readReview,
};

const KINDS = Object.keys(READERS) as Kind[];
const MOST_ENTRIES = 100_000;

export const NO_REMARKS: Remarks = { labels: [], hand: [], reviews: [] };

export function isEmpty(remarks: Remarks): boolean {
  return KINDS.every((kind) => remarks[kind].length === 0);
}

/** How many entries there are. */
export function countEntries(remarks: Remarks): number {
  return KINDS.reduce((sum, kind) => sum + remarks[kind].length, 0);
}

/** Remarks as they were kept here, by this version or one before it. */
export function filledUp(kept: Partial<Remarks>): Remarks {
  return { ...NO_REMARKS, ...kept };
}

/** Remarks from a file that anybody may have written; throws `Unfit`. */
export function readRemarks(value: unknown, where: Where): Remarks {
  const fields = fieldsOf(value, `the remarks of ${where}`);
  return mapped((kind) => {
    const entries = fields[kind] === undefined ? [] : listOf(fields[kind], `${kind} of ${where}`, MOST_ENTRIES);
    const read = entries.map((entry, index) => READERS[kind](entry, `entry ${index + 1} of ${kind} of ${where}`));
    if (byId(read).size < read.length) {
      throw new Unfit(`Two of the ${kind} of ${where} have the same id.`);
    }
    return read;
  });
}

/** Brings the changes from `before` to `after` to remarks that others may have changed since. */
export function carried(present: Remarks, before: Remarks, after: Remarks): Remarks {
  return mapped((kind) => {
    const was = byId<Entry>(before[kind]);
    const is = byId<Entry>(after[kind]);
    const changed = after[kind].filter((entry) => !same(entry, was.get(entry.id)));
    const gone = new Set([...was.keys()].filter((id) => !is.has(id)));
    return put(present[kind].filter(({ id }) => !gone.has(id)), changed);
  });
}

/** What came of merging. */
export interface Merged {
  readonly remarks: Remarks;
  readonly added: number;
  /** Entries that were there, and newer in what came. */
  readonly updated: number;
  /** Entries that were there, and as new or newer here. */
  readonly stayed: number;
}

/** Adds remarks from elsewhere: of two entries with one id, the one that was changed last wins. */
export function merged(here: Remarks, coming: Remarks): Merged {
  const count = { added: 0, updated: 0, stayed: 0 };
  const remarks = mapped((kind) => {
    const known = byId<Entry>(here[kind]);
    const wins = (entry: Entry): boolean => {
      const other = known.get(entry.id);
      const newer = other !== undefined && Date.parse(entry.when) > Date.parse(other.when);
      count[other === undefined ? 'added' : newer ? 'updated' : 'stayed'] += 1;
      return other === undefined || newer;
    };
    return put<Entry>(here[kind], coming[kind].filter(wins));
  });
  return { remarks, ...count };
}

/** `list` with entries changed where they are, or put at its end. */
function put<E extends Entry>(list: readonly E[], entries: readonly E[]): E[] {
  const fresh = byId(entries);
  const there = list.map((entry) => {
    const other = fresh.get(entry.id) ?? entry;
    fresh.delete(entry.id);
    return other;
  });
  return [...there, ...fresh.values()];
}

function byId<E extends Entry>(entries: readonly E[]): Map<string, E> {
  return new Map(entries.map((entry) => [entry.id, entry]));
}

/** Whether two entries say the same. Both are plain values that were built the same way. */
function same(entry: Entry, other: Entry | undefined): boolean {
  return entry === other || JSON.stringify(entry) === JSON.stringify(other);
}

/** Remarks made list by list. Each list keeps to its kind; that cannot be said in types. */
function mapped(list: (kind: Kind) => readonly Entry[]): Remarks {
  return Object.fromEntries(KINDS.map((kind) => [kind, list(kind)])) as unknown as Remarks;
}
