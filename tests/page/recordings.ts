import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

import type { TestFile } from './notebook.ts';

const HEADER_BYTES = 12;
const CHUNK_HEADER_BYTES = 8;
const FORMAT_BYTES = 16;

/** Where a sample recording lies. */
export function pathOf(file: string): string {
  return fileURLToPath(new URL(`../../sample-calls/${file}`, import.meta.url));
}

export const FIRST_PASS = 'larkwater-fen-01-first-pass.wav';
export const BUZZ = 'larkwater-fen-03-feeding-buzz.wav';
export const RAIN = 'larkwater-fen-10-rain.wav';
export const HISS = 'larkwater-fen-11-nothing-but-hiss.wav';
export const TWO_ANIMALS = 'larkwater-fen-06-two-animals.wav';

export function sample(file: string): TestFile {
  return named(file, readFileSync(pathOf(file)));
}

export function named(name: string, buffer: Buffer): TestFile {
  return { name, mimeType: 'audio/wav', buffer };
}

/** A chunk of a RIFF file with its pad byte (Microsoft/IBM 1991, from memory). */
function chunk(id: string, body: Buffer): Buffer {
  const header = Buffer.alloc(CHUNK_HEADER_BYTES);
  header.write(id, 0, 'latin1');
  header.writeUInt32LE(body.length, 4);
  return Buffer.concat([header, body, Buffer.alloc(body.length % 2)]);
}

function riff(...chunks: Buffer[]): Buffer {
  const body = Buffer.concat([Buffer.from('WAVE', 'latin1'), ...chunks]);
  return chunk('RIFF', body);
}

/** A recording in 16-bit PCM; `samples` hold one channel after the other in each frame. */
export function wav(
  samples: Int16Array,
  { rate, channels = 1, metadata }: { rate: number; channels?: number; metadata?: string },
): Buffer {
  const format = Buffer.alloc(FORMAT_BYTES);
  format.writeUInt16LE(1, 0);
  format.writeUInt16LE(channels, 2);
  format.writeUInt32LE(rate, 4);
  format.writeUInt32LE(rate * channels * 2, 8);
  format.writeUInt16LE(channels * 2, 12);
  format.writeUInt16LE(16, 14);
  const data = Buffer.from(samples.buffer, samples.byteOffset, samples.byteLength);
  return riff(
    chunk('fmt ', format),
    ...(metadata === undefined ? [] : [chunk('guan', Buffer.from(metadata, 'utf8'))]),
    chunk('data', data),
  );
}

/** The samples of a 16-bit sample recording, and its rate. */
export function samplesOf(file: string): { samples: Int16Array; rate: number } {
  const bytes = readFileSync(pathOf(file));
  let at = HEADER_BYTES;
  let rate = 0;
  while (at + CHUNK_HEADER_BYTES <= bytes.length) {
    const id = bytes.toString('latin1', at, at + 4);
    const length = bytes.readUInt32LE(at + 4);
    const body = at + CHUNK_HEADER_BYTES;
    if (id === 'fmt ') {
      rate = bytes.readUInt32LE(body + 4);
    }
    if (id === 'data') {
      const copy = Uint8Array.prototype.slice.call(bytes, body, body + length);
      return { samples: new Int16Array(copy.buffer), rate };
    }
    at = body + length + (length % 2);
  }
  throw new Error(`${file} has no data`);
}

/** Moments of the clicks in `clicked`, seconds: between calls, and as uneven as those of drops. */
export const CLICKS_S = [0.17, 0.27, 0.452, 0.79];

/** A click is a burst of noise that fades to a third in so many samples. */
const CLICK_SAMPLES = 400;
const CLICK_FADES = 50;
const CLICK_HEIGHT = 12_000;

/** The first pass, with clicks that spread over all frequencies. */
export function clicked(): TestFile {
  const { samples, rate } = samplesOf(FIRST_PASS);
  // A plain generator with a fixed seed, so that a failure can be repeated.
  let seed = 7;
  for (const moment of CLICKS_S) {
    const at = Math.round(moment * rate);
    for (let n = 0; n < CLICK_SAMPLES; n += 1) {
      seed = (seed * 1103515245 + 12345) % 2147483648;
      samples[at + n] = CLICK_HEIGHT * (seed / 1073741824 - 1) * Math.exp(-n / CLICK_FADES);
    }
  }
  return named('clicked.wav', wav(samples, { rate }));
}

/** Where the samples of a file begin, bytes. */
export function dataStart(bytes: Buffer): number {
  return bytes.indexOf('data', 0, 'latin1') + CHUNK_HEADER_BYTES;
}
