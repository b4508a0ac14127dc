//! Something to practise on.

use dusklens_core::teach::wav::{WavSettings, encode};
use js_sys::Uint8Array;
use wasm_bindgen::prelude::wasm_bindgen;

const RATE_HZ: u32 = 500_000;
const SAMPLES_APART: u32 = RATE_HZ / 40;
/// Every other sweep is so late, samples: what is as even as clockwork is no bat's.
const LATE: u32 = RATE_HZ / 500;
const SWEEP_SAMPLES: f32 = 0.004 * RATE_HZ as f32;

/// A short made-up recording, as the bytes of a WAV file.
///
/// Browsers compile a function well only after it has run for a while. A worker
/// that has opened, drawn and measured this once is as quick with the person's
/// first recording as with the second.
#[wasm_bindgen]
#[must_use]
pub fn rehearsal() -> Uint8Array {
    Uint8Array::from(rehearsal_wav().as_slice())
}

fn rehearsal_wav() -> Vec<u8> {
    // So few samples fit into any WAV file; without them the rehearsal is left out.
    encode(&samples(), RATE_HZ, &WavSettings::default()).unwrap_or_default()
}

/// A second of hiss with forty sweeps of 4 ms from 80 to 40 kHz, and their second harmonics. The
/// synthesiser of the samples could make it too, but the page would carry that for this alone.
fn samples() -> Vec<f32> {
    // Knuth's MMIX congruential sequence.
    let mut state = 1u64;
    let mut cycles = 0.0f32;
    (0..RATE_HZ)
        .map(|n| {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            let hiss = 0.004 * ((state >> 40) as f32 / (1u64 << 23) as f32 - 1.0);
            let late = n / SAMPLES_APART % 2 * LATE;
            let share = ((n % SAMPLES_APART) as f32 - late as f32) / SWEEP_SAMPLES;
            if !(0.0..1.0).contains(&share) {
                return hiss;
            }
            cycles = (cycles + (80e3 - 40e3 * share) / RATE_HZ as f32).fract();
            let envelope = 4.0 * share * (1.0 - share);
            let phase = std::f32::consts::TAU * cycles;
            hiss + envelope * (0.3 * phase.sin() + 0.03 * (2.0 * phase).sin())
        })
        .collect()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed test may panic")]

    use super::*;
    use dusklens_core::pulse::{Settings, measure};
    use dusklens_core::recording::{OpenOptions, Recording};

    #[test]
    fn there_is_something_to_measure() {
        let recording = Recording::open(rehearsal_wav(), &OpenOptions::default()).unwrap();
        assert_eq!(recording.frames(), u64::from(RATE_HZ));
        let pulses = measure(&recording, 0, &Settings::default()).unwrap().pulses;
        assert!(pulses.len() >= 39, "{} of 40 sweeps", pulses.len());
    }
}
