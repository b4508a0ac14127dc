//! A guide along a trace, before anything is known better.

use super::follow::Guide;
use super::line::line;
use super::ridge::Block;
use super::trace::{Peak, Trace};
use std::ops::Range;

/// How far around a trace the channel is followed, seconds: room for edges that
/// lie beyond the trace and for the noise around the pulse.
const MARGIN_S: f64 = 4e-3;
/// The same for the passes that only catch the sound: it may begin and end so far beyond its trace.
pub(super) const CATCHING_MARGIN_S: f64 = 1.5e-3;
/// A sound's maximum lies at most so far beyond its trace, seconds.
const NEAR_S: f64 = 0.3e-3;
/// How far beyond known values a guide goes on with its slope, seconds.
const EXTRAPOLATED_S: f64 = 0.6e-3;
/// The stretch that this slope is read from, seconds.
const SLOPE_S: f64 = 0.35e-3;

/// The knots around a trace that its sound's maximum is looked for in.
pub(super) fn near(guide: &Guide, block: &Block, span: &Range<f64>) -> Range<usize> {
    guide.knot((span.start - NEAR_S) * block.rate_hz)
        ..guide.knot((span.end + NEAR_S) * block.rate_hz) + 1
}

/// The samples of the block around a trace that a guide of a margin covers: its first and its length in knots.
fn reach(block: &Block, span: &Range<f64>, margin_s: f64) -> (usize, usize) {
    let hop = Guide::hop(block.rate_hz);
    let first = ((span.start - margin_s).max(0.0) * block.rate_hz) as usize / hop * hop;
    let last = (((span.end + margin_s) * block.rate_hz) as usize).min(block.samples.len());
    (first, (last.saturating_sub(first) / hop).max(2))
}

impl Guide {
    /// The same guide with the whole margin around it, where it holds its first and last value.
    pub(super) fn widened(&self, block: &Block, span: &Range<f64>) -> Self {
        let (first, knots) = reach(block, span, MARGIN_S);
        let before = (self.first - first) / self.hop;
        let last = self.hz.len() - 1;
        Self {
            first,
            hop: self.hop,
            hz: (0..knots)
                .map(|knot| self.hz[knot.saturating_sub(before).min(last)])
                .collect(),
        }
    }
}

/// A guide along a trace's peaks, with a margin on both sides.
pub(super) fn guide_along(block: &Block, trace: &Trace, margin_s: f64) -> Guide {
    let hop = Guide::hop(block.rate_hz);
    let span = trace.span();
    let (first, knots) = reach(block, &span, margin_s);
    let smoothed = smooth_peaks(trace);
    let knot_of = |time_s: f64| (time_s * block.rate_hz - first as f64) / hop as f64;
    let mut guide = Guide {
        first,
        hop,
        hz: vec![0.0; knots],
    };
    let mut next = 0;
    for (knot, hz) in guide.hz.iter_mut().enumerate() {
        while next + 2 < smoothed.len() && knot_of(smoothed[next + 1].0) <= knot as f64 {
            next += 1;
        }
        let (t0, f0) = smoothed[next];
        let (t1, f1) = smoothed[next + 1];
        let share = (knot as f64 - knot_of(t0)) / (knot_of(t1) - knot_of(t0));
        *hz = f0 + share.clamp(0.0, 1.0) * (f1 - f0);
    }
    let core = guide.knot(span.start * block.rate_hz)..guide.knot(span.end * block.rate_hz) + 1;
    extrapolate(
        &mut guide.hz,
        core,
        hop as f64 / block.rate_hz,
        block.nyquist_hz(),
    );
    guide
}

/// A trace's peaks as (seconds, hertz), each averaged with its neighbours by
/// power, which calms the jumps of single noisy frames.
pub(super) fn smooth_peaks(trace: &Trace) -> Vec<(f64, f64)> {
    let peaks = &trace.peaks;
    (0..peaks.len())
        .map(|at| {
            // The same number on either side, so that a slope stays a slope.
            let reach = 1.min(at).min(peaks.len() - 1 - at);
            let near = &peaks[at - reach..=at + reach];
            let weight = |peak: &Peak| f64::from(peak.power).sqrt();
            let sum: f64 = near.iter().map(weight).sum();
            let mean = near.iter().map(|peak| weight(peak) * peak.hz).sum::<f64>() / sum;
            (
                peaks[at].time_s,
                if reach == 0 { peaks[at].hz } else { mean },
            )
        })
        .collect()
}

/// Goes on with a contour's slopes beyond both its ends for a moment, then holds.
pub(super) fn extrapolate(hz: &mut [f64], core: Range<usize>, knot_s: f64, nyquist_hz: f64) {
    let reach = (SLOPE_S / knot_s).round() as usize;
    let beyond = EXTRAPOLATED_S / knot_s;
    let head = core.start..core.end.min(core.start + reach + 1);
    let tail = core.end.saturating_sub(reach + 1).max(core.start)..core.end;
    let (head_at, head_slope) = line(hz[head.clone()].iter().copied());
    let (tail_at, tail_slope) = line(hz[tail.clone()].iter().copied());
    let limit = 0.0..nyquist_hz;
    for (knot, slot) in hz[..core.start].iter_mut().enumerate() {
        let back = ((core.start - knot) as f64).min(beyond);
        *slot = (head_at - back * head_slope).clamp(limit.start, limit.end);
    }
    let tail_end = tail_at + tail_slope * (tail.len() - 1) as f64;
    for (knot, slot) in hz[core.end..].iter_mut().enumerate() {
        let on = (knot as f64 + 1.0).min(beyond);
        *slot = (tail_end + on * tail_slope).clamp(limit.start, limit.end);
    }
}
