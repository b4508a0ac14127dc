//! How often the stated 95 % intervals hold the true value, and fitting what they are made with.

use std::collections::BTreeMap;

use dusklens_core::pulse::{Scale, Uncertainty};
use serde::Serialize;

use super::run::{Job, Judged, Outcome};
use super::tally::{ALL, BUCKETS_DB, QUANTITIES, bucket_name, errors};

/// The share of cases in which an interval is to hold the true value.
pub const WANTED: f64 = 0.95;

/// Scales are fitted on pulses whose edges were taken at least so far below the maximum, decibels: what noise hides
/// of the others is accounted for apart.
const DEEP_DB: f64 = 12.0;
/// So many pulses tell a scale's shape.
const ENOUGH: usize = 1_500;
/// Intervals are made wider than the draw asks for: calls vary more than any draw.
const MARGIN: f64 = 1.5;

/// How often the intervals of some pulses held the true value.
#[derive(Debug, Clone, Serialize)]
pub struct CoverageRow {
    /// Case, or all.
    pub case: String,
    /// Signal-to-noise bucket, decibels.
    pub snr: String,
    /// For each quantity, in how many pulses the interval held, and of how many.
    pub held: BTreeMap<&'static str, (usize, usize)>,
}

impl CoverageRow {
    /// The share of intervals that held; none where there were none.
    pub fn share(&self, quantity: &str) -> Option<f64> {
        let (held, all) = self.held.get(quantity)?;
        Some(*held as f64 / *all as f64)
    }
}

/// The quantities that some rows tell of, in the order of the report.
pub fn quantities(rows: &[CoverageRow]) -> Vec<&'static str> {
    let is_told = |quantity: &&str| rows.iter().any(|row| row.held.contains_key(quantity));
    QUANTITIES.into_iter().filter(is_told).collect()
}

/// Half the width of the interval of a quantity; none where it has none.
pub fn half_width(quantity: &str, of: &Uncertainty) -> Option<f64> {
    Some(match quantity {
        "start_ms" => of.start_ms,
        "end_ms" => of.end_ms,
        "duration_ms" => of.duration_ms,
        "peak_khz" => of.peak_khz,
        "start_khz" => of.start_khz,
        "end_khz" => of.end_khz,
        "high_khz" => of.high_khz,
        "low_khz" => of.low_khz,
        "characteristic_khz" => of.characteristic_khz,
        "sweep_khz_per_ms" => of.sweep_khz_per_ms,
        "flattest_khz_per_ms" => of.flattest_khz_per_ms,
        "interval_ms" => of.interval_ms?,
        "level_db" => of.level_db,
        "snr_db" => of.snr_db,
        _ => return None,
    })
}

/// An error beside the half width of its interval, in the quantity's unit.
type Pair = (f64, f64);

/// Each quantity's errors beside their half widths.
fn pairs(pulse: &Judged) -> Vec<(&'static str, Pair)> {
    let Some(measured) = &pulse.measured else {
        return Vec::new();
    };
    errors(pulse, measured)
        .into_iter()
        .filter_map(|(quantity, error)| {
            let half = half_width(quantity, &measured.uncertainty)?;
            Some((quantity, (error, half)))
        })
        .collect()
}

/// Coverage over all pulses by signal-to-noise ratio, and by case over all ratios.
pub fn rows(outcomes: &[&Outcome]) -> Vec<CoverageRow> {
    let mut rows: Vec<CoverageRow> = Vec::new();
    for (outcome, pulse) in plain(outcomes) {
        let snr_db = pulse.truth.snr_db.unwrap_or(f64::INFINITY);
        let bucket = BUCKETS_DB.iter().rposition(|&low| snr_db >= low);
        let snr = bucket.map_or("<6".to_owned(), bucket_name);
        let case = match outcome.job {
            Job::Bats(case, _) => case.name(),
            Job::Silence(kind, _) => kind.name(),
        };
        for (quantity, (error, half)) in pairs(pulse) {
            for (case, snr) in [(ALL, "all"), (ALL, &snr), (case, "all")] {
                let (held, all) = row(&mut rows, case, snr).held.entry(quantity).or_default();
                *held += usize::from(error.abs() <= half);
                *all += 1;
            }
        }
    }
    rows
}

fn row<'r>(rows: &'r mut Vec<CoverageRow>, case: &str, snr: &str) -> &'r mut CoverageRow {
    let known = rows.iter().position(|r| r.case == case && r.snr == snr);
    let at = known.unwrap_or_else(|| {
        rows.push(CoverageRow {
            case: case.into(),
            snr: snr.into(),
            held: BTreeMap::new(),
        });
        rows.len() - 1
    });
    &mut rows[at]
}

fn plain<'o>(outcomes: &'o [&Outcome]) -> impl Iterator<Item = (&'o Outcome, &'o Judged)> {
    outcomes.iter().flat_map(|outcome| {
        let pulses = outcome.pulses.iter().filter(|pulse| pulse.is_plain());
        pulses.map(move |pulse| (*outcome, pulse))
    })
}

/// The scale that fits each quantity best: measured with scales of none, errors are to stay below the
/// scaled standard deviation in [`WANTED`] of all cases, whatever its size.
pub fn fit(outcomes: &[Outcome]) -> Vec<(&'static str, Scale)> {
    let outcomes: Vec<&Outcome> = outcomes.iter().collect();
    let mut points: BTreeMap<&'static str, Vec<Pair>> = BTreeMap::new();
    let deep = |pulse: &Judged| {
        pulse
            .measured
            .as_ref()
            .is_some_and(|m| m.edge_db >= DEEP_DB)
    };
    for (_, pulse) in plain(&outcomes).filter(|(_, pulse)| deep(pulse)) {
        for (quantity, pair) in pairs(pulse) {
            points.entry(quantity).or_default().push(pair);
        }
    }
    QUANTITIES
        .into_iter()
        .filter_map(|quantity| Some((quantity, fit_one(points.get(quantity)?))))
        .collect()
}

/// Walks over powers, floors and factors.
fn fit_one(all: &[Pair]) -> Scale {
    let every = all.len().div_ceil(ENOUGH).max(1);
    let points: Vec<Pair> = all.iter().step_by(every).copied().collect();
    let usual = |values: Vec<f64>| {
        let mut values = values;
        values.sort_by(f64::total_cmp);
        values
            .get(values.len() / 2)
            .copied()
            .unwrap_or(1.0)
            .max(1e-9)
    };
    let error = usual(points.iter().map(|(error, _)| error.abs()).collect());
    let sigma = usual(points.iter().map(|(_, sigma)| *sigma).collect());
    let mut best = (f64::INFINITY, Scale::NONE);
    for power in (2..=9).map(|n| f64::from(n) / 5.0) {
        let middle = error / sigma.powf(power);
        for floor in (0..24).map(|n| error * 10f64.powf(f64::from(n) / 10.0 - 1.0)) {
            for factor in (0..40).map(|n| middle * 10f64.powf(f64::from(n) / 15.0 - 1.0)) {
                let scale = Scale::new(factor, power, floor);
                let loss = loss(&points, &scale);
                if loss < best.0 {
                    best = (loss, scale);
                }
            }
        }
    }
    widened(all, best.1)
}

/// The pinball loss of the logarithm: least where [`WANTED`] of all errors lie below the half width, and
/// where that follows the errors' size from pulse to pulse.
fn loss(points: &[Pair], scale: &Scale) -> f64 {
    let sum: f64 = points
        .iter()
        .map(|(error, sigma)| {
            let off = (error.abs().max(1e-9) / scale.apply(*sigma).max(1e-12)).ln();
            if off > 0.0 {
                WANTED * off
            } else {
                (WANTED - 1.0) * off
            }
        })
        .sum();
    sum / points.len().max(1) as f64
}

/// The same scale, made wider or narrower as a whole until it holds in exactly [`WANTED`] of all cases, and by
/// [`MARGIN`] wider.
fn widened(points: &[Pair], scale: Scale) -> Scale {
    let mut ratios: Vec<f64> = points
        .iter()
        .map(|(error, sigma)| error.abs() / scale.apply(*sigma).max(1e-12))
        .collect();
    let by = MARGIN * super::tally::quantile(&mut ratios, WANTED);
    Scale::new(scale.factor * by, scale.power, scale.floor * by)
}
