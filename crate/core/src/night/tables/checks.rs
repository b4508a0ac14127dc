//! A row a check of the recorder.

use super::super::card::Night;
use super::super::checks::{Check, checks};
use super::recordings::joined;
use super::table::Column;
use super::table::Reading::{Count, Text};
use super::table::{Table, table};

/// A check of a night.
struct Row<'a> {
    night: &'a Night,
    check: Check,
}

/// What went right and wrong with the recorder, the worst first.
#[must_use]
pub fn night_checks(night: &Night) -> Table {
    let checks = checks(night, &night.frame());
    let rows = checks.into_iter().map(|check| Row { night, check });
    table("Checks of recorders", &columns(), rows)
}

fn columns<'a>() -> Vec<Column<Row<'a>>> {
    vec![
        Column(
            "night",
            "date of the evening; nights run from noon to noon",
            Text(|row| row.night.key.evening.clone()),
        ),
        Column(
            "site",
            "where the recorder stood, in the person's words",
            Text(|row| row.night.settings.site.clone()),
        ),
        Column(
            "recorder",
            "its serial number, else the folder that its files lie in",
            Text(|row| row.night.key.recorder.clone()),
        ),
        Column(
            "check",
            "what was looked at",
            Text(|row| word(&row.check.kind)),
        ),
        Column(
            "verdict",
            "trouble, look, unknown (it cannot be told) or fine",
            Text(|row| word(&row.check.verdict)),
        ),
        Column(
            "title",
            "what was found, in a few words",
            Text(|row| row.check.title.clone()),
        ),
        Column(
            "evidence",
            "what it rests on",
            Text(|row| row.check.evidence.join(" ")),
        ),
        Column(
            "advice",
            "what to do about it",
            Text(|row| row.check.advice.clone()),
        ),
        Column(
            "files",
            "how many files it is about",
            Count(|row| Some(row.check.files.len() as u64 + u64::from(row.check.more))),
        ),
        Column(
            "paths",
            "the first of them",
            Text(|row| joined(row.check.files.iter().take(MOST_PATHS).cloned())),
        ),
        Column(
            "rule",
            "how it is decided, with its thresholds",
            Text(|row| row.check.rule.clone()),
        ),
    ]
}

/// So many paths stand in a cell.
const MOST_PATHS: usize = 20;

/// A word as it is serialised.
fn word(value: &impl serde::Serialize) -> String {
    let value = serde_json::to_value(value).unwrap_or_default();
    value.as_str().unwrap_or_default().to_owned()
}
