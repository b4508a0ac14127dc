/**
 * Numbers that carry their unit in the type, so that a pixel cannot be handed
 * over where a second is meant. Each function below is the one place where a
 * bare number receives its unit.
 */
declare const unit: unique symbol;
type Measured<Unit extends string> = number & { readonly [unit]: Unit };

/** Real time at the microphone, seconds from the start of the recording. */
export type Seconds = Measured<'s'>;
/** Real frequency at the microphone, kilohertz. */
export type Kilohertz = Measured<'kHz'>;
/** A length on the page, CSS pixels. */
export type CssPx = Measured<'css px'>;
/** A length in a canvas's own bitmap. */
export type BitmapPx = Measured<'bitmap px'>;

export const seconds = (value: number): Seconds => value as Seconds;
export const kilohertz = (value: number): Kilohertz => value as Kilohertz;
export const cssPx = (value: number): CssPx => value as CssPx;

/** Whole bitmap pixels that cover a length on the page; at least one. */
export const bitmapPx = (length: CssPx, pixelRatio: number): BitmapPx =>
  Math.max(1, Math.round(length * pixelRatio)) as BitmapPx;
