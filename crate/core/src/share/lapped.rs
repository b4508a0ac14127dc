//! The lapped transform that sound is coded in.

use rustdct::{DctPlanner, TransformType4};
use std::f32::consts::FRAC_PI_2;
use std::sync::Arc;

/// A modified discrete cosine transform of `hop` frequencies every `hop` samples.
///
/// Each block spans two hops, and what overlaps cancels (Princen, Johnson and Bradley, "Subband/transform coding using
/// filter bank designs based on time domain aliasing cancellation", ICASSP 1987). With the window of the Vorbis I
/// specification (section 1.3.2), whose squares sum to one, it is orthogonal: white noise has the same standard deviation before and
/// after. So an error of a coefficient is an error of the sound, of the same power.
pub(super) struct Lapped {
    hop: usize,
    window: Vec<f32>,
    dct: Arc<dyn TransformType4<f32>>,
    folded: Vec<f32>,
    scratch: Vec<f32>,
}

impl Lapped {
    /// A transform with an even number of frequencies.
    pub(super) fn new(hop: usize) -> Self {
        let dct = DctPlanner::new().plan_dct4(hop);
        let window = (0..2 * hop).map(|n| {
            let sine = (FRAC_PI_2 * (n as f32 + 0.5) / hop as f32).sin();
            (FRAC_PI_2 * sine * sine).sin()
        });
        Self {
            hop,
            window: window.collect(),
            folded: vec![0.0; hop],
            scratch: vec![0.0; dct.get_scratch_len()],
            dct,
        }
    }

    /// How many blocks so many samples make. Block `b` spans the hops `b - 1` and `b`.
    pub(super) fn blocks(&self, frames: usize) -> usize {
        frames.div_ceil(self.hop) + 1
    }

    /// The coefficients of all blocks, one after the other.
    pub(super) fn forward(&mut self, samples: &[f32]) -> Vec<f32> {
        let blocks = self.blocks(samples.len());
        let mut coefficients = Vec::with_capacity(blocks * self.hop);
        let mut span = vec![0.0; 2 * self.hop];
        for block in 0..blocks {
            for (n, (value, weight)) in span.iter_mut().zip(&self.window).enumerate() {
                let at = (block * self.hop + n).checked_sub(self.hop);
                let sample = at.and_then(|at| samples.get(at)).copied();
                *value = sample.unwrap_or(0.0) * weight;
            }
            self.fold(&span);
            self.transform();
            coefficients.extend_from_slice(&self.folded);
        }
        coefficients
    }

    /// So many samples from the coefficients of their blocks.
    pub(super) fn inverse(&mut self, coefficients: &[f32], frames: usize) -> Vec<f32> {
        let mut samples = vec![0.0; frames];
        for (block, values) in coefficients.chunks_exact(self.hop).enumerate() {
            self.folded.copy_from_slice(values);
            self.transform();
            for n in 0..2 * self.hop {
                let at = (block * self.hop + n).checked_sub(self.hop);
                if let Some(sample) = at.and_then(|at| samples.get_mut(at)) {
                    *sample += self.unfolded(n) * self.window.get(n).copied().unwrap_or(0.0);
                }
            }
        }
        samples
    }

    /// Two hops, as quarters a, b, c and d, folded into one: -c reversed - d, then a - b reversed.
    fn fold(&mut self, span: &[f32]) {
        let half = self.hop / 2;
        let at = |n: usize| span.get(n).copied().unwrap_or(0.0);
        for (n, value) in self.folded.iter_mut().enumerate() {
            *value = if n < half {
                -at(3 * half - 1 - n) - at(3 * half + n)
            } else {
                at(n - half) - at(3 * half - 1 - n)
            };
        }
    }

    /// Sample `n` of the two hops that a folded block stands for.
    fn unfolded(&self, n: usize) -> f32 {
        let half = self.hop / 2;
        let at = |n: usize| self.folded.get(n).copied().unwrap_or(0.0);
        if n < half {
            at(n + half)
        } else if n < 3 * half {
            -at(3 * half - 1 - n)
        } else {
            -at(n - 3 * half)
        }
    }

    /// The DCT-IV of what is folded, scaled so that it is its own inverse.
    fn transform(&mut self) {
        self.dct
            .process_dct4_with_scratch(&mut self.folded, &mut self.scratch);
        let scale = (2.0 / self.hop as f32).sqrt();
        for value in &mut self.folded {
            *value *= scale;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use std::f64::consts::PI;

    /// The definition: `sqrt(2 / N) sum x w cos(pi / N (n + 1/2 + N / 2) (k + 1/2))`.
    fn by_definition(span: &[f32], hop: usize, k: usize) -> f64 {
        let sum: f64 = span
            .iter()
            .enumerate()
            .map(|(n, &x)| {
                let turn = (n as f64 + 0.5 + hop as f64 / 2.0) * (k as f64 + 0.5);
                f64::from(x) * (PI / hop as f64 * turn).cos()
            })
            .sum();
        sum * (2.0 / hop as f64).sqrt()
    }

    #[test]
    fn it_is_the_transform_of_the_definition() {
        let hop = 16;
        let mut lapped = Lapped::new(hop);
        let samples: Vec<f32> = (0..2 * hop).map(|n| (n as f32 * 0.7).sin()).collect();
        let spectrum = lapped.forward(&samples);
        let span: Vec<f32> = samples
            .iter()
            .zip(&lapped.window)
            .map(|(a, b)| a * b)
            .collect();
        for k in 0..hop {
            let expected = by_definition(&span, hop, k);
            assert!((f64::from(spectrum[hop + k]) - expected).abs() < 1e-5);
        }
    }

    proptest! {
        #[test]
        fn what_goes_in_comes_out(samples in prop::collection::vec(-1f32..1.0, 0..700), exponent in 4u32..9) {
            let mut lapped = Lapped::new(1 << exponent);
            let coefficients = lapped.forward(&samples);
            let back = lapped.inverse(&coefficients, samples.len());
            for (one, other) in samples.iter().zip(&back) {
                prop_assert!((one - other).abs() < 1e-5);
            }
            let energy = |values: &[f32]| values.iter().map(|&x| f64::from(x).powi(2)).sum::<f64>();
            prop_assert!((energy(&samples) - energy(&coefficients)).abs() < 1e-3 * (1.0 + energy(&samples)));
        }
    }
}
