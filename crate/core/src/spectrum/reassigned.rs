//! Time-frequency reassignment: where the energy of a frame's bins has its centre.

use super::{SettingsError, Window};
use realfft::{RealFftPlanner, RealToComplex};
use rustfft::num_complex::Complex32;
use std::f64::consts::TAU;
use std::sync::Arc;

/// Power of one bin of one frame with the place of its centre of gravity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moved {
    /// How much later than the frame's centre, samples.
    pub later: f32,
    /// The frequency as a place among the bins, which may lie between two.
    pub bin: f32,
    /// Power re a full-scale sine: all powers that a constant sine is parted into come to its own.
    pub power: f32,
}

/// A planned transform that moves the energy of each bin to its centre of gravity (Auger & Flandrin
/// 1995, IEEE Trans. Signal Process. 43:1068-1089, equations 21 and 22 for the spectrogram).
///
/// Three windows tell where that is: `h`, `t h(t)` and `dh/dt`. Exact for a single impulse and for
/// a straight sweep; where two sounds lie within one window, energy lands between them.
pub struct Reassigned {
    length: usize,
    padded: usize,
    /// h, t h (t in samples from the centre) and dh/dt (per sample).
    weights: [Vec<f32>; 3],
    transform: Arc<dyn RealToComplex<f32>>,
    input: Vec<f32>,
    spectra: [Vec<Complex32>; 3],
    scratch: Vec<Complex32>,
    /// Scales a squared magnitude so that a full-scale sine's parts come to 1.
    scale: f32,
}

/// Powers below this are rounding of 32-bit arithmetic, whose place says nothing.
const LEAST_POWER: f32 = 1e-20;

impl Reassigned {
    /// Plans a transform of `length` samples, filled up with zeros to `padded` points.
    ///
    /// # Errors
    /// [`SettingsError`] where there is none; lengths are as for [`super::Stft`].
    pub fn new(window: Window, length: usize, padded: usize) -> Result<Self, SettingsError> {
        if !(64..=8192).contains(&length) {
            return Err(SettingsError::Length(length));
        }
        if !(length..=65_536).contains(&padded) {
            return Err(SettingsError::Padded { length, padded });
        }
        let transform = RealFftPlanner::new().plan_fft_forward(padded);
        let plain = window.coefficients(length);
        let lag = |n: usize| n as f32 - (length / 2) as f32;
        let timed = plain.iter().enumerate().map(|(n, w)| lag(n) * w).collect();
        let squares: f64 = plain.iter().map(|&w| f64::from(w) * f64::from(w)).sum();
        Ok(Self {
            length,
            padded,
            weights: [plain, timed, window.slopes(length)],
            input: transform.make_input_vec(),
            spectra: [(); 3].map(|()| transform.make_output_vec()),
            scratch: transform.make_scratch_vec(),
            transform,
            // By Parseval a sine's bins come to its power times `padded * squares / 4`.
            scale: (4.0 / (padded as f64 * squares)) as f32,
        })
    }

    /// Frequencies per frame, from 0 to half the sampling rate.
    #[must_use]
    pub fn bins(&self) -> usize {
        self.padded / 2 + 1
    }

    /// Tells where the energy of a frame lies, bin by bin. Samples that `frame` is short of count as zeros.
    pub fn moved(&mut self, frame: &[f32], mut take: impl FnMut(Moved)) {
        for (weights, spectrum) in self.weights.iter().zip(&mut self.spectra) {
            let filled = frame.len().min(self.length);
            for ((slot, sample), weight) in self.input.iter_mut().zip(frame).zip(weights) {
                *slot = sample * weight;
            }
            self.input[filled..].fill(0.0);
            let transformed =
                self.transform
                    .process_with_scratch(&mut self.input, spectrum, &mut self.scratch);
            debug_assert!(transformed.is_ok(), "buffers are made by the plan itself");
        }
        let [plain, timed, sloped] = &self.spectra;
        let bins_per_turn = (self.padded as f64 / TAU) as f32;
        let farthest = self.length as f32 / 2.0;
        for (bin, ((plain, timed), sloped)) in plain.iter().zip(timed).zip(sloped).enumerate() {
            let square = plain.norm_sqr();
            if square * self.scale > LEAST_POWER {
                let later = (timed * plain.conj()).re / square;
                let higher = -(sloped * plain.conj()).im / square * bins_per_turn;
                // Between two sounds the centre may lie outside of the window, which means nothing.
                if later.abs() <= farthest {
                    take(Moved {
                        later,
                        bin: bin as f32 + higher,
                        power: square * self.scale,
                    });
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed test may panic")]

    use super::*;

    fn all(reassigned: &mut Reassigned, frame: &[f32]) -> Vec<Moved> {
        let mut all = vec![];
        reassigned.moved(frame, |moved| all.push(moved));
        all
    }

    const WINDOWS: [Window; 5] = [
        Window::Hann,
        Window::Hamming,
        Window::BlackmanHarris,
        Window::Gaussian,
        Window::Kaiser,
    ];

    #[test]
    fn an_impulse_moves_to_its_own_time() {
        for window in WINDOWS {
            let mut frame = [0.0; 512];
            // 56 samples before the centre.
            frame[200] = 1.0;
            let moved = all(&mut Reassigned::new(window, 512, 1024).unwrap(), &frame);
            assert_eq!(moved.len(), 513);
            assert!(
                moved.iter().all(|one| (one.later + 56.0).abs() < 1e-2),
                "{window:?}"
            );
        }
    }

    #[test]
    fn a_sine_moves_to_its_own_frequency_and_keeps_its_power() {
        for window in WINDOWS {
            let tone: Vec<f32> = (0..512)
                .map(|n| (0.5 * (TAU * 40.3 * f64::from(n) / 512.0).sin()) as f32)
                .collect();
            let moved = all(&mut Reassigned::new(window, 512, 1024).unwrap(), &tone);
            let near = moved.iter().filter(|one| (one.bin - 80.6).abs() < 0.2);
            let power: f32 = near.map(|one| one.power).sum();
            // Hamming's steps at its ends are no part of its slope.
            assert!((power / 0.25 - 1.0).abs() < 0.02, "{window:?}: {power}");
        }
    }

    #[test]
    fn a_straight_sweep_moves_onto_its_line() {
        // For a Gaussian window the centre of gravity lies on the line exactly (Auger & Flandrin 1995, section IV).
        let (first, slope) = (0.1, 0.1 / 512.0);
        let sweep: Vec<f32> = (0..512)
            .map(|n| {
                let t = f64::from(n);
                (TAU * (first * t + slope * t * t / 2.0)).sin() as f32
            })
            .collect();
        for (window, tolerance) in [(Window::Gaussian, 0.1), (Window::Hann, 0.6)] {
            let moved = all(&mut Reassigned::new(window, 512, 512).unwrap(), &sweep);
            let largest = moved.iter().map(|one| one.power).fold(0.0, f32::max);
            let loud: Vec<_> = moved
                .iter()
                .filter(|one| one.power > largest / 100.0)
                .collect();
            assert!(loud.len() > 20, "a sweep fills many bins");
            for one in loud {
                let at = f64::from(one.later) + 256.0;
                let law = (first + slope * at) * 512.0;
                assert!(
                    (f64::from(one.bin) - law).abs() < tolerance,
                    "{window:?} {one:?}: {law}"
                );
            }
        }
    }

    #[test]
    fn impossible_lengths_say_so() {
        let error = |length, padded| Reassigned::new(Window::Hann, length, padded).err();
        assert_eq!(error(10, 64), Some(SettingsError::Length(10)));
        assert_eq!(
            error(128, 64),
            Some(SettingsError::Padded {
                length: 128,
                padded: 64
            })
        );
    }
}
