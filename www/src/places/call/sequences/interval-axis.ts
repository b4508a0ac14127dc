import { scaleLinear, scaleLog } from 'd3-scale';
import type { Tick } from '../../../axis.ts';
import { cssPx, type CssPx } from '../../../units.ts';

/** Round values of a logarithmic axis are these times a power of ten. */
const ROUND = [1, 2, 5];
const LEAST_MS = 1;

/** An axis of intervals, milliseconds, in even steps from 0 on or logarithmic. */
export class IntervalAxis {
  readonly #scale: ((ms: number) => number) & { ticks: (count: number) => number[] };
  readonly #isLog: boolean;

  /** `least` and `most` are the intervals that it must hold; `bottom` and `top` are where it lies on the page. */
  constructor(least: number, most: number, isLog: boolean, bottom: CssPx, top: CssPx) {
    this.#isLog = isLog;
    this.#scale = isLog
      ? scaleLog([Math.max(LEAST_MS, least / 1.3), Math.max(LEAST_MS * 10, most * 1.3)], [bottom, top])
      : scaleLinear([0, Math.max(LEAST_MS, most * 1.08)], [bottom, top]);
  }

  pixel(ms: number): CssPx {
    return cssPx(this.#scale(ms));
  }

  ticks(count: number): Tick[] {
    const all = this.#scale.ticks(count);
    const told = this.#isLog ? all.filter(isRound) : all;
    return told.map((ms) => ({ at: this.pixel(ms), label: String(Number(ms.toPrecision(3))) }));
  }
}

function isRound(value: number): boolean {
  const lead = value / 10 ** Math.floor(Math.log10(value) + 1e-9);
  return ROUND.some((round) => Math.abs(lead - round) < 1e-6);
}
