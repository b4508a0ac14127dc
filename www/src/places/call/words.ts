import type {
  ExpansionOrigin,
  Flag,
  Shape,
  SpectrumWindow,
  StampOrigin,
} from '../../core/types.ts';

/** A word of the trade, written out. */
export interface Word {
  readonly label: string;
  readonly meaning: string;
}

export const FLAGS: Readonly<Record<Flag, Word>> = {
  clipped: {
    label: 'clipped',
    meaning:
      'The sound was too loud for the recorder: samples reached the largest value that the file can hold, so level and harmonics are not to be trusted.',
  },
  floor_limited: {
    label: 'floor-limited',
    meaning:
      'Noise lay above the usual edge threshold. The pulse was measured down to the noise and may really be longer.',
  },
  cut_off: {
    label: 'cut off',
    meaning: 'The pulse touches the beginning or the end of the file, so part of it is missing.',
  },
  overlapped: {
    label: 'overlapped',
    meaning: 'Another sound lies over it at the same time and frequency.',
  },
};

export const SHAPES: Readonly<Record<Shape, string>> = {
  FM: 'Frequency-modulated, a sweep throughout.',
  QCF: 'Quasi-constant frequency, nearly level throughout.',
  CF: 'Constant frequency, level throughout.',
  'FM-QCF': 'A sweep that ends in a nearly constant part.',
  'QCF-FM': 'A nearly constant part that ends in a sweep.',
  'FM-QCF-FM': 'A sweep before and after a nearly constant part.',
  'CF-FM': 'A constant part that ends in a sweep.',
  'FM-CF': 'A sweep that ends in a constant part.',
  'FM-CF-FM': 'A sweep before and after a constant part.',
};

export const EXPANSION_ORIGINS: Readonly<Record<ExpansionOrigin, string>> = {
  assumed: 'taken for granted: the file says nothing of it',
  metadata: 'as the file says',
  person: 'as you said',
};

export const STAMP_ORIGINS: Readonly<Record<StampOrigin, string>> = {
  guano: 'from the GUANO metadata',
  bext: 'from the broadcast extension chunk',
  info: 'from the INFO list',
};

export const WINDOWS: Readonly<Record<SpectrumWindow, string>> = {
  hann: 'Hann',
  hamming: 'Hamming',
  blackman_harris: 'Blackman–Harris',
  gaussian: 'Gaussian',
  kaiser: 'Kaiser',
};

export const CAUTION =
  'Numbers are no identification: species overlap, and one animal calls differently in the open, among trees and near prey. Bats and their roosts are protected in many countries; handling them or entering a roost is for people with a licence and training. Follow your local law.';
