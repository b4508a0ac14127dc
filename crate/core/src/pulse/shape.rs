//! What a contour looks like: its flattest stretch and its shape.

use super::Shape;
use super::line::line;
use std::ops::Range;

/// Share of a pulse that the flattest stretch covers, and its shortest length, ms.
const STRETCH_SHARE: f64 = 0.2;
const STRETCH_MS: f64 = 0.4;
/// Steepest slope that still counts as quasi-constant, kHz/ms: common practice
/// puts the border between 1 and 2. For low calls it is this share of their
/// frequency per millisecond: 15 to 9 kHz in 4 ms is a sweep.
const QCF_KHZ_PER_MS: f64 = 1.5;
const QCF_SHARE_PER_MS: f64 = 0.035;
/// A stretch of which nine tenths stay within this is constant in frequency,
/// kHz, if it lasts ...
const CF_KHZ: f64 = 0.8;
const CF_SHARE: f64 = 0.9;
/// ... at least this long, ms.
const CF_MS: f64 = 6.0;
/// A sweep before or after a flat part counts from this excursion on, kHz.
const SWEEP_KHZ: f64 = 3.0;
/// Share of the pulse from which on a flat part counts.
const FLAT_SHARE: f64 = 0.2;

/// The flattest stretch of a contour.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Flattest {
    /// The contour at its end, kHz.
    pub(super) end_khz: f64,
    /// Its slope, kHz/ms.
    pub(super) khz_per_ms: f64,
    /// The values that it covers.
    pub(super) values: Range<usize>,
    /// Between what frequencies the ends of all stretches lie that are as flat, kHz.
    pub(super) spread_khz: f64,
}

/// How many values a stretch covers: a fifth of the pulse, at least 0.4 ms, and at most all of it.
pub(super) fn stretch(values: usize, step_ms: f64) -> usize {
    let steps = values.saturating_sub(1);
    let wanted = (steps as f64 * STRETCH_SHARE).max(STRETCH_MS / step_ms);
    (wanted.round() as usize).clamp(1, steps.max(1)) + 1
}

/// Finds the flattest stretch: the one whose straight line slopes least. Slopes that differ by less than
/// `leeway`, kHz/ms, or by less than this share, may differ by chance.
pub(super) fn flattest(khz: &[f32], step_ms: f64, leeway: f64, share: f64) -> Flattest {
    let length = stretch(khz.len(), step_ms).min(khz.len().max(1));
    let slopes: Vec<f64> = khz.windows(length).map(|s| slope(s, step_ms)).collect();
    let end_khz = |from: usize| khz.get(from + length - 1).map_or(0.0, |&k| f64::from(k));
    let least = (0..slopes.len()).min_by(|&a, &b| slopes[a].abs().total_cmp(&slopes[b].abs()));
    let from = least.unwrap_or(0);
    let khz_per_ms = slopes.get(from).copied().unwrap_or(0.0);
    let as_flat = |at: &usize| slopes[*at].abs() <= khz_per_ms.abs() * (1.0 + share) + leeway;
    let (low, high) = (0..slopes.len())
        .filter(as_flat)
        .map(end_khz)
        .fold((end_khz(from), end_khz(from)), |(low, high), khz| {
            (low.min(khz), high.max(khz))
        });
    Flattest {
        end_khz: end_khz(from),
        khz_per_ms,
        values: from..(from + length).min(khz.len()),
        spread_khz: high - low,
    }
}

/// Slope of the straight line through evenly spaced values.
fn slope(values: &[f32], step: f64) -> f64 {
    line(values.iter().map(|&value| f64::from(value))).1 / step
}

/// Names the shape of a contour.
pub(super) fn shape(khz: &[f32], step_ms: f64) -> Shape {
    let duration_ms = step_ms * khz.len().saturating_sub(1) as f64;
    let Some(flat) = longest_flat(khz, step_ms) else {
        return Shape::Fm;
    };
    let flat_ms = step_ms * (flat.1 - flat.0) as f64;
    if flat_ms < FLAT_SHARE * duration_ms {
        return Shape::Fm;
    }
    let excursion = |part: &[f32]| {
        let (low, high) = part
            .iter()
            .fold((f32::MAX, f32::MIN), |(l, h), &k| (l.min(k), h.max(k)));
        f64::from(high - low)
    };
    let constant = narrowest(&khz[flat.0..=flat.1]) <= CF_KHZ && flat_ms >= CF_MS;
    let before = excursion(&khz[..=flat.0]) >= SWEEP_KHZ;
    let after = excursion(&khz[flat.1..]) >= SWEEP_KHZ;
    match (before, constant, after) {
        (false, false, false) => Shape::Qcf,
        (true, false, false) => Shape::FmQcf,
        (false, false, true) => Shape::QcfFm,
        (true, false, true) => Shape::FmQcfFm,
        (false, true, false) => Shape::Cf,
        (true, true, false) => Shape::FmCf,
        (false, true, true) => Shape::CfFm,
        (true, true, true) => Shape::FmCfFm,
    }
}

/// Width of the narrowest band that holds nine tenths of the values, kHz.
fn narrowest(khz: &[f32]) -> f64 {
    let mut sorted = khz.to_vec();
    sorted.sort_unstable_by(f32::total_cmp);
    let held = ((sorted.len() as f64 * CF_SHARE).ceil() as usize).max(1);
    sorted
        .windows(held)
        .map(|band| f64::from(band[held - 1] - band[0]))
        .fold(f64::INFINITY, f64::min)
}

/// The longest run of values whose local slope is quasi-constant: first and
/// last index.
fn longest_flat(khz: &[f32], step_ms: f64) -> Option<(usize, usize)> {
    // A slope over half a millisecond, or over a fifth of a short pulse.
    let reach_ms = (0.25f64).min(step_ms * khz.len() as f64 * 0.1);
    let reach = ((reach_ms / step_ms).round() as usize).max(1);
    let is_flat = |at: usize| {
        let near = &khz[at.saturating_sub(reach)..(at + reach + 1).min(khz.len())];
        let limit = QCF_KHZ_PER_MS.min(QCF_SHARE_PER_MS * f64::from(khz[at]));
        slope(near, step_ms).abs() <= limit
    };
    let mut longest: Option<(usize, usize)> = None;
    let mut begun = None;
    for at in 0..=khz.len() {
        if at < khz.len() && is_flat(at) {
            begun = begun.or(Some(at));
        } else if let Some(from) = begun.take()
            && longest.is_none_or(|(a, b)| at - 1 - from > b - a)
        {
            longest = Some((from, at - 1));
        }
    }
    longest
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A contour from (milliseconds, slope in kHz/ms) parts, 0.05 ms steps.
    fn contour(start_khz: f64, parts: &[(f64, f64)]) -> Vec<f32> {
        let mut khz = vec![start_khz as f32];
        for &(ms, slope) in parts {
            for _ in 0..(ms / 0.05).round() as usize {
                khz.push(khz[khz.len() - 1] + (slope * 0.05) as f32);
            }
        }
        khz
    }

    #[test]
    fn shapes_are_named_as_the_trade_does() {
        let named = |start, parts: &[(f64, f64)]| shape(&contour(start, parts), 0.05);
        assert_eq!(named(90.0, &[(3.0, -18.0)]), Shape::Fm);
        assert_eq!(named(25.0, &[(14.0, -0.2)]), Shape::Qcf);
        assert_eq!(named(70.0, &[(1.5, -14.0), (4.0, -0.8)]), Shape::FmQcf);
        assert_eq!(named(60.0, &[(4.0, -0.8), (1.5, -14.0)]), Shape::QcfFm);
        assert_eq!(
            named(70.0, &[(2.0, -14.0), (8.0, -0.6), (2.0, -8.0)]),
            Shape::FmQcfFm
        );
        assert_eq!(named(83.0, &[(40.0, 0.0)]), Shape::Cf);
        assert_eq!(
            named(76.0, &[(2.0, 3.5), (40.0, 0.0), (3.0, -5.0)]),
            Shape::FmCfFm
        );
        assert_eq!(named(83.0, &[(30.0, 0.0), (3.0, -5.0)]), Shape::CfFm);
        assert_eq!(named(90.0, &[(1.0, -8.0), (30.0, 0.0)]), Shape::FmCf);
    }

    #[test]
    fn flattest_stretch_of_a_bent_sweep_is_its_end() {
        let khz = contour(70.0, &[(2.0, -10.0), (2.0, -4.0), (1.0, -0.5)]);
        let flattest = flattest(&khz, 0.05, 0.0, 0.0);
        assert!((flattest.khz_per_ms + 0.5).abs() < 0.01);
        assert!((flattest.end_khz - 41.5).abs() < 0.06, "{flattest:?}");
    }

    #[test]
    fn where_other_stretches_are_as_flat_their_ends_tell_how_sure_the_flattest_is() {
        // Level for 4 ms, then a sweep: the flattest may be anywhere in the level part.
        let khz = contour(50.0, &[(4.0, -0.4), (2.0, -12.0)]);
        assert!((flattest(&khz, 0.05, 0.01, 0.0).spread_khz - 0.4 * 2.8).abs() < 0.05);
        // A sweep that flattens has its flattest stretch at the end and nowhere else.
        let bent = contour(70.0, &[(2.0, -10.0), (2.0, -4.0), (1.0, -0.5)]);
        assert!(flattest(&bent, 0.05, 0.01, 0.0).spread_khz < 0.01);
    }

    #[test]
    fn one_value_has_a_shape_too() {
        assert_eq!(flattest(&[40.0], 0.05, 0.0, 0.0).end_khz, 40.0);
        let _ = shape(&[40.0], 0.05);
        let _ = shape(&[40.0, 41.0], 0.05);
    }
}
