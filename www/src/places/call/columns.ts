import type { Pulse } from '../../core/types.ts';
import { FLAGS } from './words.ts';

/** A column of the table of pulses. */
export interface Column {
  readonly label: string;
  readonly meaning: string;
  /** What stands in a cell. */
  readonly text: (pulse: Pulse) => string;
  /** Words are set to the left, numbers to the right. */
  readonly words?: true;
}

/** Columns that share a unit. */
export interface Group {
  readonly label: string;
  readonly columns: readonly Column[];
}

/** What stands where a quantity has no value. */
const NONE = '–';
const MINUS = '−';

/** A number with a fixed count of decimals and a proper minus. */
export function fixed(value: number | null | undefined, decimals: number): string {
  if (value === null || value === undefined || !Number.isFinite(value)) {
    return NONE;
  }
  const text = Math.abs(value).toFixed(decimals);
  const zero = Number(text) === 0;
  return value < 0 && !zero ? MINUS + text : text;
}

type NumberOf = (pulse: Pulse) => number | null | undefined;

const number = (label: string, decimals: number, value: NumberOf, meaning: string): Column => ({
  label,
  meaning,
  text: (pulse) => fixed(value(pulse), decimals),
});

export const GROUPS: readonly Group[] = [
  {
    label: 'Time',
    columns: [
      number('Start,\u00a0s', 4, (p) => p.start_s, 'Where the envelope of the pulse, within its own band, rises to the edge threshold: usually 20 dB below its maximum. Counted from the start of the recording.'),
      number('End,\u00a0s', 4, (p) => p.end_s, 'Where the envelope falls to the edge threshold again.'),
      number('Duration,\u00a0ms', 2, (p) => p.duration_ms, 'End minus start.'),
      number('Interval,\u00a0ms', 1, (p) => p.interval_ms, 'Start of this pulse minus the start of the one before it in the same sequence.'),
    ],
  },
  {
    label: 'Frequency, kHz',
    columns: [
      number('Peak', 1, (p) => p.peak_khz, 'Frequency of most energy in the whole pulse.'),
      number('Start', 1, (p) => p.start_khz, 'The contour at the start. The contour is the frequency of the fundamental against time.'),
      number('End', 1, (p) => p.end_khz, 'The contour at the end.'),
      number('High', 1, (p) => p.high_khz, 'The largest value of the contour.'),
      number('Low', 1, (p) => p.low_khz, 'The smallest value of the contour.'),
      number('Charac\u00adteristic', 1, (p) => p.characteristic_khz, 'The contour at the end of its flattest stretch.'),
    ],
  },
  {
    label: 'Sweep rate, kHz/ms',
    columns: [
      number('Whole', 2, (p) => p.sweep_khz_per_ms, 'Slope of the contour over the whole pulse; below zero where it falls.'),
      number('Flattest', 2, (p) => p.flattest_khz_per_ms, 'Slope of the contour at its flattest stretch.'),
    ],
  },
  {
    label: 'Strength, dB',
    columns: [
      number('Level', 1, (p) => p.level_db, 'Peak amplitude, dB re full scale: 0 is the largest value that the file can hold.'),
      number('Signal-to\u2011noise', 1, (p) => p.snr_db, 'Level within the pulse’s band at its maximum, less the noise around it in that band.'),
      number('Edges below', 1, (p) => p.edge_db, 'How far below the maximum the edges were taken: 20 dB unless noise lay higher.'),
    ],
  },
  {
    label: 'What it is like',
    columns: [
      { label: 'Shape', words: true, meaning: 'The contour in the trade’s words: FM sweeps, QCF is nearly constant, CF is constant, in this order.', text: (p) => p.shape },
      { label: 'Sequence', meaning: 'Pulses that one animal may have made share a number; a dash means that it stands alone.', text: (p) => fixed(p.sequence, 0) },
      { label: 'Harmonics', words: true, meaning: 'Multiples of the contour that carry energy, with their energy re the fundamental in dB.', text: harmonicsOf },
      { label: 'Flags', words: true, meaning: 'What limits trust in the numbers of this pulse.', text: (p) => p.flags.map((flag) => FLAGS[flag].label).join(', ') || NONE },
    ],
  },
];

function harmonicsOf(pulse: Pulse): string {
  const above = pulse.harmonics.filter((harmonic) => harmonic.multiple > 1);
  return above.map((h) => `${h.multiple}× ${fixed(h.relative_db, 0)} dB`).join(', ') || NONE;
}
