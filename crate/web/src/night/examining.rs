//! One file of a card, examined in steps.

use crate::file::Whole;
use crate::{BrowserFile, Problem, convert};
use dusklens_core::night::{Examination, ExamineOptions, FORM};
use dusklens_core::pulse::table;
use js_sys::Uint8Array;
use serde::Serialize;
use std::rc::Rc;
use tsify::Tsify;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;
use web_sys::Blob;

/// What is left of a file, to be kept by its content.
#[derive(Debug, Serialize, Tsify)]
pub struct ExaminedFile {
    /// SHA-256 of the file's content, 64 small hexadecimal digits.
    pub sha256: String,
    /// `Examined` as JSON: the page hands it on and never looks into it.
    pub examined: String,
    /// Its rows of the table of pulses, with an empty cell in place of the file's name.
    pub rows: String,
}

/// The examination of one file, from its first byte to its last.
#[wasm_bindgen]
pub struct ExaminingJob {
    examination: Option<Examination<BrowserFile>>,
    whole: Rc<Whole>,
}

#[wasm_bindgen]
impl ExaminingJob {
    /// Prepares to examine a file; nothing is read yet.
    ///
    /// # Errors
    /// [`Problem`] where this browser cannot read files here.
    #[wasm_bindgen(constructor)]
    pub fn new(
        file: Blob,
        #[wasm_bindgen(unchecked_param_type = "ExamineOptions")] options: JsValue,
    ) -> Result<ExaminingJob, Problem> {
        let options: ExamineOptions = convert::read(options)?;
        let file = BrowserFile::new(file).map_err(|_| Problem::no_reader())?;
        let whole = file.whole();
        Ok(Self {
            examination: Some(Examination::new(file, options)),
            whole,
        })
    }

    /// Takes all bytes of the file in, so that nothing is read from it any more.
    pub fn keep(&self, bytes: &Uint8Array) {
        self.whole.put(Some(bytes.to_vec()));
    }

    /// Tells the SHA-256 of the file's bytes, 64 small hexadecimal digits, where the browser has taken it. To be told before
    /// the first step.
    pub fn tell_hash(&mut self, sha256: &str) {
        if let Some(examination) = &mut self.examination {
            examination.tell_hash(sha256);
        }
    }

    /// Does a step of bounded work; returns whether it was the last.
    ///
    /// # Errors
    /// [`Problem`] where the file cannot be read any more.
    pub fn step(&mut self) -> Result<bool, Problem> {
        match &mut self.examination {
            Some(examination) => Ok(examination.step()?),
            None => Ok(true),
        }
    }

    /// The SHA-256 of the file's content once all of it is taken in, which is before anything is measured; `undefined`
    /// until then.
    #[wasm_bindgen(getter)]
    #[must_use]
    pub fn sha256(&self) -> Option<String> {
        self.examination.as_ref()?.sha256()
    }

    /// What is left of the file; `undefined` before the last step and once it was taken.
    ///
    /// # Errors
    /// [`Problem`] where it cannot be handed over.
    #[wasm_bindgen(unchecked_return_type = "ExaminedFile | undefined")]
    pub fn take(&mut self) -> Result<JsValue, Problem> {
        let Some(finished) = self.examination.take().and_then(Examination::into_finished) else {
            return Ok(JsValue::UNDEFINED);
        };
        convert::write(&ExaminedFile {
            sha256: finished.examined.sha256.clone(),
            examined: finished.examined.to_text().map_err(|_| Problem::unfit())?,
            rows: table::csv_rows("", &finished.findings),
        })
    }
}

/// The form that files are examined in: what was kept of another is of no use.
#[must_use]
#[wasm_bindgen(js_name = examinedForm)]
pub fn examined_form() -> u32 {
    FORM
}
