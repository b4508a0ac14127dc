//! Typed values across the boundary.

use crate::Problem;
use serde::Serialize;
use serde::de::DeserializeOwned;
use wasm_bindgen::JsValue;

/// A value from the page.
pub(crate) fn read<T: DeserializeOwned>(value: JsValue) -> Result<T, Problem> {
    Ok(serde_wasm_bindgen::from_value(value)?)
}

/// A value for the page.
pub(crate) fn write<T: Serialize + ?Sized>(value: &T) -> Result<JsValue, Problem> {
    Ok(serde_wasm_bindgen::to_value(value)?)
}
