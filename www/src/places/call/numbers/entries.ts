import type { Chapter, Entry } from './entry.ts';
import { JUDGED } from './judged.ts';
import { FROM_DB, SOURCE } from './known.ts';
import { MEASURED } from './measured.ts';

/** What comes before all single numbers: how sure any of them is. */
const UNCERTAINTY: Entry = {
  id: 'uncertainty',
  title: 'Uncertainty, the ± beside a number',
  columns: [
    'start_u95_ms',
    'end_u95_ms',
    'duration_u95_ms',
    'peak_u95_khz',
    'start_u95_khz',
    'end_u95_khz',
    'high_u95_khz',
    'low_u95_khz',
    'characteristic_u95_khz',
    'sweep_u95_khz_per_ms',
    'flattest_u95_khz_per_ms',
    'interval_u95_ms',
    'level_u95_db',
    'snr_u95_db',
  ],
  plain: 'How far the true value may lie from the number. 45.2 ± 0.4 kHz says: in 95 of 100 such cases, it lies between 44.8 and 45.6 kHz.',
  definition: [
    'Half the width of the interval that holds the true value in 95 % of cases. This is an expanded uncertainty with 95 % coverage in the sense of JCGM 100, the Guide to the expression of uncertainty in measurement.',
    'For each number of each pulse, theory gives a standard deviation: from the noise in the channel, the length over which it is averaged, the sweep rate and the steepness of the edges. How it becomes an interval was fitted on synthetic pulses, whose true values are known, and checked on others.',
    'In the table it is rounded up to one significant digit, or to two where it begins with 1, and the number gets the same decimals, but never more than are of use. A saved table holds both with fixed decimals. Those of start and end stand in a saved table, and below the table for the pulse that is chosen.',
  ],
  known: [
    'In one case of twenty, the true value lies outside: that is what 95 % means. It is also only as good as its synthetic pulses are like yours.',
  ],
  avoid: [
    'It covers noise, the window and the sweep rate, and what backgrounds and echoes do on average. It does not cover the one echo that hides an edge, a harmonic taken for the fundamental, the microphone’s own frequency response, or the distance and direction of the animal. For these, look at the picture.',
    'It is not the spread from pulse to pulse: an animal varies far more than a measurement does.',
  ],
};

export const CHAPTERS: readonly Chapter[] = [
  { id: 'sure', title: 'How sure a number is', entries: [UNCERTAINTY] },
  ...MEASURED,
  ...JUDGED,
];

/** What holds for every number. Absorption: `crate/core/src/field/air.rs`, which follows ISO 9613-1. */
export const BEFORE: readonly { readonly rule: string; readonly why: string }[] = [
  {
    rule: 'No number names a species.',
    why: 'Species overlap, and one animal calls differently in the open, among trees and near prey. An identification is for a qualified person, who keeps the recording.',
  },
  {
    rule: 'No number counts animals.',
    why: 'Passes and pulses measure activity: one bat can make many, and many are never heard.',
  },
  {
    rule: 'What reaches the microphone is not what left the bat.',
    why: 'Air takes more of high frequencies: at 20 °C and 50 % humidity about 1.7 dB a metre at 50 kHz and 3.3 dB a metre at 100 kHz (ISO 9613-1). Over 10 m, 100 kHz loses 16 dB more than 50 kHz does.',
  },
  {
    rule: 'Flight shifts frequencies.',
    why: 'The Doppler effect raises them while a bat comes nearer and lowers them while it leaves, by up to about 3 % at 10 m/s: 1.3 kHz at 45 kHz.',
  },
  {
    rule: `Good numbers need a good recording.`,
    why: `Prefer pulses of ${FROM_DB} dB of signal-to-noise or more, without flags, and several of them. Say with your results how you chose.`,
  },
];

/** Care for animals, people and the law. */
export const CAUTIONS: readonly string[] = [
  'Bats and their roosts are protected in many countries. Handling or disturbing them, or entering a roost, is for people with a licence, training and the vaccinations that their health service advises. Never touch a bat with bare hands.',
  'Recording at night: tell someone where you are and when you will be back, know the ground by daylight, mind water, roads and livestock, and ask the landowner.',
  'Do not decide on the ground of these numbers alone what is built, felled or lit: that is for a qualified person under your local law.',
];

export { SOURCE };
