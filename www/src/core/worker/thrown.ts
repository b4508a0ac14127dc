/** What is thrown in a worker, as it crosses to the page. */

import type { Thrown } from '../types.ts';
import type { Problem } from '../wasm/dusklens_web.js';
import { Cancelled } from './jobs.ts';

/** Does work whose failures cross as `Thrown`. */
export function guard<T>(work: () => T): T {
  try {
    return work();
  } catch (error) {
    throw thrown(error);
  }
}

/** Sorts what was thrown. Problems come from the core as plain objects; any `Error` is a fault of ours or a trap. */
export function thrown(error: unknown): Thrown {
  if (error instanceof Cancelled) {
    return { kind: 'cancelled' };
  }
  if (isProblem(error)) {
    return { kind: 'problem', message: error.message, advice: error.advice, byte: error.byte ?? null };
  }
  return { kind: 'fault', message: error instanceof Error ? error.message : String(error) };
}

function isProblem(error: unknown): error is Problem {
  return typeof error === 'object' && error !== null && !(error instanceof Error) && 'advice' in error;
}
