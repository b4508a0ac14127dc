//! From a trace to a ridge: the exact course of one component, its amplitude
//! and its edges.

use super::Settings;
use super::along::{self, CATCHING_MARGIN_S, extrapolate, guide_along, smooth_peaks};
use super::deviation::Steps;
use super::edges::{Edges, edges};
use super::follow::{Follower, Guide, Kernel};
use super::order::share_of;
use super::trace::{NoiseDensity, Trace};
use crate::spectrum::QUARTILE_OF_MEAN;
use rustfft::num_complex::Complex32;
use std::ops::Range;

/// The kernel that measures, seconds.
pub(super) const KERNEL_S: f64 = 0.25e-3;
/// Kernels of the passes, seconds: a wide channel first, for a guide that is
/// 6 kHz off, then narrow ones. The last is measured with: it lets 6 kHz
/// through and blurs edges by less than a tenth of a millisecond.
const KERNELS_S: [f64; 3] = [0.16e-3, KERNEL_S, KERNEL_S];
/// Kernels for quiet level calls, which a channel of 2 kHz lifts out of the noise.
const QUIET_KERNELS_S: [f64; 3] = [0.4e-3, 0.75e-3, 0.75e-3];
/// A trace is quiet below this power over the noise (18 dB), and level if it
/// lasts, seconds, and its slope stays low, kHz/ms.
const QUIET: f32 = 63.0;
const LEVEL_S: f64 = 5e-3;
const LEVEL_KHZ_PER_MS: f64 = 1.0;
/// Widest channel that shows what lies around the course, hertz. Around low
/// frequencies it is narrower, so that it does not reach to the negative ones.
const WIDEST_HZ: f64 = 50_000.0;
const WIDE_SHARE: f64 = 1.5;
/// What the wide channel lets through of noise is read so far from the sound's edges, knots, and at one knot in so many.
const WIDE_GAP: usize = 20;
const WIDE_EVERY: usize = 4;
/// Half of the smoothing of a contour: this share of the pulse, within bounds, seconds.
const SMOOTHING_SHARE: f64 = 0.08;
const SMOOTHING_S: Range<f64> = 0.15e-3..1.0e-3;
/// Noise around a pulse is at most so many times the block's floor, as a power.
const HIGHEST_NOISE: f32 = 10.0;
/// Where even the quieter part of what lies around is this share of the pulse's
/// power (13 dB below), the sound goes on.
const GOES_ON: f32 = 0.05;

/// No bat's call rises as steeply as this, hertz per second (common practice:
/// calls sweep down, and what rises rises gently).
const LEAP_HZ_PER_S: f64 = 4e7;

/// A ridge that stays so near to others, hertz, for this share of its time repeats them.
const REPEATED_HZ: f64 = 1_000.0;
const REPEATED_SHARE: f64 = 0.8;

/// What all pulses of a block are measured in.
pub(super) struct Block<'a> {
    pub(super) samples: &'a [f32],
    pub(super) rate_hz: f64,
    pub(super) noise: &'a NoiseDensity,
    /// Frequencies of the constant tones that were taken out, hertz.
    pub(super) lines: &'a [f64],
    pub(super) settings: &'a Settings,
}

impl Block<'_> {
    /// The highest frequency that the sampling rate can hold, hertz.
    pub(super) fn nyquist_hz(&self) -> f64 {
        self.rate_hz / 2.0
    }
}

/// Power around a ridge's course, in a channel that is much wider.
#[derive(Debug, Clone)]
pub(super) struct Around {
    /// At each knot of the ridge, and at some before and after it.
    pub(super) power: Vec<f32>,
    /// The mean of that before and after, from its quieter part.
    pub(super) noise: f32,
    /// What the channel lets through, hertz.
    pub(super) hz: f64,
}

impl Around {
    /// Looks around a course that was just followed with a kernel.
    fn of(
        guide: &Guide,
        edges: &Edges,
        kernel: &Kernel,
        follower: &mut Follower,
        rate_hz: f64,
    ) -> Self {
        let hz = (WIDE_SHARE * guide.hz[edges.top]).clamp(2.0 * kernel.bandwidth_hz, WIDEST_HZ);
        // A raised cosine of a length lets through one and a half over it.
        let wide_kernel = follower.kernel(1.5 / hz, rate_hz);
        let core = edges.core();
        let beside = |knot: usize| {
            let before = core.start.saturating_sub(knot);
            let apart = before.max((knot + 1).saturating_sub(core.end));
            apart >= WIDE_GAP && apart.is_multiple_of(WIDE_EVERY)
        };
        let looked_at = |knot: usize| core.contains(&knot) || beside(knot);
        let power = follower.power_around(guide, looked_at, kernel, &wide_kernel);
        let mut quiet: Vec<f32> = (0..power.len())
            .filter(|&knot| beside(knot))
            .map(|knot| power[knot])
            .collect();
        let quartile = share_of(&mut quiet, 0.25, f32::total_cmp).unwrap_or(0.0);
        Self {
            power,
            noise: quartile / QUARTILE_OF_MEAN,
            hz,
        }
    }
}

/// One component of a call, followed and measured.
#[derive(Debug, Clone)]
pub(super) struct Ridge {
    pub(super) guide: Guide,
    /// Amplitude at each knot, full scale 1.
    pub(super) envelope: Vec<f32>,
    /// Noise amplitude (root of the mean power) in the channel.
    pub(super) noise: f32,
    /// Standard deviation of the course at each knot, hertz, from the noise.
    pub(super) sigma_hz: Vec<f32>,
    /// What sounds around the course.
    pub(super) around: Around,
    pub(super) edges: Edges,
    /// The knots where its course is believed (see [`without_leaps`]).
    pub(super) believed: Range<usize>,
}

impl Ridge {
    /// The largest amplitude, full scale 1.
    pub(super) fn amplitude(&self) -> f32 {
        self.edges.amplitude
    }

    /// Sample (fractional, of the block) of a fractional knot.
    pub(super) fn sample(&self, knot: f64) -> f64 {
        self.guide.first as f64 + knot * self.guide.hop as f64
    }

    /// The samples of the block from start to end.
    pub(super) fn span(&self) -> Range<f64> {
        self.sample(self.edges.start)..self.sample(self.edges.end)
    }

    /// The amplitude at a sample of the block.
    pub(super) fn amplitude_at(&self, sample: f64) -> f32 {
        self.envelope[self.guide.knot(sample)]
    }

    /// The frequency at a sample of the block, where the pulse covers it.
    pub(super) fn hz_at(&self, sample: f64) -> Option<f64> {
        self.span().contains(&sample).then(|| {
            self.guide
                .at((sample - self.guide.first as f64) / self.guide.hop as f64)
        })
    }

    /// The frequency at a sample of the block, where it is believed.
    pub(super) fn believed_hz_at(&self, sample: f64) -> Option<f64> {
        let believed = self.believed.contains(&self.guide.knot(sample));
        self.hz_at(sample).filter(|_| believed)
    }

    /// Whether most of this ridge runs where others do, now one of them, now
    /// another: chance may lead a trace from one harmonic over to the next.
    pub(super) fn repeats(&self, others: &[Self]) -> bool {
        let span = self.span();
        let near: Vec<&Self> = others
            .iter()
            .filter(|other| span.start < other.span().end && other.span().start < span.end)
            .collect();
        let core = self.edges.core();
        let together = core
            .clone()
            .filter(|&knot| {
                let (at, hz) = (self.sample(knot as f64), self.guide.hz[knot]);
                near.iter().any(|other| other.passes_by(at, hz))
            })
            .count();
        together as f64 >= REPEATED_SHARE * core.len() as f64
    }

    /// Whether it passes a place in time and frequency so near that it may be
    /// the same sound: a steep sweep that is a knot early or late is far off in
    /// frequency alone.
    fn passes_by(&self, sample: f64, hz: f64) -> bool {
        let hop = self.guide.hop as f64;
        let around = [sample - hop, sample, sample + hop]
            .into_iter()
            .filter_map(|at| self.hz_at(at));
        let (low, high) = around.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), hz| {
            (low.min(hz), high.max(hz))
        });
        (low - REPEATED_HZ..high + REPEATED_HZ).contains(&hz)
    }

    /// Follows a trace to its exact course; none where nothing is left of it
    /// on a closer look.
    pub(super) fn refine(block: &Block, trace: &Trace, follower: &mut Follower) -> Option<Self> {
        let mut guide = guide_along(block, trace, CATCHING_MARGIN_S);
        let knot_s = guide.hop as f64 / block.rate_hz;
        let span = trace.span();
        let near = along::near(&guide, block, &span);
        let [catching, closer, last] =
            kernels_for(trace).map(|length_s| follower.kernel(length_s, block.rate_hz));
        for kernel in [catching, closer] {
            let values = follower.follow(block.samples, block.rate_hz, &guide, 1.0, &kernel);
            let (_, _, edges) = shape_of(block, &guide, &values, &kernel, &near)?;
            correct(&mut guide, &values, &edges, knot_s, block.nyquist_hz());
        }
        let mut guide = guide.widened(block, &span);
        let near = along::near(&guide, block, &span);
        let values = follower.follow(block.samples, block.rate_hz, &guide, 1.0, &last);
        let (envelope, noise, edges) = shape_of(block, &guide, &values, &last, &near)?;
        if goes_on(block, &guide, &edges) {
            return None;
        }
        let around = Around::of(&guide, &edges, &last, follower, block.rate_hz);
        let channel = Channel {
            noise,
            bandwidth_hz: last.bandwidth_hz,
        };
        let sigma_hz = settle(&mut guide, &values, &edges, &channel, block);
        Some(Self {
            believed: without_leaps(&guide, &edges, knot_s),
            guide,
            envelope,
            noise,
            sigma_hz,
            around,
            edges,
        })
    }
}

/// The kernels of the passes that suit a trace, seconds.
fn kernels_for(trace: &Trace) -> [f64; 3] {
    let span = trace.span();
    let loudest = trace.peaks.iter().fold(0f32, |a, p| a.max(p.over_noise));
    let travelled: f64 = smooth_peaks(trace)
        .windows(2)
        .map(|pair| (pair[1].1 - pair[0].1).abs())
        .sum();
    let length_s = span.end - span.start;
    let is_level = length_s > LEVEL_S && travelled < LEVEL_KHZ_PER_MS * 1e6 * length_s;
    if loudest < QUIET && is_level {
        QUIET_KERNELS_S
    } else {
        KERNELS_S
    }
}

/// Envelope, noise and edges of what a channel shows.
fn shape_of(
    block: &Block,
    guide: &Guide,
    values: &[Complex32],
    kernel: &Kernel,
    near: &Range<usize>,
) -> Option<(Vec<f32>, f32, Edges)> {
    let envelope: Vec<f32> = values.iter().map(|value| value.norm()).collect();
    let noise = channel_noise(block, guide, &envelope, near, kernel.bandwidth_hz)?;
    let knot_s = guide.hop as f64 / block.rate_hz;
    let edges = edges(&envelope, near.clone(), noise, knot_s, block.settings)?;
    Some((envelope, noise, edges))
}

/// Whether the sound has no edge even in the margin around the trace, where
/// the block does not end: it is a part of something longer, such as the
/// moment in which a constant tone is switched on.
fn goes_on(block: &Block, guide: &Guide, edges: &Edges) -> bool {
    let last = guide.hz.len() - 1;
    let reaches_end = guide.first + (last + 2) * guide.hop >= block.samples.len();
    let before = edges.start <= 0.0 && guide.first > 0;
    let after = edges.end >= last as f64 && !reaches_end;
    before || after
}

/// Puts the guide right by what the channel showed, and extends it anew.
fn correct(guide: &mut Guide, values: &[Complex32], edges: &Edges, knot_s: f64, nyquist_hz: f64) {
    let core = edges.core();
    if core.len() < 3 {
        return;
    }
    let half_width = smoothing_knots(core.len(), knot_s);
    let deviations = Steps::of(values, core.clone(), knot_s).smoothed(half_width);
    for (knot, off) in core.clone().zip(deviations) {
        guide.hz[knot] += off;
    }
    extrapolate(&mut guide.hz, core, knot_s, nyquist_hz);
}

/// What is known of the noise in a channel.
struct Channel {
    noise: f32,
    bandwidth_hz: f64,
}

/// Puts the guide right for good, each knot by as wide an average as its bends allow, and extends it. Gives the
/// standard deviation of each knot, hertz; beyond the edges that of the edge.
fn settle(
    guide: &mut Guide,
    values: &[Complex32],
    edges: &Edges,
    channel: &Channel,
    block: &Block,
) -> Vec<f32> {
    let knot_s = guide.hop as f64 / block.rate_hz;
    let core = edges.core();
    if core.len() < 3 {
        return vec![channel.bandwidth_hz as f32; guide.hz.len()];
    }
    let usual = smoothing_knots(core.len(), knot_s);
    let steps = Steps::of(values, core.clone(), knot_s);
    let estimates = steps.adapted(
        &guide.hz[core.clone()],
        usual,
        channel.noise,
        channel.bandwidth_hz,
    );
    for (knot, estimate) in core.clone().zip(&estimates) {
        guide.hz[knot] += estimate.hz;
    }
    extrapolate(&mut guide.hz, core.clone(), knot_s, block.nyquist_hz());
    (0..guide.hz.len())
        .map(|knot| {
            let inside = knot.clamp(core.start, core.end - 1) - core.start;
            estimates[inside].sigma_hz as f32
        })
        .collect()
}

/// Half of the smoothing of a contour of so many knots, in knots.
fn smoothing_knots(length: usize, knot_s: f64) -> usize {
    let smoothing_s =
        (length as f64 * knot_s * SMOOTHING_SHARE).clamp(SMOOTHING_S.start, SMOOTHING_S.end);
    (smoothing_s / knot_s).round() as usize
}

/// The knots around the loudest one up to where the course leaps up: there the
/// channel went over to another component, such as the next harmonic.
fn without_leaps(guide: &Guide, edges: &Edges, knot_s: f64) -> Range<usize> {
    let (core, top) = (edges.core(), edges.top);
    let leaps = |knot: &usize| guide.hz[knot + 1] - guide.hz[*knot] > LEAP_HZ_PER_S * knot_s;
    let last = core.end.saturating_sub(1);
    let start = (core.start..top).rev().find(leaps);
    let end = (top..last).find(leaps);
    start.map_or(core.start, |knot| knot + 1)..end.unwrap_or(last) + 1
}

/// The noise amplitude in the channel around the pulse: from the quieter part
/// of what lies beyond the trace on both sides, kept within reason of the
/// block's floor where neighbours fill that, too. None where the sound goes on
/// all around: then it is a part of something longer than any call.
fn channel_noise(
    block: &Block,
    guide: &Guide,
    envelope: &[f32],
    near: &Range<usize>,
    bandwidth_hz: f64,
) -> Option<f32> {
    let middle = guide.hz[(near.start + near.end) / 2];
    let floor = block
        .noise
        .power(middle - bandwidth_hz / 2.0, middle + bandwidth_hz / 2.0) as f32;
    let gap = 20; // A millisecond of knots: the pulse's own skirts are not noise.
    let mut around: Vec<f32> = envelope[..near.start.saturating_sub(gap)]
        .iter()
        .chain(&envelope[(near.end + gap).min(envelope.len())..])
        .map(|a| a * a)
        .collect();
    if around.len() < 20 {
        return Some(floor.sqrt());
    }
    let quartile = share_of(&mut around, 0.25, f32::total_cmp)?;
    let noise = quartile / QUARTILE_OF_MEAN;
    let loudest = envelope[near.clone()].iter().fold(0f32, |a, &b| a.max(b));
    let goes_on = noise > floor * HIGHEST_NOISE && quartile > loudest * loudest * GOES_ON;
    (!goes_on).then(|| noise.clamp(floor * 0.5, floor * HIGHEST_NOISE).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A ridge from one knot to another that runs through these frequencies, kHz.
    fn ridge(first: usize, khz: &[f64], core: Range<usize>) -> Ridge {
        let knots = khz.len();
        Ridge {
            guide: Guide {
                first,
                hop: 1,
                hz: khz.iter().map(|k| k * 1e3).collect(),
            },
            envelope: vec![0.5; knots],
            noise: 0.001,
            sigma_hz: vec![10.0; knots],
            around: Around {
                power: vec![0.25; knots],
                noise: 0.0,
                hz: WIDEST_HZ,
            },
            edges: Edges {
                start: core.start as f64,
                end: (core.end - 1) as f64,
                top: (core.start + core.end) / 2,
                amplitude: 0.5,
                below_db: 20.0,
                rises: [1.0; 2],
                overload_db: 0.0,
                in_dip: false,
            },
            believed: core,
        }
    }

    #[test]
    fn a_ridge_that_runs_now_along_one_and_now_along_another_repeats_them() {
        let falling: Vec<f64> = (0..40).map(|n| 60.0 - f64::from(n)).collect();
        let half: Vec<f64> = falling.iter().map(|khz| khz / 2.0).collect();
        let others = [ridge(0, &falling, 0..40), ridge(0, &half, 0..40)];
        let mut leaping = falling.clone();
        leaping[20..].copy_from_slice(&half[20..]);
        assert!(ridge(0, &leaping, 0..40).repeats(&others));
        assert!(!ridge(0, &leaping, 0..40).repeats(&others[..1]));
        // A knot late is the same sound; what runs between the two is another.
        assert!(ridge(1, &leaping, 0..40).repeats(&others));
        let between: Vec<f64> = falling.iter().map(|khz| khz * 0.75).collect();
        assert!(!ridge(0, &between, 0..40).repeats(&others));
        assert!(!ridge(0, &falling, 0..40).repeats(&[]));
    }

    #[test]
    fn a_course_is_believed_up_to_a_leap_up_and_not_to_a_fall() {
        let believed = |khz: &[f64]| {
            let ridge = ridge(0, khz, 0..khz.len());
            without_leaps(&ridge.guide, &ridge.edges, 0.05e-3)
        };
        let mut khz: Vec<f64> = (0..41).map(|n| 60.0 - 0.5 * f64::from(n)).collect();
        assert_eq!(believed(&khz), 0..41);
        khz[36..].fill(55.0);
        assert_eq!(believed(&khz), 0..36);
        khz[..4].fill(30.0);
        assert_eq!(believed(&khz), 4..36);
        // 60 kHz/ms down, and 30 kHz/ms up.
        let steep: Vec<f64> = (0..41).map(|n| 150.0 - 3.0 * f64::from(n)).collect();
        assert_eq!(believed(&steep), 0..41);
        let gentle: Vec<f64> = (0..41).map(|n| 20.0 + 1.5 * f64::from(n)).collect();
        assert_eq!(believed(&gentle), 0..41);
    }
}
