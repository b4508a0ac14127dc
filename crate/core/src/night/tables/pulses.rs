//! Pulses of many recordings. The rows of a recording are made when it is measured and are kept without its path, since
//! the same content may lie anywhere.

use crate::pulse::Findings;
use crate::pulse::table::{cell, csv_header, csv_rows};

/// The line with the names of the columns; `file` holds the path.
#[must_use]
pub fn pulses_csv_header() -> String {
    csv_header()
}

/// The lines of a recording, with nothing where its path belongs.
#[must_use]
pub fn pulse_rows(findings: &Findings) -> String {
    csv_rows("", findings)
}

/// Lines that were made without a path, with it.
#[must_use]
pub fn with_path(rows: &str, path: &str) -> String {
    let path = cell(path);
    let lines = rows.lines().filter(|line| !line.is_empty());
    lines.map(|line| format!("{path}{line}\n")).collect()
}
