import { fieldsOf, listOf, numberOf, oneOf, textOf, type Where } from './check.ts';
import { readEntry, type Entry } from './entry.ts';

/** How sure somebody is, from most to least. */
export const CERTAINTIES = ['sure', 'probable', 'possible'] as const;
export type Certainty = (typeof CERTAINTIES)[number];

/** A pulse that something is said of. */
export interface Span {
  /** As the table called it then: "7", or "D3" for a doubted sound. */
  readonly name: string;
  /** Counted from 0. */
  readonly channel: number;
  /** Real time at the microphone, seconds, as long as the time expansion is the one below. */
  readonly start_s: number;
  readonly end_s: number;
  /** The time expansion that those times were measured with. */
  readonly expansion: number;
}

/** What somebody takes a recording, or some of its pulses, to be. */
export interface Label extends Entry {
  /** The pulses it is about; none: the whole recording. */
  readonly about: readonly Span[];
  readonly text: string;
  readonly certainty: Certainty;
  readonly note: string;
  /** Who says so; may be empty. */
  readonly who: string;
}

export const MOST_TEXT = 200;
export const MOST_NOTE = 4000;
const MOST_SPANS = 100_000;
const MOST_CHANNEL = 65_535;
/** A year of recording, seconds. */
const MOST_SECONDS = 31_622_400;
const MOST_EXPANSION = 1000;

/** A label from a file. Fields that are not known here are left out. */
export function readLabel(value: unknown, where: Where): Label {
  const fields = fieldsOf(value, where);
  return {
    ...readEntry(fields, where),
    about: listOf(fields['about'], `the pulses of ${where}`, MOST_SPANS).map((span) => readSpan(span, where)),
    text: textOf(fields['text'], `the words of ${where}`, MOST_TEXT),
    certainty: oneOf(fields['certainty'], `the certainty of ${where}`, CERTAINTIES),
    note: textOf(fields['note'], `the note of ${where}`, MOST_NOTE),
    who: textOf(fields['who'], `who made ${where}`, MOST_TEXT),
  };
}

export function readSpan(value: unknown, where: Where): Span {
  const fields = fieldsOf(value, `a pulse of ${where}`);
  const number = (key: string, most: number, least = 0): number =>
    numberOf(fields[key], `${key} of a pulse of ${where}`, least, most);
  return {
    name: textOf(fields['name'], `the number of a pulse of ${where}`, 16),
    channel: number('channel', MOST_CHANNEL),
    start_s: number('start_s', MOST_SECONDS),
    end_s: number('end_s', MOST_SECONDS),
    expansion: number('expansion', MOST_EXPANSION, 1),
  };
}
