//! One file of a night as planned: what it holds and how it was written.

use serde::{Deserialize, Serialize};

use super::{Animal, Renderer, clock};
use crate::teach::Placed;
use crate::teach::wav::{self, WavSettings};

/// The recorder's serial.
pub(super) const SERIAL: &str = "FEN-07";
/// The fen's invented position, out at sea where no roost can be: degrees north and east.
pub(super) const POSITION_DEG: (f64, f64) = (53.2, 2.6);

/// A file that will lie on the card.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PlannedFile {
    /// Path from the card's folder, with slashes.
    pub path: String,
    /// What is in it.
    pub content: Content,
}

/// What is in a file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Content {
    /// A recording, whole or spoilt.
    Recording(Box<PlannedRecording>),
    /// Text.
    Text(String),
    /// So many bytes that begin as a JPEG picture does and go on at random.
    Picture {
        /// Seed of the bytes.
        seed: u64,
        /// How many.
        bytes: usize,
    },
}

/// A recording as planned.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PlannedRecording {
    /// When it really starts: seconds since the midnight before the evening.
    pub start_s: i64,
    /// When it starts by the recorder's clock, in the same seconds.
    pub written_s: i64,
    /// Sampling rate, hertz.
    pub rate_hz: u32,
    /// Length, seconds.
    pub duration_s: f64,
    /// Corner of the recorder's high-pass, kilohertz.
    pub high_pass_khz: f64,
    /// Temperature within the recorder, degrees Celsius.
    pub temperature_c: f64,
    /// Seed of everything random in it.
    pub seed: u64,
    /// What is heard besides hiss.
    pub sound: Sound,
    /// How much louder than usual it is heard, decibels.
    pub sound_gain_db: f64,
    /// How much louder than usual the hiss is, decibels.
    pub hiss_gain_db: f64,
    /// What the microphone loses above 40 kHz, decibels.
    pub microphone_loss_db: f64,
    /// Whether a tone of electronics is heard.
    pub tone: bool,
    /// How the file was closed.
    pub ending: Ending,
}

/// What is heard besides hiss.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Sound {
    /// Animals that fly past, or call once.
    Bats(Vec<Animal>),
    /// A shower.
    Rain,
    /// Bush crickets.
    Insects,
    /// Wind.
    Wind,
    /// Nothing.
    Nothing,
    /// Hands on the recorder.
    Handling,
}

/// How a file was closed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Ending {
    /// Properly, with its metadata.
    Whole,
    /// Not at all: so many seconds reached the card, and no metadata.
    CutOff {
        /// Seconds that reached the card.
        kept_s: f64,
    },
    /// Not one byte reached the card.
    Empty,
}

impl PlannedFile {
    /// The bytes of the file.
    ///
    /// # Errors
    /// Fails where a recording is too long for a WAV file.
    pub fn render(&self, renderer: &mut Renderer) -> Result<Vec<u8>, hound::Error> {
        match &self.content {
            Content::Recording(recording) => recording.wav(renderer),
            Content::Text(text) => Ok(text.clone().into_bytes()),
            Content::Picture { seed, bytes } => Ok(super::leftovers::picture(*seed, *bytes)),
        }
    }

    /// The recording that it holds; none for what only lies among them.
    pub fn recording(&self) -> Option<&PlannedRecording> {
        match &self.content {
            Content::Recording(recording) => Some(recording),
            Content::Text(_) | Content::Picture { .. } => None,
        }
    }
}

impl PlannedRecording {
    /// Number of samples before it is cut off.
    pub fn frames(&self) -> usize {
        (self.duration_s * f64::from(self.rate_hz)).round() as usize
    }

    /// Seconds that reached the card.
    pub fn kept_s(&self) -> f64 {
        match self.ending {
            Ending::Whole => self.duration_s,
            Ending::CutOff { kept_s } => kept_s.min(self.duration_s),
            Ending::Empty => 0.0,
        }
    }

    /// The calls of each animal in it, as loud as they are recorded, cut off or not.
    pub fn calls(&self) -> Vec<Vec<Placed>> {
        let Sound::Bats(animals) = &self.sound else {
            return Vec::new();
        };
        let louder = |mut placed: Placed| {
            placed.level_db += self.sound_gain_db;
            placed
        };
        let calls = animals.iter().map(|animal| animal.flight.calls(self.seed));
        calls
            .map(|calls| calls.into_iter().map(louder).collect())
            .collect()
    }

    fn wav(&self, renderer: &mut Renderer) -> Result<Vec<u8>, hound::Error> {
        if self.ending == Ending::Empty {
            return Ok(Vec::new());
        }
        let settings = WavSettings {
            expansion: 1,
            metadata: self.metadata(),
        };
        let bytes = wav::encode(renderer.samples(self), self.rate_hz, &settings)?;
        Ok(match self.ending {
            Ending::CutOff { .. } => {
                let frames = (self.kept_s() * f64::from(self.rate_hz)).round() as usize;
                wav::cut_off(bytes, wav::HEADER_BYTES + 2 * frames)
            }
            Ending::Whole | Ending::Empty => bytes,
        })
    }

    /// Its name, from the recorder's clock.
    pub(super) fn name(&self) -> String {
        format!("{SERIAL}_{}.wav", clock::name(self.written_s))
    }

    /// Its path: a folder for the recorder, one for the night, and its name.
    pub(super) fn path(&self) -> String {
        let night = clock::night(self.written_s);
        format!("{SERIAL}/NIGHT_{night}/{}", self.name())
    }

    fn metadata(&self) -> Vec<(String, String)> {
        let length_s = self.frames() as f64 / f64::from(self.rate_hz);
        let (north_deg, east_deg) = POSITION_DEG;
        let fields: [(&str, String); 11] = [
            ("Timestamp", clock::stamp(self.written_s)),
            ("Make", "Reedmace Works (invented)".into()),
            ("Model", "Sedge 1".into()),
            ("Serial", SERIAL.into()),
            ("Samplerate", self.rate_hz.to_string()),
            ("Length", format!("{length_s}")),
            ("Filter HP", format!("{:.1}", self.high_pass_khz)),
            ("Loc Position", format!("{north_deg:.5} {east_deg:.5}")),
            ("Temperature Int", format!("{:.1}", self.temperature_c)),
            ("Original Filename", self.name()),
            ("Note", "Larkwater Fen survey, synthetic.".into()),
        ];
        let fields = fields.into_iter();
        fields.map(|(key, value)| (key.to_owned(), value)).collect()
    }
}
