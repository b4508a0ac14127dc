//! Electronics, rain, wind and hands: sounds that are no animal's.

use std::f64::consts::TAU;

use rand::Rng;
use serde::{Deserialize, Serialize};

use super::background::{add_sound, amplitude, length_s};
use super::random::{between, normal, waiting_s};

/// A tone of electronics.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Tone {
    /// Mean frequency, kilohertz.
    pub khz: f64,
    /// Amplitude, decibels re full scale.
    pub level_db: f64,
    /// How far its frequency strays to either side, kilohertz.
    pub drift_khz: f64,
    /// Time from one stray to the next on the same side, seconds.
    pub drift_period_s: f64,
    /// How long it stays on and off in turn, seconds; none for a tone that is always on.
    pub switched_s: Option<(f64, f64)>,
}

impl Tone {
    /// A tone that never changes.
    pub fn steady(khz: f64, level_db: f64) -> Tone {
        Tone {
            khz,
            level_db,
            drift_khz: 0.0,
            drift_period_s: 1.0,
            switched_s: None,
        }
    }

    pub(super) fn add_to(&self, samples: &mut [f32], rate_hz: f64) {
        let level = amplitude(self.level_db);
        let period = self.drift_period_s;
        let length_s = length_s(samples, rate_hz);
        add_sound(samples, rate_hz, 0.0, length_s, |t_s| {
            let (on_s, off_s) = self.switched_s.unwrap_or((1.0, 0.0));
            if libm::fmod(t_s, on_s + off_s) >= on_s {
                return 0.0;
            }
            // The integral of the mean frequency and of its slow swing.
            let swing = self.drift_khz * period / TAU * libm::sin(TAU * t_s / period);
            let cycles = 1e3 * (self.khz * t_s + swing);
            level * libm::sin(TAU * libm::fmod(cycles, 1.0))
        });
    }
}

/// Drops near the microphone: broadband clicks at random times.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Rain {
    /// Mean number of drops a second.
    pub drops_per_s: f64,
    /// Level of the loudest drops, decibels re full scale; most are up to 25 dB fainter.
    pub level_db: f64,
}

impl Rain {
    pub(super) fn add_to(&self, samples: &mut [f32], rate_hz: f64, random: &mut impl Rng) {
        let length_s = length_s(samples, rate_hz);
        let mut at_s = waiting_s(random, self.drops_per_s);
        while at_s < length_s {
            let level = amplitude(self.level_db - between(random, 0.0, 25.0));
            let decay_s = between(random, 0.05e-3, 0.5e-3);
            add_sound(samples, rate_hz, at_s, 8.0 * decay_s, |t_s| {
                level * libm::exp(-t_s / decay_s) * normal(random) / 2.0
            });
            at_s += waiting_s(random, self.drops_per_s);
        }
    }
}

/// Rumble of wind: noise that falls steeply with frequency and comes in gusts.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Wind {
    /// Root mean square within a gust, decibels re full scale.
    pub rms_db: f64,
    /// Frequency above which it falls by 12 dB an octave, hertz.
    pub corner_hz: f64,
    /// Time from gust to gust, seconds.
    pub gust_s: f64,
}

impl Wind {
    pub(super) fn add_to(&self, samples: &mut [f32], rate_hz: f64, random: &mut impl Rng) {
        // Two one-pole filters in a row; `loss` is the power that they let through.
        let pole = libm::exp(-TAU * self.corner_hz / rate_hz);
        let square = pole * pole;
        let loss = libm::pow(1.0 - pole, 4.0) * (1.0 + square) / libm::pow(1.0 - square, 3.0);
        let level = amplitude(self.rms_db) / loss.sqrt();
        let (mut first, mut second) = (0.0, 0.0);
        let length_s = length_s(samples, rate_hz);
        add_sound(samples, rate_hz, 0.0, length_s, |t_s| {
            first = pole * first + (1.0 - pole) * normal(random);
            second = pole * second + (1.0 - pole) * first;
            let gust = 0.6 + 0.4 * libm::sin(TAU * t_s / self.gust_s);
            level * gust * second
        });
    }
}

/// Knocks on the housing: a thump with a short scratch on top.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Bumps {
    /// Mean number of knocks a second.
    pub per_s: f64,
    /// Peak of the thump, decibels re full scale; the scratch is 25 dB fainter.
    pub level_db: f64,
}

impl Bumps {
    pub(super) fn add_to(&self, samples: &mut [f32], rate_hz: f64, random: &mut impl Rng) {
        let length_s = length_s(samples, rate_hz);
        let mut at_s = waiting_s(random, self.per_s);
        while at_s < length_s {
            let level = amplitude(self.level_db);
            let thump_hz = between(random, 60.0, 600.0);
            let decay_s = between(random, 5e-3, 20e-3);
            add_sound(samples, rate_hz, at_s, 8.0 * decay_s, |t_s| {
                let thump = libm::sin(TAU * thump_hz * t_s);
                let scratch = 0.05 * libm::exp(-t_s / 1e-3) * normal(random);
                level * libm::exp(-t_s / decay_s) * (thump + scratch)
            });
            at_s += waiting_s(random, self.per_s);
        }
    }
}
