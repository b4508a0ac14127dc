//! A table that says what it holds: program, settings, recordings and the meaning of every column.
//!
//! RFC 4180 knows no comments. Lines that begin with `#` are what readers of tables can be told to pass over: pandas
//! with `pd.read_csv(path, comment="#")`, R with `read.csv(path, comment.char = "#")`. Who has a reader that cannot
//! takes the table without them. General lines come first, then the header, then before the rows of each recording
//! one line about it, since a table of many recordings is written as they are measured.
//!
//! A cell with a `#` in it is quoted, so that such readers keep it whole. A spreadsheet would split these lines at
//! their commas: what comes from a file begins no cell with a sign that makes a formula, and holds no quotes.

use super::Settings;
use super::definitions::meaning;
use crate::recording::Facts;
use std::fmt::Write;

/// How readers are told to pass over the lines.
const READING: &str = "Read it with pandas: pd.read_csv(path, comment='#'); with R: read.csv(path, comment.char = '#')";

/// The lines before the header, without their signs: the program, how it measured, what the columns mean.
/// `header` is the header's line.
#[must_use]
pub fn general(header: &str, settings: &Settings) -> Vec<String> {
    let mut lines = vec![program(), READING.to_owned(), thresholds(settings)];
    lines.push("Times are real times at the microphone; columns:".to_owned());
    for column in header.trim_end().split(',') {
        if let Some(meaning) = meaning(column) {
            lines.push(format!("{column}: {meaning}"));
        }
    }
    lines
}

/// The line before the rows of a recording, without its sign. `channel` is counted from 0.
#[must_use]
pub fn recording(file: &str, facts: &Facts, channel: u16) -> String {
    plain(&format!("{file}: {}", facts.in_words(channel).join("; ")))
}

/// What a record on paper says of how it was made: the program, the recording, how it was measured.
#[must_use]
pub fn in_words(file: &str, facts: &Facts, channel: u16, settings: &Settings) -> Vec<String> {
    let mut lines = vec![recording(file, facts, channel)];
    lines.extend(method_in_words(settings));
    lines
}

/// How was measured, without a word of the recording: thresholds, program.
#[must_use]
pub fn method_in_words(settings: &Settings) -> Vec<String> {
    vec![thresholds(settings), program()]
}

/// Lines as they stand in a table.
#[must_use]
pub fn as_comments(lines: &[String]) -> String {
    lines.iter().fold(String::new(), |mut text, line| {
        // Writing to a string cannot fail.
        let _ = writeln!(text, "# {line}");
        text
    })
}

/// A table of one recording with its lines. `channel` is counted from 0.
#[must_use]
pub fn with_about(
    csv: &str,
    file: &str,
    facts: &Facts,
    channel: u16,
    settings: &Settings,
) -> String {
    let (header, rows) = csv.split_once('\n').unwrap_or((csv, ""));
    let general = as_comments(&general(header, settings));
    let recording = as_comments(&[recording(file, facts, channel)]);
    format!("{general}{header}\n{recording}{rows}")
}

/// A table with tabs between its cells, as spreadsheets take it from the clipboard. No cell holds a tab or a line's
/// end: [`table`](super::table) writes none.
#[must_use]
pub fn tabbed(csv: &str) -> String {
    let mut text = String::with_capacity(csv.len());
    let mut quoted = false;
    let mut letters = csv.chars().peekable();
    while let Some(c) = letters.next() {
        match c {
            '"' if quoted && letters.peek() == Some(&'"') => {
                letters.next();
                text.push('"');
            }
            '"' => quoted = !quoted,
            ',' if !quoted => text.push('\t'),
            c => text.push(c),
        }
    }
    text
}

fn program() -> String {
    format!(
        "Pulses in recordings of bats, measured by Dusklens {}. Numbers are no identification.",
        env!("CARGO_PKG_VERSION")
    )
}

/// The thresholds that the numbers depend on.
fn thresholds(settings: &Settings) -> String {
    // Taken apart, so that no threshold to come is forgotten. The calibration belongs to the program's version.
    let Settings {
        lowest_khz,
        highest_khz,
        trace_db,
        seed_db,
        evidence_db,
        edge_db,
        edge_above_noise_db,
        shortest_ms,
        longest_ms,
        sequence_gap_s,
        calibration: _,
    } = settings;
    format!(
        "Settings: looked for from {lowest_khz} to {highest_khz} kHz and from {shortest_ms} to {longest_ms} ms; edges {edge_db} dB below the maximum or {edge_above_noise_db} dB above the noise; traced from {trace_db} dB, begun from {seed_db} dB above the noise, with {evidence_db} dB of evidence; a silence of {sequence_gap_s} s ends a sequence"
    )
}

/// Free text in which a spreadsheet finds neither a formula nor the beginning of a quoted cell.
fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    let mut begins_cell = false;
    for c in text.chars() {
        let c = match c {
            '"' => '\'',
            c if c.is_control() => ' ',
            c => c,
        };
        if begins_cell && "=+-@".contains(c) {
            plain.push('\'');
        }
        begins_cell = ",;".contains(c) || (begins_cell && c.is_whitespace());
        plain.push(c);
    }
    plain
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

    use super::*;
    use crate::pulse::definitions::DEFINITIONS;
    use crate::pulse::hand::table::{SetAside, csv as csv_by_hand};
    use crate::pulse::{Findings, table};
    use proptest::prelude::*;

    fn header_with_hand() -> String {
        let aside = SetAside {
            pulse: "1".to_owned(),
            reason: "noise".to_owned(),
            by: "A".to_owned(),
            at: "2026-06-14T22:41:05Z".to_owned(),
        };
        csv_by_hand("a.wav", &Findings::default(), &[], &[aside])
    }

    #[test]
    fn every_column_is_defined_once_and_no_other() {
        let header = header_with_hand();
        let columns: Vec<&str> = header.trim_end().split(',').collect();
        assert!(columns.len() > 40);
        for column in &columns {
            assert!(
                meaning(column).is_some_and(|text| !text.is_empty()),
                "{column} is not defined"
            );
        }
        let defined: Vec<&str> = DEFINITIONS.iter().map(|(name, _)| *name).collect();
        let written: Vec<&str> = columns
            .into_iter()
            .filter(|name| !name.contains("_u95_"))
            .collect();
        assert_eq!(defined, written);
    }

    #[test]
    fn the_readme_names_every_column() {
        let readme = include_str!("../../../../README.md");
        for (name, _) in DEFINITIONS {
            assert!(
                readme.contains(&format!("`{name}`")),
                "the README does not tell what {name} is"
            );
        }
    }

    #[test]
    fn a_table_with_its_lines_holds_the_table() {
        let csv = format!("{}a.wav,1,0.5\n", table::csv_header());
        let facts = Facts {
            channels: 1,
            ..Facts::default()
        };
        let text = with_about(&csv, "a.wav", &facts, 0, &Settings::default());
        let rest: String = text
            .lines()
            .filter(|line| !line.starts_with('#'))
            .map(|line| format!("{line}\n"))
            .collect();
        assert_eq!(rest, csv);
        assert!(text.contains("\n# duration_ms: end less start\n"));
        assert!(text.contains("edges 20 dB below the maximum or 6 dB above the noise"));
        assert!(text.contains("\n# a.wav: 0.000 s at 0 kHz"));
        assert!(text.contains("\n# interval_u95_ms: uncertainty of interval, ms:"));
    }

    #[test]
    fn cells_are_parted_by_tabs() {
        assert_eq!(tabbed("a,b\n\"x,\"\"y\"\"\",2\n"), "a\tb\nx,\"y\"\t2\n");
    }

    proptest! {
        #[test]
        fn no_line_breaks_out_or_begins_a_formula(file: String, local: String) {
            let facts = Facts {
                channels: 1,
                start: Some(crate::recording::Stamp {
                    local,
                    utc_offset_min: None,
                    origin: crate::recording::StampOrigin::Guano,
                }),
                ..Facts::default()
            };
            let mut lines = general(&header_with_hand(), &Settings::default());
            lines.push(recording(&file, &facts, 0));
            let text = as_comments(&lines);
            prop_assert_eq!(text.lines().count(), lines.len());
            for line in text.lines() {
                prop_assert!(line.starts_with("# ") && !line.contains('"'));
                for cell in line.split([',', ';', '\t']) {
                    prop_assert!(!cell.trim_start().starts_with(['=', '+', '-', '@']), "{:?}", line);
                }
            }
        }

        #[test]
        fn what_looks_like_a_formula_is_defused(name in "[a,;=+@ \"\u{9}-]{0,20}") {
            let line = plain(&name);
            for cell in line.split([',', ';']).skip(1) {
                prop_assert!(!cell.trim_start().starts_with(['=', '+', '-', '@']), "{:?}", line);
            }
        }
    }
}
