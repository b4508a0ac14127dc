//! A table for people.

use std::io::{self, Write};

use dusklens_core::pulse::{Findings, Pulse, Summary, Verdict};
use dusklens_core::recording::Facts;

use super::{Report, printable};
use crate::measure::Measured;

/// Prints the facts that matter, what is odd, and a table with aligned columns.
pub(crate) struct People;

impl Report for People {
    fn recording(&mut self, measured: &Measured, out: &mut dyn Write) -> io::Result<()> {
        writeln!(out, "{}", printable(&measured.file))?;
        for line in facts(&measured.facts, measured.channel) {
            writeln!(out, "  {}", printable(&line))?;
        }
        for line in found(&measured.findings) {
            writeln!(out, "  {line}")?;
        }
        if !measured.findings.pulses.is_empty() {
            write_pulses(&measured.findings.pulses, out)?;
        }
        writeln!(out)
    }
}

/// What was found, in words.
fn found(findings: &Findings) -> Vec<String> {
    let summary = &findings.summary;
    let verdict = match summary.verdict {
        Verdict::HoldsPulses => "holds bat pulses",
        Verdict::Unsure => "unsure whether it holds bat pulses",
        Verdict::ProbablyNone => "probably no bat pulses",
    };
    let mut lines = vec![format!(
        "{verdict}: {}{}{}",
        counted(findings.pulses.len(), "pulse", "pulses"),
        part(summary.sequences.len(), "sequence", "sequences"),
        part(summary.buzzes.len(), "feeding buzz", "feeding buzzes"),
    )];
    lines.extend(doubted(summary));
    lines
}

fn doubted(summary: &Summary) -> Option<String> {
    let sounds = summary.doubts.iter().map(|count| count.sounds).sum();
    let reasons: Vec<String> = summary
        .doubts
        .iter()
        .map(|count| format!("{} {}", count.sounds, count.doubt.name().replace('_', "-")))
        .collect();
    let all = counted(sounds, "doubted sound", "doubted sounds");
    (sounds > 0).then(|| format!("{all}, in --csv and --json: {}", reasons.join(", ")))
}

fn counted(count: usize, one: &str, many: &str) -> String {
    match count {
        0 => format!("no {many}"),
        1 => format!("1 {one}"),
        count => format!("{count} {many}"),
    }
}

/// The same as a part of a list, where there are any.
fn part(count: usize, one: &str, many: &str) -> String {
    if count == 0 {
        return String::new();
    }
    format!(", {}", counted(count, one, many))
}

/// One line a fact.
fn facts(facts: &Facts, channel: u16) -> Vec<String> {
    let mut lines = facts.in_words(channel - 1);
    if let Some(guess) = &facts.expansion_guess {
        lines.push(format!(
            "time expansion? {} If so, measure it with --expansion {}.",
            guess.reason, guess.factor
        ));
    }
    lines.extend(
        facts
            .notices
            .iter()
            .map(|notice| format!("! {}", notice.text)),
    );
    lines
}

/// A column: its two heading lines, and the text of a cell.
type Column = (&'static str, &'static str, fn(&Pulse) -> String);

/// The columns that fit a terminal; `--csv` and `--json` have all.
const COLUMNS: [Column; 13] = [
    ("start", "s", |pulse| format!("{:.4}", pulse.start_s)),
    ("duration", "ms", |pulse| {
        format!("{:.2}", pulse.duration_ms)
    }),
    ("interval", "ms", |pulse| {
        pulse
            .interval_ms
            .map(|ms| format!("{ms:.1}"))
            .unwrap_or_default()
    }),
    ("peak", "kHz", |pulse| format!("{:.1}", pulse.peak_khz)),
    ("high", "kHz", |pulse| format!("{:.1}", pulse.high_khz)),
    ("low", "kHz", |pulse| format!("{:.1}", pulse.low_khz)),
    ("charact.", "kHz", |pulse| {
        format!("{:.1}", pulse.characteristic_khz)
    }),
    ("sweep", "kHz/ms", |pulse| {
        format!("{:.2}", pulse.sweep_khz_per_ms)
    }),
    ("level", "dB", |pulse| format!("{:.1}", pulse.level_db)),
    ("S/N", "dB", |pulse| format!("{:.1}", pulse.snr_db)),
    ("shape", "", |pulse| pulse.shape.name().to_owned()),
    ("sequence", "", |pulse| {
        pulse.sequence.map(|n| n.to_string()).unwrap_or_default()
    }),
    ("flags", "", |pulse| {
        pulse
            .flags
            .iter()
            .map(|flag| flag.name())
            .collect::<Vec<_>>()
            .join(" ")
    }),
];

fn write_pulses(pulses: &[Pulse], out: &mut dyn Write) -> io::Result<()> {
    let widths = COLUMNS.map(|(name, unit, text)| {
        let cells = pulses.iter().map(|pulse| text(pulse).chars().count());
        cells.chain([name.len(), unit.len()]).max().unwrap_or(0)
    });
    let mut line = |number: &str, cells: [String; COLUMNS.len()]| {
        let cells = cells
            .iter()
            .zip(widths)
            .map(|(cell, width)| format!("{cell:>width$}"));
        let text = cells.collect::<Vec<_>>().join("  ");
        writeln!(out, "  {number:>5}  {}", text.trim_end())
    };
    line("pulse", COLUMNS.map(|(name, _, _)| name.to_owned()))?;
    line("", COLUMNS.map(|(_, unit, _)| unit.to_owned()))?;
    for (index, pulse) in pulses.iter().enumerate() {
        line(
            &(index + 1).to_string(),
            COLUMNS.map(|(_, _, text)| text(pulse)),
        )?;
    }
    Ok(())
}
