//! What is done natively and in a browser alike, so that both can be compared.

use dusklens_core::draw::{Drawing, View};
use dusklens_core::pulse::{Settings, measure, table};
use dusklens_core::recording::{OpenOptions, Recording, Source};
use dusklens_core::teach::larkwater_fen;
use serde::{Deserialize, Serialize};

/// Samples of the Larkwater Fen survey that are compared: a fly-past, a feeding
/// buzz, and a file whose recorder lost its power.
const COMPARED: [&str; 3] = ["first-pass", "feeding-buzz", "power-lost"];

/// What came of a recording.
#[derive(Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct Outcome {
    /// The file's name.
    pub(crate) file: String,
    /// The table of its pulses, as printed.
    pub(crate) csv: String,
    /// Levels of views, decibels re full scale.
    pub(crate) levels_db: Vec<Vec<f32>>,
}

/// The files to compare, synthesised anew: the same bytes on every machine.
pub(crate) fn files() -> Vec<(String, Vec<u8>)> {
    larkwater_fen()
        .into_iter()
        .filter(|sample| COMPARED.iter().any(|name| sample.file.contains(name)))
        .map(|sample| (sample.file.clone(), sample.wav().unwrap()))
        .collect()
}

/// Measures and draws a recording.
pub(crate) fn outcome<S: Source>(file: &str, source: S) -> Outcome {
    let recording = Recording::open(source, &OpenOptions::default()).unwrap();
    let findings = measure(&recording, 0, &Settings::default()).unwrap();
    let whole = View {
        channel: 0,
        start_s: 0.0,
        end_s: recording.facts().duration_s,
        low_khz: 0.0,
        high_khz: recording.rate_hz() / 2000.0,
        width_px: 48,
        height_px: 32,
    };
    // Finer than the transform's own grid.
    let close = View {
        start_s: findings.pulses.first().map_or(0.1, |pulse| pulse.start_s),
        end_s: findings.pulses.first().map_or(0.11, |pulse| pulse.end_s),
        ..whole
    };
    Outcome {
        file: file.to_owned(),
        csv: table::csv([(file, &findings)]),
        levels_db: [whole, close]
            .iter()
            .map(|view| levels(&recording, view))
            .collect(),
    }
}

/// The levels of a view, rounded to hundredths of a decibel.
fn levels<S: Source>(recording: &Recording<S>, view: &View) -> Vec<f32> {
    let facts = recording.facts();
    let mut drawing = Drawing::new(view, facts.channels, facts.rate_hz, facts.frames).unwrap();
    let mut samples = Vec::new();
    while let Some(block) = drawing.next_block() {
        recording.read(0, block, &mut samples).unwrap();
        drawing.feed(&samples);
    }
    let levels = drawing.raster().levels_db().iter();
    levels
        .map(|level| (level * 100.0).round() / 100.0)
        .collect()
}

/// Asserts that an outcome is the expected one: pulses to the last printed
/// digit, levels within 0.01 dB (and the rounding of both).
pub(crate) fn assert_same(got: &Outcome, expected: &Outcome) {
    assert_eq!(got.file, expected.file);
    for (got, expected) in got.csv.lines().zip(expected.csv.lines()) {
        assert_eq!(got, expected);
    }
    assert_eq!(got.csv.lines().count(), expected.csv.lines().count());
    for (got, expected) in got.levels_db.iter().zip(&expected.levels_db) {
        assert_eq!(got.len(), expected.len());
        for (pixel, (got, expected)) in got.iter().zip(expected).enumerate() {
            // Far below the hiss of 16 bits, rounding in the transform itself shows.
            let tolerance = if *expected > -120.0 { 0.0201 } else { 1.0 };
            assert!(
                (got - expected).abs() <= tolerance,
                "pixel {pixel}: {got} for {expected} dB"
            );
        }
    }
}
