//! What a microphone hears besides bats.

use rand::Rng;
use serde::{Deserialize, Serialize};

use super::Hiss;

/// One sound or noise that fills a scene.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Background {
    /// Steady noise of microphone and amplifier.
    Hiss(Hiss),
}

impl Background {
    /// Adds it to `samples`.
    pub fn add_to(&self, samples: &mut [f32], rate_hz: f64, random: &mut impl Rng) {
        match self {
            Background::Hiss(hiss) => hiss.add_to(samples, rate_hz, random),
        }
    }

    /// Mean power of its steady noise between two frequencies; 0 for sounds that come and go.
    pub fn power_between(&self, low_khz: f64, high_khz: f64, rate_hz: f64) -> f64 {
        match self {
            Background::Hiss(hiss) => hiss.power_between(low_khz, high_khz, rate_hz),
        }
    }
}
