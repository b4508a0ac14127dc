//! A channel that follows a sweeping frequency.
//!
//! The samples are turned back by the phase of a guide (a frequency against
//! time), which makes the sweep a standing tone at 0 Hz, and are then smoothed.
//! What is left is the sound's own amplitude and its small deviation from the
//! guide, with nearly all noise, echoes and other animals outside the channel.

use rustfft::num_complex::Complex32;
use std::f64::consts::TAU;
use std::ops::Range;

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
    /// A raised cosine of a length in seconds: half its amplitude is left at a
    /// deviation of one over the length.
    pub(super) fn new(length_s: f64, rate_hz: f64) -> Self {
        let half = ((length_s * rate_hz / 2.0).round() as usize).max(1);
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
}

impl Follower {
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
        turning(guide, -multiple / rate_hz, half, total, |n, phasors| {
            let heard = n.max(before)..n + phasors.len();
            let inputs = samples[first..].iter().skip(heard.start - before);
            for (at, &sample) in heard.zip(inputs) {
                self.re[at] = phasors[at - n].re * sample;
                self.im[at] = phasors[at - n].im * sample;
            }
        });
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
    turning(guide, multiple / rate_hz, 0, out.len(), |first, phasors| {
        for (n, phasor) in (first..).zip(phasors) {
            let knot = (n / guide.hop).min(last);
            let share = (n % guide.hop) as f32 / guide.hop as f32;
            let value = values[knot] + (values[(knot + 1).min(last)] - values[knot]) * share;
            out[n] += (value * phasor).re;
        }
    });
}

/// Hands out the phasors that turn with the guide, so many turns per sample for each hertz, from
/// `half` samples before the first knot on: a stretch up to the next knot at a time, with the place
/// of its first sample.
fn turning(
    guide: &Guide,
    turns_per_hertz: f64,
    half: usize,
    total: usize,
    mut each: impl FnMut(usize, &[Complex32]),
) {
    let mut phasors = Vec::with_capacity(guide.hop + PHASORS);
    // In turns, so that the phase is 0 on the first knot, whatever lies before it.
    let mut phase = -guide.hz[0] * turns_per_hertz * half as f64;
    let mut done = 0;
    while done < total {
        // A stretch of straight line, with the phasors set anew from the exact phase at its start so that
        // rounding cannot add up.
        let beyond_knot = (done + half * (guide.hop - 1)) % guide.hop;
        let length = (guide.hop - beyond_knot).min(total - done);
        let place = |n: usize| (n as f64 - half as f64) / guide.hop as f64;
        let begin = guide.at(place(done)) * turns_per_hertz;
        let end = guide.at(place(done + length)) * turns_per_hertz;
        let bend = (end - begin) / length as f64;
        turn(phase, begin + bend / 2.0, bend, length, &mut phasors);
        each(done, &phasors[..length]);
        let n = length as f64;
        phase += begin * n + bend * n * n / 2.0;
        phase -= phase.round_ties_even();
        done += length;
    }
}

/// Phasors that are advanced at once.
const PHASORS: usize = 4;

/// Fills in phasors, at least `length`, from a phase on by steps that grow by `bend`, all in turns. Each phasor
/// follows from the one four before it, so that four can be advanced at once.
fn turn(phase: f64, step: f64, bend: f64, length: usize, phasors: &mut Vec<Complex32>) {
    let (bend_1, first) = (unit(bend), unit(step));
    let mut now = [unit(phase); PHASORS];
    let mut steps = [first; PHASORS];
    for n in 1..PHASORS {
        now[n] = now[n - 1] * steps[n - 1];
        steps[n] = steps[n - 1] * bend_1;
    }
    let bend_2 = bend_1 * bend_1;
    let bend_4 = bend_2 * bend_2;
    // The step of four from each: that of the first, and four bends more for each one on.
    let mut four = [steps[0] * steps[1] * (steps[2] * steps[3]); PHASORS];
    for n in 1..PHASORS {
        four[n] = four[n - 1] * bend_4;
    }
    let bend_8 = bend_4 * bend_4;
    let bend_16 = bend_8 * bend_8;
    phasors.clear();
    while phasors.len() < length {
        phasors.extend_from_slice(&now);
        for n in 0..PHASORS {
            now[n] *= four[n];
            four[n] *= bend_16;
        }
    }
}

/// The number of magnitude 1 at an angle in turns. Taylor's series for a sine
/// and a cosine of at most an eighth of a turn, exact to single precision; a
/// mathematics library's own take three times as long, and differ from machine
/// to machine in the last digit.
fn unit(turns: f64) -> Complex32 {
    let quarters = (turns * 4.0).round_ties_even();
    let x = (turns - quarters / 4.0) * TAU;
    let square = x * x;
    let series = |terms: [f64; 5]| {
        terms
            .iter()
            .rev()
            .fold(0.0, |sum, term| sum * square + term)
    };
    let sine = x * series([1.0, -1.0 / 6.0, 1.0 / 120.0, -1.0 / 5040.0, 1.0 / 362_880.0]);
    let cosine = 1.0
        + square
            * series([
                -0.5,
                1.0 / 24.0,
                -1.0 / 720.0,
                1.0 / 40_320.0,
                -1.0 / 3_628_800.0,
            ]);
    let (re, im) = match (quarters as i64).rem_euclid(4) {
        0 => (cosine, sine),
        1 => (-sine, cosine),
        2 => (-cosine, -sine),
        _ => (sine, -cosine),
    };
    Complex32::new(re as f32, im as f32)
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
        let kernel = Kernel::new(0.25e-3, RATE_HZ);
        let values = Follower::default().follow(&samples, RATE_HZ, &guide, 1.0, &kernel);
        for value in &values[5..values.len() - 5] {
            assert!((value.norm() - 0.3).abs() < 0.003, "{}", value.norm());
        }
    }

    #[test]
    fn a_guide_that_is_off_is_put_right() {
        // The guide is 1.5 kHz too high and its slope 2 kHz/ms too flat.
        let samples = sweep(90_000.0, -2e7, 1152, 0.3);
        let guide = guide(91_500.0, -1.8e7, 1152);
        let kernel = Kernel::new(0.25e-3, RATE_HZ);
        let values = Follower::default().follow(&samples, RATE_HZ, &guide, 1.0, &kernel);
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
        let kernel = Kernel::new(0.25e-3, RATE_HZ);
        let values = Follower::default().follow(&samples, RATE_HZ, &guide, 1.0, &kernel);
        let mut back = vec![0.0; 1152];
        put_back(&values, RATE_HZ, &guide, 1.0, &mut back);
        for n in 100..1000 {
            assert!((back[n] - samples[n]).abs() < 0.01, "{n}");
        }
    }

    #[test]
    fn unit_lies_where_the_standard_library_puts_it() {
        for n in -4000..4000 {
            let turns = f64::from(n) / 1111.0;
            let (sine, cosine) = (turns * TAU).sin_cos();
            let ours = unit(turns);
            assert!((f64::from(ours.re) - cosine).abs() < 1e-7, "{turns}");
            assert!((f64::from(ours.im) - sine).abs() < 1e-7, "{turns}");
        }
    }

    #[test]
    fn kernel_passes_the_noise_that_it_says() {
        // A raised cosine has 1.5 times the bandwidth of a rectangle (Harris 1978, table 1).
        let kernel = Kernel::new(1e-3, 500_000.0);
        assert!((kernel.bandwidth_hz / 1500.0 - 1.0).abs() < 0.01);
    }
}
