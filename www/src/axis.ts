import { scaleLinear, scaleLog, type ScaleContinuousNumeric } from 'd3-scale';
import { cssPx, type CssPx } from './units.ts';

/** A stretch of one quantity, `from` below `to`. */
export interface Span<U extends number> {
  readonly from: U;
  readonly to: U;
}

/** How a quantity runs along an axis: by equal differences, or by equal ratios. */
export type Scale = 'linear' | 'logarithmic';

/** A marked place along an axis. */
export interface Tick {
  readonly at: CssPx;
  readonly label: string;
}

/** Round values of a decade, the most first. */
const STEPS = [
  [1, 1.5, 2, 3, 4, 5, 6, 8],
  [1, 1.5, 2, 3, 5, 7],
  [1, 2, 3, 5],
  [1, 2, 5],
  [1, 3],
  [1],
] as const;
/** How far a logarithmic axis reaches down at most, as a share of its upper end. */
const MOST_SPAN = 1e4;

/**
 * The map between one quantity and the page, both ways. `start` is the pixel
 * of the span's lower end, so that an axis that runs upwards has a `start`
 * above its `end`.
 */
export class Axis<U extends number> {
  readonly span: Span<U>;
  readonly scale: Scale;
  readonly #scale: ScaleContinuousNumeric<number, number>;

  /** A logarithmic scale has no 0: a span from there begins far below its end. */
  constructor({ from, to }: Span<U>, start: CssPx, end: CssPx, scale: Scale = 'linear') {
    const span = { from: scale === 'linear' ? from : (Math.max(from, to / MOST_SPAN) as U), to };
    this.span = span;
    this.scale = scale;
    const make = scale === 'linear' ? scaleLinear : scaleLog;
    this.#scale = make([span.from, span.to], [start, end]);
  }

  /** Where a value lies on the page. */
  pixel(value: U): CssPx {
    return cssPx(this.#scale(value));
  }

  /** The value that lies at a place on the page. */
  value(pixel: CssPx): U {
    return this.#scale.invert(pixel) as U;
  }

  /** The span that is seen when the page is moved by a length under the axis. */
  moved(length: CssPx): Span<U> {
    const end = (value: U) => this.#scale.invert(this.#scale(value) + length) as U;
    return { from: end(this.span.from), to: end(this.span.to) };
  }

  /** How much of the quantity a movement on the page spans, with its sign; for straight axes. */
  difference(length: CssPx): U {
    return (this.#scale.invert(length) - this.#scale.invert(0)) as U;
  }

  /** How many pixels a difference of the quantity spans, never negative; for straight axes. */
  length(difference: U): CssPx {
    return cssPx(Math.abs(this.#scale(difference) - this.#scale(0)));
  }

  /** About `count` round values, written in `per` units of the quantity each. */
  ticks(count: number, per = 1): Tick[] {
    if (this.scale === 'logarithmic') {
      return this.#logarithmicTicks(count, per);
    }
    const written = scaleLinear(
      [this.span.from / per, this.span.to / per],
      this.#scale.range(),
    );
    const format = written.tickFormat(count, 'f');
    return written.ticks(count).map((value) => ({
      at: cssPx(written(value)),
      label: format(value),
    }));
  }

  /** Round values whose steps grow with them, as many as have room; d3's own come by powers of ten alone. */
  #logarithmicTicks(count: number, per: number): Tick[] {
    const [from, to] = [this.span.from / per, this.span.to / per];
    const room = Math.abs(this.#scale(this.span.to) - this.#scale(this.span.from)) / count / 2;
    const first = Math.floor(Math.log10(from));
    const decades = Array.from({ length: Math.ceil(Math.log10(to)) - first + 1 }, (_, n) => 10 ** (first + n));
    for (const steps of STEPS) {
      const values = decades
        .flatMap((decade) => steps.map((step) => Number((step * decade).toPrecision(3))))
        .filter((value) => value >= from && value <= to);
      const ticks = values.map((value) => ({ at: cssPx(this.#scale(value * per)), label: String(value) }));
      const isRoomy = ticks.every(({ at }, n) => n === 0 || Math.abs(at - (ticks[n - 1]?.at ?? 0)) >= room);
      if (isRoomy && ticks.length > 1) {
        return ticks;
      }
    }
    // So close that hardly any such value lies in sight.
    return this.#closeTicks(count, per);
  }

  #closeTicks(count: number, per: number): Tick[] {
    const straight = scaleLinear([this.span.from / per, this.span.to / per], [0, 1]);
    const format = straight.tickFormat(count, 'f');
    return straight.ticks(count).map((value) => ({ at: cssPx(this.#scale(value * per)), label: format(value) }));
  }
}
