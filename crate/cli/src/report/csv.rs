//! The table of comma-separated values.

use std::io::{self, Write};

use dusklens_core::pulse::{Settings, about, table};

use super::Report;
use crate::measure::{Measured, complain};

/// The table that the page saves too. What a person should know about a file goes to
/// standard error, because the table has no place for it.
pub(crate) struct Csv {
    about: bool,
}

impl Csv {
    /// With or without lines that say what the table holds.
    pub(crate) fn new(about: bool) -> Self {
        Self { about }
    }
}

impl Report for Csv {
    fn begin(&mut self, out: &mut dyn Write) -> io::Result<()> {
        let header = table::csv_header();
        if self.about {
            let lines = about::general(&header, &Settings::default());
            out.write_all(about::as_comments(&lines).as_bytes())?;
        }
        out.write_all(header.as_bytes())
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
        if self.about {
            let line = about::recording(&measured.file, &measured.facts, measured.channel - 1);
            out.write_all(about::as_comments(&[line]).as_bytes())?;
        }
        out.write_all(table::csv_rows(&measured.file, &measured.findings).as_bytes())
    }
}
