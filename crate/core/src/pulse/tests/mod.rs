//! The whole measurement, on synthetic sounds whose truth is known in closed form.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test may stop at the first surprise"
)]

mod blocks;
mod company;
mod doubts;
mod flags;
mod garbage;
mod numbers;

use super::{Doubt, Findings, Flag, Harmonic, Measurer, Pulse, Settings, Shape, Verdict};
use crate::teach::{Background, Bend, Call, Envelope, Hiss, Law, Placed, Scene, Segment};

pub(super) const RATE_HZ: u32 = 256_000;
/// Steady noise of a good recorder, decibels re full scale.
pub(super) const HISS_DB: f64 = -65.0;

/// Measures samples, block by block, as everybody does.
fn all_measured(samples: &[f32], rate_hz: f64) -> Findings {
    let frames = samples.len() as u64;
    let mut measurer = Measurer::new(rate_hz, frames, Some(1.0), &Settings::default());
    while let Some(block) = measurer.next_block() {
        measurer.feed(&samples[block.start as usize..block.end as usize]);
    }
    measurer.into_findings()
}

/// The pulses in samples.
pub(super) fn measured(samples: &[f32], rate_hz: f64) -> Vec<Pulse> {
    all_measured(samples, rate_hz).pulses
}

/// All that is found in what a scene sounds like.
pub(super) fn all_heard(scene: &Scene) -> Findings {
    all_measured(&scene.render(), f64::from(scene.rate_hz))
}

/// Measures what a scene sounds like.
fn heard(scene: &Scene) -> Vec<Pulse> {
    measured(&scene.render(), f64::from(scene.rate_hz))
}

/// A straight sweep (or a tone) under a level envelope with raised-cosine sides.
pub(super) fn straight(from_khz: f64, to_khz: f64, duration_ms: f64, side_ms: f64) -> Call {
    Call {
        shape: Shape::Fm,
        law: Law::new([Segment {
            from_khz,
            to_khz,
            duration_ms,
            bend: Bend::Straight,
        }]),
        envelope: Envelope {
            rise_ms: side_ms,
            fall_ms: side_ms,
            peak_at: 0.5,
            droop_db: 0.0,
        },
        harmonics: Vec::new(),
        way: None,
    }
}

/// The same with a sweep that flattens towards its end: unlike in a straight one,
/// there is one flattest stretch, and with it one characteristic frequency.
pub(super) fn bent(from_khz: f64, to_khz: f64, duration_ms: f64, side_ms: f64) -> Call {
    let law = Law::new([Segment {
        from_khz,
        to_khz,
        duration_ms,
        bend: Bend::Exponential { rate: 1.5 },
    }]);
    Call {
        law,
        ..straight(from_khz, to_khz, duration_ms, side_ms)
    }
}

/// A call of one animal, without echoes.
pub(super) fn at(onset_s: f64, level_db: f64, call: Call) -> Placed {
    Placed {
        call,
        onset_s,
        level_db,
        animal: 1,
        echoes: Vec::new(),
    }
}

/// Calls over hiss.
pub(super) fn scene(rate_hz: u32, duration_s: f64, hiss_db: f64, calls: Vec<Placed>) -> Scene {
    Scene {
        rate_hz,
        duration_s,
        seed: 7,
        calls,
        backgrounds: vec![Background::Hiss(Hiss::white(hiss_db))],
    }
}

#[track_caller]
pub(super) fn near(what: &str, measured: f64, truth: f64, tolerance: f64) {
    assert!(
        (measured - truth).abs() <= tolerance,
        "{what}: {measured} instead of {truth}, more than {tolerance} off"
    );
}

/// Starts in seconds and low frequencies, for messages.
fn outline(pulses: &[Pulse]) -> Vec<(f64, f64)> {
    pulses.iter().map(|p| (p.start_s, p.low_khz)).collect()
}
