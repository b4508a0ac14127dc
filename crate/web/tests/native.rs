//! Writes down what comes of recordings natively, for the browser to compare
//! with, and checks that this is still so.
//!
//! After a change that is meant to change results, write anew with
//! `DUSKLENS_WRITE=1 cargo test -p dusklens-web --test native`.

#![cfg(not(target_arch = "wasm32"))]
#![allow(clippy::unwrap_used, reason = "a failed test may panic")]

mod common;

use common::{Outcome, assert_same, files, outcome};
use std::{env, fs};

const EXPECTED: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/expected/native.json");

#[test]
fn outcomes_are_as_written_down() {
    let got: Vec<Outcome> = files()
        .iter()
        .map(|(file, bytes)| outcome(file, bytes.as_slice()))
        .collect();
    if env::var_os("DUSKLENS_WRITE").is_some() {
        fs::write(EXPECTED, serde_json::to_string(&got).unwrap()).unwrap();
    }
    let expected: Vec<Outcome> =
        serde_json::from_str(&fs::read_to_string(EXPECTED).unwrap()).unwrap();
    assert_eq!(got.len(), expected.len());
    assert_eq!(got.len(), 3);
    for (got, expected) in got.iter().zip(&expected) {
        assert_same(got, expected);
    }
}
