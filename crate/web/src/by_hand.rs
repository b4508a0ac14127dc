//! What a person marks, measured.

use crate::{OpenedFile, Problem, convert};
use dusklens_core::pulse::hand::table::{HandRow, SetAside, csv};
use dusklens_core::pulse::hand::{HandRequest, interval, measure_by_hand};
use dusklens_core::pulse::{Findings, Pulse, Settings};
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

#[wasm_bindgen]
impl OpenedFile {
    /// Measures what a person marked in a channel, counted from 0. It is one step of bounded work: a block of
    /// the recording is heard, as in one step of a [`crate::MeasuringJob`].
    ///
    /// # Errors
    /// [`Problem`] where what was given makes no sense, or the file cannot be read any more.
    #[wasm_bindgen(unchecked_return_type = "HandMeasurement")]
    pub fn measure_by_hand(
        &self,
        channel: u16,
        #[wasm_bindgen(unchecked_param_type = "HandRequest")] request: JsValue,
    ) -> Result<JsValue, Problem> {
        let request: HandRequest = convert::read(request)?;
        let recording = self.recording();
        let measured = measure_by_hand(recording, channel, &request, &Settings::default())?;
        convert::write(&measured)
    }
}

/// The interval between two pulses that a person chose, from the earlier to the later one.
///
/// # Errors
/// [`Problem`] where both begin at once.
#[wasm_bindgen(unchecked_return_type = "HandInterval")]
pub fn hand_interval(
    #[wasm_bindgen(unchecked_param_type = "Pulse")] one: JsValue,
    #[wasm_bindgen(unchecked_param_type = "Pulse")] other: JsValue,
) -> Result<JsValue, Problem> {
    let (one, other): (Pulse, Pulse) = (convert::read(one)?, convert::read(other)?);
    convert::write(&interval(&one, &other, &Settings::default())?)
}

/// The table of what was found and of what a person made of it; without hand entries the same text as the command
/// line writes. `file` is the recording's name.
///
/// # Errors
/// [`Problem`] where these are no findings or no entries.
#[wasm_bindgen]
pub fn csv_by_hand(
    file: &str,
    #[wasm_bindgen(unchecked_param_type = "Findings")] findings: JsValue,
    #[wasm_bindgen(unchecked_param_type = "HandRow[]")] rows: JsValue,
    #[wasm_bindgen(unchecked_param_type = "SetAside[]")] aside: JsValue,
) -> Result<String, Problem> {
    let findings: Findings = convert::read(findings)?;
    let rows: Vec<HandRow> = convert::read(rows)?;
    let aside: Vec<SetAside> = convert::read(aside)?;
    Ok(csv(file, &findings, &rows, &aside))
}
