//! The core starts where the page runs it: in a browser's worker.
#![cfg(target_arch = "wasm32")]

use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};

wasm_bindgen_test_configure!(run_in_dedicated_worker);

#[wasm_bindgen_test]
fn it_says_its_version() {
    assert_eq!(dusklens_web::version(), env!("CARGO_PKG_VERSION"));
}
