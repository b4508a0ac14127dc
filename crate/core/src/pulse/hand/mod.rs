//! What a person marks, measured by the same definitions as the pulses that were found.
//!
//! # What is automatic and what is by hand
//! By hand is what the person gives: a [`Band`] (a stretch of time and frequency), a start, an end, points of a
//! contour. Everything else is read off the sound, as in the automatic measurement:
//!
//! - The sounds in the band are heard in the very block of the recording that the automatic measurement hears
//!   them in, over the same noise and without the same constant tones. The loudest call in the band is measured.
//!   So a band with room around an automatic pulse gives its numbers.
//! - What the automatic measurement drops (too faint, an echo, a part of another sound) is measured all the same:
//!   the person wants it. If no trace was found, the strongest one in the band is followed with a lower threshold.
//! - Where the sound goes on beyond the band, it counts as far as the band reaches, and a [`HandNote`] says so.
//! - A given start or end takes the place of the one that the envelope shows; the level is then the largest
//!   amplitude between them, and contour, peak and rates are read between them. Beyond what could be followed
//!   the contour goes on straight for 0.6 ms and then holds.
//! - Given contour points ([`ContourPoint`]) pull the contour with them; start, end, high, low and characteristic
//!   frequency, rates and shape are read off the corrected contour. Peak, level and signal-to-noise stay: they
//!   are read off the sound.
//! - Where nothing can be followed there is no pulse; the band's own peak frequency and level are given, and a
//!   note says what is missing.
//!
//! A number that follows from what a person gave has no uncertainty here (0): how well a hand points is not known.

mod band;
mod correct;
mod find;
mod interval;
mod measure;
pub mod table;
#[cfg(test)]
mod tests;

pub use band::{Band, HandError};
pub use interval::{HandInterval, interval};
pub use measure::{HandMeasurer, measure_by_hand};

use super::Pulse;
use serde::{Deserialize, Serialize};

/// What a person gives.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct HandRequest {
    /// Where the sound is.
    pub band: Band,
    /// Start of the automatic pulse that is corrected, seconds: of all calls in the band the one that begins
    /// nearest to it is measured, and not the loudest.
    pub pulse_start_s: Option<f64>,
    /// The start, seconds; none leaves it to the envelope.
    pub start_s: Option<f64>,
    /// The end, seconds; none leaves it to the envelope.
    pub end_s: Option<f64>,
    /// Where the contour runs instead; empty leaves it as it is.
    pub points: Vec<ContourPoint>,
}

/// A place that a contour runs through because a person says so.
///
/// The contour is moved to it; what it is moved by falls off to nothing, in a straight line, over an eighth of the
/// pulse on either side. Between two points that are nearer to one another than two eighths it goes in a straight
/// line from what the one is moved by to what the other is.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct ContourPoint {
    /// Seconds from the start of the recording.
    pub time_s: f64,
    /// Kilohertz.
    pub khz: f64,
}

/// What was measured of what a person marked.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct HandMeasurement {
    /// The band, as far as it lies in the recording.
    pub band: Band,
    /// The sound in it, by the definitions of the automatic numbers; none where nothing could be followed.
    pub pulse: Option<Pulse>,
    /// Frequency of most energy in the whole band (the maximum of [`crate::spectrum::PowerSpectrum`]), kilohertz;
    /// none where there is no sound at all.
    pub band_peak_khz: Option<f64>,
    /// Amplitude of a tone that is as strong as the strongest spot of the band in a window of 0.9 ms, decibels
    /// re full scale. A steep sweep reads lower than its level.
    pub band_level_db: f64,
    /// How far that spot stands above the mean noise at its frequency, decibels.
    pub band_over_noise_db: f64,
    /// What must be known about it.
    pub notes: Vec<HandNote>,
}

/// What must be known about a hand measurement.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(rename_all = "snake_case")]
pub enum HandNote {
    /// Nothing in the band stands out of the noise more than chance lets it.
    NothingStandsOut,
    /// Something stands out, and no sound with a course could be followed.
    NothingFollowed,
    /// The sound goes on before the band: the start is where the band begins.
    BeginsBeforeBand,
    /// The sound goes on after the band: the end is where the band ends.
    EndsAfterBand,
    /// The sound leaves the band's frequencies: start and end are where it crosses them.
    LeavesFrequencies,
    /// The band holds a multiple: the numbers are those of its fundamental.
    HoldsMultiple,
    /// The band reached beyond the recording and was cut to it.
    BandCut,
    /// The start was given by hand.
    StartGiven,
    /// The end was given by hand.
    EndGiven,
    /// Points of the contour were given by hand.
    ContourGiven,
}

impl HandNote {
    /// All notes, in the order of the documentation.
    pub const ALL: [Self; 10] = [
        Self::NothingStandsOut,
        Self::NothingFollowed,
        Self::BeginsBeforeBand,
        Self::EndsAfterBand,
        Self::LeavesFrequencies,
        Self::HoldsMultiple,
        Self::BandCut,
        Self::StartGiven,
        Self::EndGiven,
        Self::ContourGiven,
    ];

    /// The word, as it is serialised.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::NothingStandsOut => "nothing_stands_out",
            Self::NothingFollowed => "nothing_followed",
            Self::BeginsBeforeBand => "begins_before_band",
            Self::EndsAfterBand => "ends_after_band",
            Self::LeavesFrequencies => "leaves_frequencies",
            Self::HoldsMultiple => "holds_multiple",
            Self::BandCut => "band_cut",
            Self::StartGiven => "start_given",
            Self::EndGiven => "end_given",
            Self::ContourGiven => "contour_given",
        }
    }
}
