//! What is to be heard, and how.

use std::ops::RangeInclusive;

use serde::{Deserialize, Serialize};
use thiserror::Error;

/// How what is too high to be heard is brought down.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Method {
    /// Played slower.
    Expansion {
        /// How many times slower, 2 to 32.
        factor: f64,
    },
    /// Mixed with a tone; what differs from it by less than the bandwidth is heard as the difference.
    Heterodyne {
        /// The tone's frequency, kilohertz, above 0 and below half the sampling rate.
        tuning_khz: f64,
        /// How far from the tone a sound may lie, to either side, to be heard at half its amplitude;
        /// kilohertz, 1 to 10.
        bandwidth_khz: f64,
    },
    /// The frequency of what is loudest, divided.
    Division {
        /// By how much, 2 to 32.
        factor: f64,
    },
}

impl Method {
    /// Factors of time expansion and of division.
    pub const FACTORS: RangeInclusive<f64> = 2.0..=32.0;
    /// Bandwidths of the heterodyne, kilohertz.
    pub const BANDWIDTHS_KHZ: RangeInclusive<f64> = 1.0..=10.0;

    /// How many times longer than the recording it takes to hear it.
    #[must_use]
    pub fn slowness(self) -> f64 {
        match self {
            Self::Expansion { factor } => factor,
            Self::Heterodyne { .. } | Self::Division { .. } => 1.0,
        }
    }
}

/// What is to be heard, and how.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct ListeningSettings {
    /// How it is brought down.
    pub method: Method,
    /// Where it begins, seconds from the start of the recording.
    pub start_s: f64,
    /// Where it ends, seconds; cut to the recording's end.
    pub end_s: f64,
    /// Whether it begins anew at its end, for ever.
    pub looped: bool,
    /// What lies below this is rumble and is taken out, kilohertz; none: all is kept.
    pub high_pass_khz: Option<f64>,
    /// Whether quiet sounds are brought up, slowly and within bounds.
    pub automatic_gain: bool,
}

impl ListeningSettings {
    /// Rates that sound cards play, hertz.
    pub const OUTPUT_HZ: RangeInclusive<u32> = 8_000..=192_000;

    /// Whether this can be heard from a recording with that rate and length.
    pub(super) fn check(
        &self,
        rate_hz: f64,
        duration_s: f64,
        output_hz: u32,
    ) -> Result<(), ListeningError> {
        if !(rate_hz.is_finite() && rate_hz > 0.0) {
            return Err(ListeningError::Rate(rate_hz));
        }
        if !Self::OUTPUT_HZ.contains(&output_hz) {
            return Err(ListeningError::Output(output_hz));
        }
        let (start_s, end_s) = (self.start_s, self.end_s);
        // Written so that what is not a number is refused too.
        if !(start_s >= 0.0 && start_s < end_s.min(duration_s)) {
            return Err(ListeningError::Stretch { start_s, end_s });
        }
        match self.method {
            Method::Expansion { factor } | Method::Division { factor } => {
                if !Method::FACTORS.contains(&factor) {
                    return Err(ListeningError::Factor(factor));
                }
            }
            Method::Heterodyne {
                tuning_khz,
                bandwidth_khz,
            } => {
                if !(tuning_khz > 0.0 && tuning_khz < rate_hz / 2e3) {
                    return Err(ListeningError::Tuning {
                        tuning_khz,
                        highest_khz: rate_hz / 2e3,
                    });
                }
                if !Method::BANDWIDTHS_KHZ.contains(&bandwidth_khz) {
                    return Err(ListeningError::Bandwidth(bandwidth_khz));
                }
            }
        }
        match self.high_pass_khz {
            Some(edge) if !(edge.is_finite() && edge > 0.0) => Err(ListeningError::HighPass(edge)),
            _ => Ok(()),
        }
    }
}

/// Something that cannot be heard.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[non_exhaustive]
pub enum ListeningError {
    /// The recording's rate is not a number above 0.
    #[error("a recording with a sampling rate of {0} Hz cannot be played")]
    Rate(f64),
    /// The loudspeaker's rate is none of a sound card.
    #[error(
        "sound cannot be played at {0} Hz, only at {low} to {high} Hz",
        low = ListeningSettings::OUTPUT_HZ.start(),
        high = ListeningSettings::OUTPUT_HZ.end()
    )]
    Output(u32),
    /// The stretch is empty, reversed, outside the recording, or not a number.
    #[error("from {start_s} s to {end_s} s there is nothing to hear in this recording")]
    Stretch {
        /// Where it shall begin, seconds.
        start_s: f64,
        /// Where it shall end, seconds.
        end_s: f64,
    },
    /// A factor that is too small, too large, or not a number.
    #[error(
        "a factor of {0} cannot be heard, only one from {low} to {high}",
        low = Method::FACTORS.start(),
        high = Method::FACTORS.end()
    )]
    Factor(f64),
    /// A tone outside the recording's frequencies.
    #[error(
        "{tuning_khz} kHz cannot be tuned to: this recording reaches from 0 to {highest_khz} kHz"
    )]
    Tuning {
        /// The tone that was asked for, kilohertz.
        tuning_khz: f64,
        /// Half the sampling rate, kilohertz.
        highest_khz: f64,
    },
    /// A bandwidth that is too small, too large, or not a number.
    #[error(
        "a bandwidth of {0} kHz cannot be heard, only one from {low} to {high} kHz",
        low = Method::BANDWIDTHS_KHZ.start(),
        high = Method::BANDWIDTHS_KHZ.end()
    )]
    Bandwidth(f64),
    /// An edge that is not a number above 0.
    #[error("rumble cannot be taken out below {0} kHz")]
    HighPass(f64),
    /// A file that a WAV's 32-bit lengths do not hold, or a browser's memory.
    #[error(
        "this would make a file of {seconds:.0} s, and {most_s:.0} s is the most: choose a shorter stretch or a smaller factor"
    )]
    TooLong {
        /// How long it would be, seconds.
        seconds: f64,
        /// How long it may be, seconds.
        most_s: f64,
    },
    /// A stretch without end.
    #[error("a file cannot hold a loop, which has no end")]
    Endless,
}
