//! The amplitude envelope of a call.

use std::f64::consts::PI;

use serde::{Deserialize, Serialize};

/// Raised-cosine rise and fall over a body that may bulge towards one moment.
///
/// With a droop of 0 dB this is a Tukey window with unequal sides; where rise
/// and fall fill the whole call it is an asymmetric raised cosine.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Envelope {
    /// Length of the raised-cosine rise, milliseconds.
    pub rise_ms: f64,
    /// Length of the raised-cosine fall, milliseconds.
    pub fall_ms: f64,
    /// Moment towards which the body bulges, as a fraction of the call from 0 to 1.
    pub peak_at: f64,
    /// How far the body has sunk at the end that is further from that moment, decibels.
    pub droop_db: f64,
}

impl Envelope {
    /// Amplitude `t_ms` after the beginning of a call that lasts `duration_ms`;
    /// at most 1, and 0 outside the call.
    pub fn at(&self, t_ms: f64, duration_ms: f64) -> f64 {
        let left_ms = duration_ms - t_ms;
        if t_ms <= 0.0 || left_ms <= 0.0 {
            return 0.0;
        }
        // Sides that are too long for the call are shortened in proportion.
        let squeeze = (duration_ms / (self.rise_ms + self.fall_ms).max(1e-9)).min(1.0);
        let sides = raised(t_ms, self.rise_ms * squeeze) * raised(left_ms, self.fall_ms * squeeze);
        let reach = self.peak_at.max(1.0 - self.peak_at);
        let off = (t_ms / duration_ms - self.peak_at) / reach;
        sides * libm::exp10(-self.droop_db * off * off / 20.0)
    }

    /// The same envelope for a call whose times are multiplied.
    pub fn scaled(&self, ms_factor: f64) -> Envelope {
        Envelope {
            rise_ms: self.rise_ms * ms_factor,
            fall_ms: self.fall_ms * ms_factor,
            ..*self
        }
    }
}

/// A raised cosine from 0 at 0 to 1 at `length_ms` and beyond.
fn raised(t_ms: f64, length_ms: f64) -> f64 {
    if t_ms >= length_ms {
        1.0
    } else {
        0.5 - 0.5 * libm::cos(PI * t_ms / length_ms)
    }
}
