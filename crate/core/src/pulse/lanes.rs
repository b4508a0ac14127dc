//! Two animals that were taken for one: a sequence whose pulses lie in two lanes of frequency, each
//! with a rhythm of its own.

use super::Pulse;
use super::order::median;

/// Each lane has so many pulses, and so often one lane's pulse follows the other's: an animal
/// that goes over from one frequency to another calls first in one and then in the other.
const FEWEST: usize = 4;
/// The lanes lie so much farther apart than the pulses of either usually do, and at least so far,
/// as a share of the frequency.
const APART: f64 = 3.0;
const APART_SHARE: f64 = 0.012;
/// Either lane's rhythm is at least so much more regular than that of both together. One animal
/// that calls high and low by turns keeps its beat, and is not parted.
const MORE_REGULAR: f64 = 0.6;

/// Parts the members of a sequence, in order of time, into two lanes if there are two.
pub(super) fn part(pulses: &[Pulse], members: &[usize]) -> Option<(Vec<usize>, Vec<usize>)> {
    let khz = |at: usize| pulses[at].characteristic_khz;
    let border_khz = border(members.iter().map(|&at| khz(at)).collect())?;
    let is_low = |at: usize| khz(at) < border_khz;
    let (low, high): (Vec<usize>, Vec<usize>) = members.iter().partition(|&&at| is_low(at));
    let changes = |pair: &&[usize]| is_low(pair[0]) != is_low(pair[1]);
    if members.windows(2).filter(changes).count() < FEWEST {
        return None;
    }
    let joint = irregularity(pulses, members);
    let each = irregularity(pulses, &low).max(irregularity(pulses, &high));
    (each < MORE_REGULAR * joint).then_some((low, high))
}

/// The middle of the widest gap between frequencies, if it parts them clearly.
fn border(mut khz: Vec<f64>) -> Option<f64> {
    khz.sort_by(f64::total_cmp);
    let last = khz.len().checked_sub(FEWEST)?;
    let at = (FEWEST..=last).max_by(|&a, &b| {
        let gap = |n: usize| khz[n] - khz[n - 1];
        gap(a).total_cmp(&gap(b))
    })?;
    let (below, above) = khz.split_at(at);
    let gap = above[0] - below[below.len() - 1];
    let middle = (above[0] + below[below.len() - 1]) / 2.0;
    let between = centre(above) - centre(below);
    let scatter = scatter(below).max(scatter(above));
    let clear = gap > 0.0 && between > APART * scatter && between > APART_SHARE * middle;
    clear.then_some(middle)
}

fn centre(khz: &[f64]) -> f64 {
    median(&mut khz.to_vec(), f64::total_cmp).unwrap_or(0.0)
}

/// The median distance from the median, doubled: about three quarters of all lie nearer.
fn scatter(khz: &[f64]) -> f64 {
    let middle = centre(khz);
    let distances: Vec<f64> = khz.iter().map(|k| (k - middle).abs()).collect();
    2.0 * centre(&distances)
}

/// How much intervals change from one to the next, as the median share of the longer one.
fn irregularity(pulses: &[Pulse], members: &[usize]) -> f64 {
    let starts: Vec<f64> = members.iter().map(|&at| pulses[at].start_s).collect();
    let intervals: Vec<f64> = starts.windows(2).map(|pair| pair[1] - pair[0]).collect();
    let mut changes: Vec<f64> = intervals
        .windows(2)
        .map(|pair| (pair[1] - pair[0]).abs() / pair[1].max(pair[0]))
        .collect();
    median(&mut changes, f64::total_cmp).unwrap_or(f64::INFINITY)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pulse::sequence::tests::pulse;

    fn parted(calls: &[(f64, f64)]) -> Option<(usize, usize)> {
        let pulses: Vec<Pulse> = calls.iter().map(|&(s, khz)| pulse(s, khz, -20.0)).collect();
        let members: Vec<usize> = (0..pulses.len()).collect();
        part(&pulses, &members).map(|(low, high)| (low.len(), high.len()))
    }

    #[test]
    fn two_animals_near_in_frequency_are_parted_by_their_rhythms() {
        // One every 114 ms, one every 97 ms; each a little uneven.
        let one = (0..12).map(|n| (0.11 * f64::from(n), 45.4 + 0.1 * f64::from(n % 3)));
        let other = (0..14).map(|n| (0.031 + 0.097 * f64::from(n), 47.5 - 0.1 * f64::from(n % 2)));
        let mut calls: Vec<(f64, f64)> = one.chain(other).collect();
        calls.sort_by(|a, b| a.0.total_cmp(&b.0));
        assert_eq!(parted(&calls), Some((12, 14)));
    }

    #[test]
    fn an_animal_that_calls_high_and_low_by_turns_stays_one() {
        let calls: Vec<(f64, f64)> = (0..16)
            .map(|n| (0.1 * f64::from(n), if n % 2 == 0 { 19.0 } else { 22.0 }))
            .collect();
        assert_eq!(parted(&calls), None);
    }

    #[test]
    fn a_glide_and_a_handful_are_not_parted() {
        let glide: Vec<(f64, f64)> = (0..16)
            .map(|n| (0.1 * f64::from(n * n) / 4.0, 45.0 - f64::from(n)))
            .collect();
        assert_eq!(parted(&glide), None);
        // Search calls, then a buzz.
        let attack: Vec<(f64, f64)> = (0..20)
            .map(|n| match n {
                0..10 => (0.1 * f64::from(n), 45.0),
                _ => (1.0 + 0.006 * f64::from(n - 10), 33.0),
            })
            .collect();
        assert_eq!(parted(&attack), None);
        assert_eq!(parted(&[(0.1, 45.0), (0.2, 50.0), (0.24, 45.0)]), None);
        assert_eq!(parted(&[]), None);
    }
}
