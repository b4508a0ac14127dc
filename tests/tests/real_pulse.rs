//! The one real animal: a pulse of *Eptesicus fuscus*, 400 samples 7 us apart.
//!
//! Thanks to Curtis Condon, Ken White and Al Feng of the Beckman Institute of
//! the University of Illinois for the bat data and for permission to use it. It
//! comes with an open time-frequency toolbox and carries no licence of its own,
//! so it is not part of this project: the test looks for it in
//! `tests/reference/local/big_brown_bat_pulse.txt` (one sample a line) and says
//! so where it is missing.
//!
//! Reference values were computed with scipy 1.17: the envelope is the absolute
//! Hilbert transform with the mean removed, the harmonics are the maxima of a
//! short-time Fourier transform with a centred Hann window of 64 samples.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]
#![allow(clippy::print_stderr, reason = "a test that does not run says so")]

use std::path::PathBuf;

use dusklens_core::pulse::{Pulse, Settings, measure};
use dusklens_core::recording::{OpenOptions, Recording};

/// 7 us from sample to sample.
const RATE_HZ: f64 = 1e6 / 7.0;
/// Silence before and after the pulse, samples: a recorder's file is longer
/// than its pulse.
const SILENCE: usize = 30_000;

/// White noise between -1 and 1, the same on every call.
fn hiss() -> impl Iterator<Item = f32> {
    let mut state = 1u32;
    std::iter::repeat_with(move || {
        // Numerical Recipes' linear congruential generator: plain, and the same everywhere.
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (f64::from(state) / f64::from(1u32 << 31) - 1.0) as f32
    })
}

/// The pulse in a 32-bit float WAV of its own, with hiss of an amplitude before,
/// under and after it; the pulse's largest sample is 1.
fn wav(samples: &[f32], amplitude: f32) -> Vec<u8> {
    let largest = samples.iter().fold(0f32, |a, s| a.max(s.abs()));
    let mut bytes = std::io::Cursor::new(Vec::new());
    let spec = hound::WavSpec {
        channels: 1,
        sample_rate: RATE_HZ.round() as u32,
        bits_per_sample: 32,
        sample_format: hound::SampleFormat::Float,
    };
    let mut writer = hound::WavWriter::new(&mut bytes, spec).unwrap();
    let silence = std::iter::repeat_n(0f32, SILENCE);
    let quiet = silence
        .clone()
        .chain(samples.iter().copied())
        .chain(silence);
    for (sample, hiss) in quiet.zip(hiss()) {
        let sample = sample / largest + hiss * amplitude;
        writer.write_sample(sample * 0.5).unwrap();
    }
    writer.finalize().unwrap();
    bytes.into_inner()
}

/// What is measured in it in silence and in hiss up to 40 dB below its largest
/// sample; nothing where the recording is not at hand.
fn measured() -> Vec<Vec<Pulse>> {
    let path =
        PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("reference/local/big_brown_bat_pulse.txt");
    let Ok(text) = std::fs::read_to_string(&path) else {
        eprintln!(
            "NOT RUN: the real pulse is not at hand; put it at {}",
            path.display()
        );
        return Vec::new();
    };
    let samples: Vec<f32> = text
        .lines()
        .filter_map(|line| line.trim().parse().ok())
        .collect();
    assert_eq!(samples.len(), 400);
    [0.0, 0.0003, 0.001, 0.003, 0.01]
        .into_iter()
        .map(|amplitude| {
            let bytes = wav(&samples, amplitude);
            let recording = Recording::open(bytes, &OpenOptions::default()).unwrap();
            measure(&recording, 0, &Settings::default()).unwrap().pulses
        })
        .collect()
}

/// The contour at a time in milliseconds from the recording's own beginning.
fn contour_at(pulse: &Pulse, ms: f64) -> f64 {
    let at_s = SILENCE as f64 / RATE_HZ + ms * 1e-3;
    let step = (at_s - pulse.contour.start_s) / pulse.contour.step_s;
    f64::from(pulse.contour.khz[step.round() as usize])
}

#[test]
fn three_harmonics_are_one_pulse_with_the_right_edges() {
    for pulses in measured() {
        assert_eq!(pulses.len(), 1, "{pulses:?}");
        let pulse = &pulses[0];
        // Envelope at -20 dB: from 0.154 to 2.450 ms, 2.30 ms.
        let start_ms = (pulse.start_s - SILENCE as f64 / RATE_HZ) * 1e3;
        let duration_ms = pulse.duration_ms;
        assert!((start_ms - 0.154).abs() < 0.15, "start {start_ms:.3} ms");
        assert!((duration_ms - 2.30).abs() < 0.15, "{duration_ms:.3} ms");
        // Peak of the whole spectrum: 35.2 kHz without a window, 37.5 kHz with a Hann window.
        assert!((35.0..38.0).contains(&pulse.peak_khz), "{}", pulse.peak_khz);
    }
}

#[test]
fn the_contour_stays_on_the_fundamental_where_a_harmonic_is_louder() {
    let first_harmonic = [
        (0.49, 29.9),
        (0.77, 25.7),
        (1.05, 22.8),
        (1.26, 21.2),
        (1.47, 19.3),
        (1.61, 18.1),
        (1.89, 15.9),
    ];
    for pulses in measured() {
        for (ms, khz) in first_harmonic {
            let got = contour_at(&pulses[0], ms);
            let off = (got - khz).abs();
            assert!(off < 1.5, "{got:.1} kHz at {ms} ms, reference {khz}");
        }
        let multiples: Vec<u32> = pulses[0].harmonics.iter().map(|h| h.multiple).collect();
        assert!(multiples.starts_with(&[1, 2]), "{multiples:?}");
    }
}

#[test]
fn nothing_else_crosses_it_and_its_contour_makes_no_jumps() {
    for pulses in measured() {
        let pulse = &pulses[0];
        assert!(pulse.flags.is_empty(), "{:?}", pulse.flags);
        let step_ms = pulse.contour.step_s * 1e3;
        for (n, pair) in pulse.contour.khz.windows(2).enumerate() {
            // The steepest sweeps of bats: 60 kHz/ms (common practice).
            let slope = f64::from((pair[1] - pair[0]).abs()) / step_ms;
            assert!(slope < 60.0, "{slope:.0} kHz/ms at step {n}: {pair:?}");
        }
    }
}
