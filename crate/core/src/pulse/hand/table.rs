//! What was found together with what a person made of it, as one table of comma-separated values.
//!
//! Without hand entries it is the very text of [`crate::pulse::table::csv`]. With some, seven columns follow on the
//! others:
//!
//! | column | |
//! |---|---|
//! | `source` | `automatic` for the rows as they were found, which stay untouched; `hand` for the others, which follow them |
//! | `hand` | what was done: `corrected`, `added`, `band`, `interval` |
//! | `of` | number of the pulse that it is about; two of them for an interval, from the first to the second |
//! | `set_aside` | why a person set an automatic pulse aside |
//! | `by`, `at` | who did it and when (ISO 8601) |
//! | `notes` | [`HandNote`](super::HandNote)s |
//!
//! Hand rows are numbered H1, H2 and so on. Uncertainties of what was given by hand are empty. Where nothing could
//! be followed (the notes say so), start, end, low and high are the band's own sides, peak and level those of the
//! band. The row of an interval has it in `interval_ms` and nothing else.

use super::{HandInterval, HandMeasurement};
use crate::pulse::table::{cell, cells, csv_header, csv_rows};
use crate::pulse::{Contour, Findings, Pulse, Shape, Uncertainty};
use serde::{Deserialize, Serialize};
use std::fmt::Write;

/// What a hand row is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(rename_all = "snake_case")]
pub enum HandKind {
    /// An automatic pulse with a start, end or contour given by hand.
    Corrected,
    /// A pulse that the person added.
    Added,
    /// A band that was measured, and is no pulse.
    Band,
    /// The interval between two pulses.
    Interval,
}

impl HandKind {
    /// The word, as it is serialised.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Corrected => "corrected",
            Self::Added => "added",
            Self::Band => "band",
            Self::Interval => "interval",
        }
    }
}

/// One hand entry of the table.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct HandRow {
    /// What it is.
    pub kind: HandKind,
    /// Numbers of the pulses that it is about, as they stand in the table; empty for none.
    pub of: Vec<String>,
    /// What was measured; none for an interval.
    pub measurement: Option<HandMeasurement>,
    /// The interval, if it is one.
    pub interval: Option<HandInterval>,
    /// Who did it.
    pub by: String,
    /// When, ISO 8601.
    pub at: String,
}

/// An automatic pulse that a person set aside.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct SetAside {
    /// Its number, as it stands in the table.
    pub pulse: String,
    /// Why.
    pub reason: String,
    /// Who did it.
    pub by: String,
    /// When, ISO 8601.
    pub at: String,
}

/// The table of a recording with hand entries.
#[must_use]
pub fn csv(file: &str, findings: &Findings, rows: &[HandRow], aside: &[SetAside]) -> String {
    if rows.is_empty() && aside.is_empty() {
        return csv_header() + &csv_rows(file, findings);
    }
    let header = csv_header();
    let mut text = format!(
        "{},source,hand,of,set_aside,by,at,notes\n",
        header.trim_end()
    );
    let numbers = (1..=findings.pulses.len())
        .map(|n| n.to_string())
        .chain((1..=findings.doubted.len()).map(|n| format!("D{n}")));
    for (line, number) in csv_rows(file, findings).lines().zip(numbers) {
        let set_aside = aside.iter().find(|aside| aside.pulse == number);
        let said = |value: fn(&SetAside) -> &str| cell(set_aside.map_or("", value));
        // Writing to a string cannot fail.
        let _ = writeln!(
            text,
            "{line},automatic,,,{},{},{},",
            said(|aside| &aside.reason),
            said(|aside| &aside.by),
            said(|aside| &aside.at),
        );
    }
    for (number, row) in (1..).zip(rows) {
        let _ = writeln!(
            text,
            "{},H{number}{},hand,{},{},,{},{},{}",
            cell(file),
            row.cells(),
            row.kind.name(),
            cell(&row.of.join(" ")),
            cell(&row.by),
            cell(&row.at),
            row.notes(),
        );
    }
    text
}

impl HandRow {
    fn cells(&self) -> String {
        if let Some(interval) = &self.interval {
            return cells(&interval_as_pulse(interval), |name| {
                name.starts_with("interval_")
            });
        }
        let Some(measured) = &self.measurement else {
            return cells(&blank(), |_| false);
        };
        match &measured.pulse {
            Some(pulse) => cells(pulse, |name| {
                !name.contains("_u95_") || decimal_of(pulse, name) > 0.0
            }),
            None => cells(&band_as_pulse(measured), |name| {
                KNOWN_OF_BAND.contains(&name)
            }),
        }
    }

    fn notes(&self) -> String {
        let notes = self.measurement.iter().flat_map(|measured| &measured.notes);
        notes.map(|note| note.name()).collect::<Vec<_>>().join(" ")
    }
}

/// The columns that a band without a pulse fills.
const KNOWN_OF_BAND: [&str; 7] = [
    "start_s",
    "end_s",
    "duration_ms",
    "peak_khz",
    "high_khz",
    "low_khz",
    "level_db",
];

/// An uncertainty by the name of its column; 0 where nothing is known.
fn decimal_of(pulse: &Pulse, name: &str) -> f64 {
    let known = &pulse.uncertainty;
    match name {
        "start_u95_ms" => known.start_ms,
        "end_u95_ms" => known.end_ms,
        "duration_u95_ms" => known.duration_ms,
        "peak_u95_khz" => known.peak_khz,
        "start_u95_khz" => known.start_khz,
        "end_u95_khz" => known.end_khz,
        "high_u95_khz" => known.high_khz,
        "low_u95_khz" => known.low_khz,
        "characteristic_u95_khz" => known.characteristic_khz,
        "sweep_u95_khz_per_ms" => known.sweep_khz_per_ms,
        "flattest_u95_khz_per_ms" => known.flattest_khz_per_ms,
        "interval_u95_ms" => known.interval_ms.unwrap_or(0.0),
        "level_u95_db" => known.level_db,
        _ => known.snr_db,
    }
}

/// A pulse of which nothing is known, to be filled in part.
fn blank() -> Pulse {
    Pulse {
        start_s: f64::NAN,
        end_s: f64::NAN,
        peak_s: f64::NAN,
        characteristic_s: f64::NAN,
        duration_ms: f64::NAN,
        peak_khz: f64::NAN,
        start_khz: f64::NAN,
        end_khz: f64::NAN,
        high_khz: f64::NAN,
        low_khz: f64::NAN,
        characteristic_khz: f64::NAN,
        sweep_khz_per_ms: f64::NAN,
        flattest_khz_per_ms: f64::NAN,
        interval_ms: None,
        level_db: f64::NAN,
        snr_db: f64::NAN,
        edge_db: f64::NAN,
        shape: Shape::Fm,
        flags: Vec::new(),
        sequence: None,
        buzz: None,
        doubt: None,
        uncertainty: Uncertainty::default(),
        harmonics: Vec::new(),
        contour: Contour {
            start_s: f64::NAN,
            step_s: f64::NAN,
            khz: Vec::new(),
        },
    }
}

fn band_as_pulse(measured: &HandMeasurement) -> Pulse {
    let band = &measured.band;
    Pulse {
        start_s: band.start_s,
        end_s: band.end_s,
        duration_ms: (band.end_s - band.start_s) * 1e3,
        peak_khz: measured.band_peak_khz.unwrap_or(f64::NAN),
        high_khz: band.high_khz,
        low_khz: band.low_khz,
        level_db: measured.band_level_db,
        ..blank()
    }
}

fn interval_as_pulse(interval: &HandInterval) -> Pulse {
    Pulse {
        interval_ms: Some(interval.interval_ms),
        uncertainty: Uncertainty {
            interval_ms: interval.interval_u95_ms,
            ..Uncertainty::default()
        },
        ..blank()
    }
}
