//! Crowds: passes that lie together in frequency.
//!
//! A crowd is no species. Several species share a frequency, and one species can make two crowds. That a night has one at
//! 25 kHz and one at 45 kHz is still worth seeing before anybody opens a file.
//!
//! Passes are counted by their characteristic frequency in steps of 1 kHz, and the counts smoothed over a triangle of
//! 7 kHz. Between two peaks of that curve lies a border, at its lowest point, where it falls to half of the lower peak or
//! less; a shallower dip parts nothing. What holds fewer than three passes, or less than a hundredth of all, is no crowd.

use serde::{Deserialize, Serialize};

use super::activity::PassMark;
use super::card::Night;
use crate::pulse::order::median;

/// Passes above this are counted as here, kilohertz: no bat calls higher.
const HIGHEST_KHZ: usize = 250;
/// Weights of the smoothing, in steps of 1 kHz around the middle.
const TRIANGLE: [u32; 7] = [1, 2, 3, 4, 3, 2, 1];
/// The fewest passes of a crowd.
const FEWEST: usize = 3;

/// Passes that lie together in frequency. No species.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Crowd {
    /// The lowest characteristic frequency of its passes, kilohertz.
    pub from_khz: f64,
    /// The highest one; crowds do not overlap.
    pub to_khz: f64,
    /// The middle one.
    pub median_khz: f64,
    /// How many passes.
    pub passes: u32,
}

impl Crowd {
    /// Whether a characteristic frequency lies in it.
    #[must_use]
    pub fn holds(&self, khz: f64) -> bool {
        (self.from_khz..=self.to_khz).contains(&khz)
    }
}

impl Night {
    /// The crowds of the night, the lowest first. Passes that lie alone are in none.
    #[must_use]
    pub fn crowds(&self) -> Vec<Crowd> {
        crowds(&self.marks())
    }
}

/// The crowds that passes make, the lowest first.
pub(super) fn crowds(marks: &[PassMark]) -> Vec<Crowd> {
    let all = marks.iter().map(|mark| mark.characteristic_khz);
    let mut khz: Vec<f64> = all.filter(|khz| khz.is_finite()).collect();
    khz.sort_by(f64::total_cmp);
    let fewest = FEWEST.max(khz.len().div_ceil(100));
    let mut rest = khz.as_mut_slice();
    let mut crowds = Vec::new();
    let borders = borders(&smoothed(rest)).into_iter();
    for border in borders.chain([usize::MAX]) {
        let below = rest.partition_point(|&khz| step(khz) < border);
        let (own, above) = rest.split_at_mut(below);
        rest = above;
        if own.len() >= fewest
            && let (Some(&from_khz), Some(&to_khz)) = (own.first(), own.last())
            && let Some(median_khz) = median(own, f64::total_cmp)
        {
            crowds.push(Crowd {
                from_khz,
                to_khz,
                median_khz,
                passes: own.len() as u32,
            });
        }
    }
    crowds
}

/// The step of 1 kHz that a frequency is counted in.
fn step(khz: f64) -> usize {
    (khz.max(0.0) as usize).min(HIGHEST_KHZ)
}

fn smoothed(khz: &[f64]) -> Vec<u32> {
    let reach = TRIANGLE.len() / 2;
    let mut counts = vec![0; HIGHEST_KHZ + 2 * reach + 1];
    for &khz in khz {
        for (offset, weight) in TRIANGLE.iter().enumerate() {
            // Counts are moved up by the reach, so that none falls below the first.
            if let Some(count) = counts.get_mut(step(khz) + offset) {
                *count += weight;
            }
        }
    }
    counts.drain(..reach);
    counts.truncate(HIGHEST_KHZ + 1);
    counts
}

/// The steps that each begin a new part of the curve.
fn borders(curve: &[u32]) -> Vec<usize> {
    let mut borders = Vec::new();
    // The peak of the part before, and the deepest point since.
    let mut peak = 0;
    let mut valley: Option<(usize, u32)> = None;
    for (at, &count) in curve.iter().enumerate() {
        if let Some((lowest_at, lowest)) = valley
            && 2 * lowest <= peak
            && 2 * lowest <= count
            && count > lowest
        {
            borders.push(lowest_at);
            (peak, valley) = (count, None);
        } else if count >= peak {
            (peak, valley) = (count, None);
        } else if valley.is_none_or(|(_, lowest)| count < lowest) {
            valley = Some((at, count));
        }
    }
    borders
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

    use super::*;
    use crate::night::Moment;
    use rand::{RngExt, SeedableRng, rngs::ChaCha8Rng};
    use rand_distr::{Distribution, Normal};

    fn marks(khz: impl IntoIterator<Item = f64>) -> Vec<PassMark> {
        let mark = |khz| PassMark {
            at: Moment::from_utc_s(0.0),
            peak_khz: khz,
            characteristic_khz: khz,
            pulses: 5,
            has_buzz: false,
            snr_db: 20.0,
            file: 0,
        };
        khz.into_iter().map(mark).collect()
    }

    fn around(middle_khz: f64, spread_khz: f64, count: usize, seed: u64) -> Vec<f64> {
        let normal = Normal::new(middle_khz, spread_khz).unwrap();
        let random = ChaCha8Rng::seed_from_u64(seed);
        normal.sample_iter(random).take(count).collect()
    }

    #[test]
    fn a_crowd_at_25_and_one_at_45_khz_are_told_apart() {
        for seed in 0..20 {
            let mut all = around(25.0, 1.2, 200, seed);
            all.extend(around(45.0, 1.6, 700, seed + 100));
            let crowds = crowds(&marks(all));
            assert_eq!(crowds.len(), 2, "{seed}: {crowds:?}");
            assert!((crowds[0].median_khz - 25.0).abs() < 0.5);
            assert!((crowds[1].median_khz - 45.0).abs() < 0.5);
            assert_eq!((crowds[0].passes, crowds[1].passes), (200, 700));
            assert!(crowds[0].holds(25.0) && !crowds[0].holds(45.0));
        }
    }

    #[test]
    fn one_crowd_with_a_dent_stays_one() {
        for seed in 0..20 {
            let crowds = crowds(&marks(around(45.0, 2.5, 100, seed)));
            assert_eq!(crowds.len(), 1, "{seed}: {crowds:?}");
        }
    }

    #[test]
    fn passes_that_lie_alone_are_no_crowd() {
        assert_eq!(crowds(&[]), []);
        assert_eq!(crowds(&marks([20.0, 40.0, 60.0, 80.0])), []);
        let lone = crowds(&marks([45.0, 45.3, 44.8, 110.0, f64::NAN]));
        assert_eq!(lone.len(), 1);
        assert_eq!((lone[0].from_khz, lone[0].to_khz), (44.8, 45.3));
    }

    #[test]
    fn crowds_never_overlap_and_never_hold_more_than_there_are() {
        let mut random = ChaCha8Rng::seed_from_u64(7);
        for count in [1, 3, 10, 60, 400] {
            let khz: Vec<f64> = (0..count)
                .map(|_| random.random_range(-5.0..300.0))
                .collect();
            let crowds = crowds(&marks(khz));
            assert!(
                crowds
                    .windows(2)
                    .all(|pair| pair[0].to_khz < pair[1].from_khz)
            );
            assert!(crowds.iter().map(|crowd| crowd.passes).sum::<u32>() <= count);
        }
    }
}
