//! The path through a pulse's frames that loses least, by dynamic programming (Viterbi).

use super::frames::{Frames, HOP_MS};
use super::target::{Target, Track};

/// What a jump costs: decibels for a slope of 10 kHz/ms from one frame to the next; four times
/// as much for twice the slope. Ten times more drew the path of steep sweeps off their course.
const COST_DB: f64 = 0.2;
const COST_KHZ_PER_MS: f64 = 10.0;
/// The steepest slope that a path may take, kilohertz per millisecond.
const STEEPEST_KHZ_PER_MS: f64 = 60.0;

/// Traces a pulse along the best path.
pub(super) fn trace(target: &Target, window_ms: f64) -> Track {
    let Some(frames) = Frames::of(target, window_ms) else {
        return Track::default();
    };
    let bins = best_path(&frames.levels_db, frames.bin_khz);
    let points = bins.iter().zip(&frames.times_s).enumerate();
    Track {
        points: points
            .map(|(n, (&bin, &at_s))| (at_s, frames.khz(n, bin)))
            .collect(),
    }
}

/// The bin of each frame on the path of the largest sum of levels less jumps.
fn best_path(levels_db: &[Vec<f32>], bin_khz: f64) -> Vec<usize> {
    let reach = (STEEPEST_KHZ_PER_MS * HOP_MS / bin_khz).ceil() as usize;
    let costs: Vec<f32> = (0..=reach)
        .map(|bins| {
            let slope = bins as f64 * bin_khz / HOP_MS / COST_KHZ_PER_MS;
            (COST_DB * slope * slope) as f32
        })
        .collect();
    let mut sums: Vec<f32> = levels_db.first().cloned().unwrap_or_default();
    let mut origins: Vec<Vec<usize>> = Vec::with_capacity(levels_db.len());
    for row in levels_db.iter().skip(1) {
        let best = (0..row.len()).map(|bin| best_before(&sums, bin, &costs));
        let (from, reached): (Vec<usize>, Vec<f32>) = best.unzip();
        sums = reached
            .iter()
            .zip(row)
            .map(|(sum, level)| sum + level)
            .collect();
        origins.push(from);
    }
    let last = (0..sums.len()).max_by(|&a, &b| sums[a].total_cmp(&sums[b]));
    let mut path = vec![last.unwrap_or(0)];
    for from in origins.iter().rev() {
        let bin = path.last().and_then(|&bin| from.get(bin)).copied();
        path.push(bin.unwrap_or(0));
    }
    path.reverse();
    path
}

/// The bin from which a bin is best reached, and the sum with which one gets there.
fn best_before(sums: &[f32], bin: usize, costs: &[f32]) -> (usize, f32) {
    let reach = costs.len() - 1;
    let from = bin.saturating_sub(reach);
    let to = (bin + reach + 1).min(sums.len());
    let reached = |before: usize| sums[before] - costs[before.abs_diff(bin)];
    (from..to).map(|before| (before, reached(before))).fold(
        (bin, f32::NEG_INFINITY),
        |best, next| {
            if next.1 > best.1 { next } else { best }
        },
    )
}

#[cfg(test)]
mod tests {
    use super::super::target::sweep::{samples, target, worst};
    use super::*;

    #[test]
    fn a_loud_sweep_is_traced() {
        let samples = samples();
        let track = trace(&target(&samples), 0.6);
        assert!(worst(&track) < 0.15, "{}", worst(&track));
    }

    #[test]
    fn a_path_passes_by_a_lone_peak_of_noise() {
        let mut levels = vec![vec![0.0f32; 50]; 30];
        for row in &mut levels {
            row[20] = 10.0;
        }
        levels[15][45] = 14.0;
        assert_eq!(best_path(&levels, 0.2), vec![20; 30]);
    }
}
