//! A stretch of time and frequency, and what can be wrong with it.

use super::HandRequest;
use crate::recording::ReadError;
use serde::{Deserialize, Serialize};

/// Longest band, seconds: as much as is listened to in one go.
pub(super) const LONGEST_S: f64 = 6.0;
/// Shortest sound that can be measured between two given edges, seconds.
const SHORTEST_S: f64 = 0.1e-3;

/// A stretch of time and frequency that a person marked. The sides are in the order of their names.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Band {
    /// Where it begins, seconds from the start of the recording.
    pub start_s: f64,
    /// Where it ends, seconds.
    pub end_s: f64,
    /// Its lowest frequency, kilohertz.
    pub low_khz: f64,
    /// Its highest frequency, kilohertz.
    pub high_khz: f64,
}

/// Why what a person gave cannot be measured.
#[derive(Debug, thiserror::Error)]
pub enum HandError {
    /// Something that is no number.
    #[error("a band needs four numbers: from and to in seconds, from and to in kilohertz")]
    NotANumber,
    /// It ends before it begins, or lasts no time.
    #[error("the band ends at {end_s:.4} s, which is not after its beginning at {start_s:.4} s")]
    NoTime {
        /// Its beginning.
        start_s: f64,
        /// Its end.
        end_s: f64,
    },
    /// It covers no frequencies.
    #[error(
        "the band reaches up to {high_khz:.1} kHz, which is not above its lowest frequency, {low_khz:.1} kHz"
    )]
    NoFrequency {
        /// Its lowest frequency.
        low_khz: f64,
        /// Its highest frequency.
        high_khz: f64,
    },
    /// All of it lies before or after the recording.
    #[error(
        "the band from {start_s:.4} to {end_s:.4} s lies outside the recording, which lasts {duration_s:.4} s"
    )]
    Outside {
        /// Its beginning.
        start_s: f64,
        /// Its end.
        end_s: f64,
        /// How long the recording lasts.
        duration_s: f64,
    },
    /// All of it lies above (or below) what the recording can hold.
    #[error(
        "the band from {low_khz:.1} to {high_khz:.1} kHz lies outside what the recording holds, 0 to {most_khz:.1} kHz"
    )]
    OutsideFrequencies {
        /// Its lowest frequency.
        low_khz: f64,
        /// Its highest frequency.
        high_khz: f64,
        /// Half the sampling rate.
        most_khz: f64,
    },
    /// More than is listened to in one go.
    #[error(
        "the band lasts {length_s:.1} s; what is measured by hand lasts at most {LONGEST_S:.0} s"
    )]
    TooLong {
        /// Its length.
        length_s: f64,
    },
    /// A given start and end that leave nothing between them.
    #[error(
        "the end given by hand, {end_s:.5} s, must lie at least 0.1 ms after the start, {start_s:.5} s"
    )]
    NothingBetween {
        /// The start.
        start_s: f64,
        /// The end.
        end_s: f64,
    },
    /// A given start or end that lies nowhere near the sound.
    #[error("the start or end given by hand, {at_s:.5} s, lies too far from the band")]
    EdgeAway {
        /// Where it lies.
        at_s: f64,
    },
    /// A given point that the contour cannot run through.
    #[error(
        "a point of the contour must lie within the recording's frequencies, 0 to {most_khz:.1} kHz"
    )]
    Point {
        /// Half the sampling rate.
        most_khz: f64,
    },
    /// A pulse that is compared with itself.
    #[error("an interval lies between two pulses; the same one was chosen twice")]
    SamePulse,
    /// The recording cannot be read.
    #[error(transparent)]
    Read(#[from] ReadError),
}

impl HandError {
    /// What can still be done, as a sentence.
    #[must_use]
    pub fn advice(&self) -> &str {
        match self {
            Self::NothingBetween { .. } | Self::EdgeAway { .. } => {
                "Set it nearer to the sound, or leave it to the measurement."
            }
            Self::Point { .. } => "Set the point on the sound, or take it away.",
            Self::SamePulse => "Choose another pulse.",
            Self::Read(error) => error.advice(),
            _ => "Mark the sound again, a little larger than it is.",
        }
    }
}

impl Band {
    /// The part of the band that lies in a recording, and whether that is less than all of it.
    ///
    /// # Errors
    /// [`HandError`] where it is no band, or lies outside.
    pub fn within(self, duration_s: f64, rate_hz: f64) -> Result<(Self, bool), HandError> {
        let Self {
            start_s,
            end_s,
            low_khz,
            high_khz,
        } = self;
        let most_khz = rate_hz / 2e3;
        if ![start_s, end_s, low_khz, high_khz]
            .iter()
            .all(|n| n.is_finite())
        {
            return Err(HandError::NotANumber);
        }
        if start_s >= end_s {
            return Err(HandError::NoTime { start_s, end_s });
        }
        if low_khz >= high_khz {
            return Err(HandError::NoFrequency { low_khz, high_khz });
        }
        if end_s <= 0.0 || start_s >= duration_s {
            return Err(HandError::Outside {
                start_s,
                end_s,
                duration_s,
            });
        }
        if high_khz <= 0.0 || low_khz >= most_khz {
            return Err(HandError::OutsideFrequencies {
                low_khz,
                high_khz,
                most_khz,
            });
        }
        let inside = Self {
            start_s: start_s.max(0.0),
            end_s: end_s.min(duration_s),
            low_khz: low_khz.max(0.0),
            high_khz: high_khz.min(most_khz),
        };
        if inside.end_s - inside.start_s > LONGEST_S {
            return Err(HandError::TooLong {
                length_s: inside.end_s - inside.start_s,
            });
        }
        Ok((inside, inside != self))
    }
}

/// Refuses edges and points that say nothing.
pub(super) fn check_given(request: &HandRequest, rate_hz: f64) -> Result<(), HandError> {
    let most_khz = rate_hz / 2e3;
    let start_s = request.start_s.unwrap_or(request.band.start_s);
    let end_s = request.end_s.unwrap_or(request.band.end_s);
    if !start_s.is_finite() || !end_s.is_finite() {
        return Err(HandError::NotANumber);
    }
    let given = request.start_s.is_some() || request.end_s.is_some();
    // Written so that whatever is no number fails, too.
    if given && (end_s - start_s) < SHORTEST_S {
        return Err(HandError::NothingBetween { start_s, end_s });
    }
    let away = |at_s: f64| {
        at_s < request.band.start_s - LONGEST_S || at_s > request.band.end_s + LONGEST_S
    };
    if let Some(at_s) = [start_s, end_s].into_iter().find(|at_s| away(*at_s)) {
        return Err(HandError::EdgeAway { at_s });
    }
    let holds = |khz: f64| (0.0..=most_khz).contains(&khz);
    let points = &request.points;
    if points.iter().all(|p| p.time_s.is_finite() && holds(p.khz)) {
        Ok(())
    } else {
        Err(HandError::Point { most_khz })
    }
}
