//! The way of a sound from the animal to the microphone.

use serde::{Deserialize, Serialize};

use crate::field::Air;

/// A way through air. What spreading takes is part of a call's level; here is
/// what the air takes besides, and more of the high frequencies.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Way {
    /// The air.
    pub air: Air,
    /// Its length, metres.
    pub metres: f64,
}

impl Way {
    /// What is lost of a frequency, decibels.
    #[must_use]
    pub fn loss_db(&self, khz: f64) -> f64 {
        self.air.absorption_db_per_m(khz * 1e3) * self.metres
    }

    /// The share of amplitude that is left of a frequency.
    pub(super) fn passed(&self, khz: f64) -> f64 {
        libm::exp10(-self.loss_db(khz) / 20.0)
    }
}
