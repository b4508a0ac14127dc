//! Samples -> levels: windows, short-time Fourier transform, noise floor.
//!
//! # Normalisation
//! Powers are relative to full scale: a sine that swings from -1 to 1 and lies
//! on a bin's centre has the power 1, 0 dB, whatever the window and its length.
//! The window's gain is divided out, so a *tone* keeps its level when the
//! window changes; *noise* does not (its level per bin follows the window's
//! bandwidth, [`Stft::noise_bandwidth_hz`]).

mod floor;
mod power;
mod reassigned;
mod resolution;
mod stft;
mod window;

pub use floor::NoiseFloor;
pub(crate) use floor::QUARTILE_OF_MEAN;
pub use power::{PowerMethod, PowerSpectrum, PowerSummer, room_for_fading};
pub use reassigned::{Moved, Reassigned};
pub use resolution::Resolution;
pub use stft::{SettingsError, Stft, StftSettings};
pub use window::Window;

/// The lowest level that is told apart, decibels re full scale. Far below what
/// 32-bit samples resolve, so that silence has a level at all.
pub const LOWEST_DB: f32 = -240.0;

/// A power relative to full scale as decibels, at least [`LOWEST_DB`].
#[must_use]
pub fn to_db(power: f32) -> f32 {
    // The comparison is false for NaN, which then reads as silence.
    if power > 1e-24 {
        10.0 * power.log10()
    } else {
        LOWEST_DB
    }
}

/// Decibels re full scale as a power.
#[must_use]
pub fn from_db(db: f32) -> f32 {
    10f32.powf(db / 10.0)
}

/// Where the vertex of the parabola through three levels lies, in bins from
/// the middle one (which is the largest).
pub(crate) fn vertex(powers: &[f32]) -> f64 {
    let [a, b, c] = [powers[0], powers[1], powers[2]].map(|p| f64::from(p.max(1e-30)).ln());
    let bend = a - 2.0 * b + c;
    if bend < 0.0 {
        (0.5 * (a - c) / bend).clamp(-0.5, 0.5)
    } else {
        0.0
    }
}
