//! Runs the estimators over drawn pulses and adds up their distances from the law.

use std::collections::BTreeMap;
use std::error::Error;

use dusklens_core::pulse::{Settings, measure};
use dusklens_core::recording::{OpenOptions, Recording};
use dusklens_core::teach::Scene;
use serde::Serialize;

use super::clock::timed;
use super::target::{Target, Track};
use super::{path, peak, reassigned, widened};
use crate::truth::draw::{Case, SHAPES, Set};
use crate::truth::run::{Job, Judged, file, on_all_processors, run};
use crate::truth::tally::quantile;

/// Lower ends of the signal-to-noise buckets, decibels, and the upper end of the last.
pub const BUCKETS_DB: [f64; 5] = [10.0, 15.0, 20.0, 30.0, 45.0];
/// Lengths of the Hann windows that are tried, milliseconds.
pub const WINDOWS_MS: [f64; 4] = [0.35, 0.7, 1.4, 2.8];
/// At most so many pulses of a recording, so that no recording outweighs others.
const PULSES: usize = 6;
/// Moments of each pulse at which estimates are compared with the law, so that no long pulse
/// outweighs others.
const MOMENTS: u32 = 60;
/// The rough band: this much wider than the law's on either side, kilohertz, and the shares of it.
const ROUGH_KHZ: f64 = 2.0;
const ROUGH_SHARE: f64 = 0.1;
/// The name of all shapes together.
pub const ALL: &str = "all shapes";

/// A way to estimate a contour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Estimator {
    /// `Pulse.contour`.
    Own,
    /// `Pulse.contour`, smoothed anew over as long stretches as it bears.
    Widened,
    /// The largest bin of each frame.
    Peak,
    /// The best path through the frames.
    Path,
    /// Energy reassigned in time and frequency.
    Reassigned,
    /// Energy reassigned in frequency alone.
    Squeezed,
}

/// The estimators in the order of the report.
pub const ESTIMATORS: [Estimator; 6] = [
    Estimator::Own,
    Estimator::Widened,
    Estimator::Peak,
    Estimator::Path,
    Estimator::Reassigned,
    Estimator::Squeezed,
];

impl Estimator {
    /// Its name as printed.
    pub fn name(self) -> &'static str {
        match self {
            Estimator::Own => "own",
            Estimator::Widened => "widened",
            Estimator::Peak => "peak",
            Estimator::Path => "path",
            Estimator::Reassigned => "reassigned",
            Estimator::Squeezed => "squeezed",
        }
    }

    fn trace(self, target: &Target, window_ms: f64) -> Track {
        match self {
            Estimator::Own | Estimator::Widened => Track::default(),
            Estimator::Peak => peak::trace(target, window_ms),
            Estimator::Path => path::trace(target, window_ms),
            Estimator::Reassigned => reassigned::reassigned(target, window_ms),
            Estimator::Squeezed => reassigned::squeezed(target, window_ms),
        }
    }
}

/// One estimator on the pulses of one shape in one bucket, with its best window.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Cell {
    /// The shape, or [`ALL`].
    pub shape: &'static str,
    /// The bucket's lower and upper end, decibels.
    pub snr_db: (f64, f64),
    /// The estimator.
    pub estimator: Estimator,
    /// The best window, milliseconds; none for the project's own and what is made of it.
    pub window_ms: Option<f64>,
    /// Pulses.
    pub pulses: usize,
    /// Median of the absolute error over all points of all contours, kilohertz.
    pub median_khz: f64,
    /// Ninth decile of it, kilohertz.
    pub p90_khz: f64,
    /// Root of the mean square of the error, kilohertz.
    pub rms_khz: f64,
    /// Processor time for one pulse, milliseconds. For the project's own, and what is made of it, with finding,
    /// following and measuring everything in the recording, for each true pulse.
    pub cpu_ms: f64,
}

/// An estimator with a window, by its place among [`WINDOWS_MS`].
type Way = (Estimator, Option<usize>);

/// Errors of one pulse by way.
struct Sample {
    shape: &'static str,
    snr_db: f64,
    ways: BTreeMap<Way, (Vec<f64>, f64)>,
}

/// Compares on the first recordings of each shape of the draw that is tuned on.
///
/// # Errors
/// Fails where a recording cannot be written or read.
pub fn compare(recordings: u64) -> Result<Vec<Cell>, Box<dyn Error + Send + Sync>> {
    let jobs: Vec<Job> = (0..SHAPES.len())
        .flat_map(|shape| (0..recordings).map(move |n| Job::Bats(Case::Shape(shape), n)))
        .collect();
    let samples: Vec<Sample> = on_all_processors(&jobs, samples)?
        .into_iter()
        .flatten()
        .collect();
    let shapes = SHAPES.map(|shape| shape.name());
    let mut cells = Vec::new();
    for shape in std::iter::once(ALL).chain(shapes) {
        for bucket in BUCKETS_DB.windows(2) {
            let own: Vec<&Sample> = samples
                .iter()
                .filter(|s| shape == ALL || s.shape == shape)
                .filter(|s| (bucket[0]..bucket[1]).contains(&s.snr_db))
                .collect();
            let best = ESTIMATORS.iter().filter_map(|&e| best_cell(e, &own));
            cells.extend(best.map(|cell| Cell {
                shape,
                snr_db: (bucket[0], bucket[1]),
                ..cell
            }));
        }
    }
    Ok(cells)
}

/// Every estimator on some pulses of a recording.
fn samples(job: Job) -> Result<Vec<Sample>, Box<dyn Error + Send + Sync>> {
    let scene = job.scene(Set::Tune);
    let rendered = scene.render();
    let outcome = run(Set::Tune, job, &Settings::default())?;
    let own_s = measuring_s(&scene, &rendered)? / outcome.pulses.len().max(1) as f64;
    let plain: Vec<(usize, &Judged)> = outcome
        .pulses
        .iter()
        .enumerate()
        .filter(|(_, p)| p.is_plain() && p.measured.is_some())
        .collect();
    let stride = plain.len().div_ceil(PULSES).max(1);
    let chosen: Vec<(usize, &Judged)> = plain.into_iter().step_by(stride).collect();
    let mut samples: Vec<Sample> = chosen
        .iter()
        .filter_map(|&(index, pulse)| own_sample(&scene, &rendered, index, pulse, own_s))
        .collect();
    let targets: Vec<Target> = chosen
        .iter()
        .map(|(_, pulse)| target(&scene, &rendered, pulse))
        .collect();
    for way in rivals() {
        let window_ms = way
            .1
            .and_then(|w| WINDOWS_MS.get(w))
            .copied()
            .unwrap_or(1.0);
        // All pulses at once: reading the clock takes time too.
        let (tracks, spent_s) = timed(|| {
            let tracks = targets.iter().map(|t| way.0.trace(t, window_ms));
            tracks.collect::<Vec<Track>>()
        });
        let each_s = spent_s / tracks.len().max(1) as f64;
        for ((sample, track), &(index, pulse)) in samples.iter_mut().zip(&tracks).zip(&chosen) {
            let errors = errors(&scene, index, pulse, |at_s| track.khz(at_s));
            sample.ways.insert(way, (errors, each_s));
        }
    }
    Ok(samples)
}

/// Processor time for measuring everything in a recording, seconds.
fn measuring_s(scene: &Scene, rendered: &[f32]) -> Result<f64, Box<dyn Error + Send + Sync>> {
    let recording = Recording::open(file(scene, rendered)?, &OpenOptions::default())?;
    let (measured, spent_s) = timed(|| measure(&recording, 0, &Settings::default()));
    measured?;
    Ok(spent_s)
}

fn rivals() -> impl Iterator<Item = Way> {
    ESTIMATORS
        .into_iter()
        .filter(|e| !matches!(e, Estimator::Own | Estimator::Widened))
        .flat_map(|e| (0..WINDOWS_MS.len()).map(move |w| (e, Some(w))))
}

fn own_sample(
    scene: &Scene,
    rendered: &[f32],
    index: usize,
    pulse: &Judged,
    own_s: f64,
) -> Option<Sample> {
    let contour = &pulse.measured.as_ref()?.contour;
    let at = |n: u32| contour.start_s + f64::from(n) * contour.step_s;
    let points = (0..).zip(&contour.khz);
    let own = Track {
        points: points.map(|(n, &khz)| (at(n), f64::from(khz))).collect(),
    };
    let target = target(scene, rendered, pulse);
    let (wide, wide_s) = timed(|| widened::trace(&target, &own));
    let of = |track: &Track| errors(scene, index, pulse, |at_s| track.khz(at_s));
    Some(Sample {
        shape: pulse.truth.shape.name(),
        snr_db: pulse.truth.snr_db.unwrap_or(f64::INFINITY),
        ways: BTreeMap::from([
            ((Estimator::Own, None), (of(&own), own_s)),
            ((Estimator::Widened, None), (of(&wide), own_s + wide_s)),
        ]),
    })
}

fn target<'a>(scene: &Scene, rendered: &'a [f32], pulse: &Judged) -> Target<'a> {
    let truth = &pulse.truth;
    let (low, high) = (truth.low_khz, truth.high_khz);
    Target {
        samples: rendered,
        rate_hz: f64::from(scene.rate_hz),
        span_s: truth.start_s..truth.end_s,
        band_khz: low * (1.0 - ROUGH_SHARE) - ROUGH_KHZ..high * (1.0 + ROUGH_SHARE) + ROUGH_KHZ,
    }
}

/// Estimate less law at moments evenly between the measured start and end, kilohertz; where an
/// estimator found nothing at all the error counts as a tenth of the frequency.
fn errors(
    scene: &Scene,
    index: usize,
    pulse: &Judged,
    khz: impl Fn(f64) -> Option<f64>,
) -> Vec<f64> {
    let (Some(placed), Some(measured)) = (scene.calls.get(index), &pulse.measured) else {
        return vec![];
    };
    let length_s = measured.end_s - measured.start_s;
    (0..MOMENTS)
        .map(|n| measured.start_s + (f64::from(n) + 0.5) / f64::from(MOMENTS) * length_s)
        .filter(|at_s| (pulse.truth.start_s..pulse.truth.end_s).contains(at_s))
        .map(|at_s| {
            let law = placed.call.law.khz((at_s - placed.onset_s) * 1e3);
            khz(at_s).map_or(0.1 * law, |khz| khz - law)
        })
        .collect()
}

/// The estimator with its best window: that of the smallest median and ninth decile, multiplied.
fn best_cell(estimator: Estimator, samples: &[&Sample]) -> Option<Cell> {
    let ways: Vec<Way> = match estimator {
        Estimator::Own | Estimator::Widened => vec![(estimator, None)],
        _ => rivals().filter(|way| way.0 == estimator).collect(),
    };
    let cells = ways.into_iter().filter_map(|way| cell(way, samples));
    let badness = |cell: &Cell| cell.median_khz * cell.p90_khz;
    cells.min_by(|a, b| badness(a).total_cmp(&badness(b)))
}

fn cell(way: Way, samples: &[&Sample]) -> Option<Cell> {
    let of = samples.iter().filter_map(|sample| sample.ways.get(&way));
    let (mut sizes, mut spent_s, mut pulses) = (Vec::new(), 0.0, 0usize);
    for (errors, own_s) in of {
        sizes.extend(errors.iter().map(|e| e.abs()));
        spent_s += own_s;
        pulses += 1;
    }
    let square = sizes.iter().map(|e| e * e).sum::<f64>() / sizes.len().max(1) as f64;
    (pulses > 0).then(|| Cell {
        shape: ALL,
        snr_db: (0.0, 0.0),
        estimator: way.0,
        window_ms: way.1.and_then(|w| WINDOWS_MS.get(w)).copied(),
        pulses,
        median_khz: quantile(&mut sizes, 0.5),
        p90_khz: quantile(&mut sizes, 0.9),
        rms_khz: square.sqrt(),
        cpu_ms: spent_s / pulses as f64 * 1e3,
    })
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed test may panic")]

    use super::*;

    #[test]
    fn every_estimator_is_near_the_law_of_loud_pulses() {
        let cells = compare(1).unwrap();
        for estimator in ESTIMATORS {
            let own = cells.iter().filter(|c| c.estimator == estimator);
            let loud = own.clone().find(|c| c.shape == ALL && c.snr_db.0 == 20.0);
            let loud = loud.unwrap();
            assert!(loud.median_khz < 0.3 && loud.pulses >= 9, "{loud:?}");
        }
    }
}
