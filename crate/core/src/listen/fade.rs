//! Beginnings and ends that do not click.

use std::f64::consts::PI;

/// How long a fade takes at most, seconds of what is heard.
const FADE_S: f64 = 0.006;
/// The share of a short stretch that a fade may take.
const SHARE: f64 = 0.25;

/// How many samples a fade takes in a stretch of so many.
pub(super) fn fade_frames(frames: u64, output_hz: f64) -> u64 {
    (FADE_S * output_hz).min(frames as f64 * SHARE) as u64
}

/// The gain of a sample of a stretch that fades in and out, by raised cosines.
pub(super) fn fade_gain(at: u64, frames: u64, fade: u64) -> f32 {
    let from_edge = at.min(frames.saturating_sub(at + 1));
    if from_edge >= fade {
        return 1.0;
    }
    let share = (from_edge as f64 + 0.5) / fade as f64;
    (0.5 - 0.5 * (PI * share).cos()) as f32
}
