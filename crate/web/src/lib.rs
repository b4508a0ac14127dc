//! The page's door into the core.

use wasm_bindgen::prelude::wasm_bindgen;

/// The version of Dusklens, such as `0.1.0`.
#[must_use]
#[wasm_bindgen]
pub fn version() -> String {
    env!("CARGO_PKG_VERSION").to_owned()
}
