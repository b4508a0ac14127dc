//! Bins of a transform -> rows of a picture.

use super::Axis;
use super::decibels::to_db;
use crate::spectrum::LOWEST_DB;
use std::ops::Range;

/// How the rows of a picture are read off the bins of a transform.
#[derive(Debug)]
pub(super) struct Rows {
    rows: Vec<Row>,
    /// Whether any row lies between bins.
    curved: bool,
    /// Scratch: levels of all bins, the outermost repeated.
    levels: Vec<f32>,
}

/// How one row is read.
#[derive(Debug)]
enum Row {
    /// As wide as a bin or wider: the largest of its bins.
    Largest(Range<usize>),
    /// Finer than bins: a smooth curve through the bins' levels.
    Curve(Point),
    /// Above half the sampling rate.
    Nothing,
}

/// Where a row reads on the curve through the bins.
#[derive(Debug, Clone, Copy)]
struct Point {
    /// The bin at or below the row's middle.
    below: usize,
    /// Weights of the bin before it, itself, and the two after it.
    weights: [f32; 4],
    /// A bin that lies in the row: its level is never lost between rows.
    inside: Option<usize>,
}

impl Rows {
    /// The rows `wanted` of `axis` (kilohertz) over `bins` bins from 0 to half of `rate_hz`.
    pub(super) fn new(axis: &Axis, wanted: Range<u32>, bins: usize, rate_hz: f64) -> Self {
        let last = bins.saturating_sub(1);
        let bin_khz = rate_hz / 2000.0 / last.max(1) as f64;
        let row = |row: u32| {
            let span = axis.span(row);
            let span = span.start / bin_khz..span.end / bin_khz;
            if span.end - span.start >= 1.0 - ROUNDING {
                return Row::Largest(inside(&span, last));
            }
            Point::new(&span, last).map_or(Row::Nothing, Row::Curve)
        };
        let rows: Vec<Row> = wanted.map(row).collect();
        Self {
            curved: rows.iter().any(|row| matches!(row, Row::Curve(_))),
            rows,
            levels: vec![LOWEST_DB; bins + PAD_BEFORE + PAD_AFTER],
        }
    }

    /// Writes the levels of a column, decibels, from the powers of its bins.
    pub(super) fn read(&mut self, power: &[f32], column: &mut [f32]) {
        if self.curved {
            fill(&mut self.levels, power);
        }
        for (level, row) in column.iter_mut().zip(&self.rows) {
            *level = match row {
                Row::Largest(range) => {
                    let bins = power.get(range.clone()).unwrap_or_default();
                    to_db(bins.iter().fold(0.0, |a, &b| if b > a { b } else { a }))
                }
                Row::Curve(point) => point.read(&self.levels),
                Row::Nothing => LOWEST_DB,
            };
        }
    }
}

/// Rows that are one bin wide but for rounding count as such.
const ROUNDING: f64 = 1e-9;

const PAD_BEFORE: usize = 1;
const PAD_AFTER: usize = 2;

/// Levels of all bins, with the outermost repeated so that the curve has
/// neighbours everywhere.
fn fill(levels: &mut [f32], power: &[f32]) {
    for (level, &power) in levels.iter_mut().skip(PAD_BEFORE).zip(power) {
        *level = to_db(power);
    }
    if let [first, second, .., last, after, beyond] = levels {
        *first = *second;
        *after = *last;
        *beyond = *last;
    }
}

/// The bins in a span that is at least one bin wide; empty above the last one.
fn inside(span: &Range<f64>, last: usize) -> Range<usize> {
    let first = span.start.ceil() as usize;
    let end = (span.end.ceil() as usize).min(last + 1);
    first.min(end)..end
}

impl Point {
    fn new(span: &Range<f64>, last: usize) -> Option<Self> {
        let middle = f64::midpoint(span.start, span.end);
        if middle > last as f64 {
            return None;
        }
        let below = middle as usize;
        let bin = span.start.ceil();
        Some(Self {
            below,
            weights: catmull_rom((middle - below as f64) as f32),
            inside: (bin < span.end && bin <= last as f64).then_some(bin as usize),
        })
    }

    fn read(&self, levels: &[f32]) -> f32 {
        let Some(&[before, near, far, after]) = levels.get(self.below..self.below + 4) else {
            return LOWEST_DB;
        };
        let [a, b, c, d] = self.weights;
        let curve = a * before + b * near + c * far + d * after;
        // Beside a deep gap the curve would swing above what there is.
        let curve = curve.clamp(near.min(far), near.max(far));
        self.inside
            .and_then(|bin| levels.get(bin + PAD_BEFORE))
            .map_or(curve, |&level| curve.max(level))
    }
}

/// Weights of four neighbours for a smooth curve through the middle two
/// (Catmull and Rom 1974), at `part` of the way between these.
fn catmull_rom(part: f32) -> [f32; 4] {
    let (square, cube) = (part * part, part * part * part);
    [
        0.5 * (-cube + 2.0 * square - part),
        0.5 * (3.0 * cube - 5.0 * square + 2.0),
        0.5 * (-3.0 * cube + 4.0 * square + part),
        0.5 * (cube - square),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn column(axis: &Axis, height: u32, rate_hz: f64, power: &[f32]) -> Vec<f32> {
        let mut column = vec![0.0; height as usize];
        Rows::new(axis, 0..height, power.len(), rate_hz).read(power, &mut column);
        column
    }

    #[test]
    fn nothing_lies_above_half_the_sampling_rate() {
        for height in [8, 4000] {
            let axis = Axis::new(200.0, 0.0, height);
            let levels = column(&axis, height, 200e3, &[1.0; 65]);
            // A bin on the edge itself still shows in the row above or below it.
            let edge = height as usize / 2;
            assert!(levels[..edge - 1].iter().all(|&level| level == LOWEST_DB));
            assert!(levels[edge..].iter().all(|&level| level == 0.0));
        }
    }

    #[test]
    fn the_curve_is_smooth_and_never_above_its_bins() {
        let axis = Axis::new(100.0, 0.0, 640);
        let mut power = [1e-24; 65];
        power[32] = 1.0;
        let levels = column(&axis, 640, 200e3, &power);
        let largest = levels.iter().copied().fold(LOWEST_DB, f32::max);
        assert_eq!(largest, 0.0);
        let steepest = levels
            .windows(2)
            .map(|pair| (pair[1] - pair[0]).abs())
            .fold(0.0, f32::max);
        assert!(
            steepest < 45.0,
            "a bin of ten rows steps by {steepest} of 240 dB"
        );
    }

    proptest! {
        #[test]
        fn a_loud_bin_shows_in_the_row_of_its_frequency(
            // Not the last one: what lies a hair above half the sampling rate is silence.
            bin in 0usize..256,
            height in 3u32..3000,
            low_khz in 0f64..100.0,
            span_khz in 1f64..200.0,
        ) {
            let mut power = [1e-9; 257];
            power[bin] = 1.0;
            let khz = bin as f64 * 250.0 / 256.0;
            let axis = Axis::new(low_khz + span_khz, low_khz, height);
            let levels = column(&axis, height, 500e3, &power);
            let row = axis.position_px(khz);
            if row > 0.01 && row < f64::from(height) - 0.01 {
                // Its own row, or the one beyond an edge that it lies on.
                let near = levels[(row - 0.01) as usize].max(levels[(row + 0.01) as usize]);
                prop_assert_eq!(near, 0.0, "row {}", row);
            }
            for (row, &level) in levels.iter().enumerate() {
                let span = axis.span(row as u32);
                let bin_khz = 250.0 / 256.0;
                if span.end < khz - bin_khz || span.start > khz + bin_khz {
                    prop_assert!(level < -80.0, "row {row} holds {level}");
                }
            }
        }
    }
}
