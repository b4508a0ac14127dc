//! Bands over synthetic sounds whose truth is known in closed form, and over what was found automatically.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test may stop at the first surprise"
)]

mod bands;
mod given;
mod written;

use super::*;
use crate::pulse::tests::{HISS_DB, RATE_HZ, all_heard, at, bent, near, scene, straight};
use crate::pulse::{Findings, Settings};
use crate::teach::Scene;

/// A band with room around a pulse.
fn around(pulse: &Pulse) -> Band {
    Band {
        start_s: pulse.start_s - 1.5e-3,
        end_s: pulse.end_s + 1.5e-3,
        low_khz: pulse.low_khz - 3.0,
        high_khz: pulse.high_khz + 3.0,
    }
}

fn request(band: Band) -> HandRequest {
    HandRequest {
        band,
        pulse_start_s: None,
        start_s: None,
        end_s: None,
        points: Vec::new(),
    }
}

/// Measures in samples as the page does.
fn measured(
    samples: &[f32],
    rate_hz: f64,
    request: &HandRequest,
) -> Result<HandMeasurement, HandError> {
    let frames = samples.len() as u64;
    let measurer = HandMeasurer::new(rate_hz, frames, Some(1.0), request, &Settings::default())?;
    let block = measurer.block();
    Ok(measurer.measure(&samples[block.start as usize..block.end as usize]))
}

fn by_hand(scene: &Scene, request: &HandRequest) -> HandMeasurement {
    measured(&scene.render(), f64::from(scene.rate_hz), request).unwrap()
}

/// Two sweeps from 80 to 40 kHz in 5 ms that flatten, at 0.1 and 0.2 s.
fn sweeps() -> Scene {
    let call = bent(80.0, 40.0, 5.0, 1.0);
    let calls = [0.1, 0.2].map(|onset_s| at(onset_s, -12.0, call.clone()));
    scene(RATE_HZ, 0.4, HISS_DB, calls.to_vec())
}
