//! Power spectra against scipy.signal.periodogram and scipy.signal.welch (versions in the file;
//! `tests/data/make_power_spectrum_reference.py` made it).

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use std::f64::consts::TAU;

use dusklens_core::spectrum::{PowerMethod, PowerSpectrum};
use serde::Deserialize;

const RATE_HZ: f64 = 500_000.0;
/// Largest difference, decibels, where the level is within 80 dB of the largest. Below that lies the rounding of
/// 32-bit arithmetic.
const TOLERANCE_DB: f64 = 0.02;

#[derive(Deserialize)]
struct Reference {
    every: usize,
    cases: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    method: PowerMethod,
    count: u32,
    bin_hz: f64,
    bins: usize,
    largest_bin: usize,
    db: Vec<f64>,
}

/// The same samples as in the script.
fn samples(count: u32) -> Vec<f32> {
    (0..count)
        .map(|n| {
            let t = f64::from(n);
            let sweep = 0.4 * (TAU * (0.31 * t / f64::from(count) + 0.05) * t).sin();
            let tone = 0.1 * (TAU * 0.137 * t).sin();
            (sweep + tone + 0.01 * ((t * t) % 127.0) / 127.0) as f32
        })
        .collect()
}

#[test]
fn levels_are_scipys() {
    let text = include_str!("../data/power_spectrum_reference.json");
    let reference: Reference = serde_json::from_str(text).unwrap();
    assert_eq!(reference.cases.len(), 4);
    for case in reference.cases {
        let spectrum = PowerSpectrum::of(&samples(case.count), RATE_HZ).unwrap();
        assert_eq!(spectrum.method, case.method);
        assert!((spectrum.bin_hz - case.bin_hz).abs() < 1e-9);
        assert_eq!(spectrum.power.len(), case.bins);
        let got = spectrum.levels_db();
        let largest = (0..got.len())
            .max_by(|&a, &b| got[a].total_cmp(&got[b]))
            .unwrap();
        assert_eq!(
            largest, case.largest_bin,
            "{:?} of {}",
            case.method, case.count
        );
        let most = f64::from(got[largest]);
        let pairs = got.iter().step_by(reference.every).zip(&case.db);
        for (n, (&got, &want)) in pairs.enumerate() {
            let off = (f64::from(got) - want).abs();
            let relevant = want > most - 80.0;
            assert!(
                !relevant || off < TOLERANCE_DB,
                "{} bin {}: {got} dB, scipy {want}",
                case.count,
                n * reference.every
            );
        }
    }
}
