/** A worker that examines the files of a card, one after the other. */

import type { ExamineOptions } from '../../types.ts';
import type { ExaminerSide, Examination } from '../../night/types.ts';
import { ExaminingJob } from '../../wasm/dusklens_web.js';
import { inSteps, type Check, type Jobs } from '../jobs.ts';
import { AT_ONCE_BYTES } from '../larder.ts';
import { openShelf, optionsKey, type Shelf } from './shelf.ts';

/** Examines the files of a card, one after the other, in this worker. */
export class Examiner implements ExaminerSide {
  readonly #jobs: Jobs;
  readonly #shelf: Promise<Shelf> = openShelf();

  constructor(jobs: Jobs) {
    this.#jobs = jobs;
  }

  examine(job: number, file: Blob, options: ExamineOptions, fresh: boolean): Promise<Examination> {
    return this.#jobs.run(job, (check) => this.#examine(check, file, options, fresh));
  }

  async #examine(check: Check, file: Blob, options: ExamineOptions, fresh: boolean): Promise<Examination> {
    const shelf = await this.#shelf;
    const examining = new ExaminingJob(file, options);
    try {
      if (file.size <= AT_ONCE_BYTES) {
        await bring(examining, file);
        check();
      }
      const sha256 = hashed(examining, check);
      const before = fresh ? null : await shelf.find(sha256, optionsKey(options));
      if (before !== null) {
        return { isNew: false, sha256, examined: before, rows: '' };
      }
      await inSteps(check, () => examining.step(), nothing);
      const done = examining.take();
      if (done === undefined) {
        throw new Error('an examination ended without a result');
      }
      return { ...done, isNew: true };
    } finally {
      examining.free();
    }
  }
}

/** The hash of a file's content, without examining it. */
export async function contentOf(file: Blob, options: ExamineOptions): Promise<string> {
  const examining = new ExaminingJob(file, options);
  try {
    await bring(examining, file);
    return hashed(examining, nothing);
  } finally {
    examining.free();
  }
}

/** Takes the file's hash, which comes before anything is measured. */
function hashed(examining: ExaminingJob, check: Check): string {
  for (;;) {
    examining.step();
    check();
    const { sha256 } = examining;
    if (sha256 !== undefined) {
      return sha256;
    }
  }
}

/** Hands all bytes of a file over; where the browser does not give them in one go, slices will, or tell why. */
async function bring(examining: ExaminingJob, file: Blob): Promise<void> {
  try {
    const bytes = await file.arrayBuffer();
    examining.keep(new Uint8Array(bytes));
    const sha256 = await browsersHash(bytes);
    if (sha256 !== null) {
      examining.tell_hash(sha256);
    }
    letGo(bytes);
  } catch {
    // Reading slices will fail too, and tell why.
  }
}

/** The SHA-256 of bytes as the browser takes it, in a tenth of the time; null where it does so for secure pages alone. */
async function browsersHash(bytes: ArrayBuffer): Promise<string | null> {
  if (typeof crypto.subtle?.digest !== 'function') {
    return null;
  }
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** Frees memory at once: at some files a second, what waits to be collected would come to hundreds of megabytes. */
function letGo(bytes: ArrayBuffer): void {
  const { port1, port2 } = new MessageChannel();
  port1.postMessage(bytes, [bytes]);
  port1.close();
  port2.close();
}

function nothing(): void {
  // There is nobody to tell how far a single file has come, and nobody who stops a short one.
}
