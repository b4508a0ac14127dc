import type { Measure, Pulse } from '../../../core/client.ts';
import { fixed, inWords, NONE, type Decimals } from '../plus-minus.ts';

/** How a number of a pulse is named and written. */
export interface MeasureWords {
  /** Such as "Peak frequency". */
  readonly name: string;
  /** Such as "Peak". */
  readonly short: string;
  readonly unit: string;
  readonly decimals: Decimals;
}

const TENTHS: Decimals = { usual: 1, most: 1 };
const FREQUENCY: Decimals = { usual: 1, most: 2 };
const RATE: Decimals = { usual: 2, most: 2 };

/** All numbers that can be compared, in the order of the table. */
export const MEASURES: Readonly<Record<Measure, MeasureWords>> = {
  duration_ms: { name: 'Duration', short: 'Duration', unit: 'ms', decimals: { usual: 2, most: 2 } },
  interval_ms: { name: 'Interval', short: 'Interval', unit: 'ms', decimals: { usual: 1, most: 2 } },
  peak_khz: { name: 'Peak frequency', short: 'Peak', unit: 'kHz', decimals: FREQUENCY },
  start_khz: { name: 'Start frequency', short: 'Start', unit: 'kHz', decimals: FREQUENCY },
  end_khz: { name: 'End frequency', short: 'End', unit: 'kHz', decimals: FREQUENCY },
  high_khz: { name: 'High frequency', short: 'High', unit: 'kHz', decimals: FREQUENCY },
  low_khz: { name: 'Low frequency', short: 'Low', unit: 'kHz', decimals: FREQUENCY },
  characteristic_khz: { name: 'Characteristic frequency', short: 'Charact.', unit: 'kHz', decimals: FREQUENCY },
  sweep_khz_per_ms: { name: 'Sweep rate, whole', short: 'Sweep', unit: 'kHz/ms', decimals: RATE },
  flattest_khz_per_ms: { name: 'Sweep rate, flattest', short: 'Flattest', unit: 'kHz/ms', decimals: RATE },
  level_db: { name: 'Level', short: 'Level', unit: 'dB', decimals: TENTHS },
  snr_db: { name: 'Signal-to-noise', short: 'S/N', unit: 'dB', decimals: TENTHS },
};

export const ALL_MEASURES = Object.keys(MEASURES) as Measure[];

/** "46.2 kHz", with its uncertainty if that is wanted, or a dash. */
export function measured(pulse: Pulse, measure: Measure, withSpread: boolean): string {
  const { unit, decimals } = MEASURES[measure];
  const spread = withSpread ? pulse.uncertainty[measure] : null;
  const text = inWords(pulse[measure], spread, decimals);
  return text === NONE ? NONE : `${text} ${unit}`;
}

/** A value in the unit of a measure, such as a median, without its unit. */
export function figure(value: number, measure: Measure): string {
  return fixed(value, MEASURES[measure].decimals.most);
}
