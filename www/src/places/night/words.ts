/** The words of the Night place. */

import type { Group, ReviewVerdict, TimeOrigin } from '../../core/types.ts';
import { two } from '../../digits.ts';

/** What each group is called. */
export const GROUPS: { readonly [G in Group]: string } = {
  holds_pulses: 'Bat pulses',
  unsure: 'Unsure',
  probably_none: 'Probably none',
  broken: 'Broken',
  copy: 'Copies',
};

/** What a check by ear or eye can come to. */
export const REVIEWS: { readonly [V in ReviewVerdict]: string } = {
  bat: 'Bat',
  no_bat: 'No bat',
  unsure: 'Cannot tell',
};

/** Who says when a file was recorded. */
export const ORIGINS: { readonly [O in TimeOrigin]: string } = {
  guano: 'from its metadata (GUANO)',
  bext: 'from its metadata (bext)',
  info: 'from its metadata (INFO)',
  file_name: 'from its name',
  file_date: 'from its date in the folder, which may be the date of a copy',
};

/** A count with its thing: "1 file", "2,304 files". */
export function counted(count: number, thing: string, many = `${thing}s`): string {
  return `${count.toLocaleString('en')} ${count === 1 ? thing : many}`;
}

/** A span of time in words: "40 s", "12 min", "3 h 20 min". */
export function lasting(seconds: number): string {
  const whole = Math.max(0, Math.round(seconds));
  if (whole < 90) {
    return `${whole} s`;
  }
  const minutes = Math.round(whole / 60);
  return minutes < 90 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
}

/** Made when a night is named first: it takes some dozen milliseconds, which the page's start must not wait for. */
let dates: Intl.DateTimeFormat | null = null;

/** A night's date as people say it: "14 to 15 June 2026". */
export function nightWords(evening: string): string {
  const from = new Date(`${evening}T12:00:00Z`);
  if (Number.isNaN(from.getTime())) {
    return evening;
  }
  const to = new Date(from.getTime() + 86_400_000);
  dates ??= new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'long', year: 'numeric', timeZone: 'UTC' });
  return dates.formatRange(from, to);
}

/** A clock's distance from UTC: "UTC+01:00". */
export function zoneWords(minutes: number): string {
  const size = Math.abs(minutes);
  return `UTC${minutes < 0 ? '−' : '+'}${two(size / 60)}:${two(size % 60)}`;
}

/** A moment as a clock so many minutes ahead of UTC has it, to the nearest minute: "22:41". */
export function clockOf(utcS: number, offsetMin: number): string {
  return new Date((Math.round(utcS / 60) + offsetMin) * 60_000).toISOString().slice(11, 16);
}
