import type { Pulse } from '../../core/types.ts';
import { fixed, NONE, type Decimals } from './plus-minus.ts';
import { FLAGS, SPREAD_MEANING } from './words.ts';

/** A number of a pulse, and what is needed to write it. */
export interface Figure {
  readonly value: NumberOf;
  /** Half the width of the interval that holds the true value, in the unit of the value. */
  readonly spread: NumberOf;
  readonly decimals: Decimals;
}

/** A column of the table of pulses. */
export interface Column {
  readonly label: string;
  readonly meaning: string;
  /** What stands in a cell, without its uncertainty. */
  readonly text: (pulse: Pulse) => string;
  readonly figure?: Figure;
  /** Whether its numbers have an uncertainty. */
  readonly hasSpread?: true;
  /** Words are set to the left, numbers to the right. */
  readonly words?: true;
}

/** Columns that share a unit. */
export interface Group {
  readonly label: string;
  readonly columns: readonly Column[];
}

/** Decimals of use: of what is known to some hundredths at best, and so on. */
const MOMENT: Decimals = { usual: 4, most: 4 };
const TENTHS: Decimals = { usual: 1, most: 1 };
const FREQUENCY: Decimals = { usual: 1, most: 2 };
const RATE: Decimals = { usual: 2, most: 2 };
const DURATION: Decimals = { usual: 2, most: 2 };
const INTERVAL: Decimals = { usual: 1, most: 2 };

type NumberOf = (pulse: Pulse) => number | null | undefined;

const number = (label: string, decimals: Decimals, value: NumberOf, meaning: string, spread?: NumberOf): Column => ({
  label,
  meaning: spread ? `${meaning} ${SPREAD_MEANING}` : meaning,
  text: (pulse) => fixed(value(pulse), decimals.usual),
  figure: { value, spread: spread ?? (() => null), decimals },
  ...(spread ? { hasSpread: true } : {}),
});

export const GROUPS: readonly Group[] = [
  {
    label: 'Time',
    columns: [
      number('Start,\u00a0s', MOMENT, (p) => p.start_s, 'Where the envelope of the pulse, within its own band, rises to the edge threshold: usually 20 dB below its maximum. Counted from the start of the recording.'),
      number('End,\u00a0s', MOMENT, (p) => p.end_s, 'Where the envelope falls to the edge threshold again.'),
      number('Duration,\u00a0ms', DURATION, (p) => p.duration_ms, 'End minus start.', (p) => p.uncertainty.duration_ms),
      number('Interval,\u00a0ms', INTERVAL, (p) => p.interval_ms, 'Start of this pulse minus the start of the one before it in the same sequence.', (p) => p.uncertainty.interval_ms),
    ],
  },
  {
    label: 'Frequency, kHz',
    columns: [
      number('Peak', FREQUENCY, (p) => p.peak_khz, 'Frequency of most energy in the whole pulse.', (p) => p.uncertainty.peak_khz),
      number('Start', FREQUENCY, (p) => p.start_khz, 'The contour at the start. The contour is the frequency of the fundamental against time.', (p) => p.uncertainty.start_khz),
      number('End', FREQUENCY, (p) => p.end_khz, 'The contour at the end.', (p) => p.uncertainty.end_khz),
      number('High', FREQUENCY, (p) => p.high_khz, 'The largest value of the contour.', (p) => p.uncertainty.high_khz),
      number('Low', FREQUENCY, (p) => p.low_khz, 'The smallest value of the contour.', (p) => p.uncertainty.low_khz),
      number('Charac\u00adteristic', FREQUENCY, (p) => p.characteristic_khz, 'The contour at the end of its flattest stretch.', (p) => p.uncertainty.characteristic_khz),
    ],
  },
  {
    label: 'Sweep rate, kHz/ms',
    columns: [
      number('Whole', RATE, (p) => p.sweep_khz_per_ms, 'Slope of the contour over the whole pulse; below zero where it falls.', (p) => p.uncertainty.sweep_khz_per_ms),
      number('Flattest', RATE, (p) => p.flattest_khz_per_ms, 'Slope of the contour at its flattest stretch.', (p) => p.uncertainty.flattest_khz_per_ms),
    ],
  },
  {
    label: 'Strength, dB',
    columns: [
      number('Level', TENTHS, (p) => p.level_db, 'Peak amplitude, dB re full scale: 0 is the largest value that the file can hold.', (p) => p.uncertainty.level_db),
      number('Signal-to\u2011noise', TENTHS, (p) => p.snr_db, 'Level within the pulse’s band at its maximum, less the noise around it in that band.', (p) => p.uncertainty.snr_db),
      number('Edges below', TENTHS, (p) => p.edge_db, 'How far below the maximum the edges were taken: 20 dB unless noise lay higher.'),
    ],
  },
  {
    label: 'What it is like',
    columns: [
      { label: 'Shape', words: true, meaning: 'The contour in the trade’s words: FM sweeps, QCF is nearly constant, CF is constant, in this order.', text: (p) => p.shape },
      { label: 'Sequence', words: true, meaning: 'Pulses that one animal may have made share a number; a dash means that it stands alone. Buzz: the pulse belongs to a feeding buzz.', text: sequenceOf },
      { label: 'Harmonics', words: true, meaning: 'Multiples of the contour that carry energy, with their energy re the fundamental in dB.', text: harmonicsOf },
      { label: 'Flags', words: true, meaning: 'What limits trust in the numbers of this pulse.', text: (p) => p.flags.map((flag) => FLAGS[flag].label).join(', ') || NONE },
    ],
  },
];

function sequenceOf(pulse: Pulse): string {
  const isBuzz = pulse.buzz !== null && pulse.buzz !== undefined;
  return isBuzz ? `${fixed(pulse.sequence, 0)} · buzz` : fixed(pulse.sequence, 0);
}

function harmonicsOf(pulse: Pulse): string {
  const above = pulse.harmonics.filter((harmonic) => harmonic.multiple > 1);
  return above.map((h) => `${h.multiple}× ${fixed(h.relative_db, 0)} dB`).join(', ') || NONE;
}
