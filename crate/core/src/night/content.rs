//! What is left of a recording once it has been examined.

use crate::pulse::{DoubtCount, Verdict};
use crate::recording::{Label, Place, Stamp};
use serde::{Deserialize, Serialize};

/// The form of [`Examined`]: raised whenever a field's meaning or the way of measuring changes, so that what was kept of
/// an older one is examined anew.
pub const FORM: u32 = 1;

/// What is known of a file's content, whatever the file is called and wherever it lies.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Examined {
    /// [`FORM`] when it was examined.
    pub form: u32,
    /// SHA-256 of the file's bytes, 64 small hexadecimal digits.
    pub sha256: String,
    /// Size of the file, bytes.
    pub bytes: u64,
    /// What came of it.
    pub outcome: Outcome,
}

/// What came of examining a file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Outcome {
    /// It is a recording and was measured to its end.
    Read(Box<Content>),
    /// It is no recording that can be read.
    Broken {
        /// Why, as a sentence.
        message: String,
        /// What can be done, as a sentence.
        advice: String,
    },
}

impl Examined {
    /// It as text that is kept and handed on: JSON.
    ///
    /// # Errors
    /// Fails for numbers that JSON cannot hold, which none of ours is.
    pub fn to_text(&self) -> Result<String, serde_json::Error> {
        serde_json::to_string(self)
    }

    /// What was kept as text; none of another form than [`FORM`], or that cannot be read: its file is examined anew.
    #[must_use]
    pub fn from_text(text: &str) -> Option<Self> {
        let examined: Self = serde_json::from_str(text).ok()?;
        (examined.form == FORM).then_some(examined)
    }

    /// The content, where the file could be read.
    #[must_use]
    pub fn content(&self) -> Option<&Content> {
        match &self.outcome {
            Outcome::Read(content) => Some(content),
            Outcome::Broken { .. } => None,
        }
    }
}

/// What a recording says of itself, and what was found in it.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Content {
    /// When it began, as the file's metadata say; none where they do not.
    pub start: Option<Stamp>,
    /// Where the recorder stood.
    pub place: Option<Place>,
    /// Real duration at the microphone, seconds.
    pub duration_s: f64,
    /// Sampling rate at the microphone, hertz.
    pub rate_hz: f64,
    /// The time expansion that was undone.
    pub expansion: f64,
    /// Number of channels; the first was examined unless the person chose another.
    pub channels: u16,
    /// How samples are stored, such as `16-bit PCM`.
    pub encoding: String,
    /// Whether sound is missing at its end.
    pub cut_off: bool,
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
    /// Settings of the recorder that must not change within a night, by name: filters, and whatever else the metadata
    /// state about gain, sensitivity and trigger.
    pub recorder_settings: Vec<(String, String)>,
    /// What was odd about the file, in sentences.
    pub notices: Vec<String>,
    /// Labels that people gave it, as a copy with labels carries them.
    pub labels: Vec<Label>,
    /// Names that the metadata give for what is heard, as others wrote them.
    pub names_given: Vec<String>,

    /// Whether it holds bat pulses.
    pub verdict: Verdict,
    /// How many pulses that may well be a bat's.
    pub pulses: u32,
    /// How many of them reached the largest value that the file can hold.
    pub clipped_pulses: u32,
    /// The sequences: pulses that one animal may have made, in order of their starts.
    pub passes: Vec<PassFacts>,
    /// How many feeding buzzes.
    pub buzzes: u32,
    /// How many sounds were doubted for each reason.
    pub doubts: Vec<DoubtCount>,
    /// Constant tones that were taken out before measuring, kilohertz.
    pub tones_khz: Vec<f64>,
    /// The largest signal-to-noise ratio of a pulse, decibels.
    pub best_snr_db: Option<f64>,
    /// The highest frequency of a pulse that stands plainly above the noise, kilohertz.
    pub highest_khz: Option<f64>,

    /// The largest sample, decibels re full scale; none for digital silence.
    pub level_db: Option<f64>,
    /// Share of the samples at the largest value that the file can hold.
    pub clipped_share: f64,
    /// Noise floor in bands of 10 kHz from 0 kHz up, decibels re full scale: calls, rumble and constant tones are not in it.
    pub noise_db: Vec<f32>,
}

/// A sequence of pulses that one animal may have made: a measure of activity and no number of animals.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct PassFacts {
    /// Start of its first pulse, seconds from the beginning of the recording.
    pub start_s: f64,
    /// End of its last pulse, seconds.
    pub end_s: f64,
    /// How many pulses it has.
    pub pulses: u32,
    /// Median interval, milliseconds.
    pub interval_ms: Option<f64>,
    /// Median peak frequency, kilohertz.
    pub peak_khz: f64,
    /// Median characteristic frequency, kilohertz.
    pub characteristic_khz: f64,
    /// Median end frequency, kilohertz.
    pub end_khz: f64,
    /// Median duration of its pulses, milliseconds.
    pub duration_ms: f64,
    /// Largest signal-to-noise ratio of its pulses, decibels.
    pub snr_db: f64,
    /// How many feeding buzzes it holds.
    pub buzzes: u32,
}
