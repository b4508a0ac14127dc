//! A channel that follows a sweeping frequency.
//!
//! The samples are turned back by the phase of a guide (a frequency against
//! time), which makes the sweep a standing tone at 0 Hz, and are then smoothed.
//! What is left is the sound's own amplitude and its small deviation from the
//! guide, with nearly all noise, echoes and other animals outside the channel.

use rustfft::num_complex::Complex32;
use std::collections::HashMap;
use std::f64::consts::TAU;
use std::ops::Range;
use std::sync::Arc;

/// Time between a guide's knots, seconds: half of the 0.1 ms that a contour is
/// promised to be read at.
const KNOT_S: f64 = 0.05e-3;

/// A frequency against time: knots on an even grid, straight lines between.
#[derive(Debug, Clone)]
pub(super) struct Guide {
    /// Sample (of the block) that the first knot lies on.
    pub(super) first: usize,
    /// Samples between knots.
    pub(super) hop: usize,
    /// Frequency at each knot, hertz.
    pub(super) hz: Vec<f64>,
}

impl Guide {
    /// Samples between the knots of every guide at this rate.
    pub(super) fn hop(rate_hz: f64) -> usize {
        ((KNOT_S * rate_hz).round() as usize).max(1)
    }

    /// The part of the guide between two knots, as far as it reaches.
    pub(super) fn part(&self, knots: Range<usize>) -> Self {
        let end = knots.end.min(self.hz.len());
        let start = knots.start.min(end.saturating_sub(1));
        Self {
            first: self.first + start * self.hop,
            hop: self.hop,
            hz: self.hz[start..end].to_vec(),
        }
    }

    /// The knot nearest to a sample, as far as the guide reaches.
    pub(super) fn knot(&self, sample: f64) -> usize {
        let knot = (sample - self.first as f64) / self.hop as f64;
        (knot.round().max(0.0) as usize).min(self.hz.len().saturating_sub(1))
    }

    /// The frequency at a (fractional) knot, hertz.
    pub(super) fn at(&self, knot: f64) -> f64 {
        let last = self.hz.len() - 1;
        let below = (knot.max(0.0) as usize).min(last);
        let above = (below + 1).min(last);
        let share = (knot - below as f64).clamp(0.0, 1.0);
        self.hz[below] + share * (self.hz[above] - self.hz[below])
    }
}

/// A smoothing kernel, and what it lets through.
pub(super) struct Kernel {
    weights: Vec<f32>,
    /// Equivalent noise bandwidth, hertz.
    pub(super) bandwidth_hz: f64,
}

impl Kernel {
    /// A raised cosine with so many samples on either side of its middle: half its amplitude is left at a deviation of
    /// one over its length.
    fn of_half(half: usize, rate_hz: f64) -> Self {
        let raw: Vec<f64> = (0..=2 * half)
            .map(|n| 0.5 - 0.5 * (TAU * (n as f64 + 0.5) / (2 * half + 1) as f64).cos())
            .collect();
        let sum: f64 = raw.iter().sum();
        let squares: f64 = raw.iter().map(|w| w * w).sum();
        Self {
            weights: raw.iter().map(|w| (w / sum) as f32).collect(),
            bandwidth_hz: rate_hz * squares / (sum * sum),
        }
    }

    fn half(&self) -> usize {
        self.weights.len() / 2
    }
}

/// Scratch space that outlives one call.
#[derive(Default)]
pub(super) struct Follower {
    /// The turned samples, real and imaginary parts apart: so processors take several at once.
    re: Vec<f32>,
    im: Vec<f32>,
    /// Kernels that were needed before, by their half length in samples and their sampling rate. There are few: lengths
    /// lie within narrow bounds.
    kernels: HashMap<(usize, u64), Arc<Kernel>>,
}

impl Follower {
    /// The raised cosine of a length in seconds.
    pub(super) fn kernel(&mut self, length_s: f64, rate_hz: f64) -> Arc<Kernel> {
        let half = ((length_s * rate_hz / 2.0).round() as usize).max(1);
        let kernel = self
            .kernels
            .entry((half, rate_hz.to_bits()))
            .or_insert_with(|| Arc::new(Kernel::of_half(half, rate_hz)));
        Arc::clone(kernel)
    }

    /// Follows `multiple` times the guide. Gives one value per knot: its
    /// magnitude is the sound's amplitude (full scale 1), the turning of its
    /// phase the deviation from the guide.
    pub(super) fn follow(
        &mut self,
        samples: &[f32],
        rate_hz: f64,
        guide: &Guide,
        multiple: f64,
        kernel: &Kernel,
    ) -> Vec<Complex32> {
        self.turn_back(samples, rate_hz, guide, multiple, kernel.half());
        (0..guide.hz.len())
            .map(|knot| self.smoothed(knot * guide.hop, kernel))
            .collect()
    }

    /// Power around the guide at some knots (nothing at the others), in the wider channel of a shorter
    /// kernel, after a [`Self::follow`] with the kernel `followed`. It is the
    /// mean over the time from knot to knot, so that no instant is skipped.
    pub(super) fn power_around(
        &self,
        guide: &Guide,
        knots: impl Fn(usize) -> bool,
        followed: &Kernel,
        kernel: &Kernel,
    ) -> Vec<f32> {
        let skipped = followed.half().saturating_sub(kernel.half());
        let spacing = kernel.half().max(1);
        let looks = guide.hop.div_ceil(spacing);
        (0..guide.hz.len())
            .map(|knot| {
                if !knots(knot) {
                    return 0.0;
                }
                let middle = knot * guide.hop + skipped;
                let first = middle.saturating_sub(guide.hop / 2);
                let sum: f32 = (0..looks)
                    .map(|look| self.smoothed(first + look * spacing, kernel).norm_sqr())
                    .sum();
                sum / looks as f32
            })
            .collect()
    }

    /// The turned samples from one place on, smoothed.
    fn smoothed(&self, from: usize, kernel: &Kernel) -> Complex32 {
        let re = weighted_sum(&self.re[from..], &kernel.weights);
        let im = weighted_sum(&self.im[from..], &kernel.weights);
        // A real tone's other half lies at the negative frequency.
        Complex32::new(re, im) * 2.0
    }

    /// Multiplies the samples with the guide's backward turning phasor. The
    /// result begins `half` samples before the first knot.
    fn turn_back(
        &mut self,
        samples: &[f32],
        rate_hz: f64,
        guide: &Guide,
        multiple: f64,
        half: usize,
    ) {
        let total = (guide.hz.len() - 1) * guide.hop + 2 * half + 1;
        self.re.clear();
        self.im.clear();
        self.re.resize(total, 0.0);
        self.im.resize(total, 0.0);
        // Outside of the block there is silence.
        let before = half.saturating_sub(guide.first);
        let first = guide.first.saturating_sub(half).min(samples.len());
        let heard = &samples[first..];
        turning(guide, -multiple / rate_hz, half, total, |n, turned| {
            let from = n.max(before);
            let to = (n + turned.re.len()).min(before + heard.len());
            if from >= to {
                return;
            }
            let inputs = &heard[from - before..to - before];
            multiply(&turned.re[from - n..], inputs, &mut self.re[from..to]);
            multiply(&turned.im[from - n..], inputs, &mut self.im[from..to]);
        });
    }
}

/// Each value times the one that it meets, as far as `out` reaches.
fn multiply(values: &[f32], others: &[f32], out: &mut [f32]) {
    for ((out, value), other) in out.iter_mut().zip(values).zip(others) {
        *out = value * other;
    }
}

/// The sum of values times weights, as far as there are weights. Several sums run
/// side by side, which processors do at once.
fn weighted_sum(values: &[f32], weights: &[f32]) -> f32 {
    const LANES: usize = 8;
    let mut sums = [0f32; LANES];
    let (weights, rest) = weights.as_chunks::<LANES>();
    let (lanes, _) = values.as_chunks::<LANES>();
    for (lane, weight) in lanes.iter().zip(weights) {
        for n in 0..LANES {
            sums[n] += lane[n] * weight[n];
        }
    }
    let last = values.iter().skip(weights.len() * LANES).zip(rest);
    last.map(|(value, weight)| value * weight).sum::<f32>() + sums.iter().sum::<f32>()
}

/// The sound that a channel let through, put back to its frequency: added to
/// `out`, whose first sample lies on the guide's first knot.
pub(super) fn put_back(
    values: &[Complex32],
    rate_hz: f64,
    guide: &Guide,
    multiple: f64,
    out: &mut [f32],
) {
    let last = values.len() - 1;
    turning(guide, multiple / rate_hz, 0, out.len(), |first, turned| {
        for (n, (&re, &im)) in (first..).zip(turned.re.iter().zip(&turned.im)) {
            let knot = (n / guide.hop).min(last);
            let share = (n % guide.hop) as f32 / guide.hop as f32;
            let value = values[knot] + (values[(knot + 1).min(last)] - values[knot]) * share;
            out[n] += value.re * re - value.im * im;
        }
    });
}

/// Phasors of a stretch: real and imaginary parts apart, so that processors take several at once.
#[derive(Default)]
struct Phasors {
    re: Vec<f32>,
    im: Vec<f32>,
}

/// Hands out the phasors that turn with the guide, so many turns per sample for each hertz, from
/// `half` samples before the first knot on: a stretch up to the next knot at a time, with the place
/// of its first sample.
fn turning(
    guide: &Guide,
    turns_per_hertz: f64,
    half: usize,
    total: usize,
    mut each: impl FnMut(usize, &Phasors),
) {
    let mut phasors = Phasors::default();
    // In turns, so that the phase is 0 on the first knot, whatever lies before it.
    let mut phase = -guide.hz[0] * turns_per_hertz * half as f64;
    let mut done = 0;
    while done < total {
        // A stretch of straight line. The phase at its start is exact, so that rounding cannot add up.
        let beyond_knot = (done + half * (guide.hop - 1)) % guide.hop;
        let length = (guide.hop - beyond_knot).min(total - done);
        let place = |n: usize| (n as f64 - half as f64) / guide.hop as f64;
        let begin = guide.at(place(done)) * turns_per_hertz;
        let end = guide.at(place(done + length)) * turns_per_hertz;
        let bend = (end - begin) / length as f64;
        phase -= phase.round_ties_even();
        phasors.fill(phase, begin, bend, length);
        each(done, &phasors);
        let n = length as f64;
        phase += begin * n + bend * n * n / 2.0;
        done += length;
    }
}

/// Added and taken away again, it leaves the nearest whole number, of numbers that single precision holds to a fraction.
const ROUNDING: f32 = 12_582_912.0;

impl Phasors {
    /// Phasors from a phase on, at a frequency that grows by `bend` a sample, all in turns. No value waits for
    /// another, so processors take several at once. Within a stretch between two knots single precision is off by some
    /// millionths of a turn.
    fn fill(&mut self, phase: f64, step: f64, bend: f64, length: usize) {
        let (phase, step, half_bend) = (phase as f32, step as f32, (bend / 2.0) as f32);
        self.re.resize(length, 0.0);
        self.im.resize(length, 0.0);
        for (n, (re, im)) in self.re.iter_mut().zip(&mut self.im).enumerate() {
            // As a signed number of 32 bits: processors turn several of these into fractions at once.
            let n = n as i32 as f32;
            (*re, *im) = unit(phase + n * (step + n * half_bend));
        }
    }
}

/// Cosine and sine of an angle in turns, below some thousands. Taylor's series of half the angle, then doubled:
/// exact to a millionth. A mathematics library's own take several times as long, and differ from machine to
/// machine in the last digit.
pub(super) fn unit(turns: f32) -> (f32, f32) {
    let nearest = (turns + ROUNDING) - ROUNDING;
    let x = (turns - nearest) * std::f32::consts::PI;
    let square = x * x;
    let series = |terms: [f32; 6]| {
        terms
            .iter()
            .rev()
            .fold(0.0, |sum, term| sum * square + term)
    };
    let sine = x * series([
        1.0,
        -1.0 / 6.0,
        1.0 / 120.0,
        -1.0 / 5_040.0,
        1.0 / 362_880.0,
        -1.0 / 39_916_800.0,
    ]);
    let cosine = 1.0
        + square
            * series([
                -0.5,
                1.0 / 24.0,
                -1.0 / 720.0,
                1.0 / 40_320.0,
                -1.0 / 3_628_800.0,
                1.0 / 479_001_600.0,
            ]);
    (1.0 - 2.0 * sine * sine, 2.0 * sine * cosine)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pulse::deviation::Steps;

    const RATE_HZ: f64 = 384_000.0;

    /// Samples of a linear sweep with its closed-form phase.
    fn sweep(start_hz: f64, hz_per_s: f64, length: usize, amplitude: f64) -> Vec<f32> {
        (0..length)
            .map(|n| {
                let t = n as f64 / RATE_HZ;
                (amplitude * (TAU * (start_hz * t + hz_per_s * t * t / 2.0)).sin()) as f32
            })
            .collect()
    }

    fn guide(start_hz: f64, hz_per_s: f64, length: usize) -> Guide {
        let hop = Guide::hop(RATE_HZ);
        Guide {
            first: 0,
            hop,
            hz: (0..length / hop)
                .map(|knot| start_hz + hz_per_s * (knot * hop) as f64 / RATE_HZ)
                .collect(),
        }
    }

    #[test]
    fn a_followed_sweep_stands_still_at_its_amplitude() {
        let samples = sweep(90_000.0, -2e7, 1152, 0.3);
        let guide = guide(90_000.0, -2e7, 1152);
        let mut follower = Follower::default();
        let kernel = follower.kernel(0.25e-3, RATE_HZ);
        let values = follower.follow(&samples, RATE_HZ, &guide, 1.0, &kernel);
        for value in &values[5..values.len() - 5] {
            assert!((value.norm() - 0.3).abs() < 0.003, "{}", value.norm());
        }
    }

    #[test]
    fn a_guide_that_is_off_is_put_right() {
        // The guide is 1.5 kHz too high and its slope 2 kHz/ms too flat.
        let samples = sweep(90_000.0, -2e7, 1152, 0.3);
        let guide = guide(91_500.0, -1.8e7, 1152);
        let mut follower = Follower::default();
        let kernel = follower.kernel(0.25e-3, RATE_HZ);
        let values = follower.follow(&samples, RATE_HZ, &guide, 1.0, &kernel);
        let core = 5..values.len() - 5;
        let knot_s = guide.hop as f64 / RATE_HZ;
        for (at, off) in core
            .clone()
            .zip(Steps::of(&values, core, knot_s).smoothed(6))
        {
            let truth = 90_000.0 - 2e7 * at as f64 * knot_s;
            let error = guide.hz[at] + off - truth;
            assert!(error.abs() < 60.0, "knot {at}: {error} Hz");
        }
    }

    #[test]
    fn what_is_put_back_is_what_was_there() {
        let samples = sweep(90_000.0, -2e7, 1152, 0.3);
        let guide = guide(90_000.0, -2e7, 1152);
        let mut follower = Follower::default();
        let kernel = follower.kernel(0.25e-3, RATE_HZ);
        let values = follower.follow(&samples, RATE_HZ, &guide, 1.0, &kernel);
        let mut back = vec![0.0; 1152];
        put_back(&values, RATE_HZ, &guide, 1.0, &mut back);
        for n in 100..1000 {
            assert!((back[n] - samples[n]).abs() < 0.01, "{n}");
        }
    }

    #[test]
    fn unit_lies_where_the_standard_library_puts_it() {
        for n in -4000i16..4000 {
            let turns = f32::from(n) / 1024.0;
            let (sine, cosine) = (f64::from(turns) * TAU).sin_cos();
            let (re, im) = unit(turns);
            assert!((f64::from(re) - cosine).abs() < 1e-6, "{turns}");
            assert!((f64::from(im) - sine).abs() < 1e-6, "{turns}");
        }
    }

    #[test]
    fn phasors_turn_as_told() {
        let mut phasors = Phasors::default();
        let (phase, step, bend) = (0.3, -0.45, 1e-4);
        phasors.fill(phase, step, bend, 100);
        for n in 0..100 {
            let at = n as f64;
            let (sine, cosine) = ((phase + step * at + bend * at * at / 2.0) * TAU).sin_cos();
            assert!((f64::from(phasors.re[n]) - cosine).abs() < 2e-5, "{n}");
            assert!((f64::from(phasors.im[n]) - sine).abs() < 2e-5, "{n}");
        }
    }

    #[test]
    fn kernel_passes_the_noise_that_it_says() {
        // A raised cosine has 1.5 times the bandwidth of a rectangle (Harris 1978, table 1).
        let kernel = Follower::default().kernel(1e-3, 500_000.0);
        assert!((kernel.bandwidth_hz / 1500.0 - 1.0).abs() < 0.01);
    }
}
