//! What is heard against scipy.signal (versions in the file; `tests/data/make_listening_reference.py` made it).

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use std::convert::Infallible;
use std::f64::consts::TAU;
use std::ops::Range;

use dusklens_core::listen::{Listening, ListeningSettings, Method};
use serde::Deserialize;

const RATE_HZ: f64 = 384_000.0;
const OUTPUT_HZ: u32 = 48_000;
const COUNT: usize = 76_800;

/// Largest difference: 74 dB below full scale, and 60 dB below these sounds. Both have a filter of their own, each with its
/// ripple.
const TOLERANCE: f64 = 2e-4;

#[derive(Deserialize)]
struct Reference {
    expansion_10: Part,
    heterodyne_42: Part,
    division_8: Part,
    division_8_sine: Part,
}

/// Every so many samples of a sound, from a place on.
#[derive(Deserialize)]
struct Part {
    frames: usize,
    first: usize,
    every: usize,
    values: Vec<f64>,
}

fn sweep(n: f64) -> f64 {
    0.2 * (TAU * (0.10 + 0.08 * n / COUNT as f64) * n).sin()
}

fn both(n: f64) -> f64 {
    sweep(n) + 0.1 * (TAU * 0.093 * n).sin()
}

fn heard(signal: fn(f64) -> f64, method: Method) -> Vec<f64> {
    let samples: Vec<f32> = (0..COUNT).map(|n| signal(n as f64) as f32).collect();
    let settings = ListeningSettings {
        method,
        start_s: 0.0,
        end_s: COUNT as f64 / RATE_HZ,
        looped: false,
        high_pass_khz: None,
        automatic_gain: false,
    };
    let mut listening = Listening::new(&settings, RATE_HZ, COUNT as u64, OUTPUT_HZ).unwrap();
    let (mut all, mut out) = (Vec::new(), Vec::new());
    let read = |range: Range<u64>, out: &mut Vec<f32>| {
        out.clear();
        out.extend_from_slice(&samples[range.start as usize..range.end as usize]);
        Ok::<(), Infallible>(())
    };
    while listening
        .next_piece(4800, read, &mut out)
        .unwrap()
        .is_some()
    {
        all.extend(out.iter().map(|&sample| f64::from(sample)));
    }
    all
}

fn reference() -> Reference {
    serde_json::from_str(include_str!("../data/listening_reference.json")).unwrap()
}

fn worst(sound: &[f64], part: &Part) -> f64 {
    assert_eq!(sound.len(), part.frames, "as long as scipy's");
    let got = sound[part.first..].iter().step_by(part.every);
    let differences = got.zip(&part.values).map(|(a, b)| (a - b).abs());
    differences.fold(0.0, f64::max)
}

#[test]
fn time_expansion_is_scipys_resampling() {
    let sound = heard(both, Method::Expansion { factor: 10.0 });
    let off = worst(&sound, &reference().expansion_10);
    assert!(off < TOLERANCE, "{off}");
}

#[test]
fn heterodyne_is_scipys_product_and_filter() {
    let method = Method::Heterodyne {
        tuning_khz: 42.0,
        bandwidth_khz: 5.0,
    };
    let off = worst(&heard(both, method), &reference().heterodyne_42);
    assert!(off < TOLERANCE, "{off}");
}

#[test]
fn division_is_scipys_divided_phase() {
    let sound = heard(sweep, Method::Division { factor: 8.0 });
    let Reference {
        division_8,
        division_8_sine,
        ..
    } = reference();
    // Divided by 8, a phase that is known but for whole turns is known but for eighths of a turn.
    let off = |eighths: i32| {
        let (sine, cosine) = (TAU * f64::from(eighths) / 8.0).sin_cos();
        let parts = division_8.values.iter().zip(&division_8_sine.values);
        let values = parts.map(|(a, b)| a * cosine - b * sine).collect();
        worst(
            &sound,
            &Part {
                values,
                ..division_8
            },
        )
    };
    let least = (0..8).map(off).fold(f64::MAX, f64::min);
    assert!(least < TOLERANCE, "{least}");
}
