//! The table of comma-separated values.

use std::io::{self, Write};

use dusklens_core::pulse::table;

use super::Report;
use crate::measure::{Measured, complain};

/// The table that the page saves too. What a person should know about a file goes to
/// standard error, because the table has no place for it.
pub(crate) struct Csv;

impl Report for Csv {
    fn begin(&mut self, out: &mut dyn Write) -> io::Result<()> {
        out.write_all(table::csv_header().as_bytes())
    }

    fn recording(&mut self, measured: &Measured, out: &mut dyn Write) -> io::Result<()> {
        for notice in &measured.facts.notices {
            complain(&format!("{}: {}", measured.file, notice.text));
        }
        if let Some(guess) = &measured.facts.expansion_guess {
            complain(&format!(
                "{}: {} If so, measure it with --expansion {}.",
                measured.file, guess.reason, guess.factor
            ));
        }
        out.write_all(table::csv_rows(&measured.file, &measured.findings).as_bytes())
    }
}
