//! Whole files, built by hand from the standards, through the door that everybody uses.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test may stop at the first surprise"
)]

mod broken;
mod build;
mod copies;
mod layouts;
mod lengths;
mod metadata;
mod properties;
mod seeds;

use super::{Facts, OpenOptions, ReadError, Recording};

/// Opens bytes as the page does.
fn open(bytes: Vec<u8>) -> Result<Recording<Vec<u8>>, ReadError> {
    Recording::open(bytes, &OpenOptions::default())
}

/// All samples of the first channel.
fn samples(bytes: Vec<u8>) -> Vec<f32> {
    channel(bytes, 0)
}

/// All samples of a channel, counted from 0.
fn channel(bytes: Vec<u8>, channel: u16) -> Vec<f32> {
    let recording = open(bytes).expect("the file opens");
    let mut samples = Vec::new();
    recording
        .read(channel, 0..u64::MAX, &mut samples)
        .expect("the samples are there");
    samples
}

fn facts(bytes: Vec<u8>) -> Facts {
    open(bytes).expect("the file opens").facts().clone()
}

/// The error that a file gives.
fn error(bytes: Vec<u8>) -> ReadError {
    open(bytes).expect_err("the file is refused")
}

/// Whether one notice says all of these.
fn says(facts: &Facts, words: &[&str]) -> bool {
    facts
        .notices
        .iter()
        .any(|notice| words.iter().all(|word| notice.text.contains(word)))
}
