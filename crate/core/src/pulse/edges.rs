//! Where a pulse begins and ends.

use super::Settings;
use std::ops::Range;

/// A hole in the envelope that is bridged, seconds: two paths can cancel for a moment.
const HOLE_S: f64 = 0.2e-3;
/// An edge lies in a dip, where the envelope falls so far below the maximum ...
const DIP_DB: f64 = 9.0;
/// ... and rises again by so much: what follows is an echo or another call.
const RISE_DB: f64 = 5.0;

/// Share of the pulse that its largest amplitude is averaged over.
const TOP_SHARE: f64 = 0.1;

/// Where a pulse begins and ends, in fractional knots of its guide.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Edges {
    pub(super) start: f64,
    pub(super) end: f64,
    /// The knot of the largest amplitude, and that amplitude, full scale 1, with
    /// the noise in the channel taken off.
    pub(super) top: usize,
    pub(super) amplitude: f32,
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
    let power: Vec<f32> = envelope.iter().map(|a| a * a).collect();
    let rough = edges_from(&power, near.clone(), noise, knot_s, settings, 0)?;
    // Noise rides on the envelope, and the highest of many values is too high:
    // a mean over a part of the pulse, now that its length is known, is not.
    let reach = ((rough.end - rough.start) * TOP_SHARE / 2.0) as usize;
    edges_from(&power, near, noise, knot_s, settings, reach)
}

fn edges_from(
    power: &[f32],
    near: Range<usize>,
    noise: f32,
    knot_s: f64,
    settings: &Settings,
    reach: usize,
) -> Option<Edges> {
    let mean = |knot: usize| {
        let around = &power[knot.saturating_sub(reach)..(knot + reach + 1).min(power.len())];
        around.iter().sum::<f32>() / around.len() as f32
    };
    let top = near.max_by(|&a, &b| mean(a).total_cmp(&mean(b)))?;
    let amplitude = (mean(top) - noise * noise).max(mean(top) / 4.0).sqrt();
    let top_db = decibels(amplitude);
    let threshold = (top_db - settings.edge_db).max(decibels(noise) + settings.edge_above_noise_db);
    if threshold >= top_db - 1.0 {
        return None;
    }
    let hole = (HOLE_S / knot_s).round() as usize;
    let level = |knot: usize| decibels(power[knot].sqrt());
    let back: Vec<f64> = (0..=top).rev().map(level).collect();
    let on: Vec<f64> = (top..power.len()).map(level).collect();
    let (before, dip_before) = fall(&back, top_db, threshold, hole);
    let (after, dip_after) = fall(&on, top_db, threshold, hole);
    Some(Edges {
        start: top as f64 - before,
        end: top as f64 + after,
        top,
        amplitude,
        below_db: top_db - threshold,
        in_dip: dip_before || dip_after,
    })
}

fn decibels(amplitude: f32) -> f64 {
    20.0 * f64::from(amplitude.max(1e-12)).log10()
}

/// How far (in fractional knots) the level stays above the threshold, going
/// away from its maximum at the first value; and whether a dip ended it.
fn fall(decibels: &[f64], top: f64, threshold: f64, hole: usize) -> (f64, bool) {
    let mut lowest = (0, decibels[0]);
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
