import type { HandNote } from '../../../core/client.ts';
import type { HandEntry } from '../../../keep/hand.ts';

/** What must be known about a hand measurement, as sentences. */
export const NOTES: Readonly<Record<HandNote, string>> = {
  nothing_stands_out: 'Nothing in the band stands out of the noise: there is no pulse to measure.',
  nothing_followed: 'Something sounds there, but no course of frequency could be followed: start, end, low and high are those of the band.',
  begins_before_band: 'The sound goes on before the band: its start here is where the band begins.',
  ends_after_band: 'The sound goes on after the band: its end here is where the band ends.',
  leaves_frequencies: 'The sound leaves the frequencies of the band: it is measured as far as it lies in them.',
  holds_multiple: 'The band holds a harmonic: the numbers are those of its fundamental.',
  band_cut: 'The band reached beyond the recording and was cut to it.',
  start_given: 'The start is set by hand.',
  end_given: 'The end is set by hand.',
  contour_given: 'The contour is led by hand.',
};

/** What an entry is called. */
export const KINDS: Readonly<Record<Exclude<HandEntry['kind'], 'aside'>, string>> = {
  corrected: 'Corrected pulse',
  added: 'Added pulse',
  band: 'Measured band',
  interval: 'Interval',
};

/** Reasons for which a pulse is set aside most often. */
export const REASONS: readonly string[] = [
  'Echo of another pulse',
  'Noise, no bat',
  'Part of another pulse',
  'Another animal’s pulse',
  'Too faint to be sure',
];

/** "15 June 2026, 09:30", or what stands there if it is no moment. */
export function whenWords(when: string): string {
  const date = new Date(when);
  return Number.isNaN(date.getTime())
    ? when
    : date.toLocaleString('en-GB', { day: 'numeric', month: 'short', year: 'numeric', hour: '2-digit', minute: '2-digit' });
}

/** "by Ann, 15 June 2026, 09:30". */
export function madeWords({ who, when }: { who: string; when: string }): string {
  return who === '' ? whenWords(when) : `by ${who}, ${whenWords(when)}`;
}
