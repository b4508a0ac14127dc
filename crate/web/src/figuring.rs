//! Figures, step by step, and tables to take along.

use crate::channel::Channel;
use crate::{OpenedFile, Problem, convert};
use dusklens_core::draw::{self, Figure, FigureFrame, FigureSound, FigureStyle, Subject};
use dusklens_core::pulse::{Settings, about};
use dusklens_core::recording::Facts;
use js_sys::Uint8Array;
use std::rc::Rc;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

/// A figure in the making. Once done it can be written again with other colours and words at little cost.
#[wasm_bindgen]
pub struct FigureJob {
    channel: Channel,
    figure: Figure,
}

#[wasm_bindgen]
impl OpenedFile {
    /// Begins a figure.
    ///
    /// # Errors
    /// [`Problem`] where it cannot be drawn.
    pub fn figure(
        &self,
        #[wasm_bindgen(unchecked_param_type = "FigureFrame")] frame: JsValue,
    ) -> Result<FigureJob, Problem> {
        let frame: FigureFrame = convert::read(frame)?;
        let recording = Rc::clone(self.recording());
        Ok(FigureJob {
            figure: Figure::new(&frame, recording.facts())?,
            channel: Channel::new(recording, frame.channel),
        })
    }
}

#[wasm_bindgen]
impl FigureJob {
    /// Does a step of bounded work; returns whether all is drawn.
    ///
    /// # Errors
    /// [`Problem`] where the file cannot be read any more.
    pub fn step(&mut self) -> Result<bool, Problem> {
        let Some(block) = self.figure.next_block() else {
            return Ok(true);
        };
        self.figure.feed(self.channel.read(block)?);
        Ok(self.figure.next_block().is_none())
    }

    /// How much is done, 0 to 1.
    #[wasm_bindgen(getter)]
    #[must_use]
    pub fn done_fraction(&self) -> f64 {
        self.figure.done_fraction()
    }

    /// The figure as SVG. `file` is the recording's name.
    ///
    /// # Errors
    /// [`Problem`] where the look makes no sense.
    pub fn svg(
        &self,
        file: &str,
        #[wasm_bindgen(unchecked_param_type = "FigureStyle")] style: JsValue,
        #[wasm_bindgen(unchecked_param_type = "FigureSound[]")] sounds: JsValue,
    ) -> Result<String, Problem> {
        let style: FigureStyle = convert::read(style)?;
        let sounds: Vec<FigureSound> = convert::read(sounds)?;
        let subject = Subject {
            file,
            facts: self.channel.recording().facts(),
            sounds: &sounds,
        };
        Ok(self.figure.svg(&style, &subject)?)
    }
}

/// A PNG file that says its resolution, in dots per inch.
#[wasm_bindgen]
#[must_use]
pub fn png_with_resolution(png: &[u8], dpi: f64) -> Uint8Array {
    Uint8Array::from(draw::with_resolution(png, dpi).as_slice())
}

/// How was measured, without a word of a recording.
#[wasm_bindgen]
#[must_use]
pub fn about_method() -> Vec<String> {
    about::method_in_words(&Settings::default())
}

/// A recording's table of comma-separated values with lines before it that say what its columns mean, what was
/// measured and how. `channel` is counted from 0.
///
/// # Errors
/// [`Problem`] where these are no facts.
#[wasm_bindgen]
pub fn csv_with_about(
    csv: &str,
    file: &str,
    #[wasm_bindgen(unchecked_param_type = "Facts")] facts: JsValue,
    channel: u16,
) -> Result<String, Problem> {
    let facts: Facts = convert::read(facts)?;
    Ok(about::with_about(
        csv,
        file,
        &facts,
        channel,
        &Settings::default(),
    ))
}

/// What a table of a recording says before its columns, a line each: for a printed record.
///
/// # Errors
/// [`Problem`] where these are no facts.
#[wasm_bindgen]
pub fn about_measuring(
    file: &str,
    #[wasm_bindgen(unchecked_param_type = "Facts")] facts: JsValue,
    channel: u16,
) -> Result<Vec<String>, Problem> {
    let facts: Facts = convert::read(facts)?;
    Ok(about::in_words(file, &facts, channel, &Settings::default()))
}

/// A table of comma-separated values with tabs between its cells, as spreadsheets take it from the clipboard.
#[wasm_bindgen]
#[must_use]
pub fn tabbed(csv: &str) -> String {
    about::tabbed(csv)
}
