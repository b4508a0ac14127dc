import { scaleLinear, type ScaleLinear } from 'd3-scale';
import { cssPx, type CssPx } from './units.ts';

/** A stretch of one quantity, `from` below `to`. */
export interface Span<U extends number> {
  readonly from: U;
  readonly to: U;
}

/** A marked place along an axis. */
export interface Tick {
  readonly at: CssPx;
  readonly label: string;
}

/**
 * The map between one quantity and the page, both ways. `start` is the pixel
 * of the span's lower end, so that an axis that runs upwards has a `start`
 * above its `end`.
 */
export class Axis<U extends number> {
  readonly span: Span<U>;
  readonly #scale: ScaleLinear<number, number>;

  constructor(span: Span<U>, start: CssPx, end: CssPx) {
    this.span = span;
    this.#scale = scaleLinear([span.from, span.to], [start, end]);
  }

  /** Where a value lies on the page. */
  pixel(value: U): CssPx {
    return cssPx(this.#scale(value));
  }

  /** The value that lies at a place on the page. */
  value(pixel: CssPx): U {
    return this.#scale.invert(pixel) as U;
  }

  /** How much of the quantity a movement on the page spans, with its sign. */
  difference(length: CssPx): U {
    return (this.#scale.invert(length) - this.#scale.invert(0)) as U;
  }

  /** How many pixels a difference of the quantity spans, never negative. */
  length(difference: U): CssPx {
    return cssPx(Math.abs(this.#scale(difference) - this.#scale(0)));
  }

  /** About `count` round values, written in `per` units of the quantity each. */
  ticks(count: number, per = 1): Tick[] {
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
}
