//! JSON: one object with all recordings.

use std::io::{self, Write};

use dusklens_core::pulse::{Pulse, Summary};
use dusklens_core::recording::Facts;
use serde::Serialize;

use super::Report;
use crate::measure::Measured;

/// Prints `{"recordings": [...]}`, a recording a line.
pub(crate) struct Json {
    contours: bool,
    separator: &'static str,
}

impl Json {
    /// With or without the pulses' contours.
    pub(crate) fn new(contours: bool) -> Self {
        Self {
            contours,
            separator: "\n",
        }
    }

    fn pulses<'m>(&self, pulses: &'m [Pulse]) -> serde_json::Result<Pulses<'m>> {
        if self.contours {
            return Ok(Pulses::Whole(pulses));
        }
        let bare = pulses.iter().map(without_contour);
        Ok(Pulses::WithoutContours(bare.collect::<Result<_, _>>()?))
    }
}

#[derive(Serialize)]
struct Entry<'m> {
    file: &'m str,
    channel: u16,
    facts: &'m Facts,
    summary: &'m Summary,
    pulses: Pulses<'m>,
    doubted: Pulses<'m>,
}

#[derive(Serialize)]
#[serde(untagged)]
enum Pulses<'m> {
    Whole(&'m [Pulse]),
    WithoutContours(Vec<serde_json::Value>),
}

impl Report for Json {
    fn begin(&mut self, out: &mut dyn Write) -> io::Result<()> {
        write!(out, "{{\"recordings\": [")
    }

    fn recording(&mut self, measured: &Measured, out: &mut dyn Write) -> io::Result<()> {
        let findings = &measured.findings;
        let entry = Entry {
            file: &measured.file,
            channel: measured.channel,
            facts: &measured.facts,
            summary: &findings.summary,
            pulses: self.pulses(&findings.pulses)?,
            doubted: self.pulses(&findings.doubted)?,
        };
        write!(out, "{}", self.separator)?;
        self.separator = ",\n";
        serde_json::to_writer(out, &entry)?;
        Ok(())
    }

    fn end(&mut self, out: &mut dyn Write) -> io::Result<()> {
        writeln!(out, "\n]}}")
    }
}

fn without_contour(pulse: &Pulse) -> serde_json::Result<serde_json::Value> {
    let mut value = serde_json::to_value(pulse)?;
    if let Some(fields) = value.as_object_mut() {
        fields.remove("contour");
    }
    Ok(value)
}
