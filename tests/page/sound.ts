import type { Page } from '@playwright/test';

import { named, wav } from './recordings.ts';
import type { TestFile } from './notebook.ts';

const RATE = 384_000;
const FULL = 32_767;

/** A tone, as long as somebody wants to listen to. */
export function toneFile(khz: number, seconds: number, amplitude = 0.25): TestFile {
  const samples = Int16Array.from(
    { length: RATE * seconds },
    (_, n) => amplitude * FULL * Math.sin((2 * Math.PI * khz * 1000 * n) / RATE),
  );
  return named(`tone-${khz}.wav`, wav(samples, { rate: RATE }));
}

/** A piece of sound as it was given to the browser to play. */
export interface Piece {
  readonly when: number;
  readonly rate: number;
  readonly samples: number[];
}

/** Notes what the page gives to the loudspeaker from now on. */
export async function listenIn(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const heard: { when: number; rate: number; samples: number[] }[] = [];
    const levels: GainNode[] = [];
    Object.assign(window, { heard, levels });
    // Called on the node by the page, and handed on to it.
    // oxlint-disable-next-line typescript/unbound-method
    const { start } = AudioBufferSourceNode.prototype;
    AudioBufferSourceNode.prototype.start = function (when = 0, ...rest) {
      if (this.buffer) {
        const { sampleRate } = this.buffer;
        heard.push({ when, rate: sampleRate, samples: [...this.buffer.getChannelData(0)] });
      }
      return start.call(this, when, ...rest);
    };
    // oxlint-disable-next-line typescript/unbound-method
    const { createGain } = AudioContext.prototype;
    AudioContext.prototype.createGain = function () {
      const node = createGain.call(this);
      levels.push(node);
      return node;
    };
  });
}

/** What was given to the loudspeaker so far. */
export async function heardBy(page: Page): Promise<Piece[]> {
  return page.evaluate(() => (window as unknown as { heard: Piece[] }).heard);
}

/** Waits until so many pieces were given to the loudspeaker. */
export async function waitForPieces(page: Page, count: number): Promise<Piece[]> {
  await page.waitForFunction(
    (least) => (window as unknown as { heard: unknown[] }).heard.length >= least,
    count,
  );
  return heardBy(page);
}

/** The longest run of pieces of which each begins where the one before it ends. */
export function backToBack(pieces: readonly Piece[]): Piece[] {
  let [longest, run]: [Piece[], Piece[]] = [[], []];
  for (const piece of pieces) {
    const last = run.at(-1);
    const follows = last && Math.abs(last.when + last.samples.length / last.rate - piece.when) < 1e-6;
    run = follows ? [...run, piece] : [piece];
    longest = run.length > longest.length ? run : longest;
  }
  return longest;
}

/** The largest amplitude. */
export function loudest(samples: readonly number[]): number {
  let most = 0;
  for (const sample of samples) {
    most = Math.max(most, Math.abs(sample));
  }
  return most;
}

/** Frequency of a tone, hertz, by its rising zero crossings. */
export function pitch(samples: readonly number[], rate: number): number {
  const crossings: number[] = [];
  for (let n = 1; n < samples.length; n += 1) {
    const [a, b] = [samples[n - 1] ?? 0, samples[n] ?? 0];
    if (a < 0 && b >= 0) {
      crossings.push(n - 1 + a / (a - b));
    }
  }
  const [first, last] = [crossings[0] ?? 0, crossings.at(-1) ?? 0];
  return ((crossings.length - 1) * rate) / (last - first);
}

/** Power of a tone in a sound, re all of it, decibels, with a Hann window. */
export function purity(samples: readonly number[], hz: number, rate: number): number {
  let [real, imaginary, all, gain] = [0, 0, 0, 0];
  samples.forEach((sample, n) => {
    const weight = 0.5 - 0.5 * Math.cos((2 * Math.PI * n) / samples.length);
    const angle = (2 * Math.PI * hz * n) / rate;
    real += weight * sample * Math.cos(angle);
    imaginary += weight * sample * Math.sin(angle);
    all += weight * sample * sample;
    gain += weight;
  });
  const tone = (2 * (real * real + imaginary * imaginary)) / (gain * gain);
  return 10 * Math.log10(tone / (all / gain));
}

/** A 16-bit WAV of one channel, as the standard has it (Microsoft/IBM 1991, from memory). */
export function decoded(bytes: Buffer): { rate: number; samples: number[]; text: string } {
  let at = 12;
  let [rate, samples]: [number, number[]] = [0, []];
  let text = '';
  while (at + 8 <= bytes.length) {
    const id = bytes.toString('latin1', at, at + 4);
    const length = bytes.readUInt32LE(at + 4);
    const body = bytes.subarray(at + 8, at + 8 + length);
    if (id === 'fmt ') {
      rate = body.readUInt32LE(4);
    } else if (id === 'data') {
      samples = Array.from({ length: length / 2 }, (_, n) => body.readInt16LE(2 * n) / FULL);
    } else {
      text += body.toString('utf8');
    }
    at += 8 + length + (length % 2);
  }
  return { rate, samples, text };
}
