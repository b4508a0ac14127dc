//! Levels of the frames of a pulse, by the core's transform.

use dusklens_core::spectrum::{Stft, StftSettings, Window};

use super::target::Target;

/// Time from frame to frame, milliseconds.
pub(super) const HOP_MS: f64 = 0.05;
/// How many times longer than its window a transform is, so that a parabola suits its peaks.
const PADDING: usize = 4;

/// Levels of a pulse against time and frequency.
#[derive(Debug, Clone)]
pub(super) struct Frames {
    /// Middle of each frame, seconds.
    pub(super) times_s: Vec<f64>,
    /// Levels of each frame's bins within the band, decibels.
    pub(super) levels_db: Vec<Vec<f32>>,
    /// Frequency of the first bin, kilohertz.
    pub(super) first_khz: f64,
    /// Frequency from bin to bin, kilohertz.
    pub(super) bin_khz: f64,
}

impl Frames {
    /// Cuts a pulse into frames of a Hann window of this length; none where it is too short or
    /// too long for the transform.
    pub(super) fn of(target: &Target, window_ms: f64) -> Option<Frames> {
        let length = (window_ms / 1e3 * target.rate_hz).round() as usize;
        let hop = (HOP_MS / 1e3 * target.rate_hz).round() as usize;
        let padded = (length * PADDING).next_power_of_two();
        let mut stft = Stft::new(&StftSettings {
            window: Window::Hann,
            length,
            hop,
            padded,
        })
        .ok()?;
        let bin_khz = target.rate_hz / padded as f64 / 1e3;
        let first = (target.band_khz.start / bin_khz).floor().max(1.0) as usize;
        let last = (target.band_khz.end / bin_khz).ceil() as usize + 1;
        let (mut frame, mut power) = (vec![0.0; length], vec![0.0; stft.bins()]);
        let middles = target.middles(hop);
        let mut levels_db = Vec::with_capacity(middles.len());
        for &middle in &middles {
            target.around(middle, &mut frame);
            stft.power(&frame, &mut power);
            let band = power.get(first..last.min(power.len())).unwrap_or_default();
            let level = |p: &f32| 10.0 * p.max(1e-20).log10();
            levels_db.push(band.iter().map(level).collect());
        }
        Some(Frames {
            times_s: middles.iter().map(|&m| m as f64 / target.rate_hz).collect(),
            levels_db,
            first_khz: first as f64 * bin_khz,
            bin_khz,
        })
    }

    /// The frequency of a bin of a frame, by a parabola through its level and its neighbours'.
    pub(super) fn khz(&self, frame: usize, bin: usize) -> f64 {
        let level = |bin: Option<usize>| {
            let row = self.levels_db.get(frame)?;
            row.get(bin?).map(|&l| f64::from(l))
        };
        let around = (
            level(bin.checked_sub(1)),
            level(Some(bin)),
            level(Some(bin + 1)),
        );
        let off = match around {
            (Some(a), Some(b), Some(c)) if a - 2.0 * b + c < -1e-9 => {
                (0.5 * (a - c) / (a - 2.0 * b + c)).clamp(-0.5, 0.5)
            }
            _ => 0.0,
        };
        self.first_khz + (bin as f64 + off) * self.bin_khz
    }
}
