//! The truth table: synthetic recordings, drawn at random, go through writing, opening and
//! measuring, and what comes out is compared with what is known of them.

pub mod coverage;
pub mod draw;
pub mod links;
pub mod matching;
pub mod page;
pub mod report;
pub mod run;
pub mod silence;
pub mod tally;

use draw::Set;
use dusklens_core::pulse::Settings;
use run::Job;

/// How many recordings of each kind are drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Amount {
    /// Of each shape and each other case with bats, 2 s each.
    pub bats: u64,
    /// Of each kind without bats, 10 s each.
    pub silence: u64,
}

impl Amount {
    /// The full report.
    pub const FULL: Amount = Amount {
        bats: 16,
        silence: 6,
    };
    /// What the tests run.
    pub const SMALL: Amount = Amount {
        bats: 6,
        silence: 2,
    };
}

/// The jobs of a draw; only the named case or kind where one is given.
pub fn jobs(amount: Amount, only: Option<&str>) -> Vec<Job> {
    let wanted = |name: &str| only.is_none_or(|only| only.eq_ignore_ascii_case(name));
    let bats = tally::cases()
        .filter(|case| wanted(case.name()))
        .flat_map(|case| (0..amount.bats).map(move |n| Job::Bats(case, n)));
    let silence = silence::KINDS
        .into_iter()
        .filter(|kind| wanted(kind.name()))
        .flat_map(|kind| (0..amount.silence).map(move |n| Job::Silence(kind, n)));
    bats.chain(silence).collect()
}

/// The names that `only` takes.
pub fn names() -> Vec<&'static str> {
    let cases = tally::cases().map(|case| case.name());
    cases
        .chain(silence::KINDS.map(|kind| kind.name()))
        .collect()
}

/// Runs a draw and adds it up.
///
/// # Errors
/// Fails where a file of the draw cannot be written or read.
pub fn table(
    set: Set,
    jobs: &[Job],
) -> Result<(Vec<run::Outcome>, tally::Tally), Box<dyn std::error::Error + Send + Sync>> {
    let outcomes = run::run_all(set, jobs, &Settings::default())?;
    let tally = tally::Tally::of(&outcomes);
    Ok((outcomes, tally))
}
