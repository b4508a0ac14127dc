//! Prints a tally as Markdown, and the worst cases one by one.

use std::fmt::Write;

use super::coverage::quantities;
use super::draw::{Set, shape_name};
use super::matching::Extra;
use super::run::{Judged, Outcome};
use super::tally::{
    ALL, BUCKETS_DB, FalseRow, QUANTITIES, Row, Tally, bucket_name, errors, extra_name,
};
use dusklens_core::pulse::Pulse;

/// The whole report as Markdown.
pub fn report(set: Set, tally: &Tally) -> String {
    let mut text = String::new();
    let origin = match set {
        Set::Tune => "the draw that is tuned on; NOT a measure of accuracy",
        Set::Report => {
            "the draw that is reported on: other seeds and wider, different distributions than the one tuned on"
        }
    };
    // Writing into a String cannot fail.
    let _ = writeln!(text, "Synthetic recordings, {origin}.\n");
    text.push_str(
        "Median absolute errors; start, end, high, low, characteristic and duration at the edges that could be used,\n\
         `d20` is duration at 20 dB. SNR is in the pulse's own band. Overlapped and cut-off pulses are left out.\n\n\
         | case | SNR dB | n | recall | wrong harmonic | peak kHz | p90 | bias | start kHz | end kHz | high kHz | low kHz | char. kHz | dur. ms | d20 ms | interval ms | level dB | snr dB | shape |\n\
         |---|---|---|---|---|---|---|---|---|---|---|---|---|---|---|---|---|---|---|\n",
    );
    for row in tally.rows.iter().filter(|row| row.n > 0) {
        line(&mut text, row);
    }
    spread_table(&mut text, tally);
    coverage_table(&mut text, tally);
    flag_table(&mut text, tally);
    false_table(&mut text, "Recordings without bats", &tally.silence);
    false_table(
        &mut text,
        "Extra pulses in recordings with bats",
        &tally.extras,
    );
    whole_table(&mut text, tally);
    text
}

/// What is said of recordings as a whole: verdict, doubts, sequences, buzzes.
fn whole_table(text: &mut String, tally: &Tally) {
    let _ = writeln!(
        text,
        "\nWhole recordings: verdict; links of sequences; doubted sounds, and how many of them were true pulses\n\n\
         | case | holds | unsure | none | links right | wrong | broken | doubted | true | reasons |\n\
         |---|---|---|---|---|---|---|---|---|---|"
    );
    let rows = tally.verdicts.iter().zip(&tally.links).zip(&tally.doubts);
    for ((verdict, (_, links)), doubt) in rows {
        let reasons: Vec<String> = doubt
            .reasons
            .iter()
            .map(|(name, n)| format!("{n} {name}"))
            .collect();
        let _ = writeln!(
            text,
            "| {} | {} | {} | {} | {} | {} | {} | {} | {} | {} |",
            verdict.case,
            verdict.holds,
            verdict.unsure,
            verdict.none,
            links.right,
            links.wrong,
            links.broken,
            doubt.reasons.values().sum::<usize>(),
            doubt.wrongly,
            reasons.join(", "),
        );
    }
    let buzzes = &tally.buzzes;
    let _ = writeln!(
        text,
        "\nFeeding buzzes: {} of {} found, {} where there was none",
        buzzes.found, buzzes.made, buzzes.false_ones
    );
}

fn line(text: &mut String, row: &Row) {
    let of = |quantity: &str| {
        let value = row.median.get(quantity);
        value.map_or("-".into(), |v| format!("{v:.2}"))
    };
    let _ = writeln!(
        text,
        "| {} | {} | {} | {:.3} | {} | {} | {:.2} | {:+.3} | {} | {} | {} | {} | {} | {} | {} | {} | {} | {} | {:.2} |",
        row.case,
        row.snr,
        row.n,
        row.recall(),
        row.misassigned,
        of("peak_khz"),
        row.peak_p90_khz,
        row.bias.get("peak_khz").copied().unwrap_or(0.0),
        of("start_khz"),
        of("end_khz"),
        of("high_khz"),
        of("low_khz"),
        of("characteristic_khz"),
        of("duration_ms"),
        of("duration_20db_ms"),
        of("interval_ms"),
        of("level_db"),
        of("snr_db"),
        row.same_shape as f64 / row.found.max(1) as f64,
    );
}

/// Bias and spread of every quantity, by signal-to-noise ratio over all cases, then by case.
fn spread_table(text: &mut String, tally: &Tally) {
    let rows = tally
        .rows
        .iter()
        .filter(|row| row.found > 0)
        .filter(|row| row.case == ALL || row.snr == bucket_name(BUCKETS_DB.len()));
    let _ = writeln!(
        text,
        "\nBias (median signed error) and spread (half of the middle 68 %); `snr_db` tells how well signal-to-noise is calibrated\n\n\
         | case | SNR dB | {} |\n|---|---|{}",
        QUANTITIES.join(" | "),
        "---|".repeat(QUANTITIES.len()),
    );
    for row in rows {
        let cells =
            QUANTITIES.map(
                |quantity| match (row.bias.get(quantity), row.spread.get(quantity)) {
                    (Some(bias), Some(spread)) => format!("{bias:+.3} ± {spread:.3}"),
                    _ => "-".into(),
                },
            );
        let _ = writeln!(
            text,
            "| {} | {} | {} |",
            row.case,
            row.snr,
            cells.join(" | ")
        );
    }
}

/// How often the stated 95 % intervals held, by signal-to-noise ratio over all cases, then by case.
fn coverage_table(text: &mut String, tally: &Tally) {
    let names = quantities(&tally.coverage);
    let _ = writeln!(
        text,
        "\nShare of the stated 95 % intervals that held the true value\n\n| case | SNR dB | n | {} |\n|---|---|---|{}",
        names.join(" | "),
        "---|".repeat(names.len()),
    );
    for row in &tally.coverage {
        let shares = names.iter().map(|quantity| {
            row.share(quantity)
                .map_or("-".into(), |share| format!("{share:.3}"))
        });
        let n = row.held.get("level_db").map_or(0, |(_, n)| *n);
        let cells: Vec<String> = shares.collect();
        let _ = writeln!(
            text,
            "| {} | {} | {n} | {} |",
            row.case,
            row.snr,
            cells.join(" | ")
        );
    }
}

fn flag_table(text: &mut String, tally: &Tally) {
    if tally.flags.is_empty() {
        return;
    }
    let _ = writeln!(
        text,
        "\nFlags of the pulses that were found\n\n| flag | right | needless | missing |\n|---|---|---|---|"
    );
    for row in &tally.flags {
        let name = row.flag.name();
        let (right, needless, missing) = (row.right, row.needless, row.missing);
        let _ = writeln!(text, "| {name} | {right} | {needless} | {missing} |");
    }
}

fn false_table(text: &mut String, title: &str, rows: &[FalseRow]) {
    if rows.is_empty() {
        return;
    }
    let _ = writeln!(
        text,
        "\n{title}\n\n| case | minutes | a minute | which |\n|---|---|---|---|"
    );
    for row in rows {
        let which: Vec<String> = row
            .extras
            .iter()
            .map(|(name, n)| format!("{n} {name}"))
            .collect();
        let _ = writeln!(
            text,
            "| {} | {:.2} | {:.2} | {} |",
            row.case,
            row.minutes,
            row.per_minute,
            which.join(", ")
        );
    }
}

/// The worst of an outcome, a line each: missed from 10 dB on, far off, and extra.
pub fn misses(outcome: &Outcome) -> Vec<String> {
    let mut lines = Vec::new();
    let name = outcome.job.name();
    for pulse in outcome.pulses.iter().filter(|p| p.is_plain()) {
        let snr_db = pulse.truth.snr_db.unwrap_or(f64::INFINITY);
        if snr_db >= 10.0 && pulse.measured.is_none() {
            let harmonic = if pulse.misassigned {
                " (a multiple was measured)"
            } else {
                ""
            };
            lines.push(format!("{name} missed{harmonic}: {}", truth_text(pulse)));
        }
        if snr_db >= 15.0 && is_far_off(pulse) {
            lines.push(format!(
                "{name} far off: {} {}",
                truth_text(pulse),
                measured_text(pulse)
            ));
        }
    }
    for (extra, found) in &outcome.extras {
        lines.push(extra_text(outcome, *extra, found));
    }
    lines
}

/// A measured pulse that is no true one, in words.
pub(super) fn extra_text(outcome: &Outcome, extra: Extra, found: &Pulse) -> String {
    format!(
        "{} extra {}: {:.4} s {} {:.1} -> {:.1} kHz, peak {:.1} kHz, {:.2} ms, snr {:.0} dB {:?}",
        outcome.job.name(),
        extra_name(extra),
        found.start_s,
        shape_name(found.shape),
        found.start_khz,
        found.end_khz,
        found.peak_khz,
        found.duration_ms,
        found.snr_db,
        found.flags,
    )
}

/// A true pulse that was missed, in words.
pub(super) fn missed_text(outcome: &Outcome, pulse: &Judged) -> String {
    format!("{} missed: {}", outcome.job.name(), truth_text(pulse))
}

fn is_far_off(pulse: &Judged) -> bool {
    let Some(measured) = &pulse.measured else {
        return false;
    };
    let limit = |quantity: &str| match quantity {
        "peak_khz" | "low_khz" | "end_khz" => 2.0,
        "start_khz" | "high_khz" => 6.0,
        "characteristic_khz" => 3.0,
        "duration_ms" => 0.3 * pulse.truth.duration_ms,
        "interval_ms" => 5.0,
        _ => f64::INFINITY,
    };
    errors(pulse, measured)
        .iter()
        .any(|(quantity, error)| error.abs() > limit(quantity))
}

fn truth_text(pulse: &Judged) -> String {
    let t = &pulse.truth;
    let interval = t
        .interval_ms
        .map_or(String::new(), |ms| format!(", interval {ms:.1} ms"));
    format!(
        "{:.4} s {} {:.1} -> {:.1} kHz, peak {:.1} kHz, {:.2} ms, snr {:.0} dB{interval}",
        t.start_s,
        shape_name(t.shape),
        t.start_khz,
        t.end_khz,
        t.peak_khz,
        t.duration_ms,
        t.snr_db.unwrap_or(f64::INFINITY),
    )
}

fn measured_text(pulse: &Judged) -> String {
    let Some(measured) = &pulse.measured else {
        return String::new();
    };
    let list: Vec<String> = errors(pulse, measured)
        .iter()
        .map(|(quantity, error)| format!("{quantity} {error:+.2}"))
        .collect();
    format!(
        "errors: {}, edge {:.0} dB {:?}",
        list.join(", "),
        measured.edge_db,
        measured.flags
    )
}
