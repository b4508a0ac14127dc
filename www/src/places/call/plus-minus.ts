/** How a number and its uncertainty are written: both with the same decimals, which follow the uncertainty. */

/** The decimals that are of use in a column. */
export interface Decimals {
  /** Where no uncertainty is known or shown. */
  readonly usual: number;
  /** However small the uncertainty is. */
  readonly most: number;
}

/** A number in pieces that can be set below one another. */
export interface Written {
  /** What stands before the point, with its sign. */
  readonly whole: string;
  /** The point and what follows it; empty without decimals. */
  readonly fraction: string;
  /** Half the width of the interval; null where none is known. */
  readonly spread: string | null;
}

/** What stands where a quantity has no value. */
export const NONE = '–';
const MINUS = '−';
/** What a decimal number in binary is off by does not make it larger. */
const SLACK = 1e-9;

/** A number with a fixed count of decimals and a proper minus. */
export function fixed(value: number | null | undefined, decimals: number): string {
  if (value === null || value === undefined || !Number.isFinite(value)) {
    return NONE;
  }
  const text = Math.abs(value).toFixed(decimals);
  const zero = Number(text) === 0;
  return value < 0 && !zero ? MINUS + text : text;
}

/**
 * Writes a number with its uncertainty. The uncertainty is rounded up to one significant digit, to two
 * where it begins with 1; both get as many decimals as that takes, but no more than are of use.
 */
export function written(
  value: number | null | undefined,
  spread: number | null | undefined,
  { usual, most }: Decimals,
): Written | null {
  if (value === null || value === undefined || !Number.isFinite(value)) {
    return null;
  }
  const known = spread !== null && spread !== undefined && spread > 0 && Number.isFinite(spread);
  const decimals = known ? Math.min(most, decimalsFor(spread)) : usual;
  const text = fixed(value, decimals);
  const point = text.indexOf('.');
  return {
    whole: point < 0 ? text : text.slice(0, point),
    fraction: point < 0 ? '' : text.slice(point),
    spread: known ? fixed(roundedUp(spread, decimals), decimals) : null,
  };
}

/** "45.2 ± 0.3", or the number alone. */
export function inWords(
  value: number | null | undefined,
  spread: number | null | undefined,
  decimals: Decimals,
): string {
  const parts = written(value, spread, decimals);
  if (parts === null) {
    return NONE;
  }
  const number = parts.whole + parts.fraction;
  return parts.spread === null ? number : `${number} ± ${parts.spread}`;
}

/** An uncertainty alone, rounded up like beside its number. */
export function spreadWords(spread: number, most: number): string {
  return written(0, spread, { usual: most, most })?.spread ?? NONE;
}

/** The decimals that show one significant digit of an uncertainty, or two of one that begins with 1. */
function decimalsFor(spread: number): number {
  const single = Math.max(0, -exponent(spread));
  // Rounded up, 0.96 begins with 1.
  const up = roundedUp(spread, single);
  return leading(spread) === 1 || exponent(up) > exponent(spread)
    ? Math.max(0, 1 - exponent(up))
    : single;
}

function roundedUp(spread: number, decimals: number): number {
  const unit = 10 ** -decimals;
  return Math.ceil(spread / unit - SLACK) * unit;
}

function exponent(value: number): number {
  return Math.floor(Math.log10(value) + SLACK);
}

function leading(value: number): number {
  return Math.floor(value / 10 ** exponent(value) + SLACK);
}
