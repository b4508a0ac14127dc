//! How measured recordings are printed.

mod csv;
mod json;
mod people;

use std::io::{self, Write};

pub(crate) use csv::Csv;
pub(crate) use json::Json;
pub(crate) use people::People;

use crate::measure::Measured;

/// A way of printing. Each recording is printed as soon as it is measured.
pub(crate) trait Report {
    /// What comes before all recordings.
    fn begin(&mut self, _out: &mut dyn Write) -> io::Result<()> {
        Ok(())
    }

    /// One recording.
    fn recording(&mut self, measured: &Measured, out: &mut dyn Write) -> io::Result<()>;

    /// What comes after all recordings.
    fn end(&mut self, _out: &mut dyn Write) -> io::Result<()> {
        Ok(())
    }
}

/// Text without what would steer a terminal: names and metadata come from strangers.
pub(crate) fn printable(text: &str) -> String {
    let steers =
        |c: char| c.is_control() || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    text.chars()
        .map(|c| if steers(c) { '\u{fffd}' } else { c })
        .collect()
}
