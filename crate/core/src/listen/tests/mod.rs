//! What comes out, against theory: frequencies, levels, what must not be there.

#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

mod files;
mod methods;
mod pieces;
mod safety;

use std::convert::Infallible;
use std::f64::consts::TAU;
use std::ops::Range;

use super::{Listening, ListeningSettings, Method, Piece};
use crate::spectrum::{Stft, StftSettings, Window, to_db, vertex};

const RATE_HZ: f64 = 384_000.0;
const OUTPUT_HZ: u32 = 48_000;

fn settings(method: Method, end_s: f64) -> ListeningSettings {
    ListeningSettings {
        method,
        start_s: 0.0,
        end_s,
        looped: false,
        high_pass_khz: None,
        automatic_gain: false,
    }
}

fn expansion(factor: f64) -> Method {
    Method::Expansion { factor }
}

fn heterodyne(tuning_khz: f64) -> Method {
    Method::Heterodyne {
        tuning_khz,
        bandwidth_khz: 5.0,
    }
}

fn division(factor: f64) -> Method {
    Method::Division { factor }
}

fn tone(khz: f64, amplitude: f64, seconds: f64) -> Vec<f32> {
    let count = (seconds * RATE_HZ) as usize;
    let sample = |n: usize| amplitude * (TAU * khz * 1e3 * n as f64 / RATE_HZ).sin();
    (0..count).map(|n| sample(n) as f32).collect()
}

/// A reader of samples that lie in memory.
fn reader(samples: &[f32]) -> impl Fn(Range<u64>, &mut Vec<f32>) -> Result<(), Infallible> {
    move |range, out| {
        out.clear();
        out.extend_from_slice(&samples[range.start as usize..range.end as usize]);
        Ok(())
    }
}

/// The next piece of a listening to samples in memory.
fn next(
    listening: &mut Listening,
    samples: &[f32],
    most: usize,
    out: &mut Vec<f32>,
) -> Option<Piece> {
    let Ok(piece) = listening.next_piece(most, reader(samples), out);
    piece
}

/// All that is heard, in pieces of at most `most` samples.
fn heard_in(samples: &[f32], settings: &ListeningSettings, most: usize) -> Vec<f32> {
    let mut listening = Listening::new(settings, RATE_HZ, samples.len() as u64, OUTPUT_HZ).unwrap();
    let (mut all, mut out) = (Vec::new(), Vec::new());
    while next(&mut listening, samples, most, &mut out).is_some() {
        all.extend_from_slice(&out);
    }
    all
}

fn heard(samples: &[f32], method: Method) -> Vec<f32> {
    let seconds = samples.len() as f64 / RATE_HZ;
    heard_in(samples, &settings(method, seconds), 4800)
}

/// Levels from 0 Hz on, of the middle of a sound, with the distance of two bins, hertz.
fn levels(sound: &[f32]) -> (Vec<f32>, f64) {
    let length = sound.len().min(1 << 13) / 2 * 2;
    let middle = &sound[(sound.len() - length) / 2..][..length];
    let mut stft = Stft::new(&StftSettings {
        window: Window::BlackmanHarris,
        length,
        hop: length,
        padded: length,
    })
    .unwrap();
    let mut powers = Vec::new();
    stft.powers(middle, &mut powers);
    (powers, f64::from(OUTPUT_HZ) / length as f64)
}

/// Frequency, hertz, and level, decibels re full scale, of what is loudest; and the level of the loudest that is
/// not part of it.
fn loudest(sound: &[f32]) -> (f64, f32, f32) {
    let (powers, bin_hz) = levels(sound);
    let most = powers.iter().copied().fold(0.0, f32::max);
    let at = powers.iter().position(|&power| power == most).unwrap();
    let at = at.clamp(1, powers.len() - 2);
    let frequency_hz = (at as f64 + vertex(&powers[at - 1..=at + 1])) * bin_hz;
    // Half the width of the window's main lobe is four bins.
    let others = powers
        .iter()
        .enumerate()
        .filter(|(bin, _)| bin.abs_diff(at) > 5);
    let rest = others.map(|(_, &power)| power).fold(0.0, f32::max);
    (frequency_hz, amplitude_db(sound, frequency_hz), to_db(rest))
}

/// Level of a tone of known frequency, by least squares, whatever bin it lies in.
fn amplitude_db(sound: &[f32], frequency_hz: f64) -> f32 {
    let middle = &sound[sound.len() / 4..sound.len() * 3 / 4];
    let count = middle.len();
    let window = Window::BlackmanHarris.coefficients(count);
    let (mut real, mut imaginary, mut gain) = (0.0, 0.0, 0.0);
    for (n, (sample, weight)) in middle.iter().zip(&window).enumerate() {
        let (sine, cosine) = (TAU * frequency_hz * n as f64 / f64::from(OUTPUT_HZ)).sin_cos();
        let value = f64::from(sample * weight);
        real += value * cosine;
        imaginary += value * sine;
        gain += f64::from(*weight);
    }
    (20.0 * (2.0 * f64::hypot(real, imaginary) / gain).log10()) as f32
}
