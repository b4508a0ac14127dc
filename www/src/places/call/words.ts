import type {
  Doubt,
  ExpansionOrigin,
  Flag,
  Shape,
  SpectrumWindow,
  StampOrigin,
  Verdict,
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
  missed_before: {
    label: 'pulse missed before',
    meaning:
      'Its interval is two to five times as long as those around it: one or more pulses were probably not heard before it.',
  },
};

/** What the sign between a number and its uncertainty means. */
export const SPREAD_MEANING = '±: the true value lies within it in 95 of 100 cases.';

/** A reason for doubt, and how sounds are counted that have it. */
export interface Reason extends Word {
  readonly one: string;
  readonly many: string;
}

export const DOUBTS: Readonly<Record<Doubt, Reason>> = {
  click: {
    label: 'click',
    one: 'click',
    many: 'clicks',
    meaning:
      'Its energy lies on all frequencies at once, or it is a short ringing: a drop, a twig, a knock.',
  },
  insect_like: {
    label: 'insect-like',
    one: 'insect-like one',
    many: 'insect-like ones',
    meaning: 'It is one of many such sounds in quick succession, as of insects or dense rain.',
  },
  wind: {
    label: 'wind',
    one: 'of wind',
    many: 'of wind',
    meaning:
      'It lies on all frequencies at once and lasts, as wind, leaves and handling do; or it lies too low for a bat.',
  },
  tone: {
    label: 'tone',
    one: 'tone',
    many: 'tones',
    meaning: 'It stands alone and is level, like a tone that is switched on and off.',
  },
  electronics: {
    label: 'electronics',
    one: 'of electronics',
    many: 'of electronics',
    meaning: 'It comes again with an interval and a frequency that are as even as no animal’s.',
  },
  wandering: {
    label: 'wandering',
    one: 'wandering one',
    many: 'wandering ones',
    meaning: 'Its frequency goes to and fro as no call’s does: noise that looks like a call by chance.',
  },
  faint: {
    label: 'faint',
    one: 'faint one',
    many: 'faint ones',
    meaning: 'It hardly stands above the noise, so it was not seen plainly.',
  },
  lone: {
    label: 'lone',
    one: 'lone one',
    many: 'lone ones',
    meaning: 'It is faint or very short, and nothing around it resembles it. Bats repeat themselves.',
  },
};

/** An answer to whether a recording holds bat pulses. */
export interface Answer extends Word {
  /** Before the count of pulses, where there is little room; null where that says nothing more. */
  readonly short: string | null;
}

const UNSEEN = 'A bat that is too faint, or hidden by other sounds, is not seen.';

export const VERDICTS: Readonly<Record<Verdict, Answer>> = {
  holds_pulses: {
    label: 'Holds bat pulses',
    short: 'holds',
    meaning: `There is a sequence of three pulses or more, or of two that stand plainly above the noise. ${UNSEEN}`,
  },
  unsure: {
    label: 'Unsure',
    short: 'unsure:',
    meaning: `There are pulses that nothing speaks against, but they are too few or too faint to be sure: look, and decide. ${UNSEEN}`,
  },
  probably_none: {
    label: 'Probably no bat pulses',
    short: null,
    meaning: `Nothing was found, or only sounds that there is reason to doubt. ${UNSEEN}`,
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
