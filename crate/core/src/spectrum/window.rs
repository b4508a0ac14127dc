//! Window functions.

use serde::{Deserialize, Serialize};
use std::f64::consts::PI;

/// A window function, in its periodic form (as for spectral analysis: one
/// period of a window of `length` points, the last point not repeated).
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(rename_all = "snake_case")]
pub enum Window {
    /// Raised cosine: the everyday choice.
    Hann,
    /// Raised cosine on a pedestal: nearest side lobe lower than Hann's.
    Hamming,
    /// Four-term Blackman-Harris: side lobes 92 dB down, so that a loud call
    /// hides nothing else in the frame.
    BlackmanHarris,
    /// Gaussian with a standard deviation of one eighth of the length: the
    /// smallest product of spread in time and in frequency.
    Gaussian,
    /// Kaiser with `beta` of 8.6, which resembles Blackman's window.
    Kaiser,
}

impl Window {
    /// The window's values, each from 0 to 1.
    #[must_use]
    pub fn coefficients(self, length: usize) -> Vec<f32> {
        (0..length)
            .map(|n| self.value(n as f64 / length as f64) as f32)
            .collect()
    }

    /// The window's slopes, per point.
    #[must_use]
    pub(super) fn slopes(self, length: usize) -> Vec<f32> {
        // Windows are smooth and their values exact to 1e-16, which loses nothing at this distance.
        const STEP: f64 = 1e-5;
        let slope = |position: f64| {
            (self.value(position + STEP) - self.value(position - STEP)) / (2.0 * STEP)
        };
        (0..length)
            .map(|n| (slope(n as f64 / length as f64) / length as f64) as f32)
            .collect()
    }

    /// Its value at a position from 0 (first point) to 1 (one past the last).
    pub(super) fn value(self, position: f64) -> f64 {
        let cosine_sum = |terms: &[f64]| -> f64 {
            let angle = 2.0 * PI * position;
            terms
                .iter()
                .enumerate()
                .map(|(k, term)| term * (k as f64 * angle).cos())
                .sum()
        };
        match self {
            Self::Hann => cosine_sum(&[0.5, -0.5]),
            Self::Hamming => cosine_sum(&[0.54, -0.46]),
            // Harris 1978, Proc. IEEE 66:51-83, table of minimum four-term windows.
            Self::BlackmanHarris => cosine_sum(&[0.358_75, -0.488_29, 0.141_28, -0.011_68]),
            Self::Gaussian => {
                let deviations = (position - 0.5) * 8.0;
                (-0.5 * deviations * deviations).exp()
            }
            Self::Kaiser => {
                let beta = 8.6;
                let x = 2.0 * position - 1.0;
                bessel_i0(beta * (1.0 - x * x).max(0.0).sqrt()) / bessel_i0(beta)
            }
        }
    }
}

/// Modified Bessel function of the first kind and order zero, by its power
/// series: all terms are positive, so nothing cancels.
fn bessel_i0(x: f64) -> f64 {
    let quarter_square = x * x / 4.0;
    let mut term = 1.0;
    let mut sum = 1.0;
    for k in 1..200 {
        term *= quarter_square / f64::from(k * k);
        sum += term;
        if term < sum * 1e-17 {
            break;
        }
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bessel_i0_matches_handbook() {
        // Abramowitz & Stegun 1964, table 9.8: e^-x I0(x) at x = 1, 5 (from memory).
        assert!(((-1f64).exp() * bessel_i0(1.0) - 0.465_759_607_6).abs() < 1e-9);
        assert!(((-5f64).exp() * bessel_i0(5.0) - 0.183_540_812_6).abs() < 1e-9);
    }

    #[test]
    fn windows_are_symmetric_and_peak_at_one() {
        for window in [
            Window::Hann,
            Window::Hamming,
            Window::BlackmanHarris,
            Window::Gaussian,
            Window::Kaiser,
        ] {
            let values = window.coefficients(256);
            assert!((values[128] - 1.0).abs() < 1e-6, "{window:?}");
            for n in 1..128 {
                assert!((values[n] - values[256 - n]).abs() < 1e-6, "{window:?} {n}");
            }
        }
    }
}
