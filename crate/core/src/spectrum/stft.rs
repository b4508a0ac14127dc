//! The short-time Fourier transform.

use super::Window;
use realfft::{RealFftPlanner, RealToComplex};
use rustfft::num_complex::Complex32;
use rustfft::{Fft, FftPlanner};
use std::sync::Arc;

/// How samples are cut into frames and transformed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StftSettings {
    /// The window that each frame is multiplied with.
    pub window: Window,
    /// Samples per frame, 64 to 8192 (any number, powers of two are quickest).
    pub length: usize,
    /// Samples from one frame to the next, at least 1.
    pub hop: usize,
    /// Points of the transform, at least `length`: the rest is zeros, which
    /// interpolates between bins and adds no detail.
    pub padded: usize,
}

impl Default for StftSettings {
    /// Hann, 512 samples (about a millisecond at 500 kHz), three quarters
    /// overlap, no zero padding.
    fn default() -> Self {
        Self {
            window: Window::Hann,
            length: 512,
            hop: 128,
            padded: 512,
        }
    }
}

/// Settings that no transform can be made for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum SettingsError {
    /// The frame is too short or too long.
    #[error("a window has 64 to 8192 samples, not {0}")]
    Length(usize),
    /// Frames that never move on.
    #[error("frames must be at least one sample apart")]
    Hop,
    /// Fewer points than samples, or more than any screen shows.
    #[error("a transform has from the window's {length} up to 65536 points, not {padded}")]
    Padded {
        /// The window's length.
        length: usize,
        /// What was asked for.
        padded: usize,
    },
}

/// A planned short-time Fourier transform. It keeps its scratch space: nothing
/// is allocated per frame.
///
/// ```
/// use dusklens_core::spectrum::{Stft, StftSettings, to_db};
///
/// let mut stft = Stft::new(&StftSettings::default()).unwrap();
/// // A full-scale sine on bin 40: 40 turns in 512 samples.
/// let sine: Vec<f32> = (0..512)
///     .map(|n| (n as f32 * 40.0 * std::f32::consts::TAU / 512.0).sin())
///     .collect();
/// let mut power = vec![0.0; stft.bins()];
/// stft.power(&sine, &mut power);
/// assert!(to_db(power[40]).abs() < 0.001);
/// ```
pub struct Stft {
    settings: StftSettings,
    coefficients: Vec<f32>,
    transform: Arc<dyn RealToComplex<f32>>,
    input: Vec<f32>,
    output: Vec<Complex32>,
    scratch: Vec<Complex32>,
    /// Made when first two frames are transformed at once.
    pair: Option<Pair>,
    /// Scales a squared magnitude so that a full-scale sine has power 1.
    scale: f32,
}

impl Stft {
    /// Plans a transform.
    ///
    /// # Errors
    /// [`SettingsError`] where the settings describe none.
    pub fn new(settings: &StftSettings) -> Result<Self, SettingsError> {
        let StftSettings {
            window,
            length,
            hop,
            padded,
        } = *settings;
        if !(64..=8192).contains(&length) {
            return Err(SettingsError::Length(length));
        }
        if hop == 0 {
            return Err(SettingsError::Hop);
        }
        if !(length..=65_536).contains(&padded) {
            return Err(SettingsError::Padded { length, padded });
        }
        let transform = RealFftPlanner::new().plan_fft_forward(padded);
        let coefficients = window.coefficients(length);
        let gain: f64 = coefficients.iter().map(|&c| f64::from(c)).sum();
        Ok(Self {
            settings: *settings,
            input: transform.make_input_vec(),
            output: transform.make_output_vec(),
            scratch: transform.make_scratch_vec(),
            pair: None,
            coefficients,
            transform,
            // A real sine's energy is shared by a positive and a negative frequency: twice the amplitude.
            scale: (4.0 / (gain * gain)) as f32,
        })
    }

    /// The settings it was planned for.
    #[must_use]
    pub fn settings(&self) -> &StftSettings {
        &self.settings
    }

    /// Frequencies per frame, from 0 to half the sampling rate.
    #[must_use]
    pub fn bins(&self) -> usize {
        self.settings.padded / 2 + 1
    }

    /// How many whole frames fit into so many samples.
    #[must_use]
    pub fn frames(&self, samples: usize) -> usize {
        (samples + self.settings.hop)
            .saturating_sub(self.settings.length)
            .div_euclid(self.settings.hop)
    }

    /// Equivalent noise bandwidth of a bin, hertz: white noise of power `p`
    /// over the whole spectrum has a mean of `2 p / rate` times this in a bin.
    #[must_use]
    pub fn noise_bandwidth_hz(&self, rate_hz: f64) -> f64 {
        let sum: f64 = self.coefficients.iter().map(|&c| f64::from(c)).sum();
        let squares: f64 = self
            .coefficients
            .iter()
            .map(|&c| f64::from(c) * f64::from(c))
            .sum();
        rate_hz * squares / (sum * sum)
    }

    /// Powers of one frame, re a full-scale sine (see the module's notes).
    ///
    /// Samples that `frame` is short of count as zeros; bins that `out` is
    /// short of are dropped.
    pub fn power(&mut self, frame: &[f32], out: &mut [f32]) {
        let filled = frame.len().min(self.coefficients.len());
        for ((slot, sample), weight) in self.input.iter_mut().zip(frame).zip(&self.coefficients) {
            *slot = sample * weight;
        }
        // The transform leaves its input in disorder, so the rest is zeroed anew.
        self.input[filled..].fill(0.0);
        let transformed = self.transform.process_with_scratch(
            &mut self.input,
            &mut self.output,
            &mut self.scratch,
        );
        debug_assert!(transformed.is_ok(), "buffers are made by the plan itself");
        for (power, value) in out.iter_mut().zip(&self.output) {
            *power = value.norm_sqr() * self.scale;
        }
    }

    /// Powers of two frames, as [`Self::power`] gives them, in some two thirds of the time.
    ///
    /// One of them is transformed as the imaginary part of the other, which leaves of the louder one some 130 dB below
    /// itself in the quieter.
    pub fn power_of_two(&mut self, frames: [&[f32]; 2], out: [&mut [f32]; 2]) {
        let length = self.coefficients.len();
        let [first, second] = out;
        let [Some(real), Some(imaginary)] = frames.map(|frame| frame.get(..length)) else {
            self.power(frames[0], first);
            self.power(frames[1], second);
            return;
        };
        let points = self.settings.padded;
        let pair = self.pair.get_or_insert_with(|| Pair::new(points));
        let weighted = real.iter().zip(imaginary).zip(&self.coefficients);
        for (slot, ((re, im), weight)) in pair.values.iter_mut().zip(weighted) {
            *slot = Complex32::new(re * weight, im * weight);
        }
        pair.values[length..].fill(Complex32::default());
        pair.transform
            .process_with_scratch(&mut pair.values, &mut pair.scratch);
        part(&pair.values, self.scale / 4.0, first, second);
    }

    /// Powers of every whole frame, one frame's bins after the other's.
    /// Replaces what `out` held and returns the number of frames.
    pub fn powers(&mut self, samples: &[f32], out: &mut Vec<f32>) -> usize {
        let frames = self.frames(samples.len());
        let bins = self.bins();
        let (length, hop) = (self.settings.length, self.settings.hop);
        out.resize(frames * bins, 0.0);
        for (frame, row) in out.chunks_exact_mut(bins).enumerate() {
            self.power(&samples[frame * hop..frame * hop + length], row);
        }
        frames
    }
}

/// What transforms two frames at once.
struct Pair {
    transform: Arc<dyn Fft<f32>>,
    values: Vec<Complex32>,
    scratch: Vec<Complex32>,
}

impl Pair {
    fn new(points: usize) -> Self {
        let transform = FftPlanner::new().plan_fft_forward(points);
        Self {
            values: vec![Complex32::default(); points],
            scratch: vec![Complex32::default(); transform.get_inplace_scratch_len()],
            transform,
        }
    }
}

/// Powers of the real and of the imaginary part of what was transformed, times `scale`: a real signal's spectrum is its own
/// mirror, an imaginary one's the negative of it.
fn part(values: &[Complex32], scale: f32, real: &mut [f32], imaginary: &mut [f32]) {
    /// So many bins at a time, which processors do at once.
    const LANES: usize = 8;
    let points = values.len();
    let bins = (points / 2 + 1).min(real.len()).min(imaginary.len());
    let mirror = |bin: usize| values[(points - bin) % points];
    let mut bin = 0;
    while bin < bins {
        let lanes = LANES.min(bins - bin);
        if bin == 0 || lanes < LANES {
            let [re, im] = parted([values[bin]], [mirror(bin)], scale);
            (real[bin], imaginary[bin]) = (re[0], im[0]);
            bin += 1;
            continue;
        }
        let (mut ahead, mut behind) =
            ([Complex32::default(); LANES], [Complex32::default(); LANES]);
        ahead.copy_from_slice(&values[bin..bin + LANES]);
        behind.copy_from_slice(&values[points - bin - LANES + 1..=points - bin]);
        behind.reverse();
        let [re, im] = parted(ahead, behind, scale);
        real[bin..bin + LANES].copy_from_slice(&re);
        imaginary[bin..bin + LANES].copy_from_slice(&im);
        bin += LANES;
    }
}

/// See [`part`], for some bins with their mirrors.
#[inline(always)]
fn parted<const N: usize>(
    values: [Complex32; N],
    mirrors: [Complex32; N],
    scale: f32,
) -> [[f32; N]; 2] {
    let (mut real, mut imaginary) = ([0.0; N], [0.0; N]);
    for n in 0..N {
        let (sum_re, sum_im) = (values[n].re + mirrors[n].re, values[n].im + mirrors[n].im);
        let (off_re, off_im) = (values[n].re - mirrors[n].re, values[n].im - mirrors[n].im);
        real[n] = (sum_re * sum_re + off_im * off_im) * scale;
        imaginary[n] = (off_re * off_re + sum_im * sum_im) * scale;
    }
    [real, imaginary]
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed test may panic")]

    use super::*;
    use crate::spectrum::to_db;
    use proptest::prelude::*;
    use std::f64::consts::TAU;

    fn stft(window: Window, length: usize, hop: usize, padded: usize) -> Stft {
        Stft::new(&StftSettings {
            window,
            length,
            hop,
            padded,
        })
        .unwrap()
    }

    fn sine(cycles_per_sample: f64, amplitude: f64, length: usize) -> Vec<f32> {
        (0..length)
            .map(|n| (amplitude * (TAU * cycles_per_sample * n as f64 + 0.3).sin()) as f32)
            .collect()
    }

    #[test]
    fn full_scale_sine_reads_zero_db_with_every_window() {
        for window in [
            Window::Hann,
            Window::Hamming,
            Window::BlackmanHarris,
            Window::Gaussian,
            Window::Kaiser,
        ] {
            for (length, padded) in [(64, 64), (512, 2048), (8192, 8192)] {
                let mut stft = stft(window, length, 1, padded);
                let mut power = vec![0.0; stft.bins()];
                stft.power(&sine(0.25, 1.0, length), &mut power);
                let level = to_db(power[padded / 4]);
                assert!(level.abs() < 0.01, "{window:?} {length}: {level} dB");
            }
        }
    }

    #[test]
    fn agrees_with_the_defining_sum() {
        // The transform's own definition, written out: slow and obviously right.
        let mut fast = stft(Window::BlackmanHarris, 96, 7, 128);
        let samples: Vec<f32> = (0..96)
            .map(|n| ((n * n) % 37) as f32 / 37.0 - 0.5)
            .collect();
        let mut power = vec![0.0; fast.bins()];
        fast.power(&samples, &mut power);
        let weights = Window::BlackmanHarris.coefficients(96);
        let gain: f64 = weights.iter().map(|&w| f64::from(w)).sum();
        let largest = f64::from(power.iter().fold(0f32, |a, &b| a.max(b)));
        for (bin, &got) in power.iter().enumerate() {
            let (mut re, mut im) = (0.0, 0.0);
            for n in 0..96 {
                let value = f64::from(samples[n] * weights[n]);
                let angle = TAU * bin as f64 * n as f64 / 128.0;
                re += value * angle.cos();
                im -= value * angle.sin();
            }
            let want = 4.0 * (re * re + im * im) / (gain * gain);
            assert!((f64::from(got) - want).abs() < 1e-6 * largest, "bin {bin}");
        }
    }

    #[test]
    fn noise_bandwidth_of_hann_is_one_and_a_half_bins() {
        // Harris 1978, Proc. IEEE 66:51-83, table 1: 1.50 bins; four-term Blackman-Harris 2.00.
        let hann = stft(Window::Hann, 512, 128, 512).noise_bandwidth_hz(512.0);
        assert!((hann - 1.5).abs() < 1e-6);
        let harris = stft(Window::BlackmanHarris, 512, 128, 512).noise_bandwidth_hz(512.0);
        assert!((harris - 2.0).abs() < 0.01);
    }

    #[test]
    fn impossible_settings_say_so() {
        let with = |length, hop, padded| {
            Stft::new(&StftSettings {
                window: Window::Hann,
                length,
                hop,
                padded,
            })
            .err()
        };
        assert_eq!(with(63, 1, 64), Some(SettingsError::Length(63)));
        assert_eq!(with(64, 0, 64), Some(SettingsError::Hop));
        let padded = SettingsError::Padded {
            length: 128,
            padded: 64,
        };
        assert_eq!(with(128, 1, 64), Some(padded));
    }

    proptest! {
        #[test]
        fn frames_never_reach_past_the_end(samples in 0usize..5000, length in 64usize..600, hop in 1usize..700) {
            let stft = stft(Window::Hann, length, hop, length);
            let frames = stft.frames(samples);
            if frames > 0 {
                prop_assert!((frames - 1) * hop + length <= samples);
            }
            prop_assert!(frames * hop + length > samples, "one more frame would not fit");
        }

        #[test]
        fn two_frames_at_once_are_as_each_alone(samples in proptest::collection::vec(-1f32..1.0, 700), length in 64usize..200, padding in 0usize..60) {
            let mut stft = stft(Window::BlackmanHarris, length, 1, length + padding);
            let bins = stft.bins();
            let (mut alone, mut first, mut second) = (vec![0.0; bins], vec![0.0; bins], vec![0.0; bins]);
            stft.power_of_two([&samples, &samples[300..]], [&mut first, &mut second]);
            for (from, together) in [(0, &first), (300, &second)] {
                stft.power(&samples[from..], &mut alone);
                for (alone, together) in alone.iter().zip(together) {
                    prop_assert!((alone - together).abs() < 1e-6, "{alone} {together}");
                }
            }
        }

        #[test]
        fn a_tone_keeps_its_level_when_it_is_quieter(decibels in 0f64..90.0) {
            let mut stft = stft(Window::Hann, 512, 128, 512);
            let mut power = vec![0.0; stft.bins()];
            stft.power(&sine(0.125, 10f64.powf(-decibels / 20.0), 512), &mut power);
            prop_assert!((f64::from(to_db(power[64])) + decibels).abs() < 0.01);
        }
    }
}
