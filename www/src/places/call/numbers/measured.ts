import type { Chapter } from './entry.ts';
import { KNOWN, median } from './known.ts';

/** Times, frequencies and strengths: what is read off the sound itself. */
export const MEASURED: readonly Chapter[] = [
  {
    id: 'time',
    title: 'Time',
    entries: [
      {
        id: 'start-end',
        title: 'Start and end',
        columns: ['start_s', 'end_s'],
        plain: 'When the pulse begins and ends, in seconds from the start of the recording.',
        definition: [
          'The sound is heard through a narrow channel that follows the pulse’s own sweep: 6 kHz wide, or 2 kHz for quiet, nearly level calls. What comes through is the envelope, the amplitude against time, with most noise and other animals left out. Harmonics less than 20 dB fainter than the loudest one count too: their powers are added.',
          'The maximum is the mean over a tenth of the pulse at its loudest, less the noise. Start and end are where the envelope falls 20 dB below the maximum. Where noise lies higher, they are where it falls to 6 dB above the noise around the pulse, and the pulse is flagged floor-limited.',
          'A hole of up to 0.2 ms is bridged. Where the envelope falls more than 9 dB below the maximum and then rises again by more than 5 dB, the edge is taken in that dip, and the pulse is flagged overlapped.',
        ],
        known: [
          `No figure of their own. The duration, which is their difference, has one. ${median('duration')}`,
        ],
        avoid: [
          'For the time of day: that is only as good as the recorder’s clock.',
          'When the pulse is flagged cut off: the edge is the file’s.',
          'When an echo from water, a wall or leaves follows without a gap: the end is then that of the echo.',
        ],
      },
      {
        id: 'duration',
        title: 'Duration',
        columns: ['duration_ms'],
        plain: 'How long the pulse lasts.',
        definition: [
          'End minus start, in milliseconds. Sounds shorter than 0.3 ms or longer than 100 ms are not listed.',
        ],
        known: [median('duration')],
        avoid: [
          'Below about 20 dB of signal-to-noise. The beginning and the end are then hidden in noise, the pulse is flagged floor-limited, and its duration is a lower bound.',
          'Among echoes: they lengthen a pulse, so one animal’s pulses seem longer over water or along a wall.',
          'Beside durations that were taken 10 or 30 dB below the maximum: they are not the same quantity.',
        ],
      },
      {
        id: 'interval',
        title: 'Interval',
        columns: ['interval_ms'],
        plain: 'The time from one pulse to the next of the same sequence.',
        definition: [
          'Start of this pulse minus the start of the pulse before it in the same sequence, in milliseconds. The first pulse of a sequence has none.',
          'Pulse missed before: an interval about two to five times as long as its neighbours is flagged so. One or more pulses were probably not heard; it is no slower animal.',
        ],
        known: [median('interval')],
        avoid: [
          'To count animals: two that call alike may end up in one sequence, and its intervals are then too short.',
          'When the pulse is flagged pulse missed before: leave its interval out of a mean. A median bears it better.',
          'At the edge of what is heard: as an animal turns its head, every second pulse may be lost, which looks like a steady, slower animal.',
        ],
      },
    ],
  },
  {
    id: 'frequency',
    title: 'Frequency',
    entries: [
      {
        id: 'contour',
        title: 'Contour',
        plain: 'The course of the pulse’s frequency from its start to its end: the line over the picture.',
        definition: [
          'The frequency of the fundamental against time, from start to end, at points no more than 0.1 ms apart. Where several harmonics are heard, each moment is read from those that show it best, divided by their multiple.',
        ],
        known: [
          `No single figure. Three of its values have one. ${median('start', 'end', 'characteristic')}`,
        ],
        avoid: [
          'When the picture shows that the line runs along a harmonic: every frequency is then a multiple of the true one.',
          'When the pulse is flagged overlapped: part of the line may be another sound’s.',
        ],
      },
      {
        id: 'start-end-frequency',
        title: 'Start and end frequency',
        columns: ['start_khz', 'end_khz'],
        plain: 'Where the sweep sets out from, and where it arrives.',
        definition: ['The first and the last value of the contour, in kilohertz.'],
        known: [median('start', 'end')],
        avoid: [
          'To compare start frequencies of animals at different distances. Most calls start high, and air takes high frequencies first, so the start frequency falls with distance.',
          'Near the noise: what is heard of the sweep gets shorter at both ends.',
          'When the pulse is flagged floor-limited, cut off or overlapped.',
        ],
      },
      {
        id: 'high-low',
        title: 'High and low frequency, bandwidth',
        columns: ['high_khz', 'low_khz'],
        plain: 'The highest and the lowest point of the contour, and how far they lie apart.',
        definition: [
          'The largest and the smallest value of the contour, in kilohertz. In a call that only falls they are the start and the end frequency. Bandwidth is high less low; it has no column of its own.',
        ],
        known: [
          `No figure of their own: in most calls they are the start and the end frequency. ${median('start', 'end')}`,
        ],
        avoid: [
          'To compare bandwidths across distances, recorders or sites: the high frequency is lost first, so bandwidth shrinks with distance and near the noise.',
          'As the band of everything that was heard: harmonics are not in it.',
        ],
      },
      {
        id: 'peak',
        title: 'Peak frequency',
        columns: ['peak_khz'],
        plain: 'The frequency with most energy, over the whole pulse.',
        definition: [
          'The frequency at which the power spectrum of the whole pulse is largest, interpolated between the points of the spectrum, in kilohertz. The spectrum is that of the pulse with the harmonics that count (those less than 20 dB fainter than the loudest), so the peak may lie in a harmonic.',
        ],
        known: [median('peak'), `It is worse where a spectrum has no clear top: ${KNOWN.peak.but}.`],
        avoid: [
          'For steep sweeps whose spectrum is flat: chance chooses the top.',
          'To compare animals at different distances, or recorders with different microphones. Air takes more of the high frequencies, microphones favour some, and both move the peak.',
          'When the pulse is flagged clipped: the tops are cut off, and energy moves into harmonics.',
        ],
      },
      {
        id: 'characteristic',
        title: 'Characteristic frequency',
        columns: ['characteristic_khz'],
        plain: 'The frequency at which the call settles, at the end of its flattest part.',
        definition: [
          'The contour’s value at the end of its flattest stretch, in kilohertz. The flattest stretch is the fifth of the pulse (at least 0.4 ms) whose straight line slopes least.',
        ],
        known: [median('characteristic'), 'It is the steadiest of the frequencies in calls that have a flat part.'],
        avoid: [
          'For a straight sweep. No part of it is flatter than another, so noise chooses the stretch, and the number means little. Look at the sweep rate at the flattest stretch first.',
          'For a pulse whose end is lost: the flattest part may be what was lost.',
        ],
      },
      {
        id: 'sweep',
        title: 'Sweep rate',
        columns: ['sweep_khz_per_ms', 'flattest_khz_per_ms'],
        plain: 'How fast the frequency changes: over the whole pulse, and where it changes least.',
        definition: [
          'Whole: end frequency less start frequency, over the duration, in kilohertz per millisecond. It is below zero where the call falls.',
          'Flattest: the slope of the straight line through the flattest stretch, which is the fifth of the pulse (at least 0.4 ms) that slopes least.',
        ],
        known: [
          `No figure of its own. The whole rate is made of three numbers that have one. ${median('start', 'end', 'duration')}`,
        ],
        avoid: [
          'The whole rate, for calls of two parts: an FM-QCF call has a steep and a flat part, and their mean describes neither.',
          'For pulses near the noise: they lose their steep beginning, and seem flatter than they are.',
        ],
      },
    ],
  },
  {
    id: 'strength',
    title: 'Strength',
    entries: [
      {
        id: 'level',
        title: 'Level',
        columns: ['level_db'],
        plain: 'How strong the pulse is in the file.',
        definition: [
          'The maximum of the envelope (the mean over a tenth of the pulse at its loudest, less the noise), in decibels re full scale. A tone that just fills the file’s range has 0 dB; fainter ones are below zero.',
        ],
        known: [median('level'), 'It says how well the file was read, not how loud the animal was.'],
        avoid: [
          'As sound pressure: it is relative to the file, and depends on the microphone, the recorder’s gain, the distance, and where the animal looks.',
          'To compare recorders, unless they were calibrated.',
          'When the pulse is flagged clipped: it was louder than the file can say.',
        ],
      },
      {
        id: 'snr',
        title: 'Signal-to-noise',
        columns: ['snr_db'],
        plain: 'How far the pulse stands above the noise in its own band. The larger, the better every other number.',
        definition: [
          'The level less the noise in the band from low to high frequency, in decibels. A band narrower than 2 kHz is widened to 2 kHz. The noise is that of the recording around the pulse.',
        ],
        known: ['No figure of its own. It is meant for sorting pulses by trust, and a decibel more or less does not matter for that.'],
        avoid: [
          'To compare a wide sweep with a level call: the wider band holds more noise.',
          'As a measure of distance.',
          'As the only test: echoes and other animals spoil a measurement at any signal-to-noise.',
        ],
      },
      {
        id: 'edges',
        title: 'Edges below',
        columns: ['edge_db'],
        plain: 'How far below the maximum start and end were taken.',
        definition: [
          'In decibels: 20, or less where noise lay so high that the edges were taken 6 dB above it. Below 19.9 dB the pulse is flagged floor-limited.',
        ],
        known: ['It is not measured but chosen: it tells what was done. What it rests on is the noise around the pulse.'],
        avoid: [
          'Do not put durations, bandwidths or start frequencies with different edges into one comparison.',
        ],
      },
    ],
  },
];
