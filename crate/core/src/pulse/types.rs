//! What a measured pulse is.

use serde::{Deserialize, Serialize};

/// One measured pulse. Times count from the start of the recording.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Pulse {
    /// Where the envelope rises to the edge threshold, seconds.
    pub start_s: f64,
    /// Where the envelope falls to the edge threshold, seconds.
    pub end_s: f64,
    /// The moment of most energy, seconds: where the envelope is largest. Anywhere along a top that is level.
    pub peak_s: f64,
    /// The moment of the characteristic frequency, seconds: the end of the contour's flattest stretch.
    pub characteristic_s: f64,
    /// End minus start, milliseconds.
    pub duration_ms: f64,
    /// Frequency of most energy in the whole pulse, kilohertz.
    pub peak_khz: f64,
    /// Contour at the start, kilohertz.
    pub start_khz: f64,
    /// Contour at the end, kilohertz.
    pub end_khz: f64,
    /// Largest value of the contour, kilohertz.
    pub high_khz: f64,
    /// Smallest value of the contour, kilohertz.
    pub low_khz: f64,
    /// Contour at the end of its flattest stretch, kilohertz.
    pub characteristic_khz: f64,
    /// Slope of the contour over the whole pulse, kilohertz per millisecond.
    pub sweep_khz_per_ms: f64,
    /// Slope of the contour at its flattest stretch, kilohertz per millisecond.
    pub flattest_khz_per_ms: f64,
    /// Start minus the start of the pulse before it in its sequence, milliseconds.
    pub interval_ms: Option<f64>,
    /// Peak amplitude, decibels re full scale.
    pub level_db: f64,
    /// In-band level at the maximum less the in-band noise around it, decibels.
    pub snr_db: f64,
    /// How far below the maximum the edges were taken, decibels: 20 unless noise lay higher.
    pub edge_db: f64,
    /// The shape of the contour.
    pub shape: Shape,
    /// What limits trust in the numbers.
    pub flags: Vec<Flag>,
    /// The sequence it belongs to, counted from 1; none where it stands alone.
    pub sequence: Option<u32>,
    /// The feeding buzz it belongs to, counted from 1.
    pub buzz: Option<u32>,
    /// Why it is probably none of a bat's; none for what may well be one.
    pub doubt: Option<Doubt>,
    /// How well the numbers are known.
    pub uncertainty: Uncertainty,
    /// Multiples of the contour that carry energy, the fundamental first.
    pub harmonics: Vec<Harmonic>,
    /// Frequency of the fundamental against time.
    pub contour: Contour,
}

/// Half the width of the interval around each number that holds the true value in 95 of 100 cases: the
/// expanded uncertainty U95 of the Guide to the expression of uncertainty in measurement (JCGM 100:2008,
/// section 6). `uncertainty` tells what it is made of and what it leaves out.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Uncertainty {
    /// Of the start, milliseconds.
    pub start_ms: f64,
    /// Of the end, milliseconds.
    pub end_ms: f64,
    /// Of the duration, milliseconds.
    pub duration_ms: f64,
    /// Of the peak frequency, kilohertz.
    pub peak_khz: f64,
    /// Of the start frequency, kilohertz.
    pub start_khz: f64,
    /// Of the end frequency, kilohertz.
    pub end_khz: f64,
    /// Of the high frequency, kilohertz.
    pub high_khz: f64,
    /// Of the low frequency, kilohertz.
    pub low_khz: f64,
    /// Of the characteristic frequency, kilohertz.
    pub characteristic_khz: f64,
    /// Of the whole sweep rate, kilohertz per millisecond.
    pub sweep_khz_per_ms: f64,
    /// Of the flattest sweep rate, kilohertz per millisecond.
    pub flattest_khz_per_ms: f64,
    /// Of the interval, milliseconds; none where there is no interval.
    pub interval_ms: Option<f64>,
    /// Of the level, decibels.
    pub level_db: f64,
    /// Of the signal-to-noise ratio, decibels.
    pub snr_db: f64,
}

/// Frequency of the fundamental against time, on an even grid from the pulse's
/// start to its end, at most 0.1 ms apart.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Contour {
    /// Time of the first value, seconds.
    pub start_s: f64,
    /// Time between values, seconds.
    pub step_s: f64,
    /// Values, kilohertz.
    pub khz: Vec<f32>,
}

/// A multiple of the contour that carries energy.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Harmonic {
    /// 1 for the fundamental.
    pub multiple: u32,
    /// Energy re the fundamental, decibels.
    pub relative_db: f64,
}

/// The shape of a contour, in the trade's words.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub enum Shape {
    /// Frequency-modulated throughout.
    #[serde(rename = "FM")]
    Fm,
    /// Quasi-constant frequency throughout.
    #[serde(rename = "QCF")]
    Qcf,
    /// Constant frequency throughout.
    #[serde(rename = "CF")]
    Cf,
    /// A sweep that ends in a nearly constant part.
    #[serde(rename = "FM-QCF")]
    FmQcf,
    /// A nearly constant part that ends in a sweep.
    #[serde(rename = "QCF-FM")]
    QcfFm,
    /// A sweep on either side of a nearly constant part.
    #[serde(rename = "FM-QCF-FM")]
    FmQcfFm,
    /// A constant part that ends in a sweep.
    #[serde(rename = "CF-FM")]
    CfFm,
    /// A sweep that ends in a constant part.
    #[serde(rename = "FM-CF")]
    FmCf,
    /// A sweep on either side of a constant part.
    #[serde(rename = "FM-CF-FM")]
    FmCfFm,
}

impl Shape {
    /// The trade's abbreviation, as it is serialised.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Fm => "FM",
            Self::Qcf => "QCF",
            Self::Cf => "CF",
            Self::FmQcf => "FM-QCF",
            Self::QcfFm => "QCF-FM",
            Self::FmQcfFm => "FM-QCF-FM",
            Self::CfFm => "CF-FM",
            Self::FmCf => "FM-CF",
            Self::FmCfFm => "FM-CF-FM",
        }
    }
}

/// What limits trust in a pulse's numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(rename_all = "snake_case")]
pub enum Flag {
    /// Samples reached the largest value that the file can hold.
    Clipped,
    /// Noise lay above the edge threshold: the true duration may be longer.
    FloorLimited,
    /// The pulse touches the file's beginning or end.
    CutOff,
    /// Another sound overlaps it in time and frequency.
    Overlapped,
    /// Its interval is a whole number of times as long as those around it: pulses
    /// were probably missed before it.
    MissedBefore,
}

impl Flag {
    /// The word, as it is serialised.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Clipped => "clipped",
            Self::FloorLimited => "floor_limited",
            Self::CutOff => "cut_off",
            Self::Overlapped => "overlapped",
            Self::MissedBefore => "missed_before",
        }
    }
}

/// Why a sound is probably none of a bat's. Each is told by features that `doubt` names.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(rename_all = "snake_case")]
pub enum Doubt {
    /// Its energy lies over all frequencies at once, or rings for a moment: a drop, a twig, a knock.
    Click,
    /// One of many such in quick succession: insects, dense rain.
    InsectLike,
    /// It lies over all frequencies at once and lasts: wind, leaves, handling; or it lies too low.
    Wind,
    /// It stands alone and is level: a switched tone.
    Tone,
    /// It comes again and again with an interval and a frequency as even as no animal's.
    Electronics,
    /// Its frequency goes to and fro as no call's does: noise, chance.
    Wandering,
    /// It hardly stands above the noise.
    Faint,
    /// A faint or very short sound that no other around it resembles.
    Lone,
}

impl Doubt {
    /// All reasons, in the order of the documentation.
    pub const ALL: [Self; 8] = [
        Self::Click,
        Self::InsectLike,
        Self::Wind,
        Self::Tone,
        Self::Electronics,
        Self::Wandering,
        Self::Faint,
        Self::Lone,
    ];

    /// The word, as it is serialised.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Click => "click",
            Self::InsectLike => "insect_like",
            Self::Wind => "wind",
            Self::Tone => "tone",
            Self::Electronics => "electronics",
            Self::Wandering => "wandering",
            Self::Faint => "faint",
            Self::Lone => "lone",
        }
    }
}
