//! A night as tables to hand in: RFC 4180 text, and the same with typed columns for whoever writes other forms.
//!
//! Free text in cells is neither a formula for a spreadsheet nor a line's end; see [`crate::pulse::table`]. Counts of the tables
//! of recordings, passes and hours agree with one another and with the night's totals: copies and broken files are rows, but
//! nothing in them is counted.

mod checks;
pub mod darwin;
mod passes;
mod pulses;
mod recordings;
mod table;

pub use checks::night_checks;
pub use passes::{passes, passes_per_hour};
pub use pulses::{pulse_rows, pulses_csv_header, with_path};
pub use recordings::recordings;
pub use table::{Heading, Kind, Table, Value};

use super::card::Night;
use super::decisions::Decisions;

/// The table of all files of several nights.
#[must_use]
pub fn recordings_csv(nights: &[Night], decisions: &Decisions) -> String {
    csv(nights.iter().map(|night| recordings(night, decisions)))
}

/// The table of all passes of several nights.
#[must_use]
pub fn passes_csv(nights: &[Night], decisions: &Decisions) -> String {
    csv(nights.iter().map(|night| passes(night, decisions)))
}

/// Activity by hours of several nights.
#[must_use]
pub fn passes_per_hour_csv(nights: &[Night]) -> String {
    csv(nights.iter().map(passes_per_hour))
}

/// The checks of the recorders of several nights.
#[must_use]
pub fn checks_csv(nights: &[Night]) -> String {
    csv(nights.iter().map(night_checks))
}

/// One text of tables with the same columns; empty where there is none.
fn csv(tables: impl Iterator<Item = Table>) -> String {
    let mut text = String::new();
    for table in tables {
        if text.is_empty() {
            text = table.csv_header();
        }
        text.push_str(&table.csv_rows());
    }
    text
}

#[cfg(test)]
mod tests;
