//! Pulses as a table of comma-separated values, RFC 4180 with line feeds.
//!
//! Beside each number stands its uncertainty, `_u95_` in the name: half the width of the interval that holds the
//! true value in 95 of 100 cases.
//!
//! One row a pulse, numbered from 1, then one row a doubted sound, numbered D1, D2 and so on with its
//! reason in the last column. Numbers have a point and a fixed number of decimals; cells are empty
//! where there is no value. Nothing but the file's name is free text, and
//! a spreadsheet would run a name such as `=cmd()` as a formula: a name that begins
//! with `=`, `+`, `-`, `@` or a control character gets an apostrophe before it,
//! which spreadsheets show as plain text. Control characters become spaces.
//!
//! ```
//! use dusklens_core::pulse::{Findings, table};
//!
//! let text = table::csv([("FEN-03_20260614_224105.wav", &Findings::default())]);
//! assert!(text.starts_with("file,pulse,start_s,start_u95_ms,end_s,"));
//! ```

use std::fmt::Write;

use super::{Doubt, Findings, Pulse};

/// A column with a number: its name, its decimals, its value.
type Number = (&'static str, usize, fn(&Pulse) -> Option<f64>);

/// Columns with numbers, in their order. The last digit of each is well below what can
/// be measured.
const NUMBERS: [Number; 29] = [
    ("start_s", 6, |p| Some(p.start_s)),
    ("start_u95_ms", 3, |p| Some(p.uncertainty.start_ms)),
    ("end_s", 6, |p| Some(p.end_s)),
    ("end_u95_ms", 3, |p| Some(p.uncertainty.end_ms)),
    ("duration_ms", 3, |p| Some(p.duration_ms)),
    ("duration_u95_ms", 3, |p| Some(p.uncertainty.duration_ms)),
    ("peak_khz", 2, |p| Some(p.peak_khz)),
    ("peak_u95_khz", 2, |p| Some(p.uncertainty.peak_khz)),
    ("start_khz", 2, |p| Some(p.start_khz)),
    ("start_u95_khz", 2, |p| Some(p.uncertainty.start_khz)),
    ("end_khz", 2, |p| Some(p.end_khz)),
    ("end_u95_khz", 2, |p| Some(p.uncertainty.end_khz)),
    ("high_khz", 2, |p| Some(p.high_khz)),
    ("high_u95_khz", 2, |p| Some(p.uncertainty.high_khz)),
    ("low_khz", 2, |p| Some(p.low_khz)),
    ("low_u95_khz", 2, |p| Some(p.uncertainty.low_khz)),
    ("characteristic_khz", 2, |p| Some(p.characteristic_khz)),
    ("characteristic_u95_khz", 2, |p| {
        Some(p.uncertainty.characteristic_khz)
    }),
    ("sweep_khz_per_ms", 2, |p| Some(p.sweep_khz_per_ms)),
    ("sweep_u95_khz_per_ms", 2, |p| {
        Some(p.uncertainty.sweep_khz_per_ms)
    }),
    ("flattest_khz_per_ms", 2, |p| Some(p.flattest_khz_per_ms)),
    ("flattest_u95_khz_per_ms", 2, |p| {
        Some(p.uncertainty.flattest_khz_per_ms)
    }),
    ("interval_ms", 3, |p| p.interval_ms),
    ("interval_u95_ms", 3, |p| p.uncertainty.interval_ms),
    ("level_db", 1, |p| Some(p.level_db)),
    ("level_u95_db", 1, |p| Some(p.uncertainty.level_db)),
    ("snr_db", 1, |p| Some(p.snr_db)),
    ("snr_u95_db", 1, |p| Some(p.uncertainty.snr_db)),
    ("edge_db", 1, |p| Some(p.edge_db)),
];

/// The whole table of several recordings, each a file's name and what was found in it.
#[must_use]
pub fn csv<'a>(recordings: impl IntoIterator<Item = (&'a str, &'a Findings)>) -> String {
    let mut text = csv_header();
    for (file, findings) in recordings {
        text.push_str(&csv_rows(file, findings));
    }
    text
}

/// The first line of the table, with the names of the columns.
#[must_use]
pub fn csv_header() -> String {
    let mut text = String::from("file,pulse");
    for (name, _, _) in NUMBERS {
        text.push(',');
        text.push_str(name);
    }
    text.push_str(",shape,flags,sequence,buzz,doubt\n");
    text
}

/// The lines of one recording; flags are joined by spaces.
#[must_use]
pub fn csv_rows(file: &str, findings: &Findings) -> String {
    let file = cell(file);
    let mut text = String::new();
    for (number, pulse) in (1..).zip(&findings.pulses) {
        write_row(&mut text, &file, &format!("{number}"), pulse);
    }
    for (number, sound) in (1..).zip(&findings.doubted) {
        write_row(&mut text, &file, &format!("D{number}"), sound);
    }
    text
}

fn write_row(text: &mut String, file: &str, number: &str, pulse: &Pulse) {
    // Writing to a string cannot fail.
    let _ = writeln!(text, "{file},{number}{}", cells(pulse, |_| true));
}

/// The cells of a pulse after its number, each with a comma before it; those of the columns that are not
/// `known`, by their name, are empty.
pub(super) fn cells(pulse: &Pulse, known: impl Fn(&str) -> bool) -> String {
    let mut text = String::new();
    for (name, decimals, value) in NUMBERS {
        text.push(',');
        text.push_str(&decimal(value(pulse).filter(|_| known(name)), decimals));
    }
    let flags: Vec<_> = pulse.flags.iter().map(|flag| flag.name()).collect();
    let _ = write!(
        text,
        ",{},{},{},{},{}",
        if known("shape") {
            pulse.shape.name()
        } else {
            ""
        },
        flags.join(" "),
        count(pulse.sequence),
        count(pulse.buzz),
        pulse.doubt.map(Doubt::name).unwrap_or_default(),
    );
    text
}

fn count(number: Option<u32>) -> String {
    number.map(|number| number.to_string()).unwrap_or_default()
}

/// A number with fixed decimals; empty where there is none.
pub(crate) fn decimal(value: Option<f64>, decimals: usize) -> String {
    let Some(value) = value.filter(|value| value.is_finite()) else {
        return String::new();
    };
    let text = format!("{value:.decimals$}");
    // Rounding can leave a minus before nothing but zeros.
    match text.strip_prefix('-') {
        Some(zero) if zero.bytes().all(|byte| byte == b'0' || byte == b'.') => zero.to_owned(),
        _ => text,
    }
}

/// Free text as a cell that is no formula and breaks no line.
pub(crate) fn cell(text: &str) -> String {
    let formula = text.starts_with(|first: char| "=+-@".contains(first) || first.is_control());
    let text: String = text
        .chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect();
    let text = if formula { format!("'{text}") } else { text };
    // A reader that passes over comments would cut an unquoted cell at its sign.
    if text.contains([',', '"', '#']) || text != text.trim() {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

    use super::*;
    use crate::pulse::{Contour, Flag, Harmonic, Shape, Uncertainty, Verdict};

    fn pulse() -> Pulse {
        Pulse {
            start_s: 0.123_456_78,
            end_s: 0.128,
            peak_s: 0.125,
            characteristic_s: 0.127,
            duration_ms: 4.543_21,
            peak_khz: 45.678,
            start_khz: 80.0,
            end_khz: 44.0,
            high_khz: 80.0,
            low_khz: 44.0,
            characteristic_khz: 45.0,
            sweep_khz_per_ms: -7.924,
            flattest_khz_per_ms: -0.001,
            interval_ms: None,
            level_db: -12.34,
            snr_db: f64::NAN,
            edge_db: 20.0,
            shape: Shape::FmQcf,
            flags: vec![Flag::Clipped, Flag::CutOff],
            sequence: Some(2),
            buzz: None,
            doubt: None,
            uncertainty: Uncertainty {
                start_ms: 0.0125,
                peak_khz: 0.21,
                ..Uncertainty::default()
            },
            harmonics: vec![Harmonic {
                multiple: 1,
                relative_db: 0.0,
            }],
            contour: Contour {
                start_s: 0.123,
                step_s: 1e-4,
                khz: vec![80.0, 44.0],
            },
        }
    }

    #[test]
    fn writes_a_row_with_fixed_decimals_and_empty_cells_for_what_is_not_there() {
        let findings = Findings {
            pulses: vec![pulse()],
            doubted: vec![Pulse {
                doubt: Some(Doubt::InsectLike),
                sequence: None,
                ..pulse()
            }],
            ..Findings::default()
        };
        let text = csv([("FEN-03.wav", &findings)]);
        assert_eq!(
            text,
            "file,pulse,start_s,start_u95_ms,end_s,end_u95_ms,duration_ms,duration_u95_ms,\
             peak_khz,peak_u95_khz,start_khz,start_u95_khz,end_khz,end_u95_khz,\
             high_khz,high_u95_khz,low_khz,low_u95_khz,characteristic_khz,characteristic_u95_khz,\
             sweep_khz_per_ms,sweep_u95_khz_per_ms,flattest_khz_per_ms,flattest_u95_khz_per_ms,\
             interval_ms,interval_u95_ms,level_db,level_u95_db,snr_db,snr_u95_db,edge_db,\
             shape,flags,sequence,buzz,doubt\n\
             FEN-03.wav,1,0.123457,0.013,0.128000,0.000,4.543,0.000,45.68,0.21,80.00,0.00,44.00,0.00,\
             80.00,0.00,44.00,0.00,45.00,0.00,-7.92,0.00,0.00,0.00,,,-12.3,0.0,,0.0,20.0,\
             FM-QCF,clipped cut_off,2,,\n\
             FEN-03.wav,D1,0.123457,0.013,0.128000,0.000,4.543,0.000,45.68,0.21,80.00,0.00,44.00,0.00,\
             80.00,0.00,44.00,0.00,45.00,0.00,-7.92,0.00,0.00,0.00,,,-12.3,0.0,,0.0,20.0,\
             FM-QCF,clipped cut_off,,,insect_like\n"
        );
    }

    #[test]
    fn every_row_has_as_many_cells_as_the_header() {
        let header = csv_header();
        let cells = |line: &str| line.trim_end().split(',').count();
        let findings = Findings {
            pulses: vec![pulse()],
            ..Findings::default()
        };
        assert_eq!(cells(&csv_rows("a.wav", &findings)), cells(&header));
    }

    #[test]
    fn defuses_names_that_a_spreadsheet_would_run() {
        for name in [
            "=1+1.wav", "+1.wav", "-1.wav", "@sum.wav", "\t=1.wav", "\r=1.wav", "\n=1.wav",
        ] {
            let cell = cell(name);
            assert!(
                cell.trim_start_matches('"').starts_with('\''),
                "{name:?} became {cell:?}"
            );
        }
        assert_eq!(cell("fen.wav"), "fen.wav");
    }

    #[test]
    fn quotes_what_would_break_the_row() {
        assert_eq!(cell("a,b.wav"), "\"a,b.wav\"");
        assert_eq!(cell("a\"b.wav"), "\"a\"\"b.wav\"");
        assert_eq!(cell("a\nb.wav"), "a b.wav");
    }

    #[test]
    fn names_are_those_that_are_serialised() {
        for shape in [
            Shape::Fm,
            Shape::Qcf,
            Shape::Cf,
            Shape::FmQcf,
            Shape::QcfFm,
            Shape::FmQcfFm,
            Shape::CfFm,
            Shape::FmCf,
            Shape::FmCfFm,
        ] {
            assert_eq!(serde_json::to_value(shape).unwrap(), shape.name());
        }
        for flag in [
            Flag::Clipped,
            Flag::FloorLimited,
            Flag::CutOff,
            Flag::Overlapped,
            Flag::MissedBefore,
        ] {
            assert_eq!(serde_json::to_value(flag).unwrap(), flag.name());
        }
        for doubt in Doubt::ALL {
            assert_eq!(serde_json::to_value(doubt).unwrap(), doubt.name());
        }
        for verdict in [Verdict::HoldsPulses, Verdict::Unsure, Verdict::ProbablyNone] {
            assert_eq!(serde_json::to_value(verdict).unwrap(), verdict.name());
        }
    }
}
