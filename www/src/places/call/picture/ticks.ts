import type { Axis, Tick } from '../../../axis.ts';
import type { CssPx, Kilohertz, Seconds } from '../../../units.ts';

/** An axis's ticks with the unit that their labels are in. */
export interface Ruler {
  readonly unit: string;
  readonly ticks: readonly Tick[];
}

/** Room that one label of the time axis needs, CSS pixels. */
const TIME_ROOM = 96;
const FREQUENCY_ROOM = 56;
const MINUTE_S = 60;

/** Minutes for hours of sound, seconds for most, milliseconds from close by. */
export function timeRuler(axis: Axis<Seconds>, width: CssPx): Ruler {
  const length = axis.span.to - axis.span.from;
  const count = Math.max(2, Math.floor(width / TIME_ROOM));
  if (length > 5 * MINUTE_S) {
    return { unit: 'min', ticks: axis.ticks(count, MINUTE_S) };
  }
  return length > 0.5
    ? { unit: 's', ticks: axis.ticks(count) }
    : { unit: 'ms', ticks: axis.ticks(count, 0.001) };
}

export function frequencyRuler(axis: Axis<Kilohertz>, height: CssPx): Ruler {
  const count = Math.max(2, Math.floor(height / FREQUENCY_ROOM));
  return { unit: 'kHz', ticks: axis.ticks(count) };
}

/** A span in words, such as `0 to 2.5 s`. */
export function spanWords(from: number, to: number, unit: string, decimals: number): string {
  const text = (value: number) => String(Number(value.toFixed(decimals)));
  return `${text(from)} to ${text(to)} ${unit}`;
}
