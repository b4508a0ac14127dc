/** What is being listened to in this worker. */

import { transfer } from 'comlink';

import type { ListeningSettings, SoundPiece } from '../types.ts';
import { ListeningJob, WaveFileJob, type OpenedFile } from '../wasm/dusklens_web.js';

/** The listenings that are under way, by the numbers that the page gave them. */
export class Listenings {
  readonly #jobs = new Map<number, ListeningJob>();

  begin(listening: number, opened: OpenedFile, channel: number, settings: ListeningSettings, outputHz: number): void {
    this.end(listening);
    this.#jobs.set(listening, new ListeningJob(opened, channel, settings, outputHz));
  }

  /** The next piece, in a buffer that is handed over; null where it is over or was ended. */
  next(listening: number, most: number): SoundPiece | null {
    const job = this.#jobs.get(listening);
    const facts = job?.next(most);
    if (job === undefined || facts === undefined) {
      return null;
    }
    // The core returns them in a buffer of their own, which its declarations cannot say.
    const samples = job.samples() as Float32Array<ArrayBuffer>;
    return transfer({ ...facts, samples }, [samples.buffer]);
  }

  tune(listening: number, tuningKhz: number): void {
    this.#jobs.get(listening)?.tune(tuningKhz);
  }

  end(listening: number): void {
    this.#jobs.get(listening)?.free();
    this.#jobs.delete(listening);
  }
}

/** A file in the making whose bytes are put away as they come: a browser may keep such parts on its disk. */
export class WaveFile {
  readonly #job: WaveFileJob;
  readonly #parts: Blob[] = [];

  constructor(opened: OpenedFile, channel: number, settings: ListeningSettings, outputHz: number, name: string) {
    this.#job = new WaveFileJob(opened, channel, settings, outputHz, name);
  }

  get share(): number {
    return this.#job.done_fraction;
  }

  /** Does a step of the work; returns whether all is made. */
  step(): boolean {
    const done = this.#job.step();
    this.#parts.push(new Blob([this.#job.take_bytes() as Uint8Array<ArrayBuffer>]));
    return done;
  }

  /** The whole file, once all is made. */
  file(): Blob {
    return new Blob([this.#job.header() as Uint8Array<ArrayBuffer>, ...this.#parts], { type: 'audio/wav' });
  }

  free(): void {
    this.#job.free();
  }
}
