//! What a recording says of itself, as one typed structure.

use serde::{Deserialize, Serialize};

use super::labels::Label;

/// Everything a recording says of itself besides its samples.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Facts {
    /// The container, such as `WAV`, `RF64` or `BW64`.
    pub container: String,
    /// How samples are stored, such as `16-bit PCM` or `32-bit float`.
    pub encoding: String,
    /// Number of channels.
    pub channels: u16,
    /// Frames (one sample of every channel) that can be read.
    pub frames: u64,
    /// Sampling rate that the header states, hertz.
    pub stored_rate_hz: f64,
    /// Sampling rate at the microphone, hertz: the stored one times the expansion.
    pub rate_hz: f64,
    /// Real duration at the microphone, seconds.
    pub duration_s: f64,
    /// Whether sound is missing at its end: the file ends before its header says, or the recorder never filled in the
    /// length, as when power is lost.
    #[serde(default)]
    pub cut_off: bool,
    /// The time expansion that is applied.
    pub expansion: Expansion,
    /// An expansion that is likely but not applied, with the reason.
    pub expansion_guess: Option<ExpansionGuess>,
    /// When the recording began.
    pub start: Option<Stamp>,
    /// Where the recorder stood.
    pub place: Option<Place>,
    /// Maker of the recorder.
    pub make: Option<String>,
    /// Model of the recorder.
    pub model: Option<String>,
    /// Serial number of the recorder.
    pub serial: Option<String>,
    /// Firmware version of the recorder.
    pub firmware: Option<String>,
    /// Temperature outside the recorder, degrees Celsius.
    pub temperature_c: Option<f64>,
    /// Temperature inside the recorder, degrees Celsius.
    pub temperature_inside_c: Option<f64>,
    /// Relative humidity, percent.
    pub humidity_percent: Option<f64>,
    /// Corner of the recorder's high-pass filter, kilohertz.
    pub high_pass_khz: Option<f64>,
    /// Corner of the recorder's low-pass filter, kilohertz.
    pub low_pass_khz: Option<f64>,
    /// Free text; may hold line breaks.
    pub note: Option<String>,
    /// What was said to be heard.
    pub identifications: Vec<Identification>,
    /// Labels that people gave it with this project, as a copy with labels carries them.
    #[serde(default)]
    pub labels: Vec<Label>,
    /// Free tags.
    pub tags: Vec<String>,
    /// All metadata that has no place above, in the file's order.
    pub other: Vec<Field>,
    /// What was odd about the file and how it was dealt with, in plain words.
    pub notices: Vec<Notice>,
}

/// The factor by which a recording plays slower than real life.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Expansion {
    /// 1 for a recording in real time, 10 for the usual time expansion.
    pub factor: f64,
    /// Who says so.
    pub origin: ExpansionOrigin,
}

/// Real time, as long as nobody says otherwise.
impl Default for Expansion {
    fn default() -> Self {
        Self {
            factor: 1.0,
            origin: ExpansionOrigin::Assumed,
        }
    }
}

/// Who says what the time expansion is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(rename_all = "snake_case")]
pub enum ExpansionOrigin {
    /// Nobody: real time is taken for granted.
    Assumed,
    /// The file's own metadata.
    Metadata,
    /// The person.
    Person,
}

/// An expansion that is likely, offered and never applied silently.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct ExpansionGuess {
    /// The likely factor.
    pub factor: f64,
    /// Why it is likely, as a sentence.
    pub reason: String,
}

/// A moment as the recorder's clock told it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Stamp {
    /// Local clock time, `2026-06-14T22:41:05` with an optional fraction.
    pub local: String,
    /// Offset of that clock from UTC in minutes, if known.
    pub utc_offset_min: Option<i32>,
    /// Where it was written.
    pub origin: StampOrigin,
}

/// Where a moment was written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(rename_all = "snake_case")]
pub enum StampOrigin {
    /// GUANO metadata.
    Guano,
    /// Broadcast extension chunk, EBU Tech 3285.
    Bext,
    /// RIFF `INFO` list.
    Info,
}

/// A position on Earth, WGS84.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Place {
    /// Degrees, north positive.
    pub latitude_deg: f64,
    /// Degrees, east positive.
    pub longitude_deg: f64,
    /// Metres above mean sea level.
    pub elevation_m: Option<f64>,
    /// Standard error of the position, metres.
    pub accuracy_m: Option<f64>,
}

/// What was said to be heard, and by what.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Identification {
    /// The name as written.
    pub name: String,
    /// Whether a person said it (else a program).
    pub by_person: bool,
}

/// A piece of metadata that has no place of its own.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Field {
    /// The key with its namespace or chunk, such as `User|Observer` or `INFO|ISFT`.
    pub key: String,
    /// The value as text.
    pub value: String,
}

/// Something odd about the file and what was done about it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Notice {
    /// A full sentence for the person.
    pub text: String,
    /// The byte in the file where it lies, if it lies in one place.
    pub byte: Option<u64>,
}
