//! The double-check: how many bats hide among the files that were set aside as holding none.
//!
//! Files are drawn at random from those set aside, a person looks at each, and what they find tells
//! about all of them. Only files that were drawn may be counted: those looked at because they seemed
//! promising say nothing about the rest.

use rand::rngs::ChaCha8Rng;
use rand::{RngExt, SeedableRng};
use serde::{Deserialize, Serialize};
use thiserror::Error;

/// Intervals leave out as much above as below: 95 % are between.
const TAIL: f64 = 0.025;

/// Part of a sum that no longer changes it.
const NEGLIGIBLE: f64 = 1e-18;

/// Halvings that narrow an interval from 0 to 1 down to the last digit of a number.
const HALVINGS: u32 = 60;

/// Draws `count` of `contents` (the files' SHA-256) at random, in the order in which they are to be looked at; all of them where there are
/// not so many.
///
/// The same seed draws the same from the same files, in whatever order they are given; a content given twice is
/// one. Drawing more with the same seed goes on where a shorter draw ended.
#[must_use]
pub fn draw(seed: u64, contents: &[&str], count: usize) -> Vec<String> {
    let mut left = contents.to_vec();
    left.sort_unstable();
    left.dedup();
    let count = count.min(left.len());
    let mut random = ChaCha8Rng::seed_from_u64(seed);
    for at in 0..count {
        // As 64 bits, so that it is the same on machines with 32.
        let chosen = random.random_range(at as u64..left.len() as u64);
        left.swap(at, chosen as usize);
    }
    left[..count]
        .iter()
        .map(|content| (*content).to_owned())
        .collect()
}

/// What a double-check tells about the files that were set aside.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct MissRate {
    /// Files looked at that did hold a bat.
    pub found: u32,
    /// Files looked at, of those that were drawn.
    pub checked: u32,
    /// Files set aside, of which they were drawn.
    pub of_total: u32,
    /// Share of the checked files that held a bat, 0 to 1.
    pub share: f64,
    /// The share that such a night, this recorder and these settings bring is at least this, 95 % interval
    /// (Clopper & Pearson 1934, Biometrika 26:404-413): exact, and covering 95 % or more.
    pub low: f64,
    /// ... and at most this.
    pub high: f64,
    /// Files among those set aside that probably hold a bat, those found among them: the share of all.
    pub missed: u32,
    /// They are at least so many, 95 % interval: exact for files drawn without putting back, so that it closes
    /// when all are checked (hypergeometric; Buonaccorsi 1987, The American Statistician 41:215-218).
    pub missed_low: u32,
    /// ... and at most so many.
    pub missed_high: u32,
}

/// Why a double-check tells nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum AuditError {
    /// Nobody has looked at a file.
    #[error("none of the drawn files has been looked at yet: how many were missed cannot be told")]
    NothingChecked,
    /// Counts that do not go together.
    #[error(
        "{found} files found of {checked} checked of {of_total} set aside do not go together: no number may be larger than the next"
    )]
    Counts {
        /// As given.
        found: u32,
        /// As given.
        checked: u32,
        /// As given.
        of_total: u32,
    },
}

/// How many were missed, when `found` of `checked` files that were drawn of `of_total` hold a bat.
///
/// # Errors
/// When nothing was checked, or more was found than checked, or more checked than there is.
pub fn miss_rate(found: u32, checked: u32, of_total: u32) -> Result<MissRate, AuditError> {
    if checked == 0 {
        return Err(AuditError::NothingChecked);
    }
    if found > checked || checked > of_total {
        return Err(AuditError::Counts {
            found,
            checked,
            of_total,
        });
    }
    let share = f64::from(found) / f64::from(checked);
    let (low, high) = share_interval(found, checked);
    let (missed_low, missed_high) = number_interval(found, checked, of_total);
    Ok(MissRate {
        found,
        checked,
        of_total,
        share,
        low,
        high,
        missed: libm::round(share * f64::from(of_total)) as u32,
        missed_low,
        missed_high,
    })
}

/// The shares for which finding so many, or more extreme, is just likely enough.
fn share_interval(found: u32, checked: u32) -> (f64, f64) {
    let low = if found == 0 {
        0.0
    } else {
        // At least `found` hold one: at most the others do not.
        1.0 - highest_share(checked - found, checked)
    };
    (low, highest_share(found, checked))
}

/// The share at which `found` or fewer of `checked` come up with the probability of the tail.
fn highest_share(found: u32, checked: u32) -> f64 {
    if found == checked {
        return 1.0;
    }
    let (mut below, mut above) = (0.0, 1.0);
    for _ in 0..HALVINGS {
        let share = (below + above) / 2.0;
        if binomial_up_to(found, checked, share) > TAIL {
            below = share;
        } else {
            above = share;
        }
    }
    (below + above) / 2.0
}

/// Probability that of `checked` draws at most `found` succeed, each with probability `share`, between 0 and 1.
fn binomial_up_to(found: u32, checked: u32, share: f64) -> f64 {
    let (n, k) = (f64::from(checked), f64::from(found));
    let last = ln_choose(n, k) + k * libm::log(share) + (n - k) * libm::log1p(-share);
    let odds = (1.0 - share) / share;
    sum_down(last, k, |j| j / (n - j + 1.0) * odds)
}

/// The numbers of files in all for which finding so many, or more extreme, is likely enough.
fn number_interval(found: u32, checked: u32, of_total: u32) -> (u32, u32) {
    // At least `found` hold one: at most `checked - found` of the others do not.
    let fewest = of_total - highest_number(checked - found, checked, of_total);
    (fewest, highest_number(found, checked, of_total))
}

/// The largest number of files with a bat among `of_total` for which `found` or fewer in `checked` are as likely as the tail.
fn highest_number(found: u32, checked: u32, of_total: u32) -> u32 {
    if found == checked {
        return of_total;
    }
    // As many as were found there are; those that were checked and hold none are not among them.
    let (mut possible, mut beyond) = (found, of_total - (checked - found) + 1);
    while beyond - possible > 1 {
        let number = possible + (beyond - possible) / 2;
        if hypergeometric_up_to(found, checked, of_total, number) > TAIL {
            possible = number;
        } else {
            beyond = number;
        }
    }
    possible
}

/// Probability that of `checked` files drawn of `of_total` at most `found` hold a bat, where `number` of all do:
/// between `found` and `of_total - (checked - found)`.
fn hypergeometric_up_to(found: u32, checked: u32, of_total: u32, number: u32) -> f64 {
    let (n, total, k, m) = (
        f64::from(checked),
        f64::from(of_total),
        f64::from(found),
        f64::from(number),
    );
    let last = ln_choose(m, k) + ln_choose(total - m, n - k) - ln_choose(total, n);
    // A step to where the other files do not suffice is one to 0.
    sum_down(last, k, |j| {
        j * (total - m - n + j) / ((m - j + 1.0) * (n - j + 1.0))
    })
}

/// The sum of probabilities from the one of `k`, whose logarithm is given, down to that of 0; `step(j)` is the probability of
/// `j - 1` as a part of that of `j`, and falls with `j`, so that what is negligible once stays so.
fn sum_down(ln_last: f64, k: f64, step: impl Fn(f64) -> f64) -> f64 {
    let mut sum = 1.0;
    let mut term = 1.0;
    let mut j = k;
    while j > 0.0 && term > sum * NEGLIGIBLE {
        term *= step(j);
        sum += term;
        j -= 1.0;
    }
    libm::exp(ln_last + libm::log(sum))
}

/// Logarithm of the number of ways to choose `k` of `n`.
fn ln_choose(n: f64, k: f64) -> f64 {
    libm::lgamma(n + 1.0) - libm::lgamma(k + 1.0) - libm::lgamma(n - k + 1.0)
}
