//! Every check on made-up nights: one that shows what it looks for, and one that does not.

#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use super::*;
use crate::night::tests::{night, with_pass};
use crate::night::{Content, NightSettings};

pub(super) fn local() -> NightSettings {
    NightSettings {
        utc_offset_min: 60,
        ..NightSettings::default()
    }
}

/// What is told of a night of such contents.
fn told(contents: impl IntoIterator<Item = Content>) -> Vec<Check> {
    let night = night(contents, &local());
    checks(&night, &night.frame())
}

#[test]
fn every_kind_is_told_once_and_the_worst_first() {
    let checks = told([with_pass("2026-06-14T22:00:00")]);
    let verdicts: Vec<CheckVerdict> = checks.iter().map(|check| check.verdict).collect();
    assert!(verdicts.is_sorted());
    let mut kinds: Vec<CheckKind> = checks.iter().map(|check| check.kind).collect();
    kinds.sort();
    kinds.dedup();
    assert_eq!(kinds.len(), RULES.len());
}
