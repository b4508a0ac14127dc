//! What a person gives takes the place of what was measured.

use super::ContourPoint;
use crate::pulse::Pulse;
use crate::pulse::edges::highest_between;
use crate::pulse::finish::Course;
use crate::pulse::ridge::Block;
use crate::pulse::shape::{flattest, shape};
use std::ops::Range;

/// How far a point pulls the contour with it, as a share of the pulse.
const PULL_SHARE: f64 = 1.0 / 8.0;

impl Course {
    /// Begins and ends the course at other samples of the block; what lies beyond all that was followed
    /// holds the last value.
    pub(super) fn put_edges(&mut self, samples: Range<f64>, block: &Block) {
        self.reach_out(&samples, block);
        let knot = |sample: f64| (sample - self.guide.first as f64) / self.guide.hop as f64;
        let last = (self.guide.hz.len() - 1) as f64;
        let start = knot(samples.start).clamp(0.0, last);
        let end = knot(samples.end).clamp(start, last);
        let edges = &mut self.edges;
        edges.start = start;
        edges.end = end;
        let top = edges.top as f64;
        if top < start || top > end {
            // Beside its loudest moment: the level is that of what is left.
            if let Some((top, amplitude)) = highest_between(&self.envelope, self.noise, start, end)
            {
                edges.top = top;
                edges.amplitude = amplitude;
            }
        }
    }

    fn reach_out(&mut self, samples: &Range<f64>, block: &Block) {
        let hop = self.guide.hop;
        let wanted = (samples.start.max(0.0) as usize).min(self.guide.first);
        let before = (self.guide.first - wanted)
            .div_ceil(hop)
            .min(self.guide.first / hop);
        let end = samples.end.min(block.samples.len() as f64).max(0.0) as usize;
        let reached = self.guide.first + (self.guide.hz.len() - 1) * hop;
        let after = end.saturating_sub(reached).div_ceil(hop);
        self.guide.first -= before * hop;
        hold(&mut self.guide.hz, before, after);
        hold(&mut self.sigma_hz, before, after);
        // Nothing is known of the envelope there.
        let silence = self.noise;
        self.envelope
            .splice(..0, std::iter::repeat_n(silence, before));
        self.envelope.extend(std::iter::repeat_n(silence, after));
        self.edges.top += before;
        self.edges.start += before as f64;
        self.edges.end += before as f64;
    }
}

/// Lengthens a list by its first and its last value.
fn hold<T: Copy>(values: &mut Vec<T>, before: usize, after: usize) {
    if let (Some(&first), Some(&last)) = (values.first(), values.last()) {
        values.splice(..0, std::iter::repeat_n(first, before));
        values.extend(std::iter::repeat_n(last, after));
    }
}

/// Leads a pulse's contour through points and reads anew what depends on it.
pub(super) fn put_points(pulse: &mut Pulse, points: &[ContourPoint]) {
    let contour = &mut pulse.contour;
    let (start_s, step_s) = (contour.start_s, contour.step_s);
    let reach_s = (pulse.end_s - pulse.start_s) * PULL_SHARE;
    let value_at = |time_s: f64, khz: &[f32]| {
        let place = ((time_s - start_s) / step_s).clamp(0.0, khz.len() as f64 - 1.0);
        let below = place as usize;
        let above = (below + 1).min(khz.len() - 1);
        let share = place - below as f64;
        f64::from(khz[below]) * (1.0 - share) + f64::from(khz[above]) * share
    };
    let mut pulls: Vec<(f64, f64)> = points
        .iter()
        .map(|point| {
            (
                point.time_s,
                point.khz - value_at(point.time_s, &contour.khz),
            )
        })
        .collect();
    pulls.sort_by(|a, b| a.0.total_cmp(&b.0));
    for (step, khz) in contour.khz.iter_mut().enumerate() {
        let time_s = start_s + step as f64 * step_s;
        *khz = (f64::from(*khz) + pull(&pulls, time_s, reach_s)).max(0.0) as f32;
    }
    read_contour(pulse);
}

/// What the contour is moved by at a time, kHz.
fn pull(pulls: &[(f64, f64)], time_s: f64, reach_s: f64) -> f64 {
    let next = pulls.partition_point(|(at_s, _)| *at_s <= time_s);
    let before = next.checked_sub(1).map(|last| pulls[last]);
    let after = pulls.get(next).copied();
    if let (Some((a_s, a)), Some((b_s, b))) = (before, after)
        && b_s - a_s < 2.0 * reach_s
    {
        return a + (b - a) * (time_s - a_s) / (b_s - a_s);
    }
    let falling = |point: Option<(f64, f64)>| {
        point.map_or(0.0, |(at_s, by)| {
            by * (1.0 - (time_s - at_s).abs() / reach_s.max(1e-9)).max(0.0)
        })
    };
    falling(before) + falling(after)
}

/// Reads off a pulse's contour what depends on it.
fn read_contour(pulse: &mut Pulse) {
    let khz = &pulse.contour.khz;
    let (Some(&first), Some(&last)) = (khz.first(), khz.last()) else {
        return;
    };
    let step_ms = pulse.contour.step_s * 1e3;
    let (low, high) = khz
        .iter()
        .fold((f32::MAX, f32::MIN), |(l, h), &k| (l.min(k), h.max(k)));
    let flat = flattest(khz, step_ms, 0.0, 0.0);
    pulse.shape = shape(khz, step_ms);
    pulse.start_khz = f64::from(first);
    pulse.end_khz = f64::from(last);
    pulse.high_khz = f64::from(high);
    pulse.low_khz = f64::from(low);
    pulse.characteristic_khz = flat.end_khz;
    let last = flat.values.end.saturating_sub(1);
    pulse.characteristic_s = pulse.contour.start_s + last as f64 * pulse.contour.step_s;
    let flat_steps = flat.values.end.saturating_sub(1) as f64;
    pulse.characteristic_s = pulse.contour.start_s + flat_steps * pulse.contour.step_s;
    pulse.flattest_khz_per_ms = flat.khz_per_ms;
    pulse.sweep_khz_per_ms = (pulse.end_khz - pulse.start_khz) / pulse.duration_ms;
}

/// Takes away the uncertainties of what follows from a given start, end or contour.
pub(super) fn forget(pulse: &mut Pulse, start: bool, end: bool, contour: bool) {
    let known = &mut pulse.uncertainty;
    if start {
        known.start_ms = 0.0;
    }
    if end {
        known.end_ms = 0.0;
    }
    if start || end {
        known.duration_ms = 0.0;
    }
    if start || contour {
        known.start_khz = 0.0;
    }
    if end || contour {
        known.end_khz = 0.0;
    }
    if start || end || contour {
        // An extreme of the contour may lie at an edge.
        known.high_khz = 0.0;
        known.low_khz = 0.0;
        known.characteristic_khz = 0.0;
        known.sweep_khz_per_ms = 0.0;
        known.flattest_khz_per_ms = 0.0;
    }
}
