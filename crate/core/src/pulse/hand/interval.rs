//! The interval between two pulses that a person chose.

use super::HandError;
use crate::pulse::{Pulse, Settings, uncertainty};
use serde::{Deserialize, Serialize};

/// How far two pulses lie apart.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct HandInterval {
    /// Start of the first, seconds.
    pub first_start_s: f64,
    /// Start of the second, seconds.
    pub second_start_s: f64,
    /// Start of the second minus start of the first, milliseconds: the definition of an interval.
    pub interval_ms: f64,
    /// Start of the second minus end of the first, milliseconds; below zero where they overlap.
    pub gap_ms: f64,
    /// Pulses in a second at this interval.
    pub rate_hz: f64,
    /// Half the width of the interval that holds the true value in 95 of 100 cases, milliseconds; none where a
    /// start was given by hand.
    pub interval_u95_ms: Option<f64>,
}

/// Measures from the earlier of two pulses to the later one.
///
/// # Errors
/// [`HandError::SamePulse`] where both begin at once.
pub fn interval(
    one: &Pulse,
    other: &Pulse,
    settings: &Settings,
) -> Result<HandInterval, HandError> {
    let (first, second) = if one.start_s <= other.start_s {
        (one, other)
    } else {
        (other, one)
    };
    let interval_ms = (second.start_s - first.start_s) * 1e3;
    if !interval_ms.is_finite() {
        return Err(HandError::NotANumber);
    }
    if interval_ms <= 0.0 {
        return Err(HandError::SamePulse);
    }
    let known = first.uncertainty.start_ms > 0.0 && second.uncertainty.start_ms > 0.0;
    Ok(HandInterval {
        first_start_s: first.start_s,
        second_start_s: second.start_s,
        interval_ms,
        gap_ms: (second.start_s - first.end_s) * 1e3,
        rate_hz: 1e3 / interval_ms,
        interval_u95_ms: known.then(|| {
            uncertainty::of_interval(
                &first.uncertainty,
                &second.uncertainty,
                &settings.calibration,
            )
        }),
    })
}
