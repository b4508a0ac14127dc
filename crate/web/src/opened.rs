//! A recording that the person opened.

use crate::file::Whole;
use crate::{BrowserFile, CopyPlan, DrawingJob, HashingJob, MeasuringJob, Problem, convert};
use dusklens_core::recording::{Label, OpenOptions, Recording};
use js_sys::Uint8Array;
use std::rc::Rc;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;
use web_sys::Blob;

/// A recording that the person opened.
#[wasm_bindgen]
pub struct OpenedFile {
    recording: Rc<Recording<BrowserFile>>,
    whole: Rc<Whole>,
}

impl OpenedFile {
    pub(crate) fn recording(&self) -> &Rc<Recording<BrowserFile>> {
        &self.recording
    }
}

#[wasm_bindgen]
impl OpenedFile {
    /// Reads the headers of a file. `expansion` is the time expansion as the
    /// person knows it; `undefined` leaves it to the file.
    ///
    /// # Errors
    /// [`Problem`] where it is no recording that can be read.
    #[wasm_bindgen(constructor)]
    pub fn new(file: Blob, expansion: Option<f64>) -> Result<OpenedFile, Problem> {
        let file = BrowserFile::new(file).map_err(|_| Problem::no_reader())?;
        let whole = file.whole();
        let recording = Recording::open(file, &OpenOptions { expansion })?;
        Ok(Self {
            recording: Rc::new(recording),
            whole,
        })
    }

    /// What the recording says of itself.
    ///
    /// # Errors
    /// [`Problem`] where it cannot be handed over.
    #[wasm_bindgen(unchecked_return_type = "Facts")]
    pub fn facts(&self) -> Result<JsValue, Problem> {
        convert::write(self.recording.facts())
    }

    /// Takes all bytes of the file in, so that nothing is read from it any
    /// more; `undefined` lets go of them. Bytes that are not as many as the file
    /// has are not taken.
    pub fn keep(&self, bytes: Option<Uint8Array>) {
        self.whole.put(bytes.map(|bytes| bytes.to_vec()));
    }

    /// Begins a picture.
    ///
    /// # Errors
    /// [`Problem`] where the view cannot be drawn.
    pub fn draw(
        &self,
        #[wasm_bindgen(unchecked_param_type = "View")] view: JsValue,
    ) -> Result<DrawingJob, Problem> {
        DrawingJob::new(Rc::clone(&self.recording), &convert::read(view)?)
    }

    /// Begins to measure a channel, counted from 0.
    ///
    /// # Errors
    /// [`Problem`] where there is no such channel.
    pub fn measure(&self, channel: u16) -> Result<MeasuringJob, Problem> {
        MeasuringJob::new(Rc::clone(&self.recording), channel)
    }

    /// Begins to take the hash of the file's content.
    #[must_use]
    pub fn hash(&self) -> HashingJob {
        HashingJob::new(Rc::clone(&self.recording))
    }

    /// Plans a copy of the file that carries these labels in its metadata.
    ///
    /// # Errors
    /// [`Problem`] where the file's structure allows no copy, or it cannot be read any more.
    #[wasm_bindgen(unchecked_return_type = "CopyPlan")]
    pub fn labelled_copy(
        &self,
        #[wasm_bindgen(unchecked_param_type = "Label[]")] labels: JsValue,
    ) -> Result<JsValue, Problem> {
        let labels: Vec<Label> = convert::read(labels)?;
        let copy = self
            .recording
            .labelled_copy(&labels, env!("CARGO_PKG_VERSION"))?;
        convert::write(&CopyPlan::from(copy))
    }
}
