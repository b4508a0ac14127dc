//! Pulses laid over one another.

use crate::{Problem, convert};
use dusklens_core::pulse::Pulse;
use dusklens_core::pulse::compare::{self, Alignment};
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

/// Lays pulses over one another: the median of their contours, how far their numbers spread, and which stand out.
///
/// # Errors
/// [`Problem`] where these are no pulses.
#[wasm_bindgen(unchecked_return_type = "Comparison")]
pub fn compare(
    #[wasm_bindgen(unchecked_param_type = "Pulse[]")] pulses: JsValue,
    #[wasm_bindgen(unchecked_param_type = "Alignment")] alignment: JsValue,
) -> Result<JsValue, Problem> {
    let pulses: Vec<Pulse> = convert::read(pulses)?;
    let alignment: Alignment = convert::read(alignment)?;
    convert::write(&compare::compare(&pulses, alignment))
}

/// What comes of laying pulses over one another as comma-separated values, a row a number.
///
/// # Errors
/// [`Problem`] where this is no comparison.
#[wasm_bindgen(js_name = spreadCsv)]
pub fn spread_csv(
    #[wasm_bindgen(unchecked_param_type = "Comparison")] comparison: JsValue,
) -> Result<String, Problem> {
    let comparison: compare::Comparison = convert::read(comparison)?;
    Ok(compare::csv(&comparison.spreads))
}
