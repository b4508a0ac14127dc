import type { Band } from '../../../core/client.ts';
import { kilohertz, seconds } from '../../../units.ts';
import type { Extent } from '../extent.ts';

/** A band that begins in the middle of a view takes this share of it. */
const BEGUN_SHARE = 0.15;
/** Share of the view that an arrow moves a band by, and resizes it by. */
const STEP_SHARE = 0.01;
/** Narrower than this nothing can be told any more. */
const SHORTEST_S = 0.1e-3;
const NARROWEST_KHZ = 0.2;
/** Room around a pulse whose edges or contour are corrected. */
const ROOM_S = 1e-3;
const ROOM_KHZ = 2.5;

export function bandOf({ time, frequency }: Extent): Band {
  return { start_s: time.from, end_s: time.to, low_khz: frequency.from, high_khz: frequency.to };
}

export function extentOf(band: Band): Extent {
  return {
    time: { from: seconds(band.start_s), to: seconds(band.end_s) },
    frequency: { from: kilohertz(band.low_khz), to: kilohertz(band.high_khz) },
  };
}

/** A band in the middle of what is seen. */
export function bandAtMiddle({ time, frequency }: Extent): Extent {
  const half = ((time.to - time.from) * BEGUN_SHARE) / 2;
  const middle = (time.from + time.to) / 2;
  const tall = ((frequency.to - frequency.from) * BEGUN_SHARE) / 2;
  const centre = (frequency.from + frequency.to) / 2;
  return extentOf({ start_s: middle - half, end_s: middle + half, low_khz: centre - tall, high_khz: centre + tall });
}

/** A band with room around a pulse, so that all of it is measured. */
export function bandAround(pulse: { start_s: number; end_s: number; low_khz: number; high_khz: number }): Band {
  return {
    start_s: pulse.start_s - ROOM_S,
    end_s: pulse.end_s + ROOM_S,
    low_khz: pulse.low_khz - ROOM_KHZ,
    high_khz: pulse.high_khz + ROOM_KHZ,
  };
}

/** The smallest band that holds two corners. */
export function bandBetween(a: { s: number; khz: number }, b: { s: number; khz: number }): Extent {
  return extentOf({
    start_s: Math.min(a.s, b.s),
    end_s: Math.max(a.s, b.s),
    low_khz: Math.min(a.khz, b.khz),
    high_khz: Math.max(a.khz, b.khz),
  });
}

/** The part of a band that lies in a recording; null where that is nothing that can be measured. */
export function bandWithin(band: Extent, limits: Extent): Extent | null {
  const cut = extentOf({
    start_s: Math.max(band.time.from, limits.time.from),
    end_s: Math.min(band.time.to, limits.time.to),
    low_khz: Math.max(band.frequency.from, limits.frequency.from),
    high_khz: Math.min(band.frequency.to, limits.frequency.to),
  });
  const holds =
    cut.time.to - cut.time.from >= SHORTEST_S && cut.frequency.to - cut.frequency.from >= NARROWEST_KHZ;
  return holds ? cut : null;
}

/** What an arrow does to a band, in steps to the right and up: it moves, or its later and upper sides do. */
export function bandAfter(band: Extent, view: Extent, limits: Extent, right: number, up: number, resize: boolean): Extent {
  const time = right * (view.time.to - view.time.from) * STEP_SHARE;
  const khz = up * (view.frequency.to - view.frequency.from) * STEP_SHARE;
  const next = {
    start_s: band.time.from + (resize ? 0 : time),
    end_s: band.time.to + time,
    low_khz: band.frequency.from + (resize ? 0 : khz),
    high_khz: band.frequency.to + khz,
  };
  if (!resize) {
    // Stopped at the recording's borders, and not cut by them.
    const back = Math.max(0, limits.time.from - next.start_s) - Math.max(0, next.end_s - limits.time.to);
    const rise = Math.max(0, limits.frequency.from - next.low_khz) - Math.max(0, next.high_khz - limits.frequency.to);
    next.start_s += back;
    next.end_s += back;
    next.low_khz += rise;
    next.high_khz += rise;
  }
  return bandWithin(extentOf(next), limits) ?? band;
}
