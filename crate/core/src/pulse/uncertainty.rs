//! How well the numbers of a pulse are known.
//!
//! Each has a standard deviation that theory gives: from the noise in the channel, the length over which
//! it is averaged, the sweep rate and the steepness of the edges. [`Calibration`] turns it into half the
//! width of an interval that holds the true value in 95 of 100 cases, fitted on synthetic pulses and checked
//! on others. It covers noise, window and sweep rate, and what the drawn backgrounds and echoes do on
//! average. It leaves out what no recording shows: another component taken for the fundamental, the
//! microphone's own response, and what the air took on the way.

use super::edges::RISE_OVER_DB;
use super::finish::Course;
use super::peak::Peak;
use super::shape::Flattest;
use super::{Calibration, Contour, Uncertainty};
use std::f64::consts::SQRT_2;
use std::ops::Range;

/// Decibels of a small relative change of an amplitude: 20 / ln 10.
const DB_OF_RELATIVE: f64 = 8.686;
/// An edge that noise makes uncertain by more than this, dB, is as uncertain as can be.
const MOST_EDGE_DB: f64 = 6.0;
/// An edge is taken to be at most so many times as steep as the way up to the maximum is on average.
const LEAST_STEEPNESS: f64 = 0.5;
/// A pulse whose edges noise lets be taken only this many decibels below its maximum is often seen in part. What is
/// missed at either end is, in 95 of 100 cases, up to this share of what is seen, and up to so many kilohertz; both
/// fall by e for each so many decibels more. Read off the tuning draw.
const UNSEEN_DB: f64 = 5.0;
const UNSEEN_SHARE: f64 = 2.0;
const UNSEEN_SHARE_FALL_DB: f64 = 1.6;
const UNSEEN_KHZ: f64 = 8.0;
const UNSEEN_KHZ_FALL_DB: f64 = 4.0;
/// How wrong the level of an overloaded pulse is taken to be, as a share of what it lies above the rail.
const OVERLOAD_SHARE: f64 = 0.15;
/// The slope at either end of a contour is read over so much of it, milliseconds.
const END_MS: f64 = 0.35;
/// An extreme of the contour that lies so near to an edge, as a share of the pulse, is as uncertain as that.
const NEAR_EDGE: f64 = 0.15;
const AT_EDGE: f64 = 0.05;

/// What uncertainties are read from.
pub(super) struct Evidence<'a> {
    pub(super) course: &'a Course,
    pub(super) knot_ms: f64,
    pub(super) contour: &'a Contour,
}

/// The uncertainties of a pulse that stands alone: without an interval.
pub(super) fn uncertainty(
    evidence: &Evidence,
    flattest: &Flattest,
    peak: &Peak,
    scale: &Calibration,
) -> Uncertainty {
    let level_db = evidence.level_db();
    let [start_ms, end_ms] = [0, 1].map(|side| evidence.edge_ms(side, level_db));
    let [start_khz, end_khz] =
        [(0, start_ms), (1, end_ms)].map(|(side, ms)| evidence.edge_khz(side, ms));
    let duration_ms = evidence.duration_ms();
    let (unseen_ms, unseen_khz) = evidence.unseen();
    let (low, high) = evidence.extremes();
    let extreme_khz = |at: f64| {
        if at < NEAR_EDGE {
            start_khz
        } else if at > 1.0 - NEAR_EDGE {
            end_khz
        } else {
            evidence.middle_khz(at)
        }
    };
    // The end of a stretch that reaches an edge is as uncertain as that.
    let last = flattest.values.end as f64 / evidence.contour.khz.len().max(1) as f64;
    let characteristic_khz = if last > 1.0 - AT_EDGE {
        end_khz
    } else {
        evidence.middle_khz(evidence.share(&flattest.values))
    }
    .hypot(flattest.spread_khz / 2.0);
    let whole_start_khz = scale.start_khz.apply(start_khz).hypot(unseen_khz);
    let whole_end_khz = scale.end_khz.apply(end_khz).hypot(unseen_khz);
    Uncertainty {
        start_ms: scale.start_ms.apply(start_ms).hypot(unseen_ms),
        end_ms: scale.end_ms.apply(end_ms).hypot(unseen_ms),
        duration_ms: scale
            .duration_ms
            .apply(start_ms.hypot(end_ms))
            .hypot(unseen_ms * SQRT_2),
        peak_khz: scale.peak_khz.apply(peak.width_hz * 1e-3),
        start_khz: whole_start_khz,
        end_khz: whole_end_khz,
        high_khz: scale.high_khz.apply(extreme_khz(high)).hypot(unseen_khz),
        low_khz: scale.low_khz.apply(extreme_khz(low)).hypot(unseen_khz),
        characteristic_khz: scale.characteristic_khz.apply(characteristic_khz),
        sweep_khz_per_ms: scale
            .sweep_khz_per_ms
            .apply(whole_start_khz.hypot(whole_end_khz) / duration_ms),
        flattest_khz_per_ms: scale
            .flattest_khz_per_ms
            .apply(evidence.slope(&flattest.values)),
        interval_ms: None,
        level_db: scale.level_db.apply(level_db),
        snr_db: scale.snr_db.apply(level_db),
    }
}

/// The uncertainty of an interval between two pulses, from those of their starts.
pub(super) fn of_interval(last: &Uncertainty, next: &Uncertainty, scale: &Calibration) -> f64 {
    scale.interval_ms.apply(last.start_ms.hypot(next.start_ms))
}

impl Evidence<'_> {
    fn duration_ms(&self) -> f64 {
        let edges = &self.course.edges;
        ((edges.end - edges.start) * self.knot_ms).max(1e-3)
    }

    /// Standard deviation of an amplitude's level where noise rides on it, dB.
    fn db_at(&self, amplitude: f64) -> f64 {
        DB_OF_RELATIVE * f64::from(self.course.noise) / (SQRT_2 * amplitude.max(1e-12))
    }

    fn level_db(&self) -> f64 {
        let edges = &self.course.edges;
        let overload_db = OVERLOAD_SHARE * edges.overload_db;
        self.db_at(f64::from(edges.amplitude)).hypot(overload_db)
    }

    /// Standard deviation of a start or end, milliseconds: that of the level at the edge, over its steepness.
    fn edge_ms(&self, side: usize, level_db: f64) -> f64 {
        let edges = &self.course.edges;
        let amplitude = f64::from(edges.amplitude) * 10f64.powf(-edges.below_db / 20.0);
        let db = self.db_at(amplitude).hypot(level_db).min(MOST_EDGE_DB);
        let top = edges.top as f64;
        let whole = [top - edges.start, edges.end - top][side] / edges.below_db.max(1.0);
        // Noise may make a gentle edge look steep.
        let knots_per_db = (edges.rises[side] / RISE_OVER_DB).max(LEAST_STEEPNESS * whole);
        db * knots_per_db * self.knot_ms
    }

    /// What noise may hide beyond either edge: milliseconds and kilohertz, in 95 of 100 cases.
    fn unseen(&self) -> (f64, f64) {
        let below_db = self.course.edges.below_db;
        let left = |fall_db: f64| ((UNSEEN_DB - below_db) / fall_db).exp();
        (
            UNSEEN_SHARE * left(UNSEEN_SHARE_FALL_DB) * self.duration_ms(),
            UNSEEN_KHZ * left(UNSEEN_KHZ_FALL_DB),
        )
    }

    /// Standard deviation of the contour at a start or end: its own, and what a wrong edge makes of its slope.
    fn edge_khz(&self, side: usize, edge_ms: f64) -> f64 {
        let khz = &self.contour.khz;
        let step_ms = self.contour.step_s * 1e3;
        let reach = ((END_MS / step_ms).round() as usize).clamp(1, khz.len().max(2) - 1);
        let slope = |a: usize, b: usize| match (khz.get(a), khz.get(b)) {
            (Some(a), Some(b)) => f64::from((a - b).abs()) / (reach as f64 * step_ms),
            _ => 0.0,
        };
        let last = khz.len().saturating_sub(1);
        let core = self.course.edges.core();
        let (slope, knot) = if side == 0 {
            (slope(0, reach), core.start)
        } else {
            (slope(last, last.saturating_sub(reach)), core.end - 1)
        };
        self.contour_khz(knot).hypot(slope * edge_ms)
    }

    /// Standard deviation of the contour at a share of the pulse, kHz.
    fn middle_khz(&self, share: f64) -> f64 {
        let core = self.course.edges.core();
        self.contour_khz(core.start + (share * core.len() as f64) as usize)
    }

    /// Standard deviation of the contour at a knot, kHz, from the noise alone.
    fn contour_khz(&self, knot: usize) -> f64 {
        let sigma_hz = &self.course.sigma_hz;
        let at = knot.min(sigma_hz.len().saturating_sub(1));
        f64::from(sigma_hz.get(at).copied().unwrap_or(0.0)) * 1e-3
    }

    /// Where the contour is lowest and highest, as shares of the pulse.
    fn extremes(&self) -> (f64, f64) {
        let khz = &self.contour.khz;
        let place = |(at, _): (usize, &f32)| at as f64 / khz.len().max(2) as f64;
        let low = khz.iter().enumerate().min_by(|a, b| a.1.total_cmp(b.1));
        let high = khz.iter().enumerate().max_by(|a, b| a.1.total_cmp(b.1));
        (low.map_or(0.0, place), high.map_or(0.0, place))
    }

    /// The middle of some values of the contour, as a share of the pulse.
    fn share(&self, values: &Range<usize>) -> f64 {
        (values.start + values.end) as f64 / 2.0 / self.contour.khz.len().max(1) as f64
    }

    /// Standard deviation of the slope of a straight line through a stretch of the contour, kHz/ms.
    pub(super) fn slope(&self, values: &Range<usize>) -> f64 {
        let own = self.middle_khz(self.share(values));
        2.0 * own / (values.len() as f64 * self.contour.step_s * 1e3)
    }
}
