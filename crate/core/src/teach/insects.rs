//! Insects whose song reaches into the bats' range.

use std::f64::consts::{PI, TAU};

use rand::Rng;
use serde::{Deserialize, Serialize};

use super::Hiss;
use super::background::{add_sound, amplitude, length_s};
use super::random::between;

/// Regular syllables of strikes that each ring down at a resonance, as a bush cricket's.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Rasp {
    /// Frequency at which a strike rings, kilohertz.
    pub resonance_khz: f64,
    /// Quality of the resonance: pi times the cycles it takes to ring down by 8.7 dB.
    pub quality: f64,
    /// Strikes in a syllable.
    pub strikes: u32,
    /// Time from strike to strike, milliseconds.
    pub strike_interval_ms: f64,
    /// Time from syllable to syllable, milliseconds.
    pub syllable_interval_ms: f64,
    /// Amplitude of the loudest strike, decibels re full scale.
    pub level_db: f64,
}

impl Rasp {
    pub(super) fn add_to(&self, samples: &mut [f32], rate_hz: f64, random: &mut impl Rng) {
        let length_s = length_s(samples, rate_hz);
        let decay_s = self.quality / (PI * self.resonance_khz * 1e3);
        let mut syllable_s = between(random, 0.0, self.syllable_interval_ms / 1e3);
        while syllable_s < length_s {
            for strike in 0..self.strikes {
                let at = f64::from(strike) * between(random, 0.98, 1.02);
                // A syllable swells towards its end.
                let swell = 0.4 + 0.6 * f64::from(strike + 1) / f64::from(self.strikes);
                let level = amplitude(self.level_db) * swell * between(random, 0.8, 1.0);
                let onset_s = syllable_s + at * self.strike_interval_ms / 1e3;
                add_sound(samples, rate_hz, onset_s, 9.0 * decay_s, |t_s| {
                    let ring = libm::sin(TAU * self.resonance_khz * 1e3 * t_s);
                    level * libm::exp(-t_s / decay_s) * ring
                });
            }
            syllable_s += between(random, 0.98, 1.02) * self.syllable_interval_ms.max(1.0) / 1e3;
        }
    }
}

/// Continuous broadband song that beats faster than the ear follows, as a conehead's.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Stridulation {
    /// Lower end of its band, kilohertz.
    pub low_khz: f64,
    /// Upper end of its band, kilohertz.
    pub high_khz: f64,
    /// Root mean square that white noise at the same density would have, decibels re full scale.
    pub density_db: f64,
    /// Beats a second.
    pub beat_hz: f64,
    /// How deep the beat is: 0 for none, 1 for silence between beats.
    pub depth: f64,
}

impl Stridulation {
    pub(super) fn add_to(&self, samples: &mut [f32], rate_hz: f64, random: &mut impl Rng) {
        let edge_khz = 3.0;
        let hiss = Hiss {
            rms_db: self.density_db,
            response: vec![
                (self.low_khz - edge_khz, -60.0),
                (self.low_khz, 0.0),
                (self.high_khz, 0.0),
                (self.high_khz + edge_khz, -60.0),
            ],
        };
        let mut song = vec![0.0; samples.len()];
        hiss.add_to(&mut song, rate_hz, random);
        let mut song = song.iter();
        let length_s = length_s(samples, rate_hz);
        add_sound(samples, rate_hz, 0.0, length_s, |t_s| {
            let beat = 1.0 - self.depth * (0.5 + 0.5 * libm::cos(TAU * self.beat_hz * t_s));
            song.next().map_or(0.0, |s| beat * f64::from(*s))
        });
    }
}

/// Low tonal chirps, as a field cricket's.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Cricket {
    /// Frequency of the tone, kilohertz; its second and third multiples are 25 and 35 dB fainter.
    pub khz: f64,
    /// Amplitude, decibels re full scale.
    pub level_db: f64,
    /// Length of one sound, milliseconds.
    pub sound_ms: f64,
    /// Sounds in a chirp; the time between their beginnings is twice their length.
    pub sounds: u32,
    /// Time from chirp to chirp, milliseconds.
    pub chirp_interval_ms: f64,
}

impl Cricket {
    pub(super) fn add_to(&self, samples: &mut [f32], rate_hz: f64, random: &mut impl Rng) {
        let length_s = length_s(samples, rate_hz);
        let sound_s = self.sound_ms / 1e3;
        let mut chirp_s = between(random, 0.0, self.chirp_interval_ms / 1e3);
        while chirp_s < length_s {
            for sound in 0..self.sounds {
                let onset_s = chirp_s + 2.0 * sound_s * f64::from(sound);
                add_sound(samples, rate_hz, onset_s, sound_s, |t_s| {
                    let cycles = TAU * libm::fmod(self.khz * 1e3 * t_s, 1.0);
                    let tone = libm::sin(cycles)
                        + 0.056 * libm::sin(2.0 * cycles)
                        + 0.018 * libm::sin(3.0 * cycles);
                    let swell = 0.5 - 0.5 * libm::cos(TAU * t_s / sound_s);
                    amplitude(self.level_db) * swell * tone
                });
            }
            chirp_s += between(random, 0.95, 1.05) * self.chirp_interval_ms.max(1.0) / 1e3;
        }
    }
}
