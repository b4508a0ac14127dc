//! What a file is known by, step by step.

use crate::{BrowserFile, Problem};
use dusklens_core::recording::{ContentHash, Recording, Source};
use std::rc::Rc;
use wasm_bindgen::prelude::wasm_bindgen;

/// The taking of a file's hash, from its first byte to its last.
#[wasm_bindgen]
pub struct HashingJob {
    recording: Rc<Recording<BrowserFile>>,
    hash: ContentHash,
}

impl HashingJob {
    pub(crate) fn new(recording: Rc<Recording<BrowserFile>>) -> Self {
        Self {
            recording,
            hash: ContentHash::default(),
        }
    }
}

#[wasm_bindgen]
impl HashingJob {
    /// Does a step of bounded work; returns whether all is taken in.
    ///
    /// # Errors
    /// [`Problem`] where the file cannot be read any more.
    pub fn step(&mut self) -> Result<bool, Problem> {
        Ok(self.hash.step(self.recording.source())?)
    }

    /// How much of the file is taken in, 0 to 1.
    #[wasm_bindgen(getter)]
    #[must_use]
    pub fn done_fraction(&self) -> f64 {
        self.hash.done_bytes() as f64 / self.recording.source().len().max(1) as f64
    }

    /// The SHA-256 of what was taken in, as 64 small hexadecimal digits.
    #[wasm_bindgen(getter)]
    #[must_use]
    pub fn hex(&self) -> String {
        self.hash.hex()
    }
}
