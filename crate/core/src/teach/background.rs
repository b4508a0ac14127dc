//! What a microphone hears besides bats.

use rand::Rng;
use serde::{Deserialize, Serialize};

use super::Hiss;
use super::insects::{Cricket, Rasp, Stridulation};
use super::weather::{Bumps, Rain, Tone, Wind};

/// One sound or noise that fills a scene.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Background {
    /// Steady noise of microphone and amplifier.
    Hiss(Hiss),
    /// A constant, drifting or switched tone of electronics.
    Tone(Tone),
    /// Clicks of drops.
    Rain(Rain),
    /// Rumble of wind on the microphone.
    Wind(Wind),
    /// Knocks on the recorder while it is handled.
    Bumps(Bumps),
    /// An insect's regular syllables of damped strikes.
    Rasp(Rasp),
    /// An insect's continuous broadband song.
    Stridulation(Stridulation),
    /// An insect's low tonal chirps.
    Cricket(Cricket),
}

impl Background {
    /// Adds it to `samples`.
    pub fn add_to(&self, samples: &mut [f32], rate_hz: f64, random: &mut impl Rng) {
        match self {
            Background::Hiss(hiss) => hiss.add_to(samples, rate_hz, random),
            Background::Tone(tone) => tone.add_to(samples, rate_hz),
            Background::Rain(rain) => rain.add_to(samples, rate_hz, random),
            Background::Wind(wind) => wind.add_to(samples, rate_hz, random),
            Background::Bumps(bumps) => bumps.add_to(samples, rate_hz, random),
            Background::Rasp(rasp) => rasp.add_to(samples, rate_hz, random),
            Background::Stridulation(song) => song.add_to(samples, rate_hz, random),
            Background::Cricket(cricket) => cricket.add_to(samples, rate_hz, random),
        }
    }

    /// Mean power of its steady noise between two frequencies; 0 for all but hiss,
    /// since the others come and go or lie outside a call's band.
    pub fn power_between(&self, low_khz: f64, high_khz: f64, rate_hz: f64) -> f64 {
        match self {
            Background::Hiss(hiss) => hiss.power_between(low_khz, high_khz, rate_hz),
            _ => 0.0,
        }
    }
}

/// Adds `sound` (a function of the seconds since its beginning) from `onset_s` for `length_s`.
pub(super) fn add_sound(
    samples: &mut [f32],
    rate_hz: f64,
    onset_s: f64,
    length_s: f64,
    mut sound: impl FnMut(f64) -> f64,
) {
    let first = (onset_s * rate_hz).ceil().max(0.0) as usize;
    let count = (length_s * rate_hz) as usize;
    for (index, sample) in samples.iter_mut().enumerate().skip(first).take(count) {
        *sample += sound(index as f64 / rate_hz - onset_s) as f32;
    }
}

/// Length of a number of samples, seconds.
pub(super) fn length_s(samples: &[f32], rate_hz: f64) -> f64 {
    samples.len() as f64 / rate_hz
}

/// Amplitude of a level in decibels re full scale.
pub(super) fn amplitude(level_db: f64) -> f64 {
    libm::exp10(level_db / 20.0)
}
