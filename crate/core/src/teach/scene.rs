//! A scene: calls at their places over backgrounds, put into samples.

use serde::{Deserialize, Serialize};

use super::random::{Stream, stream};
use super::{Background, Call};

/// A call at its place in a scene.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Placed {
    /// The call.
    pub call: Call,
    /// Where its law begins, seconds; the envelope rises from here.
    pub onset_s: f64,
    /// Largest amplitude of the fundamental, decibels re full scale.
    pub level_db: f64,
    /// The animal that made it, counted from 1.
    pub animal: u32,
    /// Echoes of it that reach the microphone too.
    pub echoes: Vec<Echo>,
}

/// A later and weaker copy of a call, off water, ground or a wall.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Echo {
    /// Time after the direct sound, milliseconds.
    pub delay_ms: f64,
    /// How much weaker than the direct sound, decibels.
    pub loss_db: f64,
    /// Corner of the low-pass that the longer way amounts to, kilohertz.
    pub corner_khz: f64,
}

/// Everything that a synthetic recording holds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Scene {
    /// Sampling rate at the microphone, hertz.
    pub rate_hz: u32,
    /// Length, seconds.
    pub duration_s: f64,
    /// Seed of everything random in the backgrounds.
    pub seed: u64,
    /// Calls in order of time.
    pub calls: Vec<Placed>,
    /// What else is heard.
    pub backgrounds: Vec<Background>,
}

impl Scene {
    /// Number of samples.
    pub fn frames(&self) -> usize {
        (self.duration_s * f64::from(self.rate_hz)).round() as usize
    }

    /// The samples; 1.0 is full scale, and louder sound is clipped to it.
    pub fn render(&self) -> Vec<f32> {
        let rate_hz = f64::from(self.rate_hz);
        let mut samples = vec![0.0; self.frames()];
        for (number, background) in (0..).zip(&self.backgrounds) {
            let mut random = stream(self.seed, Stream::Background(number));
            background.add_to(&mut samples, rate_hz, &mut random);
        }
        for placed in &self.calls {
            placed.add_to(&mut samples, rate_hz);
        }
        for sample in &mut samples {
            *sample = sample.clamp(-1.0, 1.0);
        }
        samples
    }

    /// Mean power of the steady noise between two frequencies.
    pub fn noise_between(&self, low_khz: f64, high_khz: f64) -> f64 {
        let rate_hz = f64::from(self.rate_hz);
        let powers = self.backgrounds.iter();
        powers
            .map(|b| b.power_between(low_khz, high_khz, rate_hz))
            .sum()
    }
}

impl Placed {
    pub(super) fn add_to(&self, samples: &mut [f32], rate_hz: f64) {
        let amplitude = libm::exp10(self.level_db / 20.0);
        self.call
            .add_to(samples, rate_hz, self.onset_s, amplitude, None);
        for echo in &self.echoes {
            let weaker = amplitude * libm::exp10(-echo.loss_db / 20.0);
            let onset_s = self.onset_s + echo.delay_ms / 1e3;
            self.call
                .add_to(samples, rate_hz, onset_s, weaker, Some(echo.corner_khz));
        }
    }
}
