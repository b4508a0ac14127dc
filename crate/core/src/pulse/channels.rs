//! A pulse's energy along the multiples of its contour.

use super::Harmonic;
use super::finish::{Course, Tools};
use super::follow::{Guide, put_back};
use super::peak::{Peak, peak};
use super::ridge::Block;
use super::ridge::KERNEL_S;
use rustfft::num_complex::Complex32;
use std::ops::Range;

/// The power spectrum is searched for its peak a little beyond the contour's band, hertz.
const BEYOND_HZ: f64 = 1_500.0;
/// How far beyond its edges a pulse is faded out, as a share of it, and at most, seconds.
const FADE_SHARE: f64 = 0.1;
const LONGEST_FADE_S: f64 = 0.3e-3;
/// Highest multiple whose energy is reported.
const HIGHEST_MULTIPLE: u32 = 5;
/// How far a harmonic's energy must stand above the noise in its channel.
const HARMONIC_OVER_NOISE: f64 = 4.0;

/// What channels along a contour and its multiples let through, from a little
/// before the pulse's start to a little after its end.
pub(super) struct Channels {
    /// The contour, as far as the channels go.
    guide: Guide,
    /// The knots of the pulse itself.
    core: Range<usize>,
    bandwidth_hz: f64,
    /// Each multiple that the sampling rate can hold, with its channel.
    channels: Vec<(u32, Vec<Complex32>)>,
}

impl Channels {
    /// Follows all multiples that the sampling rate can hold.
    pub(super) fn along(block: &Block, course: &Course, tools: &mut Tools) -> Self {
        let core = course.edges.core();
        let knot_s = course.guide.hop as f64 / block.rate_hz;
        let margin = (LONGEST_FADE_S / knot_s).ceil() as usize + 1;
        let from = core.start.saturating_sub(margin);
        let guide = course.guide.part(from..core.end + margin);
        let core = core.start - from..(core.end - from).min(guide.hz.len());
        let kernel = tools.follower.kernel(KERNEL_S, block.rate_hz);
        let highest = guide.hz[core.clone()].iter().fold(0f64, |a, &b| a.max(b));
        let limit = block.nyquist_hz() - kernel.bandwidth_hz;
        let channels = (1..=HIGHEST_MULTIPLE)
            .filter(|&multiple| {
                course.multiples.contains(&multiple) || highest * f64::from(multiple) < limit
            })
            .map(|multiple| {
                let factor = f64::from(multiple);
                let values =
                    tools
                        .follower
                        .follow(block.samples, block.rate_hz, &guide, factor, &kernel);
                (multiple, values)
            })
            .collect();
        Self {
            guide,
            core,
            bandwidth_hz: kernel.bandwidth_hz,
            channels,
        }
    }

    /// The frequency of most energy of what the channels along the counted
    /// multiples let through: that holds the pulse and far less noise than the
    /// whole band that it sweeps over.
    pub(super) fn peak(
        &self,
        block: &Block,
        course: &Course,
        span: Range<f64>,
        own: Range<f64>,
        tools: &mut Tools,
    ) -> Option<Peak> {
        let mut sound = vec![0.0; (self.guide.hz.len() - 1) * self.guide.hop + 1];
        let mut bands = Vec::with_capacity(course.multiples.len());
        for (multiple, values) in &self.channels {
            if course.multiples.contains(multiple) {
                let m = f64::from(*multiple);
                put_back(values, block.rate_hz, &self.guide, m, &mut sound);
                bands.push(own.start * m - BEYOND_HZ..own.end * m + BEYOND_HZ);
            }
        }
        let first = self.guide.first as f64;
        let fade = (FADE_SHARE * (span.end - span.start)).min(LONGEST_FADE_S * block.rate_hz);
        let span = span.start - first..span.end - first;
        let rate_hz = block.rate_hz;
        let noise = self.noise_power(course, rate_hz);
        peak(
            &mut tools.spectrum,
            &sound,
            rate_hz,
            span,
            fade,
            &bands,
            noise,
        )
    }

    /// What noise alone has, on average, in the power spectrum of the sound that is put back: a frequency is
    /// let through only while the contour passes it.
    fn noise_power(&self, course: &Course, rate_hz: f64) -> f64 {
        let knots = self.core.len().max(2);
        let hz = &self.guide.hz[self.core.clone()];
        let travelled: f64 = hz.windows(2).map(|pair| (pair[1] - pair[0]).abs()).sum();
        let passing = self.bandwidth_hz / (travelled / (knots - 1) as f64).max(1e-9);
        let samples = passing.min(knots as f64) * self.guide.hop as f64;
        // A channel's amplitude squared is four times the variance that it lets through.
        let variance = f64::from(course.noise).powi(2) * rate_hz / (4.0 * self.bandwidth_hz);
        variance * samples
    }

    /// Energy at the multiples of the contour, as far as it stands above the noise.
    pub(super) fn harmonics(&self, block: &Block) -> Vec<Harmonic> {
        let energy = |values: &[Complex32]| -> f64 {
            values[self.core.clone()]
                .iter()
                .map(|v| f64::from(v.norm_sqr()))
                .sum()
        };
        let Some((_, fundamental)) = self.channels.first() else {
            return Vec::new();
        };
        let reference = energy(fundamental).max(1e-30);
        let middle = self.guide.hz[(self.core.start + self.core.end) / 2];
        let half = self.bandwidth_hz / 2.0;
        let noise = |multiple: u32| {
            let hz = middle * f64::from(multiple);
            block.noise.power(hz - half, hz + half) * self.core.len() as f64
        };
        self.channels
            .iter()
            .map(|(multiple, values)| (*multiple, energy(values)))
            .filter(|&(multiple, sum)| multiple == 1 || sum > HARMONIC_OVER_NOISE * noise(multiple))
            .map(|(multiple, sum)| Harmonic {
                multiple,
                relative_db: 10.0 * (sum.max(1e-30) / reference).log10(),
            })
            .collect()
    }
}
