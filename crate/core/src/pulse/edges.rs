//! Where a pulse begins and ends.

use super::Settings;
use std::ops::Range;

/// A hole in the envelope that is bridged, seconds: two paths can cancel for a moment.
const HOLE_S: f64 = 0.2e-3;
/// An edge lies in a dip, where the envelope falls so far below the maximum ...
const DIP_DB: f64 = 9.0;
/// ... and rises again by so much: what follows is an echo or another call.
const RISE_DB: f64 = 5.0;

/// Where a pulse begins and ends, in fractional knots of its guide.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Edges {
    pub(super) start: f64,
    pub(super) end: f64,
    /// The knot of the largest amplitude.
    pub(super) top: usize,
    /// How far below the maximum the edges were taken, dB.
    pub(super) below_db: f64,
    /// An edge lies in a dip beyond which the sound rises again.
    pub(super) in_dip: bool,
}

impl Edges {
    /// The knots within.
    pub(super) fn core(&self) -> Range<usize> {
        self.start.ceil() as usize..self.end.floor() as usize + 1
    }
}

/// Finds where the envelope falls below the edge threshold on both sides of its
/// maximum within `near`. None where it hardly rises above the noise.
pub(super) fn edges(
    envelope: &[f32],
    near: Range<usize>,
    noise: f32,
    knot_s: f64,
    settings: &Settings,
) -> Option<Edges> {
    let top = near
        .clone()
        .max_by(|&a, &b| envelope[a].total_cmp(&envelope[b]))?;
    let decibels: Vec<f64> = envelope
        .iter()
        .map(|&a| 20.0 * f64::from(a.max(1e-12)).log10())
        .collect();
    let noise_db = 20.0 * f64::from(noise.max(1e-12)).log10();
    let threshold = (decibels[top] - settings.edge_db).max(noise_db + settings.edge_above_noise_db);
    if threshold >= decibels[top] - 1.0 {
        return None;
    }
    let hole = (HOLE_S / knot_s).round() as usize;
    let back: Vec<f64> = decibels[..=top].iter().rev().copied().collect();
    let (before, dip_before) = fall(&back, threshold, hole);
    let (after, dip_after) = fall(&decibels[top..], threshold, hole);
    Some(Edges {
        start: top as f64 - before,
        end: top as f64 + after,
        top,
        below_db: decibels[top] - threshold,
        in_dip: dip_before || dip_after,
    })
}

/// How far (in fractional knots) the level stays above the threshold, going
/// away from its maximum at the first value; and whether a dip ended it.
fn fall(decibels: &[f64], threshold: f64, hole: usize) -> (f64, bool) {
    let top = decibels[0];
    let mut lowest = (0, top);
    let mut knot = 1;
    while knot < decibels.len() {
        let level = decibels[knot];
        if level < lowest.1 {
            lowest = (knot, level);
        } else if lowest.1 < top - DIP_DB && level > lowest.1 + RISE_DB {
            return (lowest.0 as f64, true);
        }
        if level < threshold {
            let bridged = decibels[knot..]
                .iter()
                .take(hole + 1)
                .position(|&later| later >= threshold + RISE_DB);
            match bridged {
                Some(ahead) => knot += ahead,
                None => {
                    let before = decibels[knot - 1];
                    let share = (before - threshold) / (before - level).max(1e-9);
                    return (knot as f64 - 1.0 + share.clamp(0.0, 1.0), false);
                }
            }
            lowest = (knot, decibels[knot]);
        }
        knot += 1;
    }
    (decibels.len() as f64 - 1.0, false)
}
