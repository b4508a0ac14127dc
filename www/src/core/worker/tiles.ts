/** Pieces of pictures, drawn step by step, and the noise that their colours begin at. */

import { transfer } from 'comlink';

import type { Noise, OnTilePart, Rendering, Tile, TileCodes } from '../types.ts';
import type { OpenedFile, TileJob } from '../wasm/dusklens_web.js';
import { inSteps, Throttle, type Check } from './jobs.ts';

/** How often a pile in the making is shown: only those that take long are seen to grow. */
const PART_EVERY_MS = 150;

/** Draws tiles of `rows` rows each that lie upon one another: one transform serves all of them. */
export async function drawPile(
  opened: OpenedFile,
  pile: Tile,
  rows: number,
  rendering: Rendering,
  check: Check,
  onPart: OnTilePart | null,
): Promise<TileCodes> {
  const drawing = opened.tile(pile, rendering);
  try {
    const throttle = new Throttle(PART_EVERY_MS);
    const show = () => onPart?.(codesOf(drawing, pile, rows), drawing.done_fraction);
    await inSteps(check, () => drawing.step(), () => throttle.pass(show));
    return codesOf(drawing, pile, rows);
  } finally {
    drawing.free();
  }
}

/** Looks at the noise of a channel. */
export async function lookAround(opened: OpenedFile, channel: number, check: Check): Promise<Noise> {
  const survey = opened.survey(channel);
  try {
    await inSteps(check, () => survey.step(), nothing);
    return survey.noise();
  } finally {
    survey.free();
  }
}

/** Draws what the person's first recording will need, so that the browser compiles it well. */
export async function rehearsePile(opened: OpenedFile): Promise<void> {
  const rendering: Rendering = { scale: 'linear', window: 'hann', window_ms: undefined, sharpened: false };
  const pile = {
    channel: 0,
    time_zoom: 10,
    rows: 512,
    low_khz: 0,
    first_column: 0,
    width_px: 512,
    first_row: 0,
    height_px: 512,
  };
  await lookAround(opened, 0, nothing);
  await drawPile(opened, pile, pile.rows / 2, rendering, nothing, null);
}

/** The levels of each tile, in buffers that are handed over to the page. */
function codesOf(drawing: TileJob, pile: Tile, rows: number): TileCodes {
  const count = Math.ceil(pile.height_px / rows);
  // The core returns them in buffers of their own, which its declarations cannot say.
  const codes = Array.from({ length: count }, (_, n) => drawing.codes(n * rows, rows) as Uint16Array<ArrayBuffer>);
  return transfer(codes, codes.map(({ buffer }) => buffer));
}

function nothing(): void {
  // Nobody can call it off, and nothing is shown in between.
}
