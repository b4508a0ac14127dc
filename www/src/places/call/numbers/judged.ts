import { FLAGS, SHAPES } from '../words.ts';
import type { Chapter } from './entry.ts';
import { median } from './known.ts';

/** What is concluded from the measured numbers, and how far to trust it. */
export const JUDGED: readonly Chapter[] = [
  {
    id: 'likeness',
    title: 'What it is like',
    entries: [
      {
        id: 'shape',
        title: 'Shape',
        columns: ['shape'],
        plain: 'The contour in the trade’s words: which parts sweep, and which are level, in the order in which they sound.',
        definition: [
          'FM, frequency-modulated: it sweeps. QCF, quasi-constant frequency: the contour’s slope, over half a millisecond, stays below 1.5 kHz/ms, and below 3.5 % of the frequency per millisecond. The second limit is the lower one below 43 kHz. CF, constant frequency: a part that flat which lasts 6 ms or more, with nine tenths of it within 0.8 kHz.',
          'A flat part counts from a fifth of the pulse on; else the pulse is FM throughout. A sweep before or after it counts from 3 kHz on. The parts are joined with a dash.',
        ],
        terms: Object.entries(SHAPES).map(([word, meaning]) => ({ word, meaning })),
        known: [
          'No figure: the border between two shapes is a convention. A pulse that lies near a border falls on one side or the other with a little noise.',
        ],
        avoid: [
          'As the mark of a species or of an animal: shapes of one animal change with habitat and task. Near leaves or prey calls get shorter and steeper, in the open longer and flatter.',
          'Near the noise: a lost beginning turns FM-QCF into QCF.',
        ],
      },
      {
        id: 'harmonics',
        title: 'Harmonics',
        plain: 'The multiples of the call’s own frequency that can be heard as well, and how strong they are.',
        definition: [
          'For each multiple of the contour up to the fifth: the energy that comes through a channel along it, over the whole pulse, in decibels re the fundamental. It is given where it is more than four times (6 dB) that of the noise, and where half the sampling rate leaves room for it.',
        ],
        known: [
          'No figure. The largest risk is a wrong fundamental: if the lowest harmonic is too faint to be heard, the next one passes for it, and all frequencies are multiples of the true ones.',
        ],
        avoid: [
          'When the pulse is flagged clipped: a cut top makes harmonics that no animal made.',
          'To say that there is none: harmonics are high, and air and microphone take them first.',
        ],
      },
      {
        id: 'sequence',
        title: 'Sequence',
        columns: ['sequence'],
        plain: 'Pulses that one animal may have made. They share a number.',
        definition: [
          'A pulse joins a sequence if it comes no sooner than 3.5 ms after the start of the last pulse and not while that still sounds, no later than one second after its end, and is like it: characteristic or low frequency within 18 %, level within 20 dB, duration within a factor of 3.5. If several sequences would do, it joins the one whose last pulse is most like it. A pulse that finds no other stands alone and has no number.',
        ],
        known: ['No figure. It is a sorting by likeness, not a recognition of an animal.'],
        avoid: [
          'To count animals. Two that call alike make one sequence; one that turns away and comes back makes two.',
          'To follow an animal from one recording to the next: numbers begin anew in every file.',
        ],
      },
      {
        id: 'pass',
        title: 'Pass',
        plain: 'One animal heard while it flies by, as far as that can be told.',
        definition: [
          'A sequence of two pulses or more, ended by a silence of one second.',
        ],
        known: ['No figure. How many passes an hour holds depends on the one second: with another silence, the same night has another count.'],
        avoid: [
          'To count animals: a pass is a measure of activity. One bat that hunts along a hedge makes many.',
          'Beside counts that were made with another definition of a pass.',
          'To compare species: loud ones are heard from farther away, and so make more passes.',
        ],
      },
      {
        id: 'buzz',
        title: 'Feeding buzz',
        plain: 'The quick run of pulses with which a bat closes in on its prey.',
        definition: [
          'The run of pulses at the end of an attack whose intervals fall below about 10 ms, as is common practice. It is marked with its first and its last pulse.',
        ],
        known: [
          `No figure of its own. The intervals are well known. ${median('interval')} The pulses of a buzz are short and faint, and some are missed, so its first and last pulse are less sure than the buzz itself.`,
        ],
        avoid: [
          'To count prey: an attack may fail.',
          'To say that no prey was hunted: a buzz is faint, and is heard only from near by.',
          'To tell eating from drinking: bats may buzz before they touch water.',
        ],
      },
    ],
  },
  {
    id: 'trust',
    title: 'How far to trust a pulse',
    entries: [
      {
        id: 'flags',
        title: 'Flags',
        columns: ['flags'],
        plain: 'Short words beside a pulse or an interval that say what limits trust in its numbers.',
        definition: ['A flag is set by a rule, and stays beside the number wherever it goes.'],
        terms: [
          {
            word: FLAGS.clipped.label,
            meaning:
              'A sample of the pulse reached the largest value that the file can hold. Level, peak and harmonics are wrong; times are hardly touched.',
          },
          {
            word: FLAGS.floor_limited.label,
            meaning:
              'Noise lay above the usual edge threshold, so the edges were taken less than 19.9 dB below the maximum. Duration and bandwidth are lower bounds.',
          },
          {
            word: FLAGS.cut_off.label,
            meaning:
              'The pulse comes within 0.2 ms of the beginning or the end of the file. Part of it is missing, so duration and the frequency at that edge are wrong.',
          },
          {
            word: FLAGS.overlapped.label,
            meaning:
              'Another sound crosses it in time and frequency, or an edge lies in a dip beyond which the sound rises again. An edge or a part of the contour may be that of the other.',
          },
          {
            word: 'pulse missed',
            meaning:
              'The interval is about a whole number of times as long as its neighbours: a pulse between was probably not heard.',
          },
        ],
        known: ['No figure. A flag tells what was seen; what was not seen, such as a faint echo within the pulse, sets none.'],
        avoid: [
          'Do not take a pulse without a flag for a good one: look at its signal-to-noise and at the picture.',
          'Do not leave out all flagged pulses without a thought: a floor-limited pulse still has a good characteristic frequency.',
        ],
      },
      {
        id: 'doubt',
        title: 'Reasons to doubt that it is a bat',
        plain: 'Words for sounds that may not be a bat’s. Nothing is deleted for them: a person decides.',
        definition: ['Each reason is a feature that can be looked up in the picture.'],
        terms: [
          { word: 'click', meaning: 'Its energy lies on all frequencies at once, and it is shorter than 3 ms: rain, twigs, footsteps.' },
          { word: 'insect-like', meaning: 'Many like it follow in quick succession, broadband or as a short ringing.' },
          { word: 'tone', meaning: 'It keeps to one frequency, and lasts or stands alone.' },
          { word: 'electronics', meaning: 'It repeats with the same interval and the same frequency, more evenly than any animal does.' },
          { word: 'wind', meaning: 'It lies too low for a bat: wind, rumble, voices.' },
          { word: 'faint', meaning: 'It hardly stands above the noise, so that its features are not sure.' },
          { word: 'lone', meaning: 'A short sound that nothing around it resembles. Bats repeat themselves.' },
        ],
        known: ['No figure. A reason is a reason, not a proof: a single pulse of a bat that turns away is lone, and a bat far off is faint.'],
        avoid: [
          'Do not delete a recording on the ground of it: keep what you may want to check.',
          'Do not take a sound without a reason for a bat’s: dense insect song still brings forth false pulses.',
        ],
      },
      {
        id: 'summary',
        title: 'Summary of a recording',
        plain: 'Whether the recording holds a bat, as far as its pulses tell.',
        definition: ['One of three answers, from all pulses and the reasons to doubt them.'],
        terms: [
          { word: 'holds bat pulses', meaning: 'There are pulses without a reason to doubt them.' },
          { word: 'probably none', meaning: 'Nothing was found, or only what there is good reason to doubt.' },
          { word: 'unsure', meaning: 'Something was found that may be a bat’s: look and decide.' },
        ],
        known: ['No figure. Quiet pulses are missed: below 10 dB of signal-to-noise about a third of them.'],
        avoid: [
          'As proof of absence: “probably none” says that none was heard by this microphone in this file.',
          'As proof of presence where it matters: look at the picture, and keep the recording.',
        ],
      },
    ],
  },
];
