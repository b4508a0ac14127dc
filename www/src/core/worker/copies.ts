/** Files put together by the browser. */

import type { FileCopy } from '../types.ts';
import type { CopyPlan } from '../wasm/dusklens_web.js';

/** A copy of a file as planned: slices of the original, which the browser does not read for that, and new bytes. */
export function assembled(original: Blob, plan: CopyPlan): FileCopy {
  const parts = plan.pieces.map((piece) =>
    piece.kind === 'original' ? original.slice(piece.start, piece.end) : new Uint8Array(piece.bytes),
  );
  return { file: new Blob(parts, { type: 'audio/wav' }), notices: plan.notices };
}
