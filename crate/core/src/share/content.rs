//! What travels with a call beside its sound.

use super::LinkError;
use crate::pulse::{Pulse, Shape};
use crate::recording::{Label, Place, Stamp};
use serde::{Deserialize, Serialize};

/// What the sender says of a call. Whatever is not given is not in the link.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct CallContent {
    /// File name of the recording.
    pub file: Option<String>,
    /// When the recording began.
    pub start: Option<Stamp>,
    /// Where the recorder stood. A roost that is found can be harmed.
    pub place: Option<Place>,
    /// Maker and model of the recorder.
    pub recorder: Option<String>,
    /// Degrees Celsius.
    pub temperature_c: Option<f64>,
    /// A few words to the receiver.
    pub note: Option<String>,
    /// What people take the recording or its pulses to be. Times are the recording's own.
    pub labels: Vec<Label>,
    /// What the sender looked at.
    pub view: Option<CallView>,
}

/// What the sender looked at, on the time of what is sent.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct CallView {
    /// Left edge, seconds.
    pub start_s: f64,
    /// Right edge, seconds.
    pub end_s: f64,
    /// Lower edge, kilohertz.
    pub low_khz: f64,
    /// Upper edge, kilohertz.
    pub high_khz: f64,
}

/// A pulse as the sender measured it, with times from the start of what is sent.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct SentPulse {
    /// Its number in the sender's table, such as `7`, or `H1` for one measured by hand.
    pub name: String,
    /// Start, seconds.
    pub start_s: f32,
    /// The moment of most energy, seconds.
    pub peak_s: f32,
    /// Duration, milliseconds.
    pub duration_ms: f32,
    /// Frequency of most energy, kilohertz.
    pub peak_khz: f32,
    /// Contour at the start, kilohertz.
    pub start_khz: f32,
    /// Contour at the end, kilohertz.
    pub end_khz: f32,
    /// Largest value of the contour, kilohertz.
    pub high_khz: f32,
    /// Smallest value of the contour, kilohertz.
    pub low_khz: f32,
    /// Characteristic frequency, kilohertz.
    pub characteristic_khz: f32,
    /// From the start of the pulse before it in its sequence, milliseconds.
    pub interval_ms: Option<f32>,
    /// Level, decibels re full scale.
    pub level_db: f32,
    /// Level less that of the noise, decibels.
    pub snr_db: f32,
    /// The shape of the contour.
    pub shape: Shape,
}

impl SentPulse {
    /// A pulse by the time of a stretch that begins at `from_s`.
    pub(super) fn of(name: &str, pulse: &Pulse, from_s: f64) -> Self {
        Self {
            name: name.to_owned(),
            start_s: (pulse.start_s - from_s) as f32,
            peak_s: (pulse.peak_s - from_s) as f32,
            duration_ms: pulse.duration_ms as f32,
            peak_khz: pulse.peak_khz as f32,
            start_khz: pulse.start_khz as f32,
            end_khz: pulse.end_khz as f32,
            high_khz: pulse.high_khz as f32,
            low_khz: pulse.low_khz as f32,
            characteristic_khz: pulse.characteristic_khz as f32,
            interval_ms: pulse.interval_ms.map(|interval| interval as f32),
            level_db: pulse.level_db as f32,
            snr_db: pulse.snr_db as f32,
            shape: pulse.shape,
        }
    }

    fn is_sound(&self) -> bool {
        let numbers = [
            self.start_s,
            self.peak_s,
            self.duration_ms,
            self.peak_khz,
            self.start_khz,
            self.end_khz,
            self.high_khz,
            self.low_khz,
            self.characteristic_khz,
            self.interval_ms.unwrap_or(0.0),
            self.level_db,
            self.snr_db,
        ];
        numbers.iter().all(|number| number.abs() <= 1e7)
    }
}

impl CallContent {
    /// Whether all that it states can be.
    pub(super) fn check(&self, pulses: &[SentPulse]) -> Result<(), LinkError> {
        let number = |value: f64| value.abs() <= 1e7;
        let placed = self.place.is_none_or(|place| {
            place.latitude_deg.abs() <= 90.0
                && place.longitude_deg.abs() <= 180.0
                && place.elevation_m.is_none_or(number)
                && place.accuracy_m.is_none_or(number)
        });
        if !placed {
            return Err(LinkError::Bounds("a place that is not on Earth"));
        }
        let viewed = self.view.is_none_or(|view| {
            [view.start_s, view.end_s, view.low_khz, view.high_khz]
                .into_iter()
                .all(number)
        });
        let labelled = self
            .labels
            .iter()
            .flat_map(|label| &label.about)
            .all(|span| number(span.start_s) && number(span.end_s) && number(span.expansion));
        let measured = pulses.iter().all(SentPulse::is_sound);
        if !(viewed && labelled && measured && self.temperature_c.is_none_or(number)) {
            return Err(LinkError::Bounds("numbers that measure nothing"));
        }
        Ok(())
    }
}
