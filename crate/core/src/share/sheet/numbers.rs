//! The numbers of a call sheet.

use super::super::SentPulse;
use crate::draw::Markup;

/// What stands where a quantity has no value.
const NONE: &str = "\u{2013}";

/// A column: its header with the unit, and what it says of a pulse.
struct Column {
    header: &'static str,
    cell: fn(&SentPulse) -> String,
}

const fn column(header: &'static str, cell: fn(&SentPulse) -> String) -> Column {
    Column { header, cell }
}

const COLUMNS: [Column; 12] = [
    column("Start, s", |p| fixed(p.start_s, 4)),
    column("Duration, ms", |p| fixed(p.duration_ms, 2)),
    column("Peak, kHz", |p| fixed(p.peak_khz, 1)),
    column("Start, kHz", |p| fixed(p.start_khz, 1)),
    column("End, kHz", |p| fixed(p.end_khz, 1)),
    column("Highest, kHz", |p| fixed(p.high_khz, 1)),
    column("Lowest, kHz", |p| fixed(p.low_khz, 1)),
    column("Characteristic, kHz", |p| fixed(p.characteristic_khz, 1)),
    column("Interval, ms", |p| {
        p.interval_ms
            .map_or_else(|| NONE.to_owned(), |interval| fixed(interval, 1))
    }),
    column("Level, dB re full scale", |p| fixed(p.level_db, 1)),
    column("Signal-to-noise, dB", |p| fixed(p.snr_db, 1)),
    column("Shape", |p| p.shape.name().to_owned()),
];

const MEANING: &str = "Times are real times at the microphone, counted from where the stretch with this call begins. \
    Peak is the frequency of most energy. Start, end, highest and lowest frequency are those of the contour, the \
    frequency against time; the characteristic one is at the end of its flattest stretch. The interval is from the \
    start of the pulse before. Level is the largest amplitude. Of shapes, FM sweeps, QCF is nearly constant and CF is \
    constant, in this order.";

/// The table, and what its columns mean.
pub(super) fn write(page: &mut Markup, pulses: &[SentPulse]) {
    if pulses.is_empty() {
        page.text("p", &[], "No numbers came with this call.");
        return;
    }
    page.open(
        "div",
        &[
            ("class", &"scroll"),
            ("role", &"region"),
            ("tabindex", &0),
            ("aria-label", &"Table of numbers, which scrolls sideways"),
        ],
    );
    page.open("table", &[]);
    let count = pulses.len();
    let pulses_word = if count == 1 { "pulse" } else { "pulses" };
    page.text(
        "caption",
        &[],
        &format!("{count} {pulses_word} as measured by the sender"),
    );
    header(page);
    page.open("tbody", &[]);
    for pulse in pulses {
        row(page, pulse);
    }
    page.close();
    page.close();
    page.close();
    page.text("p", &[("class", &"small")], MEANING);
}

fn header(page: &mut Markup) {
    page.open("thead", &[]);
    page.open("tr", &[]);
    page.text("th", &[("scope", &"col")], "Pulse");
    for column in &COLUMNS {
        page.text("th", &[("scope", &"col")], column.header);
    }
    page.close();
    page.close();
}

fn row(page: &mut Markup, pulse: &SentPulse) {
    page.open("tr", &[]);
    page.text("th", &[("scope", &"row")], &pulse.name);
    for column in &COLUMNS {
        page.text("td", &[], &(column.cell)(pulse));
    }
    page.close();
}

/// A number with so many decimals and a proper minus, as the page writes it.
fn fixed(value: f32, decimals: usize) -> String {
    if !value.is_finite() {
        return NONE.to_owned();
    }
    let text = format!("{:.decimals$}", value.abs());
    let is_zero = text.chars().all(|c| matches!(c, '0' | '.'));
    if value < 0.0 && !is_zero {
        format!("\u{2212}{text}")
    } else {
        text
    }
}
