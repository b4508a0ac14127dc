//! Every threshold of the search and of the measurements.

use super::Calibration;
use serde::{Deserialize, Serialize};
use std::ops::Range;

/// Thresholds, each with its default and its reason. The defaults are meant
/// for bats in general; nothing here is tuned to a species or a recorder.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(default)]
pub struct Settings {
    /// Lowest frequency looked at, kHz. Default 8: the lowest bat calls end near
    /// 9 kHz (Fenton et al. 1987, J Mammal 68:142-144), wind and voices lie below.
    pub lowest_khz: f64,
    /// Highest frequency looked at, kHz. Default 220: the highest calls known
    /// are near 212 kHz (second-hand, Fenton & Bell 1981).
    pub highest_khz: f64,
    /// How far a spectral peak must stand above the mean noise of its bin to
    /// become part of a trace, dB. Default 7: about one noise peak a frame
    /// passes, few enough that chance rarely lines them up.
    pub trace_db: f64,
    /// How far a trace's best peak must stand above the noise, dB. Default 11.
    pub seed_db: f64,
    /// What all peaks of a trace must stand above `trace_db` together, dB times
    /// frames. Default 30: hiss reaches it less than once an hour.
    pub evidence_db: f64,
    /// How far below the pulse's maximum its edges are taken, dB. Default 20,
    /// common practice.
    pub edge_db: f64,
    /// How far above the local noise an edge must at least be taken, dB.
    /// Default 6: below it, noise decides where a pulse seems to end.
    pub edge_above_noise_db: f64,
    /// Shortest pulse, ms. Default 0.3: the last pulses of a feeding buzz are
    /// hardly shorter, clicks of rain and twigs are.
    pub shortest_ms: f64,
    /// Longest pulse, ms. Default 100: the longest constant-frequency calls
    /// last some 80 ms, electronics and crickets go on.
    pub longest_ms: f64,
    /// Silence that ends a sequence, seconds. Default 1, common practice.
    pub sequence_gap_s: f64,
    /// How uncertainties follow from what a pulse shows. Default: as fitted on synthetic pulses.
    pub calibration: Calibration,
}

/// Sounds are traced from this share of the lowest wanted frequency on, so that
/// the fundamental is known of what only reaches the wanted range with a multiple.
const TRACED_SHARE: f64 = 0.4;

impl Settings {
    /// The frequencies that are traced, hertz.
    pub(super) fn traced_hz(&self, nyquist_hz: f64) -> Range<f64> {
        self.lowest_khz * 1e3 * TRACED_SHARE..(self.highest_khz * 1e3).min(nyquist_hz)
    }
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            lowest_khz: 8.0,
            highest_khz: 220.0,
            trace_db: 7.0,
            seed_db: 11.0,
            evidence_db: 30.0,
            edge_db: 20.0,
            edge_above_noise_db: 6.0,
            shortest_ms: 0.3,
            longest_ms: 100.0,
            sequence_gap_s: 1.0,
            calibration: Calibration::default(),
        }
    }
}
