/** What a worker does for the page. */

import { transfer } from 'comlink';

import type { Engine, Facts, Look, OnPart, OnProgress, OpenOptions, Picture, Pulse, Thrown, View } from '../types.ts';
import { csv, initSync, legend, OpenedFile, type DrawingJob, type Problem } from '../wasm/dusklens_web.js';
import { Drawings } from './drawings.ts';
import { Cancelled, Jobs, Throttle } from './jobs.ts';

/** How often a picture in the making is shown: often enough to see it grow, seldom enough not to slow it down. */
const PART_EVERY_MS = 150;
/** How often a measurement tells how far it has come. */
const PROGRESS_EVERY_MS = 100;

/** The core of one worker, as the page calls it. Everything that it throws is a `Thrown`. */
export class CoreEngine implements Engine {
  readonly #jobs = new Jobs();
  readonly #drawings = new Drawings();
  readonly #opened = new Map<number, OpenedFile>();

  start(core: WebAssembly.Module | BufferSource): void {
    guard(() => initSync({ module: core }));
  }

  open(recording: number, file: Blob, options: OpenOptions): Facts {
    return guard(() => {
      const opened = new OpenedFile(file, options.expansion);
      this.close(recording);
      this.#opened.set(recording, opened);
      return opened.facts();
    });
  }

  close(recording: number): void {
    this.#drawings.clear();
    this.#opened.get(recording)?.free();
    this.#opened.delete(recording);
  }

  draw(job: number, recording: number, view: View, look: Look, onPart: OnPart | null): Promise<Picture> {
    return guardLong(() => {
      const key = JSON.stringify([recording, view]);
      const begin = () => this.#recording(recording).draw(view);
      return this.#drawings.use(key, begin, async (drawing) => {
        const throttle = new Throttle(PART_EVERY_MS);
        const show = () => onPart?.(picture(drawing, look), drawing.done_fraction);
        await this.#jobs.run(job, () => drawing.step(), () => throttle.pass(show));
        return picture(drawing, look);
      });
    });
  }

  measure(job: number, recording: number, channel: number, onProgress: OnProgress): Promise<Pulse[]> {
    return guardLong(async () => {
      const measuring = this.#recording(recording).measure(channel);
      const throttle = new Throttle(PROGRESS_EVERY_MS);
      const tell = () => {
        onProgress({ done_s: measuring.done_s, total_s: measuring.total_s, pulses: measuring.pulses() });
      };
      try {
        await this.#jobs.run(job, () => measuring.step(), () => throttle.pass(tell));
        return measuring.pulses();
      } finally {
        measuring.free();
      }
    });
  }

  csv(name: string, pulses: Pulse[]): string {
    return guard(() => csv(name, pulses));
  }

  legend(map: Look['map'], steps: number): Uint8ClampedArray<ArrayBuffer> {
    return guard(() => handOver(legend(map, steps)));
  }

  cancel(job: number): void {
    this.#jobs.cancel(job);
  }

  #recording(recording: number): OpenedFile {
    const opened = this.#opened.get(recording);
    if (opened === undefined) {
      throw new Error(`recording ${recording} is not open in this worker`);
    }
    return opened;
  }
}

/** What is painted so far, in a buffer that is handed over to the page. */
function picture(drawing: DrawingJob, look: Look): Picture {
  const facts = drawing.paint(look);
  const pixels = handOver(drawing.pixels());
  return transfer({ ...facts, pixels }, [pixels.buffer]);
}

/** Marks pixels to be moved to the page and not copied. */
function handOver(pixels: Uint8ClampedArray): Uint8ClampedArray<ArrayBuffer> {
  // The core returns them in a buffer of their own, which its declarations cannot say.
  const own = pixels as Uint8ClampedArray<ArrayBuffer>;
  return transfer(own, [own.buffer]);
}

function guard<T>(work: () => T): T {
  try {
    return work();
  } catch (error) {
    throw thrown(error);
  }
}

async function guardLong<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    throw thrown(error);
  }
}

/** Sorts what was thrown. Problems come from the core as plain objects; any `Error` is a fault of ours or a trap. */
function thrown(error: unknown): Thrown {
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
