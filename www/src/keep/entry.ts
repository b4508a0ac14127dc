import { two } from '../digits.ts';
import { momentOf, textOf, type Where } from './check.ts';

/** Anything that a person decided: a label, a measurement by hand. */
export interface Entry {
  /** Never given twice, on this machine or another. */
  readonly id: string;
  /** When it was made or last changed: ISO 8601 with the distance from UTC. */
  readonly when: string;
}

const ID_BYTES = 12;
const MOST_ID = 64;

/** The beginning of an entry that is made now. */
export function freshEntry(): Entry {
  const bytes = crypto.getRandomValues(new Uint8Array(ID_BYTES));
  const id = Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
  return { id, when: moment(new Date()) };
}

/** The beginning of an entry from a file. */
export function readEntry(fields: Readonly<Record<string, unknown>>, where: Where): Entry {
  return {
    id: textOf(fields['id'], `the id of ${where}`, MOST_ID),
    when: momentOf(fields['when'], `the moment of ${where}`),
  };
}

/** A moment by the clock on the wall, with its distance from UTC: `2026-06-14T22:41:05+01:00`. */
export function moment(date: Date): string {
  const ahead = -date.getTimezoneOffset();
  const local = new Date(date.getTime() + ahead * 60_000).toISOString().slice(0, 19);
  const size = Math.abs(ahead);
  return `${local}${ahead < 0 ? '-' : '+'}${two(size / 60)}:${two(size % 60)}`;
}
