//! A pulse as a function of its parameters, in double precision: `Call::add_to` rounds to
//! single precision, which would spoil differences.

use std::f64::consts::TAU;

use dusklens_core::teach::{Bend, Call, Law, Segment};

use super::ideal::Ideal;

/// One unknown of the pulse.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Parameter {
    /// Amplitude, decibels re the true one.
    Level,
    /// Phase at the onset, turns.
    Phase,
    /// When the law begins, milliseconds.
    Onset,
    /// Length of the law, milliseconds.
    Duration,
    /// Length of the envelope's rise, milliseconds.
    Rise,
    /// Length of the envelope's fall, milliseconds.
    Fall,
    /// Where the envelope bulges, a share of the duration.
    PeakAt,
    /// How far the body droops, decibels.
    Droop,
    /// The law's first frequency, kilohertz.
    From,
    /// The law's last frequency, kilohertz.
    To,
    /// Both of them together, kilohertz.
    Tone,
    /// How strongly an exponential law bends, time constants.
    Rate,
}

impl Parameter {
    /// Step for differences: small beside what changes the pulse, large beside rounding.
    fn step(self) -> f64 {
        match self {
            Parameter::Onset | Parameter::Duration => 1e-5,
            _ => 1e-4,
        }
    }
}

/// A pulse with a place, a level and a phase.
#[derive(Debug, Clone, PartialEq)]
pub struct Sound {
    /// Law and envelope.
    pub call: Call,
    /// Factor on the envelope, full scale 1.
    pub amplitude: f64,
    /// When the law begins, milliseconds.
    pub onset_ms: f64,
    /// Phase then, turns.
    pub phase: f64,
}

impl Sound {
    /// The ideal pulse whose largest amplitude is 1, 1 ms after the first sample.
    pub fn ideal(ideal: &Ideal) -> Sound {
        let call = ideal.call();
        Sound {
            amplitude: 1.0 / call.maximum().1.max(1e-12),
            call,
            onset_ms: 1.0,
            phase: 0.0,
        }
    }

    /// The same with its parameters changed by so much each.
    pub fn changed(&self, unknown: &[Parameter], changes: &[f64]) -> Sound {
        let mut sound = self.clone();
        for (parameter, change) in unknown.iter().zip(changes) {
            sound.change(*parameter, *change);
        }
        sound
    }

    fn change(&mut self, parameter: Parameter, by: f64) {
        let envelope = &mut self.call.envelope;
        match parameter {
            Parameter::Level => self.amplitude *= libm::exp10(by / 20.0),
            Parameter::Phase => self.phase += by,
            Parameter::Onset => self.onset_ms += by,
            Parameter::Rise => envelope.rise_ms += by,
            Parameter::Fall => envelope.fall_ms += by,
            Parameter::PeakAt => envelope.peak_at += by,
            Parameter::Droop => envelope.droop_db += by,
            _ => self.call.law = changed_law(&self.call.law, parameter, by),
        }
    }

    /// Its samples at a rate, from time 0 until a millisecond after its end.
    pub fn samples(&self, rate_hz: f64, length_ms: f64) -> Vec<f64> {
        let count = (length_ms / 1e3 * rate_hz) as usize;
        (0..count)
            .map(|n| {
                let t_ms = n as f64 / rate_hz * 1e3 - self.onset_ms;
                let amplitude = self.amplitude * self.call.amplitude_at(t_ms);
                if amplitude == 0.0 {
                    return 0.0;
                }
                amplitude * libm::sin(TAU * (self.call.law.cycles(t_ms) + self.phase))
            })
            .collect()
    }

    /// The quantities of [`QUANTITIES`] with edges so far below the maximum; `middle_ms` is the
    /// moment, from the first sample, at which the contour's middle is read.
    pub fn quantities(&self, below_db: f64, middle_ms: f64) -> Vec<f64> {
        let edges = self.call.edges(below_db);
        let (characteristic_khz, _) = self.call.flattest(edges.start_ms, edges.end_ms);
        let (top_ms, top) = self.call.maximum();
        vec![
            self.onset_ms + edges.start_ms,
            self.onset_ms + edges.end_ms,
            edges.end_ms - edges.start_ms,
            edges.start_khz,
            edges.end_khz,
            self.call.law.khz(middle_ms - self.onset_ms),
            characteristic_khz,
            self.call.law.khz(top_ms),
            20.0 * libm::log10(self.amplitude * top),
        ]
    }
}

/// What is compared with its bound, in the order of [`Sound::quantities`].
pub const QUANTITIES: [&str; 9] = [
    "start_ms",
    "end_ms",
    "duration_ms",
    "start_khz",
    "end_khz",
    "middle_khz",
    "characteristic_khz",
    "peak_khz",
    "level_db",
];

fn changed_law(law: &Law, parameter: Parameter, by: f64) -> Law {
    Law::new(law.segments().iter().map(|&segment| {
        let mut segment: Segment = segment;
        match (parameter, &mut segment.bend) {
            (Parameter::From, _) => segment.from_khz += by,
            (Parameter::To, _) => segment.to_khz += by,
            (Parameter::Tone, _) => {
                segment.from_khz += by;
                segment.to_khz += by;
            }
            (Parameter::Duration, _) => segment.duration_ms += by,
            (Parameter::Rate, Bend::Exponential { rate }) => *rate += by,
            _ => {}
        }
        segment
    }))
}

/// The steps for differences by these parameters.
pub fn steps(unknown: &[Parameter]) -> Vec<f64> {
    unknown.iter().map(|parameter| parameter.step()).collect()
}

#[cfg(test)]
mod tests {
    use super::super::ideal::IDEALS;
    use super::*;

    #[test]
    fn samples_are_those_of_the_rendered_call() {
        for ideal in &IDEALS {
            let sound = Sound::ideal(ideal);
            let ours = sound.samples(384_000.0, 15.0);
            let mut theirs = vec![0.0f32; ours.len()];
            sound.call.add_to(&mut theirs, 384_000.0, 1e-3, 1.0, None);
            for (a, b) in ours.iter().zip(&theirs) {
                assert!((a - f64::from(*b)).abs() < 1e-6, "{}: {a} {b}", ideal.name);
            }
        }
    }

    #[test]
    fn a_later_onset_moves_times_and_no_frequency_but_the_middle() {
        let sound = Sound::ideal(&IDEALS[2]);
        let before = sound.quantities(20.0, 3.0);
        let after = sound
            .changed(&[Parameter::Onset], &[0.1])
            .quantities(20.0, 3.0);
        let moved: Vec<f64> = after.iter().zip(&before).map(|(a, b)| a - b).collect();
        // The sweep falls 10 kHz a millisecond: 0.1 ms later it is 1 kHz higher.
        let wanted = [0.1, 0.1, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0];
        for (is, should) in moved.iter().zip(wanted) {
            assert!((is - should).abs() < 1e-6, "{moved:?}");
        }
    }
}
