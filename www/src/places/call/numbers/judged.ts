import { DOUBTS, FLAGS, SHAPES, VERDICTS } from '../words.ts';
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
          'A pulse joins a sequence if it comes no sooner than 3.5 ms after the start of the last pulse and not while that still sounds, no later than one second after its end, and is like it: characteristic or low frequency within 18 %, level within 20 dB, duration within a factor of 3.5.',
          'If several sequences would do, it joins the one whose last pulse it is most like, whose usual steps in frequency it keeps to, and whose rhythm it keeps. Sequences that turn out to hold two animals, one above the other in frequency, are parted. A pulse that finds no other stands alone and has no number. Doubted sounds belong to none.',
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
        columns: ['buzz'],
        plain: 'The quick run of pulses with which a bat closes in on its prey.',
        definition: [
          'Four intervals or more in a row, within one sequence, of 10 ms at most, as is common practice. Where a pulse was missed in between, its interval counts as the whole number of intervals that it spans.',
          'All its pulses, from the one before the first short interval to the one after the last, say buzz beside the number of their sequence.',
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
            word: FLAGS.missed_before.label,
            meaning:
              'The interval before the pulse is two, three, four or five times as long as those around it, within 20 %: one or more pulses were probably not heard. It is compared with the medians of up to three intervals before and up to three after, of which the longer counts.',
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
        columns: ['doubt'],
        plain: 'Words for sounds that are probably none of a bat’s. They are kept and measured like pulses, out of sight until you show them: you decide.',
        definition: [
          'Each reason is a feature that can be looked up in the picture. A doubted sound is numbered D1, D2 and so on, apart from the pulses, and belongs to no sequence. It stands in a saved table, below the pulses.',
          'A doubted sound that sounds together with a louder one for half of its time or more is not listed: a click counts once. What is part of another sound is not listed at all: echoes, what sounds within a louder call or a louder broadband sound, and remnants of a constant tone.',
        ],
        terms: [
          {
            word: DOUBTS.click.label,
            meaning:
              'Shorter than 3 ms, and less than 40 % of the energy around it lies on its own course, or three or more other such sounds lie at the same moment on other frequencies. Or shorter than 2 ms, and it sweeps upwards, or too little: less than 1.5 kHz in its loud part, or with a product of sweep and duration of less than 4 kHz ms. Rain, twigs, footsteps.',
          },
          {
            word: DOUBTS.insect_like.label,
            meaning:
              'Shorter than 6 ms, with four or more doubted ones like it within 60 ms and 12 kHz. Insects, dense rain.',
          },
          {
            word: DOUBTS.wind.label,
            meaning:
              'It spreads over all frequencies like a click but lasts 3 ms or more, or its lowest harmonic lies below 8 kHz. Wind, leaves, handling, voices.',
          },
          {
            word: DOUBTS.tone.label,
            meaning: 'It stands alone, and its flattest stretch slopes by less than 0.05 kHz/ms; a sound of the shape QCF must slope so little as a whole. A tone that is switched on and off.',
          },
          {
            word: DOUBTS.electronics.label,
            meaning:
              'A sequence of six or more runs like clockwork: from one to the next, half of all changes are below 0.4 % of the interval, 0.15 kHz of the peak frequency and 2 % of the duration. An animal scatters by some percent.',
          },
          {
            word: DOUBTS.wandering.label,
            meaning:
              'Shorter than 6 ms; in its loud part the frequency moves by more than 3 kHz in all, and less than 60 % of that is the way down from start to end. Noise, chance.',
          },
          {
            word: DOUBTS.faint.label,
            meaning: 'Less than 3 dB above the noise of its own band, so that nothing about it is sure.',
          },
          {
            word: DOUBTS.lone.label,
            meaning:
              'It stands alone and is shorter than 1 ms, or shorter than 6 ms and less than 12 dB above the noise. Or it is shorter than 1.2 ms, or shorter than 3 ms and less than 15 dB above the noise, and fewer than two others within a second are like it. Bats repeat themselves.',
          },
        ],
        known: ['No figure. A reason is a reason, not a proof: a single pulse of a bat that turns away may be lone, and one of a bat far off is faint.'],
        avoid: [
          'Do not delete a recording on the ground of it: keep what you may want to check.',
          'Do not take a sound without a reason for a bat’s: dense insect song still brings forth false pulses.',
          'Do not take every doubted sound for something else: rare calls, such as rising ones, are doubted too.',
        ],
      },
      {
        id: 'summary',
        title: 'Summary of a recording',
        plain: 'Whether the recording holds a bat, as far as its pulses tell.',
        definition: [
          'One of three answers, from the pulses that are not doubted, in the channel that was measured. Beside it stand the counts of pulses, sequences (which are passes) and feeding buzzes, and the constant tones that were taken out before measuring: electronics, as a rule.',
        ],
        terms: [
          {
            word: VERDICTS.holds_pulses.label,
            meaning: 'There is a sequence of three pulses or more, or one with two pulses that stand 15 dB or more above the noise.',
          },
          { word: VERDICTS.unsure.label, meaning: 'There are pulses, but too few or too faint for that: look and decide.' },
          { word: VERDICTS.probably_none.label, meaning: 'Nothing was found, or doubted sounds alone.' },
        ],
        known: ['No figure. Quiet pulses are missed: below 10 dB of signal-to-noise about a third of them.'],
        avoid: [
          'As proof of absence: “probably no bat pulses” says that none was found in this file. A bat that is too faint, or hidden by other sounds, is not seen.',
          'As proof of presence where it matters: look at the picture, and keep the recording.',
        ],
      },
    ],
  },
];
