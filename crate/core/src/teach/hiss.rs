//! Steady noise: white hiss, and hiss coloured by a microphone's response.

use rand::Rng;
use serde::{Deserialize, Serialize};

use super::random::normal;

/// Taps of the filter that colours hiss; 1.5 kHz resolution at 384 kHz.
const TAPS: usize = 255;

/// Gaussian noise of a known spectrum.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Hiss {
    /// Root mean square before colouring, decibels re full scale (a sample of 1.0).
    pub rms_db: f64,
    /// Response against frequency as kilohertz and decibels, rising in frequency;
    /// empty for white hiss.
    pub response: Vec<(f64, f64)>,
}

impl Hiss {
    /// Hiss of the same power at every frequency.
    pub fn white(rms_db: f64) -> Hiss {
        Hiss {
            rms_db,
            response: Vec::new(),
        }
    }

    /// Adds it to `samples`.
    pub fn add_to(&self, samples: &mut [f32], rate_hz: f64, random: &mut impl Rng) {
        let rms = libm::exp10(self.rms_db / 20.0);
        if self.response.is_empty() {
            for sample in samples {
                *sample += (rms * normal(random)) as f32;
            }
            return;
        }
        let taps: Vec<f32> = self.taps(rate_hz).iter().map(|&t| t as f32).collect();
        let white: Vec<f32> = (0..samples.len() + TAPS)
            .map(|_| (rms * normal(random)) as f32)
            .collect();
        for (sample, recent) in samples.iter_mut().zip(white.windows(TAPS)) {
            *sample += recent.iter().zip(&taps).map(|(w, t)| w * t).sum::<f32>();
        }
    }

    /// Mean power between two frequencies, where a full-scale square wave has 1.
    pub fn power_between(&self, low_khz: f64, high_khz: f64, rate_hz: f64) -> f64 {
        let half_khz = rate_hz / 2e3;
        let (low, high) = (low_khz.clamp(0.0, half_khz), high_khz.clamp(0.0, half_khz));
        let white = libm::exp10(self.rms_db / 10.0) * (high - low) / half_khz;
        if self.response.is_empty() || high <= low {
            return white;
        }
        let taps = self.taps(rate_hz);
        let steps = 32;
        let gain = |step: u32| {
            let khz = low + (high - low) * (f64::from(step) + 0.5) / f64::from(steps);
            power_gain(&taps, khz * 1e3 / rate_hz)
        };
        white * (0..steps).map(gain).sum::<f64>() / f64::from(steps)
    }

    /// A symmetric filter with the wanted response, by frequency sampling under a Hann window.
    fn taps(&self, rate_hz: f64) -> Vec<f64> {
        use std::f64::consts::{PI, TAU};
        let middle = (TAPS / 2) as f64;
        let points = 512_u32;
        let gains: Vec<f64> = (0..=points)
            .map(|i| {
                let khz = f64::from(i) / f64::from(points) * rate_hz / 2e3;
                libm::exp10(interpolate(&self.response, khz) / 20.0)
            })
            .collect();
        (0..TAPS)
            .map(|tap| {
                let lag = tap as f64 - middle;
                let hann = 0.5 + 0.5 * libm::cos(TAU * lag / (TAPS as f64 + 1.0));
                let sum: f64 = gains
                    .iter()
                    .enumerate()
                    .map(|(i, gain)| {
                        let ends = if i == 0 || i == points as usize {
                            0.5
                        } else {
                            1.0
                        };
                        ends * gain * libm::cos(PI * i as f64 * lag / f64::from(points))
                    })
                    .sum();
                hann * sum / f64::from(points)
            })
            .collect()
    }
}

/// Power gain of a filter at a frequency given as a fraction of the rate.
fn power_gain(taps: &[f64], fraction: f64) -> f64 {
    let angle = std::f64::consts::TAU * fraction;
    let (re, im) = taps
        .iter()
        .enumerate()
        .fold((0.0, 0.0), |(re, im), (i, tap)| {
            let (sin, cos) = libm::sincos(angle * i as f64);
            (re + tap * cos, im + tap * sin)
        });
    re * re + im * im
}

/// The value of a curve between its points; held constant beyond them.
pub(super) fn interpolate(points: &[(f64, f64)], x: f64) -> f64 {
    let after = points.partition_point(|p| p.0 <= x);
    match (
        after.checked_sub(1).and_then(|i| points.get(i)),
        points.get(after),
    ) {
        (Some(a), Some(b)) => a.1 + (b.1 - a.1) * (x - a.0) / (b.0 - a.0),
        (Some(only), None) | (None, Some(only)) => only.1,
        (None, None) => 0.0,
    }
}
