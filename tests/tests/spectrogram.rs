//! Levels of the short-time Fourier transform against scipy.signal.spectrogram
//! (versions in the file; `tests/data/make_spectrogram_reference.py` made it).

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use std::f64::consts::TAU;

use dusklens_core::spectrum::{Stft, StftSettings, Window, to_db};
use serde::Deserialize;

/// Largest difference, decibels, where the level is within 80 dB of the frame's
/// largest. Below that lies the rounding of 32-bit arithmetic.
const TOLERANCE_DB: f64 = 0.01;

#[derive(Deserialize)]
struct Reference {
    cases: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    window: Window,
    length: usize,
    hop: usize,
    padded: usize,
    frames: usize,
    checked: Vec<Frame>,
}

#[derive(Deserialize)]
struct Frame {
    frame: usize,
    db: Vec<f64>,
}

/// The same samples as in the script.
fn samples() -> Vec<f32> {
    let count = 6000;
    (0..count)
        .map(|n| {
            let t = f64::from(n);
            let sweep = 0.5 * (TAU * (0.31 * t / f64::from(count) + 0.05) * t).sin();
            (sweep + 0.01 * ((t * t) % 127.0) / 127.0) as f32
        })
        .collect()
}

#[test]
fn levels_are_scipys() {
    let text = include_str!("../data/spectrogram_reference.json");
    let reference: Reference = serde_json::from_str(text).unwrap();
    assert_eq!(reference.cases.len(), 5, "every window once");
    for case in reference.cases {
        let mut stft = Stft::new(&StftSettings {
            window: case.window,
            length: case.length,
            hop: case.hop,
            padded: case.padded,
        })
        .unwrap();
        let mut powers = Vec::new();
        assert_eq!(
            stft.powers(&samples(), &mut powers),
            case.frames,
            "{:?}",
            case.window
        );
        for checked in case.checked {
            let row = &powers[checked.frame * stft.bins()..][..stft.bins()];
            let largest = checked.db.iter().fold(f64::MIN, |a, &b| a.max(b));
            for (bin, (&power, &want)) in row.iter().zip(&checked.db).enumerate() {
                let got = f64::from(to_db(power));
                let relevant = want > largest - 80.0;
                assert!(
                    !relevant || (got - want).abs() < TOLERANCE_DB,
                    "{:?} frame {} bin {bin}: {got:.4} dB, scipy {want:.4}",
                    case.window,
                    checked.frame
                );
            }
        }
    }
}
