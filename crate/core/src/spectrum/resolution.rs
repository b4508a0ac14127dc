//! What a window tells apart.

use super::Window;
use serde::Serialize;
use std::f64::consts::TAU;

/// What a window of a length tells apart, in time and in frequency.
///
/// Each is the full width between the points where the window, or its transform, has fallen to half
/// (6 dB): Harris 1978 (Proc. IEEE 66:51-83) takes this width as the least distance at which two
/// equal tones still show two peaks. Their product is fixed by the window's shape: what is gained
/// in one is lost in the other.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Resolution {
    /// Clicks nearer to each other run together, milliseconds.
    pub time_ms: f64,
    /// Tones nearer to each other run together, kilohertz.
    pub frequency_khz: f64,
}

impl Resolution {
    /// What a window of `length` samples tells apart at a sampling rate.
    #[must_use]
    pub fn of(window: Window, length: usize, rate_hz: f64) -> Self {
        let (width, bins) = Self::relative(window);
        Self {
            time_ms: width * length as f64 / rate_hz * 1000.0,
            frequency_khz: bins * rate_hz / length as f64 / 1000.0,
        }
    }

    /// Width in time as a share of the length, and in frequency in bins of a transform without padding.
    fn relative(window: Window) -> (f64, f64) {
        let half = |position: f64| window.value(0.5 + position) - 0.5 * window.value(0.5);
        let gain = |bins: f64| {
            let sum: f64 = (0..POINTS)
                .map(|n| {
                    let position = f64::from(n) / f64::from(POINTS);
                    window.value(position) * (TAU * bins * (position - 0.5)).cos()
                })
                .sum();
            sum / f64::from(POINTS)
        };
        let whole = gain(0.0);
        let time = 2.0 * root(half, 0.5);
        // No window's main lobe is narrower than a rectangle's, or wider than a few bins.
        let frequency = 2.0 * root(|bins| gain(bins) - 0.5 * whole, 3.0);
        (time, frequency)
    }
}

/// Points that a window's transform is summed over; its curve is smooth.
const POINTS: u32 = 1024;

/// Where a falling function crosses zero, from 0 up to `most`.
fn root(function: impl Fn(f64) -> f64, most: f64) -> f64 {
    let (mut low, mut high) = (0.0, most);
    // Each step halves the error, so this comes to rounding.
    for _ in 0..50 {
        let middle = f64::midpoint(low, high);
        if function(middle) > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bandwidths_are_those_of_the_literature() {
        // Harris 1978, Proc. IEEE 66:51-83, table 1, "6.0-dB BW (bins)" (from memory): Hann 2.00,
        // Hamming 1.81.
        for (window, bins) in [(Window::Hann, 2.0), (Window::Hamming, 1.81)] {
            let got = Resolution::relative(window).1;
            assert!((got - bins).abs() < 0.01, "{window:?}: {got}");
        }
    }

    #[test]
    fn a_gaussian_has_the_widths_of_its_formula() {
        // exp(-t^2 / 2 s^2) falls to half at s sqrt(2 ln 2), its transform at sqrt(2 ln 2) / (2 pi s).
        let (time, bins) = Resolution::relative(Window::Gaussian);
        let deviations = (2.0 * 2f64.ln()).sqrt();
        assert!((time - 2.0 * deviations / 8.0).abs() < 1e-6);
        assert!((bins - 2.0 * deviations * 8.0 / TAU).abs() < 0.01, "{bins}");
    }

    #[test]
    fn what_is_gained_in_time_is_lost_in_frequency() {
        let short = Resolution::of(Window::Hann, 256, 500e3);
        let long = Resolution::of(Window::Hann, 1024, 500e3);
        // Hann's window is at half at a quarter and three quarters of its length.
        assert!((short.time_ms - 0.256).abs() < 1e-9);
        assert!((short.frequency_khz - 2.0 * 500.0 / 256.0).abs() < 0.01);
        let product = |one: Resolution| one.time_ms * one.frequency_khz;
        assert!((product(short) - product(long)).abs() < 1e-9);
    }
}
