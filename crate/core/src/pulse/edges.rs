//! Where a pulse begins and ends.

use super::Settings;
use std::ops::Range;

/// A hole in the envelope that is bridged, seconds: two paths can cancel for a moment.
const HOLE_S: f64 = 0.2e-3;
/// An edge lies in a dip, where the envelope falls so far below the maximum ...
const DIP_DB: f64 = 9.0;
/// ... and rises again by so much: what follows is an echo or another call.
const RISE_DB: f64 = 5.0;

/// How steep an edge is, is read over so many decibels.
pub(super) const RISE_OVER_DB: f64 = 3.0;

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
    /// Over how many knots the level rises by 3 dB from the edge on inwards, at start and end.
    pub(super) rises: [f64; 2],
    /// How far the amplitude lies above what the envelope shows, because the sound was cut off at the rail, dB.
    pub(super) overload_db: f64,
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
    let (top, amplitude) = highest(power, near, noise, reach)?;
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
        rises: [rise(&back, before), rise(&on, after)],
        overload_db: 0.0,
        in_dip: dip_before || dip_after,
    })
}

/// The largest amplitude between two edges that somebody gave, in fractional knots: its knot and its value.
pub(super) fn highest_between(
    envelope: &[f32],
    noise: f32,
    start: f64,
    end: f64,
) -> Option<(usize, f32)> {
    let power: Vec<f32> = envelope.iter().map(|a| a * a).collect();
    let reach = ((end - start) * TOP_SHARE / 2.0) as usize;
    let core = start.ceil().max(0.0) as usize..(end.floor() as usize + 1).min(power.len());
    highest(&power, core, noise, reach)
}

/// The knot of the largest amplitude, and that amplitude without the noise in it; each knot's is averaged with so
/// many on either side.
fn highest(power: &[f32], near: Range<usize>, noise: f32, reach: usize) -> Option<(usize, f32)> {
    let mean = |knot: usize| {
        let around = &power[knot.saturating_sub(reach)..(knot + reach + 1).min(power.len())];
        around.iter().sum::<f32>() / around.len() as f32
    };
    let top = near.max_by(|&a, &b| mean(a).total_cmp(&mean(b)))?;
    let amplitude = (mean(top) - noise * noise).max(mean(top) / 4.0).sqrt();
    Some((top, amplitude))
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

/// Over how many knots the level rises by [`RISE_OVER_DB`], from where it fell to an edge back towards its
/// maximum at the first value.
fn rise(decibels: &[f64], edge: f64) -> f64 {
    let last = edge as usize;
    let edge_db = decibels[last];
    let above = decibels[..=last]
        .iter()
        .rposition(|&level| level >= edge_db + RISE_OVER_DB);
    edge - above.unwrap_or(0) as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Levels that stay at 0 dB, fall by so many decibels a knot, and lie at -60 dB then.
    fn slope(level: usize, db_per_knot: f64) -> Vec<f64> {
        (0..60)
            .map(|n| (-db_per_knot * (n as f64 - level as f64)).clamp(-60.0, 0.0))
            .collect()
    }

    #[test]
    fn fall_ends_where_the_level_crosses_the_threshold_between_knots() {
        // -4 dB a knot from knot 10 on: -20 dB at 15, -18 dB at 14.5.
        assert_eq!(fall(&slope(10, 4.0), 0.0, -18.0, 4), (14.5, false));
        let (at, dip) = fall(&slope(10, 4.0), 0.0, -20.0, 4);
        assert!((at - 15.0).abs() < 1e-9 && !dip, "{at}");
    }

    #[test]
    fn fall_bridges_a_hole_but_not_a_longer_silence() {
        let mut levels = slope(30, 4.0);
        // So sudden that no dip is seen before it: three knots, then five.
        levels[20..23].fill(-40.0);
        let bridged = fall(&levels, 0.0, -18.0, 4);
        assert_eq!(bridged, (34.5, false));
        levels[20..26].fill(-40.0);
        let (at, _) = fall(&levels, 0.0, -18.0, 4);
        assert!((19.0..20.0).contains(&at), "{at}");
    }

    #[test]
    fn fall_ends_in_a_dip_beyond_which_the_sound_rises_again() {
        let mut levels = slope(40, 4.0);
        // A dip of 12 dB, above the threshold: what follows is another sound.
        levels[18..23].copy_from_slice(&[-6.0, -10.0, -12.0, -9.0, -6.0]);
        assert_eq!(fall(&levels, 0.0, -20.0, 4), (20.0, true));
        // A shallow one of 8 dB is the pulse's own.
        levels[18..23].copy_from_slice(&[-4.0, -6.0, -8.0, -6.0, -2.0]);
        assert_eq!(fall(&levels, 0.0, -20.0, 4), (45.0, false));
    }

    #[test]
    fn fall_ends_with_the_data() {
        assert_eq!(fall(&[0.0; 9], 0.0, -20.0, 4), (8.0, false));
        assert_eq!(fall(&[0.0], 0.0, -20.0, 4), (0.0, false));
        assert_eq!(fall(&[0.0, -40.0], 0.0, -20.0, 4), (0.5, false));
    }

    /// The envelope of a raised-cosine pulse between knots 100 and 200.
    fn hump(amplitude: f32) -> Vec<f32> {
        (0..300)
            .map(|n| {
                let turn = (n as f32 - 100.0) / 100.0;
                let inside = (0.0..1.0).contains(&turn);
                let wave = 0.5 - 0.5 * (std::f32::consts::TAU * turn).cos();
                if inside { amplitude * wave } else { 0.0 }
            })
            .collect()
    }

    #[test]
    fn edges_of_a_raised_cosine_lie_where_its_formula_says() {
        let settings = Settings::default();
        let Some(found) = edges(&hump(0.5), 100..200, 1e-5, 5e-5, &settings) else {
            unreachable!("the pulse stands far above the noise");
        };
        // A tenth of the maximum: 0.5 - 0.5 cos(2 pi x) = 0.1.
        let x = 100.0 * 0.8f64.acos() / std::f64::consts::TAU;
        // The maximum is a mean over the top, a little lower than the tip.
        assert!((found.start - 100.0 - x).abs() < 0.3, "{found:?}");
        assert!((found.end - 200.0 + x).abs() < 0.3, "{found:?}");
        assert!((found.amplitude - 0.5).abs() < 0.01, "{found:?}");
        assert!((found.below_db - 20.0).abs() < 1e-9 && !found.in_dip);
    }

    #[test]
    fn edges_keep_above_the_noise_and_vanish_in_it() {
        let settings = Settings::default();
        let Some(found) = edges(&hump(0.1), 100..200, 0.01, 5e-5, &settings) else {
            unreachable!("the pulse stands above the noise");
        };
        // 20 dB of signal over noise less the 6 dB that edges keep above it.
        assert!((found.below_db - 14.0).abs() < 0.3, "{found:?}");
        assert_eq!(edges(&hump(0.1), 100..200, 0.06, 5e-5, &settings), None);
    }
}
