//! Grouping: which pulses one animal may have made.

use super::order::median;
use super::{Pulse, Settings, Uncertainty, lanes, uncertainty};

/// Largest step in characteristic or lowest frequency from one pulse to the
/// next, as a share of it. Calls glide by a tenth or so on the way into a buzz.
const FREQUENCY_SHARE: f64 = 0.18;
/// Largest step in level from one pulse to the next, dB.
const LEVEL_DB: f64 = 20.0;
/// Largest ratio of two successive durations.
const DURATION_RATIO: f64 = 3.5;
/// Shortest interval, seconds: a buzz reaches some 200 pulses a second
/// (US Geological Survey, recording of a hoary bat), 5 ms apart.
const SHORTEST_INTERVAL_S: f64 = 3.5e-3;

/// Usual intervals and steps are the medians of so many.
const RECENT: usize = 4;
/// A step in frequency counts by so many usual ones of the sequence, within bounds, as shares.
const STEPS: f64 = 3.0;
const SMALLEST_STEP: f64 = 0.01;
const UNKNOWN_STEP: f64 = 0.09;
/// What steps farther than usual from a sequence of so many pulses, and at least so far, as a
/// share, and so far off its beat, is another animal's.
const KNOWN: usize = 4;
const STRANGER_STEP: f64 = 0.03;
const STRANGER_BEAT: f64 = 0.6;
/// What being off the beat weighs beside the other differences, what each missed
/// beat adds, and what is taken for sequences without a rhythm yet.
const BEAT_WEIGHT: f64 = 0.8;
const MISSED_BEAT: f64 = 0.15;
const UNKNOWN_BEAT: f64 = 0.5;

/// A sequence as far as it goes.
struct Open {
    members: Vec<usize>,
    last: usize,
    /// Its usual interval, seconds, and its usual step in frequency, as a share, once there are two.
    interval_s: Option<f64>,
    step: Option<f64>,
}

impl Open {
    fn begin(at: usize) -> Self {
        Self {
            members: vec![at],
            last: at,
            interval_s: None,
            step: None,
        }
    }

    fn extend(&mut self, pulses: &[Pulse], at: usize) {
        self.members.push(at);
        self.last = at;
        let recent = &self.members[self.members.len().saturating_sub(RECENT + 1)..];
        let usual = |of: fn(&Pulse, &Pulse) -> f64| {
            let pairs = recent.windows(2);
            let mut values: Vec<f64> = pairs.map(|p| of(&pulses[p[0]], &pulses[p[1]])).collect();
            median(&mut values, f64::total_cmp)
        };
        self.interval_s = usual(|last, next| next.start_s - last.start_s);
        self.step = usual(frequency_step);
    }

    /// What it costs to have the pulse in this sequence; none if it cannot be.
    fn cost(&self, pulses: &[Pulse], next: &Pulse, gap_s: f64) -> Option<f64> {
        let last = &pulses[self.last];
        let unlike = unlikeness(last, next, gap_s)?;
        let usual = self.step.map_or(UNKNOWN_STEP, |step| STEPS * step);
        let step = frequency_step(last, next);
        let leap = step / usual.clamp(SMALLEST_STEP, FREQUENCY_SHARE);
        let off_beat = self.off_beat(pulses, next);
        let is_stranger = self.members.len() >= KNOWN
            && leap > 1.0
            && step > STRANGER_STEP
            && off_beat > STRANGER_BEAT;
        (!is_stranger).then_some(unlike + leap + BEAT_WEIGHT * off_beat)
    }

    /// How far a moment is from where the rhythm of the sequence has its next pulses: 0 on the beat,
    /// 1 between two. A missed beat costs as well. On the way into a buzz, the last interval tells
    /// better than the usual one.
    fn off_beat(&self, pulses: &[Pulse], next: &Pulse) -> f64 {
        let [.., before, last] = self.members[..] else {
            return UNKNOWN_BEAT;
        };
        let (before_s, last_s) = (pulses[before].start_s, pulses[last].start_s);
        [self.interval_s.unwrap_or(0.0), last_s - before_s]
            .into_iter()
            .filter(|interval_s| *interval_s > 0.0)
            .map(|interval_s| {
                let ratio = (next.start_s - last_s) / interval_s;
                let beats = ratio.round().max(1.0);
                let off = 2.0 * (ratio - beats).abs();
                (off.min(1.0) + MISSED_BEAT * (beats - 1.0)).min(1.5)
            })
            .fold(1.5, f64::min)
    }
}

/// Numbers the sequences among pulses in order of time, and gives each pulse
/// its interval. A pulse that nothing follows or precedes stands alone.
pub(super) fn group(pulses: &mut [Pulse], settings: &Settings) {
    let gap_s = settings.sequence_gap_s;
    pulses.sort_by(|a, b| a.start_s.total_cmp(&b.start_s));
    let mut open: Vec<Open> = Vec::new();
    let mut done: Vec<Open> = Vec::new();
    for at in 0..pulses.len() {
        let over = open.extract_if(.., |o| pulses[at].start_s - pulses[o.last].end_s > gap_s);
        done.extend(over);
        let best = open
            .iter_mut()
            .filter_map(|o| Some((o.cost(pulses, &pulses[at], gap_s)?, o)))
            .min_by(|a, b| a.0.total_cmp(&b.0));
        match best {
            Some((_, sequence)) => sequence.extend(pulses, at),
            None => open.push(Open::begin(at)),
        }
    }
    done.extend(open);
    let mut sequences: Vec<Vec<usize>> = Vec::new();
    let mut joint: Vec<Vec<usize>> = done.into_iter().map(|o| o.members).collect();
    while let Some(members) = joint.pop() {
        match lanes::part(pulses, &members) {
            Some((low, high)) => joint.extend([low, high]),
            None => sequences.push(members),
        }
    }
    sequences.sort_by_key(|members| members[0]);
    number(pulses, &sequences, settings);
}

/// The places of the pulses that carry each number that was given out, from 1 on, in their order.
pub(super) fn members(
    pulses: &[Pulse],
    number_of: impl Fn(&Pulse) -> Option<u32>,
) -> Vec<Vec<usize>> {
    let last = pulses.iter().filter_map(&number_of).max().unwrap_or(0);
    let mut members: Vec<Vec<usize>> = vec![Vec::new(); last as usize];
    for (at, pulse) in pulses.iter().enumerate() {
        let index = number_of(pulse).and_then(|number| (number as usize).checked_sub(1));
        if let Some(own) = index.and_then(|index| members.get_mut(index)) {
            own.push(at);
        }
    }
    members
}

fn number(pulses: &mut [Pulse], sequences: &[Vec<usize>], settings: &Settings) {
    for pulse in pulses.iter_mut() {
        pulse.sequence = None;
        pulse.interval_ms = None;
        pulse.uncertainty.interval_ms = None;
    }
    let real = sequences.iter().filter(|members| members.len() > 1);
    for (number, members) in (1..).zip(real) {
        let mut before: Option<(f64, Uncertainty)> = None;
        for &member in members {
            let pulse = &mut pulses[member];
            pulse.sequence = Some(number);
            pulse.interval_ms = before.map(|(start_s, _)| (pulse.start_s - start_s) * 1e3);
            pulse.uncertainty.interval_ms = before.map(|(_, last)| {
                uncertainty::of_interval(&last, &pulse.uncertainty, &settings.calibration)
            });
            before = Some((pulse.start_s, pulse.uncertainty));
        }
    }
}

/// How unlike the next pulse of a sequence is to its last; none if it cannot be.
fn unlikeness(last: &Pulse, next: &Pulse, gap_s: f64) -> Option<f64> {
    let interval = next.start_s - last.start_s;
    if interval < SHORTEST_INTERVAL_S.max(last.end_s - last.start_s) {
        return None;
    }
    let frequency = frequency_step(last, next);
    let level = (next.level_db - last.level_db).abs();
    let duration = (next.duration_ms / last.duration_ms).ln().abs();
    let within = frequency <= FREQUENCY_SHARE
        && level <= LEVEL_DB
        && duration <= DURATION_RATIO.ln()
        && interval <= gap_s + (last.end_s - last.start_s);
    within.then(|| level / LEVEL_DB + duration / DURATION_RATIO.ln() + 0.3 * interval / gap_s)
}

/// The step in frequency from one pulse to another, as a share.
///
/// A straight sweep has no flattest stretch of its own, so noise chooses its characteristic frequency;
/// its lowest one is sure. With a steep tail it is the other way round.
fn frequency_step(last: &Pulse, next: &Pulse) -> f64 {
    let step = |a: f64, b: f64| ((b - a) / a).abs();
    step(last.characteristic_khz, next.characteristic_khz).min(step(last.low_khz, next.low_khz))
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use crate::pulse::{Contour, Shape};

    /// A pulse of 5 ms.
    pub(in crate::pulse) fn pulse(start_s: f64, khz: f64, level_db: f64) -> Pulse {
        Pulse {
            start_s,
            end_s: start_s + 5e-3,
            peak_s: start_s + 2e-3,
            characteristic_s: start_s + 5e-3,
            duration_ms: 5.0,
            peak_khz: khz,
            start_khz: khz * 1.5,
            end_khz: khz,
            high_khz: khz * 1.5,
            low_khz: khz,
            characteristic_khz: khz,
            sweep_khz_per_ms: -khz * 0.1,
            flattest_khz_per_ms: -1.0,
            interval_ms: None,
            level_db,
            snr_db: 30.0,
            edge_db: 20.0,
            shape: Shape::Fm,
            flags: Vec::new(),
            sequence: None,
            buzz: None,
            doubt: None,
            uncertainty: Uncertainty::default(),
            harmonics: Vec::new(),
            contour: Contour {
                start_s,
                step_s: 1e-4,
                khz: vec![khz as f32; 51],
            },
        }
    }

    pub(in crate::pulse) fn gap(sequence_gap_s: f64) -> Settings {
        Settings {
            sequence_gap_s,
            ..Settings::default()
        }
    }

    fn numbers(pulses: &[Pulse]) -> Vec<Option<u32>> {
        pulses.iter().map(|pulse| pulse.sequence).collect()
    }

    #[test]
    fn interleaved_animals_of_other_frequencies_are_two_sequences() {
        let mut pulses: Vec<Pulse> = (0..10)
            .flat_map(|n| {
                let at_s = 0.1 * f64::from(n);
                [pulse(at_s, 45.0, -20.0), pulse(at_s + 0.04, 25.0, -20.0)]
            })
            .collect();
        group(&mut pulses, &gap(1.0));
        for pair in pulses.chunks(2) {
            assert_eq!(numbers(pair), [Some(1), Some(2)]);
        }
    }

    #[test]
    fn intervals_are_the_differences_of_starts_within_a_sequence() {
        let starts = [0.1, 0.19, 0.31, 0.36, 0.5];
        let mut pulses: Vec<Pulse> = starts.map(|s| pulse(s, 45.0, -20.0)).to_vec();
        // Another animal in between changes nothing.
        pulses.insert(2, pulse(0.25, 80.0, -20.0));
        pulses.insert(4, pulse(0.33, 80.0, -20.0));
        group(&mut pulses, &gap(1.0));
        let own: Vec<&Pulse> = pulses.iter().filter(|p| p.peak_khz < 60.0).collect();
        assert_eq!(own[0].interval_ms, None);
        for (n, pulse) in own.iter().enumerate().skip(1) {
            let expected = (starts[n] - starts[n - 1]) * 1e3;
            let interval = pulse.interval_ms.unwrap_or(0.0);
            assert!((interval - expected).abs() < 1e-9, "{interval}");
        }
    }

    #[test]
    fn silence_over_the_gap_begins_a_new_sequence() {
        // From the end of one pulse to the start of the next: 0.99 s, then 1.01 s.
        let starts = [0.0, 0.995, 2.01, 2.1];
        let mut pulses: Vec<Pulse> = starts.map(|s| pulse(s, 45.0, -20.0)).to_vec();
        group(&mut pulses, &gap(1.0));
        assert_eq!(numbers(&pulses), [Some(1), Some(1), Some(2), Some(2)]);
        assert_eq!(pulses[2].interval_ms, None);
        group(&mut pulses, &gap(2.0));
        assert_eq!(numbers(&pulses), [Some(1); 4]);
    }

    #[test]
    fn pulse_that_nothing_resembles_stands_alone() {
        let mut pulses = vec![
            pulse(0.1, 45.0, -20.0),
            pulse(0.15, 90.0, -20.0),
            pulse(0.2, 45.0, -20.0),
        ];
        group(&mut pulses, &gap(1.0));
        assert_eq!(numbers(&pulses), [Some(1), None, Some(1)]);
        assert_eq!(pulses[1].interval_ms, None);
    }

    #[test]
    fn pulses_closer_than_any_buzz_are_not_one_animal() {
        let mut pulses = vec![pulse(0.1, 45.0, -20.0), pulse(0.102, 45.0, -20.0)];
        group(&mut pulses, &gap(1.0));
        assert_eq!(numbers(&pulses), [None, None]);
    }

    #[test]
    fn grouping_again_and_in_any_order_gives_the_same() {
        let mut pulses: Vec<Pulse> = [0.3, 0.1, 0.2, 5.0].map(|s| pulse(s, 45.0, -20.0)).to_vec();
        group(&mut pulses, &gap(1.0));
        assert!(pulses.is_sorted_by(|a, b| a.start_s < b.start_s));
        assert_eq!(numbers(&pulses), [Some(1), Some(1), Some(1), None]);
        let once = pulses.clone();
        group(&mut pulses, &gap(1.0));
        assert_eq!(pulses, once);
        pulses.truncate(1);
        group(&mut pulses, &gap(1.0));
        assert_eq!(numbers(&pulses), [None], "an old number stayed");
    }
}
