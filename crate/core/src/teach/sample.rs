//! A sample recording: a scene with its story, its file and its truth.

use serde::{Deserialize, Serialize};

use super::wav::{self, WavSettings};
use super::{Scene, TruePulse};

/// A synthetic recording to be offered to newcomers.
#[derive(Debug, Clone, PartialEq)]
pub struct Sample {
    /// Name of the WAV file.
    pub file: String,
    /// A few words for a list.
    pub title: String,
    /// One plain sentence on what it holds.
    pub sentence: String,
    /// What it is made of.
    pub scene: Scene,
    /// Factor by which the file plays slower than life.
    pub expansion: u32,
    /// How the recorder closed the file.
    pub ending: Ending,
}

/// How a recorder closed a file.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Ending {
    /// Properly, with its metadata.
    Whole,
    /// Not at all: the power went after so many seconds, in the middle of a sample.
    PowerLost {
        /// Seconds that reached the card.
        kept_s: f64,
    },
}

/// What is true of a sample recording, as written beside it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SampleTruth {
    /// Name of the WAV file.
    pub file: String,
    /// Sampling rate at the microphone, hertz.
    pub rate_hz: u32,
    /// Real duration of what can be read, seconds.
    pub duration_s: f64,
    /// Factor by which the file plays slower than life.
    pub expansion: u32,
    /// Its pulses in order of time.
    pub pulses: Vec<TruePulse>,
}

impl Sample {
    /// The bytes of the WAV file.
    ///
    /// # Errors
    /// Fails where the scene is too long for a WAV file.
    pub fn wav(&self) -> Result<Vec<u8>, hound::Error> {
        let settings = WavSettings {
            expansion: self.expansion,
            metadata: self.metadata(),
        };
        let bytes = wav::encode(&self.scene.render(), self.scene.rate_hz, &settings)?;
        Ok(match self.ending {
            Ending::Whole => bytes,
            Ending::PowerLost { .. } => {
                let samples = self.kept().frames() * 2;
                // One byte of the next sample was written too.
                wav::cut_off(bytes, wav::HEADER_BYTES + samples + 1)
            }
        })
    }

    /// What is true of what can be read.
    pub fn truth(&self) -> SampleTruth {
        let kept = self.kept();
        let pulses = kept.truth(&kept.render());
        SampleTruth {
            file: self.file.clone(),
            rate_hz: kept.rate_hz,
            duration_s: kept.frames() as f64 / f64::from(kept.rate_hz),
            expansion: self.expansion,
            pulses,
        }
    }

    /// The part of the scene that reached the card.
    fn kept(&self) -> Scene {
        let mut scene = self.scene.clone();
        if let Ending::PowerLost { kept_s } = self.ending {
            scene.duration_s = scene.duration_s.min(kept_s);
            scene.calls.retain(|placed| placed.onset_s < kept_s);
        }
        scene
    }

    /// GUANO fields of an invented recorder at an invented place, out at sea where no
    /// roost can be.
    fn metadata(&self) -> Vec<(String, String)> {
        let minute = self.scene.seed % 60;
        let length_s = self.scene.frames() as f64 / f64::from(self.scene.rate_hz);
        [
            ("Timestamp", format!("2026-06-14T22:{minute:02}:05+01:00")),
            ("Make", "Reedmace Works (invented)".into()),
            ("Model", "Sedge 1".into()),
            ("Serial", "LF-0001".into()),
            ("Samplerate", self.scene.rate_hz.to_string()),
            ("TE", self.expansion.to_string()),
            ("Length", format!("{length_s}")),
            ("Loc Position", "53.20000 2.60000".into()),
            ("Temperature Ext", "14.5".into()),
            ("Humidity", "81".into()),
            ("Original Filename", self.file.clone()),
            (
                "Note",
                format!("Larkwater Fen survey, synthetic.\n{}", self.sentence),
            ),
            ("User|Observer", "Wren Alder (invented)".into()),
        ]
        .into_iter()
        .map(|(key, value)| (key.to_owned(), value))
        .collect()
    }
}
