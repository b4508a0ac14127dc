/** Waveforms and power spectra. */

import { transfer } from 'comlink';

import type { DrawnSpectrum, DrawnWaveform } from '../types.ts';
import type { OpenedFile, SpectrumView, WaveformView } from '../wasm/dusklens_web.js';
import { inSteps, type Check } from './jobs.ts';

export async function waveformOf(check: Check, opened: OpenedFile, view: WaveformView): Promise<DrawnWaveform> {
  const job = opened.waveform(view);
  try {
    await inSteps(check, () => job.step(), nothing);
    // A buffer of its own, which the core's declarations cannot say.
    const values = job.values() as Float32Array<ArrayBuffer>;
    return transfer({ ...job.facts(), values }, [values.buffer]);
  } finally {
    job.free();
  }
}

export async function spectrumOf(check: Check, opened: OpenedFile, view: SpectrumView): Promise<DrawnSpectrum> {
  const job = opened.spectrum(view);
  try {
    await inSteps(check, () => job.step(), nothing);
    const levels = job.levels_db() as Float32Array<ArrayBuffer>;
    return transfer({ ...job.facts(), levels_db: levels }, [levels.buffer]);
  } finally {
    job.free();
  }
}

function nothing(): void {
  // Nothing is shown of what is half done.
}
