//! Listening, piece by piece, and the file of what is heard.

use crate::{BrowserFile, OpenedFile, Problem, convert};
use dusklens_core::listen::{Listening, ListeningSettings, Origin, Piece, WaveFile};
use dusklens_core::recording::Recording;
use js_sys::{Float32Array, Uint8Array};
use serde::Serialize;
use std::rc::Rc;
use tsify::Tsify;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

/// What a piece of sound is of.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Tsify)]
pub struct PieceFacts {
    /// The moment of the recording that its first sample is from, seconds.
    pub start_s: f64,
    /// The moment that the sample after its last is from, seconds; in between, time runs evenly.
    pub end_s: f64,
    /// Whether it is the silence between two rounds of a loop.
    pub resting: bool,
}

impl From<Piece> for PieceFacts {
    fn from(piece: Piece) -> Self {
        Self {
            start_s: piece.start_s,
            end_s: piece.end_s,
            resting: piece.resting,
        }
    }
}

/// A channel of a recording, on its way to somebody's ears.
#[wasm_bindgen]
pub struct ListeningJob {
    recording: Rc<Recording<BrowserFile>>,
    channel: u16,
    listening: Listening,
    samples: Vec<f32>,
}

#[wasm_bindgen]
impl ListeningJob {
    /// Prepares to hear a channel as the settings say, at the loudspeaker's rate, hertz.
    ///
    /// # Errors
    /// [`Problem`] where the settings cannot be met in this recording.
    #[wasm_bindgen(constructor)]
    pub fn new(
        opened: &OpenedFile,
        channel: u16,
        #[wasm_bindgen(unchecked_param_type = "ListeningSettings")] settings: JsValue,
        output_hz: u32,
    ) -> Result<ListeningJob, Problem> {
        let settings: ListeningSettings = convert::read(settings)?;
        let recording = Rc::clone(opened.recording());
        let listening = Listening::new(
            &settings,
            recording.rate_hz(),
            recording.frames(),
            output_hz,
        )?;
        Ok(Self {
            recording,
            channel,
            listening,
            samples: Vec::new(),
        })
    }

    /// Makes the next piece of at most `most` samples; `undefined` where it is over.
    ///
    /// # Errors
    /// [`Problem`] where the file cannot be read any more.
    #[wasm_bindgen(unchecked_return_type = "PieceFacts | undefined")]
    pub fn next(&mut self, most: u32) -> Result<JsValue, Problem> {
        let (recording, channel) = (&self.recording, self.channel);
        let read = |range, out: &mut Vec<f32>| recording.read(channel, range, out);
        let most = usize::try_from(most).unwrap_or(usize::MAX);
        match self.listening.next_piece(most, read, &mut self.samples)? {
            Some(piece) => convert::write(&PieceFacts::from(piece)),
            None => Ok(JsValue::UNDEFINED),
        }
    }

    /// The samples of the last piece, in a buffer of their own that can be handed on.
    #[must_use]
    pub fn samples(&self) -> Float32Array {
        Float32Array::from(self.samples.as_slice())
    }

    /// Tunes a heterodyne anew, kilohertz, from the next piece on.
    pub fn tune(&mut self, tuning_khz: f64) {
        self.listening.tune(tuning_khz);
    }
}

/// The making of a WAV file of what is heard.
#[wasm_bindgen]
pub struct WaveFileJob {
    recording: Rc<Recording<BrowserFile>>,
    channel: u16,
    file: WaveFile,
}

#[wasm_bindgen]
impl WaveFileJob {
    /// Prepares the file; `name` is the recording's, and stands in the metadata.
    ///
    /// # Errors
    /// [`Problem`] where the settings cannot be met in this recording, or the file would be too long.
    #[wasm_bindgen(constructor)]
    pub fn new(
        opened: &OpenedFile,
        channel: u16,
        #[wasm_bindgen(unchecked_param_type = "ListeningSettings")] settings: JsValue,
        output_hz: u32,
        name: &str,
    ) -> Result<WaveFileJob, Problem> {
        let settings: ListeningSettings = convert::read(settings)?;
        let recording = Rc::clone(opened.recording());
        let origin = Origin {
            file: name.to_owned(),
            channel,
            program: format!("Dusklens {}", env!("CARGO_PKG_VERSION")),
        };
        let file = WaveFile::new(
            &settings,
            recording.rate_hz(),
            recording.frames(),
            output_hz,
            &origin,
        )?;
        Ok(Self {
            recording,
            channel,
            file,
        })
    }

    /// Does a step of bounded work; returns whether all is made.
    ///
    /// # Errors
    /// [`Problem`] where the file cannot be read any more.
    pub fn step(&mut self) -> Result<bool, Problem> {
        let (recording, channel) = (&self.recording, self.channel);
        let read = |range, out: &mut Vec<f32>| recording.read(channel, range, out);
        Ok(self.file.step(read)?)
    }

    /// How much of it is made, 0 to 1.
    #[wasm_bindgen(getter)]
    #[must_use]
    pub fn done_fraction(&self) -> f64 {
        self.file.done_fraction()
    }

    /// Takes away the bytes after the header that were made since the last time.
    pub fn take_bytes(&mut self) -> Uint8Array {
        Uint8Array::from(self.file.take_bytes().as_slice())
    }

    /// The header, right once all is made.
    #[must_use]
    pub fn header(&self) -> Uint8Array {
        Uint8Array::from(self.file.header().as_slice())
    }
}
