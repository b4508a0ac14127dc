import type { Scale, Span } from '../../axis.ts';
import type { Facts, Pulse } from '../../core/types.ts';
import { kilohertz, seconds, type Kilohertz, type Seconds } from '../../units.ts';

/** The stretch of time and of frequency that the picture shows. */
export interface Extent {
  readonly time: Span<Seconds>;
  readonly frequency: Span<Kilohertz>;
}

/** Closer than this, a picture shows the transform and no longer the sound. */
const SHORTEST_S = 0.001;
const NARROWEST_KHZ = 2;
/** A pulse that one moves to takes this share of the view's width. */
const PULSE_SHARE = 1 / 12;
const PULSE_VIEW_MIN_S = 0.05;

/** A logarithmic axis shows so many octaves below half the sampling rate; it has no 0. */
const OCTAVES = 6;

/** The whole of a recording: from its start to its end, from 0 (or six octaves below) to half its rate. */
export function whole(facts: Facts, scale: Scale = 'linear'): Extent {
  const high = facts.rate_hz / 2000;
  return {
    time: {
      from: seconds(0),
      to: seconds(Math.max(facts.duration_s, SHORTEST_S)),
    },
    frequency: { from: kilohertz(scale === 'linear' ? 0 : high / 2 ** OCTAVES), to: kilohertz(high) },
  };
}

export function equal(a: Extent, b: Extent): boolean {
  return (
    a.time.from === b.time.from &&
    a.time.to === b.time.to &&
    a.frequency.from === b.frequency.from &&
    a.frequency.to === b.frequency.to
  );
}

/** `extent` moved by whole amounts, stopped at the edges of `limits`. */
export function moved(
  extent: Extent,
  limits: Extent,
  by: { time?: Seconds; frequency?: Kilohertz },
): Extent {
  return {
    time: shifted(extent.time, limits.time, by.time ?? 0),
    frequency: shifted(extent.frequency, limits.frequency, by.frequency ?? 0),
  };
}

/** `extent` moved up by a share of its height, whatever the scale; stopped at the edges of `limits`. */
export function raised(extent: Extent, limits: Extent, share: number, scale: Scale): Extent {
  if (scale === 'linear') {
    const height = extent.frequency.to - extent.frequency.from;
    return moved(extent, limits, { frequency: kilohertz(height * share) });
  }
  const [from, to] = [Math.log(extent.frequency.from), Math.log(extent.frequency.to)];
  const [low, high] = [Math.log(limits.frequency.from), Math.log(limits.frequency.to)];
  const by = Math.min(Math.max((to - from) * share, low - from), high - to);
  const frequency = { from: kilohertz(Math.exp(from + by)), to: kilohertz(Math.exp(to + by)) };
  return within({ ...extent, frequency }, limits);
}

/** `extent` with its time stretched by `factor` (below 1: closer) around `anchor`. */
export function zoomedInTime(
  extent: Extent,
  limits: Extent,
  factor: number,
  anchor: Seconds,
): Extent {
  return {
    ...extent,
    time: scaled(extent.time, limits.time, factor, anchor, SHORTEST_S),
  };
}

/** `extent` with its frequencies stretched by `factor` around `anchor`. */
export function zoomedInFrequency(
  extent: Extent,
  limits: Extent,
  factor: number,
  anchor: Kilohertz,
  scale: Scale = 'linear',
): Extent {
  if (scale === 'logarithmic') {
    return zoomedInOctaves(extent, limits, factor, anchor);
  }
  return {
    ...extent,
    frequency: scaled(
      extent.frequency,
      limits.frequency,
      factor,
      anchor,
      NARROWEST_KHZ,
    ),
  };
}

function zoomedInOctaves(extent: Extent, limits: Extent, factor: number, anchor: Kilohertz): Extent {
  const end = (value: Kilohertz) => kilohertz(anchor * (value / anchor) ** factor);
  const frequency = { from: end(extent.frequency.from), to: end(extent.frequency.to) };
  return factor < 1 && frequency.to - frequency.from < NARROWEST_KHZ ? extent : within({ ...extent, frequency }, limits);
}

/** `extent` forced into `limits`, such as one that came from an address. */
export function within(extent: Extent, limits: Extent): Extent {
  return {
    time: clamped(extent.time, limits.time, SHORTEST_S),
    frequency: clamped(extent.frequency, limits.frequency, NARROWEST_KHZ),
  };
}

/**
 * `extent` moved so that a pulse lies in its middle, and brought closer where
 * the pulse would be too small to see.
 */
export function around(pulse: Pulse, extent: Extent, limits: Extent): Extent {
  const middle = (pulse.start_s + pulse.end_s) / 2;
  const length = pulse.end_s - pulse.start_s;
  const closest = Math.max(length / PULSE_SHARE, PULSE_VIEW_MIN_S);
  const half = Math.min(extent.time.to - extent.time.from, closest) / 2;
  const time = { from: seconds(middle - half), to: seconds(middle + half) };
  const low = Math.min(extent.frequency.from, pulse.low_khz);
  const high = Math.max(extent.frequency.to, pulse.high_khz);
  const frequency = { from: kilohertz(low), to: kilohertz(high) };
  return within({ time, frequency }, limits);
}

/** Whether all of a pulse lies in view. */
export function holds(extent: Extent, pulse: Pulse): boolean {
  return (
    pulse.start_s >= extent.time.from &&
    pulse.end_s <= extent.time.to &&
    pulse.low_khz >= extent.frequency.from &&
    pulse.high_khz <= extent.frequency.to
  );
}

function shifted<U extends number>(
  span: Span<U>,
  limits: Span<U>,
  by: number,
): Span<U> {
  const room = Math.min(
    Math.max(by, limits.from - span.from),
    limits.to - span.to,
  );
  return { from: (span.from + room) as U, to: (span.to + room) as U };
}

function scaled<U extends number>(
  span: Span<U>,
  limits: Span<U>,
  factor: number,
  anchor: U,
  least: number,
): Span<U> {
  const length = span.to - span.from;
  const wanted = Math.min(
    Math.max(length * factor, Math.min(least, limits.to - limits.from)),
    limits.to - limits.from,
  );
  const from = anchor - ((anchor - span.from) * wanted) / length;
  return shifted(
    { from: from as U, to: (from + wanted) as U },
    limits,
    0,
  );
}

function clamped<U extends number>(
  span: Span<U>,
  limits: Span<U>,
  least: number,
): Span<U> {
  const most = limits.to - limits.from;
  const length = Math.min(Math.max(span.to - span.from, least), most);
  const middle = (span.from + span.to) / 2;
  const from = Math.min(
    Math.max(middle - length / 2, limits.from),
    limits.to - length,
  );
  return { from: from as U, to: (from + length) as U };
}
