//! What the pulses of a recording come to.

use super::order::median;
use super::sequence::members;
use super::{Doubt, Flag, Pulse};
use serde::{Deserialize, Serialize};

/// A sequence of so many pulses is a bat's beyond reasonable doubt, ...
const SURE_PULSES: usize = 3;
/// ... and so is one of two, the fewest that make a pass, that stand so far above the noise, dB.
const PASS_PULSES: usize = 2;
const SURE_SNR_DB: f64 = 15.0;
/// Tones nearer to one another than this are the same, kHz.
const SAME_TONE_KHZ: f64 = 1.0;

/// Whether a recording holds bat pulses.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// A sequence of three pulses or more, or of two that stand plainly above the noise.
    HoldsPulses,
    /// Pulses that nothing speaks against, but too few or too faint to be sure.
    Unsure,
    /// No pulse, or doubted sounds alone. A bat that is too faint or hidden by other sounds is not seen.
    #[default]
    ProbablyNone,
}

impl Verdict {
    /// The word, as it is serialised.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::HoldsPulses => "holds_pulses",
            Self::Unsure => "unsure",
            Self::ProbablyNone => "probably_none",
        }
    }
}

/// What pulses and doubted sounds come to.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Summary {
    /// Whether the recording holds bat pulses.
    pub verdict: Verdict,
    /// Every sequence. Each has two pulses or more and is a pass; a pass is a measure of activity
    /// and not a number of animals.
    pub sequences: Vec<SequenceFacts>,
    /// Every feeding buzz.
    pub buzzes: Vec<Buzz>,
    /// How many sounds were doubted for each reason; reasons that did not occur are left out.
    pub doubts: Vec<DoubtCount>,
    /// Constant tones that were taken out before measuring, kilohertz: electronics, as a rule.
    pub tones_khz: Vec<f64>,
}

/// A sequence: pulses that one animal may have made.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct SequenceFacts {
    /// Its number, as its pulses carry it.
    pub number: u32,
    /// How many pulses it has.
    pub pulses: usize,
    /// Start of its first pulse, seconds.
    pub start_s: f64,
    /// End of its last pulse, seconds.
    pub end_s: f64,
    /// End of its last pulse minus start of its first, seconds.
    pub duration_s: f64,
    /// Median interval, milliseconds, without those that span missed pulses and those of a buzz.
    pub interval_ms: Option<f64>,
    /// Pulses per second: as many as there are intervals, over the time from the first start to the last.
    pub rate_per_s: Option<f64>,
    /// Median peak frequency, kilohertz.
    pub peak_khz: f64,
    /// Median characteristic frequency, kilohertz.
    pub characteristic_khz: f64,
    /// Median end frequency, kilohertz.
    pub end_khz: f64,
    /// Before how many of its pulses others were probably missed.
    pub missed: usize,
}

/// A feeding buzz: the rise in pulse rate at the end of an attack.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Buzz {
    /// Its number, as its pulses carry it.
    pub number: u32,
    /// The sequence that it ends or interrupts.
    pub sequence: u32,
    /// How many pulses it has.
    pub pulses: usize,
    /// Start of its first pulse, seconds.
    pub start_s: f64,
    /// End of its last pulse, seconds.
    pub end_s: f64,
    /// Its intervals in order of time, milliseconds.
    pub intervals_ms: Vec<f64>,
}

/// How many sounds were doubted for a reason.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct DoubtCount {
    /// The reason.
    pub doubt: Doubt,
    /// How many.
    pub sounds: usize,
}

impl Summary {
    /// Sums up anew. Pulses are in order of time and grouped.
    pub(super) fn renew(&mut self, pulses: &[Pulse], doubted: &[Pulse]) {
        self.verdict = verdict(pulses);
        self.sequences = runs(pulses, |pulse| pulse.sequence)
            .map(|(number, own)| sequence(number, &own))
            .collect();
        self.buzzes = runs(pulses, |pulse| pulse.buzz)
            .map(|(number, own)| buzz(number, &own))
            .collect();
        self.doubts = Doubt::ALL
            .into_iter()
            .map(|doubt| DoubtCount {
                doubt,
                sounds: doubted.iter().filter(|p| p.doubt == Some(doubt)).count(),
            })
            .filter(|count| count.sounds > 0)
            .collect();
    }
}

/// Adds tones that are not yet known, and keeps them in order.
pub(super) fn add_tones(known: &mut Vec<f64>, tones_khz: Vec<f64>) {
    for khz in tones_khz {
        if known
            .iter()
            .all(|other| (other - khz).abs() > SAME_TONE_KHZ)
        {
            known.push(khz);
        }
    }
    known.sort_by(f64::total_cmp);
}

fn verdict(pulses: &[Pulse]) -> Verdict {
    let is_sure = |own: &[&Pulse]| {
        let plain = own.iter().filter(|p| p.snr_db >= SURE_SNR_DB).count();
        own.len() >= SURE_PULSES || plain >= PASS_PULSES
    };
    if runs(pulses, |pulse| pulse.sequence).any(|(_, own)| is_sure(&own)) {
        Verdict::HoldsPulses
    } else if pulses.is_empty() {
        Verdict::ProbablyNone
    } else {
        Verdict::Unsure
    }
}

/// The pulses of each number that is given out, from 1 on.
fn runs(
    pulses: &[Pulse],
    number_of: impl Fn(&Pulse) -> Option<u32>,
) -> impl Iterator<Item = (u32, Vec<&Pulse>)> {
    let numbered = (1..).zip(members(pulses, number_of));
    numbered.map(|(number, own)| (number, own.into_iter().map(|at| &pulses[at]).collect()))
}

fn sequence(number: u32, pulses: &[&Pulse]) -> SequenceFacts {
    let mut intervals: Vec<f64> = pulses
        .iter()
        .filter(|pulse| pulse.buzz.is_none() && !pulse.flags.contains(&Flag::MissedBefore))
        .filter_map(|pulse| pulse.interval_ms)
        .collect();
    let usual = |of: fn(&Pulse) -> f64| {
        let mut values: Vec<f64> = pulses.iter().map(|pulse| of(pulse)).collect();
        median(&mut values, f64::total_cmp).unwrap_or(0.0)
    };
    let (first, last) = (pulses[0], pulses[pulses.len() - 1]);
    let between_s = last.start_s - first.start_s;
    SequenceFacts {
        number,
        pulses: pulses.len(),
        start_s: first.start_s,
        end_s: end(pulses),
        duration_s: end(pulses) - first.start_s,
        interval_ms: median(&mut intervals, f64::total_cmp),
        rate_per_s: (between_s > 0.0).then(|| (pulses.len() - 1) as f64 / between_s),
        peak_khz: usual(|pulse| pulse.peak_khz),
        characteristic_khz: usual(|pulse| pulse.characteristic_khz),
        end_khz: usual(|pulse| pulse.end_khz),
        missed: pulses
            .iter()
            .filter(|p| p.flags.contains(&Flag::MissedBefore))
            .count(),
    }
}

fn buzz(number: u32, pulses: &[&Pulse]) -> Buzz {
    Buzz {
        number,
        sequence: pulses[0].sequence.unwrap_or(0),
        pulses: pulses.len(),
        start_s: pulses[0].start_s,
        end_s: end(pulses),
        // The first one's interval leads up to the buzz.
        intervals_ms: pulses[1..].iter().filter_map(|p| p.interval_ms).collect(),
    }
}

fn end(pulses: &[&Pulse]) -> f64 {
    pulses.iter().fold(0.0, |end, pulse| pulse.end_s.max(end))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pulse::sequence::tests::pulse;

    #[test]
    fn a_sequence_tells_its_rate_its_usual_numbers_and_what_was_missed() {
        let starts_s = [1.0, 1.1, 1.2, 1.4, 1.5];
        let mut pulses: Vec<Pulse> = starts_s
            .iter()
            .zip([44.0, 45.0, 46.0, 47.0, 80.0])
            .map(|(&start_s, khz)| Pulse {
                sequence: Some(1),
                ..pulse(start_s, khz, -20.0)
            })
            .collect();
        for at in 1..pulses.len() {
            pulses[at].interval_ms = Some((starts_s[at] - starts_s[at - 1]) * 1e3);
        }
        pulses[3].flags.push(Flag::MissedBefore);
        let mut summary = Summary::default();
        summary.renew(&pulses, &[]);
        assert_eq!(summary.sequences.len(), 1);
        let facts = &summary.sequences[0];
        // Four intervals in half a second.
        assert!(
            facts
                .rate_per_s
                .is_some_and(|rate| (rate - 8.0).abs() < 1e-9)
        );
        assert!((facts.duration_s - 0.505).abs() < 1e-9);
        assert!(
            facts
                .interval_ms
                .is_some_and(|ms| (ms - 100.0).abs() < 1e-9)
        );
        let usual = [facts.peak_khz, facts.characteristic_khz, facts.end_khz];
        assert_eq!(usual, [46.0; 3]);
        assert_eq!((facts.pulses, facts.missed), (5, 1));
    }
}
