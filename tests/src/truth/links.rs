//! How well sequences follow animals.

use dusklens_core::pulse::Pulse;
use dusklens_core::teach::TruePulse;
use serde::Serialize;

use super::matching::Pairs;

/// A link joins a pulse to the one before it in its sequence.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize)]
pub struct Links {
    /// Both pulses are one animal's, and none of its pulses that were found lies between.
    pub right: usize,
    /// The pulses are two animals', or one was left out.
    pub wrong: usize,
    /// One animal's successive found pulses that no link joins.
    pub broken: usize,
}

impl Links {
    /// Compares the sequences of a recording's pulses with the animals that made them.
    pub fn of(truth: &[TruePulse], measured: &[Pulse], pairs: &Pairs) -> Self {
        let mut links = Links::default();
        for link in measured_links(measured) {
            if true_links(truth, pairs).contains(&link) {
                links.right += 1;
            } else if [link.0, link.1].iter().all(|m| is_true(pairs, *m)) {
                links.wrong += 1;
            }
        }
        links.broken = true_links(truth, pairs).len() - links.right;
        links
    }

    /// Both together.
    pub fn and(self, other: Self) -> Self {
        Links {
            right: self.right + other.right,
            wrong: self.wrong + other.wrong,
            broken: self.broken + other.broken,
        }
    }
}

fn is_true(pairs: &Pairs, measured: usize) -> bool {
    pairs.measured.contains(&Some(measured))
}

/// Pairs of measured pulses that follow one another in a sequence.
fn measured_links(measured: &[Pulse]) -> Vec<(usize, usize)> {
    let before = |at: usize| {
        let sequence = measured[at].sequence?;
        (0..at)
            .rev()
            .find(|&b| measured[b].sequence == Some(sequence))
    };
    (0..measured.len())
        .filter_map(|at| Some((before(at)?, at)))
        .collect()
}

/// Pairs of measured pulses that one animal made one after the other.
fn true_links(truth: &[TruePulse], pairs: &Pairs) -> Vec<(usize, usize)> {
    let mut found: Vec<usize> = (0..truth.len())
        .filter(|&t| pairs.measured[t].is_some())
        .collect();
    found.sort_by(|&a, &b| truth[a].start_s.total_cmp(&truth[b].start_s));
    let before = |at: usize| {
        let own = |&&t: &&usize| truth[t].animal == truth[found[at]].animal;
        found[..at].iter().rev().find(own).copied()
    };
    (0..found.len())
        .filter_map(|at| Some((pairs.measured[before(at)?]?, pairs.measured[found[at]]?)))
        .collect()
}
