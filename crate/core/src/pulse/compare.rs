//! Several pulses laid over one another: what they have in common, how far they spread, and which of them stand out.
//!
//! Quartiles are those of linear interpolation between the values in order (type 7 of Hyndman & Fan 1996, *Sample
//! quantiles in statistical packages*, The American Statistician 50, 361-365).
//!
//! A pulse stands out in a number where its modified z-score, the distance from the median over
//! [`PER_MAD`] times the median absolute deviation, is larger than [`STANDS_OUT`] (Iglewicz & Hoaglin 1993, *How to
//! detect and handle outliers*, ASQC Quality Press, volume 16, page 11). Where more than half of all values are the
//! same there is no such score, and none stands out. Nor does what is nearer to the median than its own uncertainty: among
//! very even pulses a score alone would tell of how they were measured.

use std::fmt::Write;
use std::ops::Range;

use serde::{Deserialize, Serialize};

use super::Pulse;

mod measure;

pub use measure::Measure;

/// The median absolute deviation of a normal distribution, times this, is its standard deviation.
pub const PER_MAD: f64 = 1.4826;
/// The modified z-score above which a value stands out.
pub const STANDS_OUT: f64 = 3.5;
/// Of fewer pulses none is said to stand out: a deviation from two others is no deviation from a group.
const FEWEST: usize = 5;
/// The common grid has at most so many moments, ...
const MOST_MOMENTS: usize = 2000;
/// ... no two of them nearer than this, milliseconds: contours know no finer detail.
const FINEST_MS: f64 = 0.01;
/// The median contour is told as far as this share of the pulses reaches.
const REACHED_BY: f64 = 0.5;
/// What rounding may put a contour's end off the grid, steps of the contour.
const ROUNDING: f64 = 1e-6;

/// The moment at which pulses are laid over one another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(rename_all = "snake_case")]
pub enum Alignment {
    /// The moment of most energy.
    Peak,
    /// The start.
    Start,
    /// The moment of the characteristic frequency.
    Characteristic,
}

/// Pulses laid over one another.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Comparison {
    /// When each pulse's contour begins, re the moment that all are laid over, milliseconds.
    pub begins_ms: Vec<f64>,
    /// What the contours have in common.
    pub course: Course,
    /// The spread of every number; numbers that no pulse has are left out.
    pub spreads: Vec<Spread>,
    /// What stands out, in the order of the pulses, the most striking number first.
    pub standing_out: Vec<StandsOut>,
}

/// The median of contours over time, and the quartiles beside it, on an even grid. It goes as far as half of the pulses.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Course {
    /// The first moment, re the moment that all are laid over, milliseconds.
    pub start_ms: f64,
    /// Time between moments, milliseconds.
    pub step_ms: f64,
    /// Medians, kilohertz.
    pub median_khz: Vec<f64>,
    /// Lower quartiles, kilohertz.
    pub lower_khz: Vec<f64>,
    /// Upper quartiles, kilohertz.
    pub upper_khz: Vec<f64>,
}

/// How the values of one number spread, each in the unit of the number.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Spread {
    /// The number.
    pub measure: Measure,
    /// How many pulses have it.
    pub pulses: usize,
    /// The median.
    pub median: f64,
    /// The lower quartile.
    pub lower: f64,
    /// The upper quartile.
    pub upper: f64,
    /// The smallest value.
    pub least: f64,
    /// The largest value.
    pub most: f64,
    /// The median absolute deviation from the median.
    pub mad: f64,
}

/// A number of a pulse that stands out.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct StandsOut {
    /// Which pulse, counted from 0 in the order that they were given.
    pub pulse: usize,
    /// The number.
    pub measure: Measure,
    /// Its value minus the median, in its unit.
    pub above: f64,
    /// The size of the modified z-score.
    pub score: f64,
}

/// Lays pulses over one another.
///
/// ```
/// use dusklens_core::pulse::compare::{Alignment, compare};
///
/// let none = compare(&[], Alignment::Peak);
/// assert!(none.spreads.is_empty() && none.course.median_khz.is_empty());
/// ```
#[must_use]
pub fn compare(pulses: &[Pulse], alignment: Alignment) -> Comparison {
    let lines: Vec<Line> = pulses.iter().map(|p| Line::of(p, alignment)).collect();
    let spreads: Vec<Spread> = Measure::ALL
        .into_iter()
        .filter_map(|measure| spread(pulses, measure))
        .collect();
    Comparison {
        begins_ms: lines.iter().map(|line| line.begins_ms).collect(),
        course: course(&lines),
        standing_out: standing_out(pulses, &spreads),
        spreads,
    }
}

/// A contour that reaches farther than this from its moment, milliseconds, is none: thirty years.
const FARTHEST_MS: f64 = 1e12;

/// A contour with its time counted from the moment that all are laid over.
struct Line<'a> {
    begins_ms: f64,
    step_ms: f64,
    khz: &'a [f32],
}

impl<'a> Line<'a> {
    fn of(pulse: &'a Pulse, alignment: Alignment) -> Self {
        let moment_s = match alignment {
            Alignment::Peak => pulse.peak_s,
            Alignment::Start => pulse.start_s,
            Alignment::Characteristic => pulse.characteristic_s,
        };
        let contour = &pulse.contour;
        let (begins_ms, step_ms) = ((contour.start_s - moment_s) * 1e3, contour.step_s * 1e3);
        let ends_ms = begins_ms + contour.khz.len() as f64 * step_ms;
        // False for what is no number.
        let is_good = begins_ms.abs() < FARTHEST_MS && ends_ms.abs() < FARTHEST_MS && step_ms > 0.0;
        Self {
            begins_ms: if is_good { begins_ms } else { 0.0 },
            step_ms,
            khz: if is_good { &contour.khz } else { &[] },
        }
    }

    fn ends_ms(&self) -> f64 {
        self.begins_ms + self.khz.len().saturating_sub(1) as f64 * self.step_ms
    }

    /// The frequency at a moment, straight between the values; none before and after the contour.
    fn khz_at(&self, ms: f64) -> Option<f64> {
        let last = self.khz.len().checked_sub(1)? as f64;
        let place = (ms - self.begins_ms) / self.step_ms;
        if !(-ROUNDING..=last + ROUNDING).contains(&place) {
            return None;
        }
        let place = place.clamp(0.0, last);
        let near = f64::from(*self.khz.get(place as usize)?);
        let far = self
            .khz
            .get(place as usize + 1)
            .map_or(near, |&khz| f64::from(khz));
        let khz = near + place.fract() * (far - near);
        khz.is_finite().then_some(khz)
    }
}

/// The moments of the common grid: the first, the time between them, how many.
fn grid(lines: &[Line]) -> Option<(f64, f64, usize)> {
    let told = || lines.iter().filter(|line| !line.khz.is_empty());
    let begins_ms = told().map(|line| line.begins_ms).min_by(f64::total_cmp)?;
    let ends_ms = told().map(Line::ends_ms).max_by(f64::total_cmp)?;
    let finest_ms = told().map(|line| line.step_ms).min_by(f64::total_cmp)?;
    let length_ms = ends_ms - begins_ms;
    let step_ms = finest_ms
        .max(FINEST_MS)
        .max(length_ms / (MOST_MOMENTS - 1) as f64);
    let steps = (length_ms / step_ms + ROUNDING).floor() as usize;
    Some((begins_ms, step_ms, steps.min(MOST_MOMENTS - 1) + 1))
}

fn course(lines: &[Line]) -> Course {
    let Some((begins_ms, step_ms, moments)) = grid(lines) else {
        return Course::default();
    };
    let fewest = (lines.len() as f64 * REACHED_BY).ceil().max(1.0) as usize;
    let quartiles: Vec<Option<[f64; 3]>> = (0..moments)
        .map(|moment| {
            let ms = begins_ms + moment as f64 * step_ms;
            let khz: Vec<f64> = lines.iter().filter_map(|line| line.khz_at(ms)).collect();
            (khz.len() >= fewest).then(|| quartiles(khz)).flatten()
        })
        .collect();
    let told = longest_run(&quartiles);
    let start_ms = begins_ms + told.start as f64 * step_ms;
    let values = |which: usize| {
        quartiles[told.clone()]
            .iter()
            .flatten()
            .map(|q| q[which])
            .collect()
    };
    Course {
        start_ms,
        step_ms,
        lower_khz: values(0),
        median_khz: values(1),
        upper_khz: values(2),
    }
}

/// The longest run of moments that enough contours reach. With contours of very different lengths there may be several.
fn longest_run<T>(values: &[Option<T>]) -> Range<usize> {
    let (mut longest, mut begun) = (0..0, 0);
    for at in 0..=values.len() {
        if values.get(at).is_none_or(Option::is_none) {
            if at - begun > longest.len() {
                longest = begun..at;
            }
            begun = at + 1;
        }
    }
    longest
}

fn spread(pulses: &[Pulse], measure: Measure) -> Option<Spread> {
    let values: Vec<f64> = pulses
        .iter()
        .filter_map(|pulse| measure.of(pulse))
        .collect();
    let least = values.iter().copied().min_by(f64::total_cmp)?;
    let most = values.iter().copied().max_by(f64::total_cmp)?;
    let [lower, median, upper] = quartiles(values.clone())?;
    let [_, mad, _] = quartiles(values.iter().map(|value| (value - median).abs()).collect())?;
    Some(Spread {
        measure,
        pulses: values.len(),
        median,
        lower,
        upper,
        least,
        most,
        mad,
    })
}

fn standing_out(pulses: &[Pulse], spreads: &[Spread]) -> Vec<StandsOut> {
    let tells = |spread: &&Spread| {
        spread.measure.is_of_the_call() && spread.pulses >= FEWEST && spread.mad > 0.0
    };
    let mut all: Vec<StandsOut> = spreads
        .iter()
        .filter(tells)
        .flat_map(|spread| {
            pulses.iter().enumerate().filter_map(|(at, pulse)| {
                let above = spread.measure.of(pulse)? - spread.median;
                let score = above.abs() / (PER_MAD * spread.mad);
                let is_sure = above.abs() > spread.measure.uncertainty_of(pulse);
                (score > STANDS_OUT && is_sure).then_some(StandsOut {
                    pulse: at,
                    measure: spread.measure,
                    above,
                    score,
                })
            })
        })
        .collect();
    all.sort_by(|a, b| a.pulse.cmp(&b.pulse).then(b.score.total_cmp(&a.score)));
    all
}

/// Lower quartile, median, upper quartile; none of none.
fn quartiles(mut values: Vec<f64>) -> Option<[f64; 3]> {
    if values.is_empty() {
        return None;
    }
    values.sort_unstable_by(f64::total_cmp);
    Some([0.25, 0.5, 0.75].map(|share| between(&values, share)))
}

/// The value at a share of the way through values in order, straight between two of them.
fn between(values: &[f64], share: f64) -> f64 {
    let place = (values.len() - 1) as f64 * share;
    let near = values[place as usize];
    let far = values[(place as usize + 1).min(values.len() - 1)];
    near + place.fract() * (far - near)
}

/// Spreads as comma-separated values, a row a number; the unit stands in its name.
#[must_use]
pub fn csv(spreads: &[Spread]) -> String {
    let mut text = String::from(
        "number,pulses,median,lower_quartile,upper_quartile,min,max,median_absolute_deviation\n",
    );
    for s in spreads {
        let values =
            [s.median, s.lower, s.upper, s.least, s.most, s.mad].map(|value| format!("{value:.3}"));
        // Writing to a string cannot fail.
        let _ = writeln!(
            text,
            "{},{},{}",
            s.measure.name(),
            s.pulses,
            values.join(",")
        );
    }
    text
}

#[cfg(test)]
mod tests;
