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

    /// Moment and value of the largest amplitude.
    pub fn maximum(&self, duration_ms: f64) -> (f64, f64) {
        let steps = 2000;
        let value = |t_ms: f64| self.at(t_ms, duration_ms);
        let step_ms = duration_ms / f64::from(steps);
        let coarse = (1..steps)
            .map(|i| f64::from(i) * step_ms)
            .fold((0.0, 0.0), |best, t_ms| {
                if value(t_ms) > best.1 {
                    (t_ms, value(t_ms))
                } else {
                    best
                }
            });
        // Thirds around the best step; the envelope has one hump.
        let (mut low, mut high) = (coarse.0 - step_ms, coarse.0 + step_ms);
        for _ in 0..40 {
            let third = (high - low) / 3.0;
            if value(low + third) < value(high - third) {
                low += third;
            } else {
                high -= third;
            }
        }
        let t_ms = (low + high) / 2.0;
        if value(t_ms) > coarse.1 {
            (t_ms, value(t_ms))
        } else {
            coarse
        }
    }

    /// First and last moment at which the amplitude is `below_db` under its maximum.
    pub fn edges_ms(&self, duration_ms: f64, below_db: f64) -> (f64, f64) {
        let (peak_ms, peak) = self.maximum(duration_ms);
        let threshold = peak * libm::exp10(-below_db / 20.0);
        let crossing = |mut outside: f64, mut inside: f64| {
            for _ in 0..60 {
                let middle = (outside + inside) / 2.0;
                if self.at(middle, duration_ms) < threshold {
                    outside = middle;
                } else {
                    inside = middle;
                }
            }
            (outside + inside) / 2.0
        };
        (crossing(0.0, peak_ms), crossing(duration_ms, peak_ms))
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
