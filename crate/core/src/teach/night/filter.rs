//! The recorder's high-pass, and a microphone that loses its high frequencies.

use std::f64::consts::{PI, SQRT_2, TAU};

/// Above it a failing microphone loses, kilohertz.
const KNEE_KHZ: f64 = 40.0;
/// Half the width in which the loss sets in, kilohertz.
const SLOPE_KHZ: f64 = 3.0;
/// Taps of the filter that parts low from high, odd.
const TAPS: usize = 127;
/// Samples that are filtered at a time, so that they stay near the processor.
const CHUNK: usize = 4096;

/// A second-order Butterworth high-pass by the bilinear transform.
pub(super) fn high_pass(samples: &mut [f32], rate_hz: f64, corner_khz: f64) {
    let tan = libm::tan(PI * corner_khz * 1e3 / rate_hz);
    let scale = 1.0 / (1.0 + SQRT_2 * tan + tan * tan);
    let back = [
        (2.0 * (tan * tan - 1.0) * scale) as f32,
        ((1.0 - SQRT_2 * tan + tan * tan) * scale) as f32,
    ];
    let scale = scale as f32;
    let (mut first, mut second) = (0.0_f32, 0.0_f32);
    for sample in samples {
        let input = *sample;
        let output = scale * input + first;
        first = -2.0 * scale * input - back[0] * output + second;
        second = scale * input - back[1] * output;
        *sample = output;
    }
}

/// Takes so many decibels of everything above 40 kHz; `spare` is room to work in.
pub(super) fn lose_high(samples: &mut [f32], rate_hz: f64, loss_db: f64, spare: &mut Vec<f32>) {
    let left = left(loss_db) as f32;
    let taps = low_pass(rate_hz);
    // What is heard, with as much silence on either side as the filter reaches.
    spare.clear();
    spare.resize(TAPS / 2, 0.0);
    spare.extend_from_slice(samples);
    spare.resize(samples.len() + TAPS - 1, 0.0);
    let mut low = [0.0_f32; CHUNK];
    for (number, chunk) in samples.chunks_mut(CHUNK).enumerate() {
        let low = low.get_mut(..chunk.len()).unwrap_or_default();
        low.fill(0.0);
        for (lag, tap) in taps.iter().enumerate() {
            let from = number * CHUNK + lag;
            let heard = spare.get(from..from + low.len()).unwrap_or_default();
            for (sum, sample) in low.iter_mut().zip(heard) {
                *sum += tap * sample;
            }
        }
        for (sample, low) in chunk.iter_mut().zip(low.iter()) {
            *sample = left * *sample + (1.0 - left) * low;
        }
    }
}

/// What is left of a tone's level, decibels re what it was.
pub(super) fn left_of_tone_db(khz: f64, loss_db: f64) -> f64 {
    let low = ((KNEE_KHZ + SLOPE_KHZ - khz) / (2.0 * SLOPE_KHZ)).clamp(0.0, 1.0);
    let left = left(loss_db);
    20.0 * libm::log10(left + (1.0 - left) * low)
}

fn left(loss_db: f64) -> f64 {
    libm::exp10(-loss_db / 20.0)
}

/// A low-pass at the knee: a sinc under a Hann window, of unit gain at 0 Hz.
fn low_pass(rate_hz: f64) -> Vec<f32> {
    let turn = TAU * KNEE_KHZ * 1e3 / rate_hz;
    let taps: Vec<f64> = (0..TAPS)
        .map(|tap| {
            let lag = tap as f64 - (TAPS / 2) as f64;
            let sinc = if lag == 0.0 {
                turn
            } else {
                libm::sin(turn * lag) / lag
            };
            sinc * (0.5 + 0.5 * libm::cos(TAU * lag / (TAPS as f64 + 1.0)))
        })
        .collect();
    let whole: f64 = taps.iter().sum();
    taps.iter().map(|tap| (tap / whole) as f32).collect()
}
