import type { Span } from '../../../axis.ts';
import type { Pulse, View } from '../../../core/client.ts';
import { kilohertz, seconds, type Kilohertz, type Seconds } from '../../../units.ts';
import { isDoubted } from '../sounds.ts';
import type { Item } from './sheet-choice.ts';

/** The scale that all cells share. Times count from the moment of most energy. */
export interface SheetScale {
  readonly time: Span<Seconds>;
  readonly frequency: Span<Kilohertz>;
}

/** Room around the longest and the highest and lowest pulse. */
const MARGIN_S = 0.0005;
const MARGIN_KHZ = 3;
/** Edges are whole multiples of these, so that they seldom move while pulses are still being found. */
const STEP_S = 0.001;
const STEP_KHZ = 5;
/** A longer sound is cut off at the edge of its cell: beside it, all others were specks. */
const LONGEST_S = 0.15;

/** The scale on which all pulses lie; doubted sounds have no say unless there is nothing else. */
export function scaleOf(items: readonly Item[], highest: Kilohertz): SheetScale | null {
  const all = items.map(({ sound }) => sound.pulse);
  const own = all.filter((pulse) => !isDoubted(pulse));
  const pulses = own.length > 0 ? own : all;
  if (pulses.length === 0) {
    return null;
  }
  const most = (of: (pulse: Pulse) => number): number => pulses.reduce((top, pulse) => Math.max(top, of(pulse)), -Infinity);
  const before = Math.min(LONGEST_S, most((pulse) => pulse.peak_s - pulse.start_s) + MARGIN_S);
  const after = Math.min(LONGEST_S, most((pulse) => pulse.end_s - pulse.peak_s) + MARGIN_S);
  const low = -most((pulse) => -pulse.low_khz) - MARGIN_KHZ;
  const high = most((pulse) => pulse.high_khz) + MARGIN_KHZ;
  return {
    time: { from: seconds(-Math.ceil(before / STEP_S) * STEP_S), to: seconds(Math.ceil(after / STEP_S) * STEP_S) },
    frequency: {
      from: kilohertz(Math.max(0, Math.floor(low / STEP_KHZ) * STEP_KHZ)),
      to: kilohertz(Math.min(highest, Math.ceil(high / STEP_KHZ) * STEP_KHZ)),
    },
  };
}

/** The view of one pulse on that scale. */
export function viewOf(
  pulse: Pulse,
  { time, frequency }: SheetScale,
  channel: number,
  size: { width: number; height: number },
): View {
  return {
    channel,
    start_s: pulse.peak_s + time.from,
    end_s: pulse.peak_s + time.to,
    low_khz: frequency.from,
    high_khz: frequency.to,
    width_px: size.width,
    height_px: size.height,
  };
}
