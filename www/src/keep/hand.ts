import type { Band, ContourPoint, HandInterval, HandMeasurement, HandNote, Pulse } from '../core/types.ts';
import { fieldsOf, listOf, numberOf, oneOf, textOf, Unfit, type Where } from './check.ts';
import { readEntry, type Entry } from './entry.ts';
import { MOST_NOTE, MOST_TEXT, readSpan, type Span } from './label.ts';

/** What somebody did by hand. The automatic numbers stay as they are; these stand beside them. */
export type HandEntry = CorrectedPulse | MarkedBand | MeasuredInterval | PulseSetAside;

interface HandBase extends Entry {
  /** Who did it; may be empty. */
  readonly who: string;
}

/** An automatic pulse with a start, end or contour that somebody gave. */
export interface CorrectedPulse extends HandBase {
  readonly kind: 'corrected';
  readonly of: Span;
  /** Seconds; null: as the envelope has it. */
  readonly start_s: number | null;
  readonly end_s: number | null;
  readonly points: readonly ContourPoint[];
  readonly measurement: HandMeasurement;
}

/** A band that was measured: a pulse that was missed, or just a stretch that somebody wanted to know of. */
export interface MarkedBand extends HandBase {
  readonly kind: 'added' | 'band';
  /** Counted from 0. */
  readonly channel: number;
  /** The time expansion that the times were measured with. */
  readonly expansion: number;
  readonly measurement: HandMeasurement;
}

/** The interval between two pulses that somebody chose. */
export interface MeasuredInterval extends HandBase {
  readonly kind: 'interval';
  readonly first: Span;
  readonly second: Span;
  readonly interval: HandInterval;
}

/** An automatic pulse that somebody set aside. */
export interface PulseSetAside extends HandBase {
  readonly kind: 'aside';
  readonly of: Span;
  readonly reason: string;
}

export const MOST_POINTS = 64;
const MOST_SECONDS = 31_622_400;
const MOST_NUMBER = 1e9;
const MOST_CONTOUR = 1_000_000;
const KINDS = ['corrected', 'added', 'band', 'interval', 'aside'] as const;
const NOTES: readonly HandNote[] = [
  'nothing_stands_out',
  'nothing_followed',
  'begins_before_band',
  'ends_after_band',
  'leaves_frequencies',
  'holds_multiple',
  'band_cut',
  'start_given',
  'end_given',
  'contour_given',
];
const SHAPES: readonly Pulse['shape'][] = ['FM', 'QCF', 'CF', 'FM-QCF', 'QCF-FM', 'FM-QCF-FM', 'CF-FM', 'FM-CF', 'FM-CF-FM'];
const FLAGS: readonly Pulse['flags'][number][] = ['clipped', 'floor_limited', 'cut_off', 'overlapped', 'missed_before'];

/** A hand entry from a file. Fields that are not known here are left out. */
export function readHand(value: unknown, where: Where): HandEntry {
  const fields = fieldsOf(value, where);
  const begun = { ...readEntry(fields, where), who: textOf(fields['who'], `who did ${where}`, MOST_TEXT) };
  const kind = oneOf(fields['kind'], `the kind of ${where}`, KINDS);
  switch (kind) {
    case 'corrected':
      return {
        ...begun,
        kind,
        of: readSpan(fields['of'], where),
        start_s: secondsOrNull(fields['start_s'], `the start of ${where}`),
        end_s: secondsOrNull(fields['end_s'], `the end of ${where}`),
        points: listOf(fields['points'], `the points of ${where}`, MOST_POINTS).map((point) => readPoint(point, where)),
        measurement: readMeasurement(fields['measurement'], where),
      };
    case 'interval':
      return {
        ...begun,
        kind,
        first: readSpan(fields['first'], where),
        second: readSpan(fields['second'], where),
        interval: readInterval(fields['interval'], where),
      };
    case 'aside':
      return {
        ...begun,
        kind,
        of: readSpan(fields['of'], where),
        reason: textOf(fields['reason'], `the reason of ${where}`, MOST_NOTE),
      };
    default:
      return {
        ...begun,
        kind,
        channel: numberOf(fields['channel'], `the channel of ${where}`, 0, 65_535),
        expansion: numberOf(fields['expansion'], `the expansion of ${where}`, 1, 1000),
        measurement: readMeasurement(fields['measurement'], where),
      };
  }
}

function secondsOrNull(value: unknown, where: Where): number | null {
  return value === null || value === undefined ? null : numberOf(value, where, 0, MOST_SECONDS);
}

function plain(value: unknown, where: Where): number {
  return numberOf(value, where, -MOST_NUMBER, MOST_NUMBER);
}

function optional(value: unknown, where: Where): number | undefined {
  return value === null || value === undefined ? undefined : plain(value, where);
}

function readPoint(value: unknown, where: Where): ContourPoint {
  const fields = fieldsOf(value, `a point of ${where}`);
  return {
    time_s: numberOf(fields['time_s'], `the time of a point of ${where}`, 0, MOST_SECONDS),
    khz: plain(fields['khz'], `the frequency of a point of ${where}`),
  };
}

function readBand(value: unknown, where: Where): Band {
  const fields = fieldsOf(value, `the band of ${where}`);
  const number = (key: string): number => plain(fields[key], `${key} of ${where}`);
  return { start_s: number('start_s'), end_s: number('end_s'), low_khz: number('low_khz'), high_khz: number('high_khz') };
}

function readInterval(value: unknown, where: Where): HandInterval {
  const fields = fieldsOf(value, `the interval of ${where}`);
  const number = (key: string): number => plain(fields[key], `${key} of ${where}`);
  return {
    first_start_s: number('first_start_s'),
    second_start_s: number('second_start_s'),
    interval_ms: number('interval_ms'),
    gap_ms: number('gap_ms'),
    rate_hz: number('rate_hz'),
    interval_u95_ms: optional(fields['interval_u95_ms'], `the uncertainty of ${where}`),
  };
}

function readMeasurement(value: unknown, where: Where): HandMeasurement {
  const fields = fieldsOf(value, `what was measured in ${where}`);
  const pulse = fields['pulse'];
  return {
    band: readBand(fields['band'], where),
    pulse: pulse === null || pulse === undefined ? undefined : readPulse(pulse, where),
    band_peak_khz: optional(fields['band_peak_khz'], `the peak of ${where}`),
    band_level_db: plain(fields['band_level_db'], `the level of ${where}`),
    band_over_noise_db: plain(fields['band_over_noise_db'], `the level over noise of ${where}`),
    notes: listOf(fields['notes'], `the notes of ${where}`, NOTES.length).map((note) => oneOf(note, `a note of ${where}`, NOTES)),
  };
}

function readPulse(value: unknown, where: Where): Pulse {
  const fields = fieldsOf(value, `the numbers of ${where}`);
  const number = (key: string): number => plain(fields[key], `${key} of ${where}`);
  const known = fieldsOf(fields['uncertainty'], `the uncertainty of ${where}`);
  const spread = (key: string): number => plain(known[key], `the uncertainty of ${key} of ${where}`);
  const contour = fieldsOf(fields['contour'], `the contour of ${where}`);
  const khz = listOf(contour['khz'], `the contour of ${where}`, MOST_CONTOUR).map((one) => plain(one, `the contour of ${where}`));
  if (khz.length === 0) {
    throw new Unfit(`The contour of ${where} is empty.`);
  }
  return {
    start_s: number('start_s'),
    end_s: number('end_s'),
    peak_s: number('peak_s'),
    characteristic_s: number('characteristic_s'),
    duration_ms: number('duration_ms'),
    peak_khz: number('peak_khz'),
    start_khz: number('start_khz'),
    end_khz: number('end_khz'),
    high_khz: number('high_khz'),
    low_khz: number('low_khz'),
    characteristic_khz: number('characteristic_khz'),
    sweep_khz_per_ms: number('sweep_khz_per_ms'),
    flattest_khz_per_ms: number('flattest_khz_per_ms'),
    interval_ms: undefined,
    level_db: number('level_db'),
    snr_db: number('snr_db'),
    edge_db: number('edge_db'),
    shape: oneOf(fields['shape'], `the shape of ${where}`, SHAPES),
    flags: listOf(fields['flags'], `the flags of ${where}`, FLAGS.length).map((flag) => oneOf(flag, `a flag of ${where}`, FLAGS)),
    sequence: undefined,
    buzz: undefined,
    doubt: undefined,
    uncertainty: {
      start_ms: spread('start_ms'),
      end_ms: spread('end_ms'),
      duration_ms: spread('duration_ms'),
      peak_khz: spread('peak_khz'),
      start_khz: spread('start_khz'),
      end_khz: spread('end_khz'),
      high_khz: spread('high_khz'),
      low_khz: spread('low_khz'),
      characteristic_khz: spread('characteristic_khz'),
      sweep_khz_per_ms: spread('sweep_khz_per_ms'),
      flattest_khz_per_ms: spread('flattest_khz_per_ms'),
      interval_ms: undefined,
      level_db: spread('level_db'),
      snr_db: spread('snr_db'),
    },
    harmonics: listOf(fields['harmonics'], `the harmonics of ${where}`, 16).map((one) => {
      const harmonic = fieldsOf(one, `a harmonic of ${where}`);
      return {
        multiple: plain(harmonic['multiple'], `a harmonic of ${where}`),
        relative_db: plain(harmonic['relative_db'], `a harmonic of ${where}`),
      };
    }),
    contour: {
      start_s: plain(contour['start_s'], `the contour of ${where}`),
      step_s: plain(contour['step_s'], `the contour of ${where}`),
      khz,
    },
  };
}
