//! One call: law, envelope and harmonics, and how it is put into samples.

use std::f64::consts::TAU;

use serde::{Deserialize, Serialize};

use super::{Envelope, Law, Way, hump};
use crate::pulse::{Harmonic, Shape};

/// A call without place or level.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Call {
    /// Its shape, as intended by whoever built the law.
    pub shape: Shape,
    /// Frequency of the fundamental against time.
    pub law: Law,
    /// Amplitude against time.
    pub envelope: Envelope,
    /// Multiples of the fundamental above the first, with their level re the first.
    pub harmonics: Vec<Harmonic>,
    /// The air that it comes through, which takes of each frequency what it takes; none for a
    /// call that is heard as it was uttered.
    pub way: Option<Way>,
}

impl Call {
    /// Length of the law, milliseconds.
    pub fn duration_ms(&self) -> f64 {
        self.law.duration_ms()
    }

    /// The same call with frequencies and times multiplied.
    pub fn scaled(&self, khz_factor: f64, ms_factor: f64) -> Call {
        Call {
            law: self.law.scaled(khz_factor, ms_factor),
            envelope: self.envelope.scaled(ms_factor),
            ..self.clone()
        }
    }

    /// Amplitude of the fundamental at a moment, with what the way leaves of it.
    pub fn amplitude_at(&self, t_ms: f64) -> f64 {
        let passed = self.way.map_or(1.0, |way| way.passed(self.law.khz(t_ms)));
        passed * self.envelope.at(t_ms, self.duration_ms())
    }

    /// Moment, milliseconds, and value of the largest amplitude.
    pub fn maximum(&self) -> (f64, f64) {
        hump::maximum(self.duration_ms(), |t_ms| self.amplitude_at(t_ms))
    }

    /// First and last moment at which the amplitude is `below_db` under its maximum, milliseconds.
    pub fn edges_ms(&self, below_db: f64) -> (f64, f64) {
        hump::edges_ms(self.duration_ms(), below_db, |t_ms| self.amplitude_at(t_ms))
    }

    /// Adds the call to `samples` so that its law begins at `onset_s`.
    ///
    /// `amplitude` is the largest one of the fundamental, and
    /// `corner_khz` the corner of a second-order low-pass on the way to the
    /// microphone. Sound above the sampling theorem's limit is left out softly,
    /// as an anti-alias filter would.
    pub fn add_to(
        &self,
        samples: &mut [f32],
        rate_hz: f64,
        onset_s: f64,
        amplitude: f64,
        corner_khz: Option<f64>,
    ) {
        let duration_ms = self.duration_ms();
        let scale = amplitude / self.maximum().1.max(1e-12);
        let parts = self.parts();
        let first = (onset_s * rate_hz).ceil().max(0.0) as usize;
        for (index, sample) in samples.iter_mut().enumerate().skip(first) {
            let t_ms = (index as f64 / rate_hz - onset_s) * 1e3;
            if t_ms >= duration_ms {
                break;
            }
            let (khz, cycles) = (self.law.khz(t_ms), self.law.cycles(t_ms));
            let fundamental = scale * self.amplitude_at(t_ms);
            let wave: f64 = parts
                .iter()
                .map(|&(multiple, level)| {
                    let passed = passed(khz * multiple, rate_hz, corner_khz);
                    let level = level * self.left_of_harmonic(khz, multiple);
                    level * passed * libm::sin(TAU * libm::fmod(cycles * multiple, 1.0))
                })
                .sum();
            *sample += (fundamental * wave) as f32;
        }
    }

    /// Amplitude of all parts together, as the root of the sum of their squares, where the
    /// fundamental has 1, at a moment of the call and at a sampling rate.
    pub(super) fn joint_amplitude(&self, t_ms: f64, rate_hz: f64) -> f64 {
        let khz = self.law.khz(t_ms);
        let powers = self.parts().into_iter().map(|(multiple, level)| {
            let left = self.left_of_harmonic(khz, multiple);
            let amplitude = level * left * passed(khz * multiple, rate_hz, None);
            amplitude * amplitude
        });
        powers.sum::<f64>().sqrt()
    }

    /// What the way leaves of a harmonic, as a share of what it leaves of the fundamental.
    fn left_of_harmonic(&self, khz: f64, multiple: f64) -> f64 {
        match self.way {
            Some(way) if multiple > 1.0 => way.passed(khz * multiple) / way.passed(khz).max(1e-12),
            _ => 1.0,
        }
    }

    /// Multiples and amplitudes, the fundamental first.
    fn parts(&self) -> Vec<(f64, f64)> {
        let higher = self
            .harmonics
            .iter()
            .map(|h| (f64::from(h.multiple), libm::exp10(h.relative_db / 20.0)));
        std::iter::once((1.0, 1.0)).chain(higher).collect()
    }
}

/// The share of amplitude that reaches the file at a frequency.
fn passed(khz: f64, rate_hz: f64, corner_khz: Option<f64>) -> f64 {
    let low_pass = corner_khz.map_or(1.0, |corner| {
        1.0 / (1.0 + libm::pow(khz / corner, 4.0)).sqrt()
    });
    // From 0.94 to 0.99 of half the rate the anti-alias filter closes.
    let closing = (khz * 1e3 / (rate_hz / 2.0) - 0.94) / 0.05;
    low_pass * (1.0 - closing.clamp(0.0, 1.0))
}
