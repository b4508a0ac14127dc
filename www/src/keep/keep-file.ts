import { fieldsOf, listOf, numberOf, textOf, Unfit } from './check.ts';
import { moment } from './entry.ts';
import type { KeptRecording, Own } from './keeper.ts';
import { MOST_TEXT } from './label.ts';
import { readRemarks } from './remarks.ts';

/** What the first field of every keep file says. */
const FORMAT = 'dusklens keep file';
/** Raised when a reader of before could not make sense of it; a new list of remarks is none such change. */
const VERSION = 1;

/** A keep file longer than this is refused: ten years of labels have a tenth of it. */
export const MOST_BYTES = 32 * 2 ** 20;
const MOST_RECORDINGS = 100_000;
export const MOST_WORDS = 5000;

/** All that a keep file holds. */
export interface KeepFile {
  readonly own: Own;
  readonly recordings: readonly KeptRecording[];
}

/** Everything kept as one JSON text; the form is described in DEVELOPERS.md. */
export function writeKeepFile({ own, recordings }: KeepFile, version: string): string {
  const written = moment(new Date());
  return `${JSON.stringify({ format: FORMAT, version: VERSION, written, by: `Dusklens ${version}`, own, recordings }, null, 1)}\n`;
}

/** A keep file that anybody may have written; throws `Unfit` with a sentence where it is none. */
export function readKeepFile(text: string): KeepFile {
  const file = fieldsOf(parsed(text), 'the file');
  if (file['format'] !== FORMAT) {
    throw new Unfit('This is no keep file of Dusklens.');
  }
  const version = numberOf(file['version'], 'the version of the file', 1, 1e6);
  if (version > VERSION) {
    throw new Unfit('This keep file was written by a newer version of Dusklens than this one: open it with that.');
  }
  const recordings = listOf(file['recordings'], 'the recordings', MOST_RECORDINGS).map(readRecording);
  if (new Set(recordings.map(({ hash }) => hash)).size < recordings.length) {
    throw new Unfit('Two recordings of the file have the same hash.');
  }
  return { own: readOwn(file['own']), recordings };
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw new Unfit('This is no keep file: its text is no JSON, or it was cut off.');
  }
}

function readOwn(value: unknown): Own {
  const own = fieldsOf(value, 'the own list');
  return {
    words: listOf(own['words'], 'the own list', MOST_WORDS).map((word) => textOf(word, 'a word of the own list', MOST_TEXT)),
    who: textOf(own['who'], 'who keeps the file', MOST_TEXT),
  };
}

function readRecording(value: unknown, index: number): KeptRecording {
  const where = `recording ${index + 1}`;
  const fields = fieldsOf(value, where);
  const hash = textOf(fields['hash'], `the hash of ${where}`, 64);
  if (!/^[0-9a-f]{64}$/.test(hash)) {
    throw new Unfit(`What stands for the hash of ${where} is no SHA-256 in 64 hexadecimal digits.`);
  }
  return {
    hash,
    bytes: numberOf(fields['bytes'], `the size of ${where}`, 0, Number.MAX_SAFE_INTEGER),
    name: textOf(fields['name'], `the name of ${where}`, 1000),
    remarks: readRemarks(fields['remarks'], where),
  };
}
