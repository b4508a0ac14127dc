//! What the columns of a table mean: the one place where they are defined in words.

/// A column's name and its meaning.
type Definition = (&'static str, &'static str);

/// Every column without an uncertainty in its name, also those of hand entries.
pub(super) const DEFINITIONS: [Definition; 29] = [
    ("file", "the recording's name"),
    (
        "pulse",
        "number of the pulse, as on the page; D before a doubted sound, H before a hand entry",
    ),
    (
        "start_s",
        "where the envelope of the pulse, within its own band, rises to the edge threshold: usually 20 dB below its maximum; seconds from the start of the recording",
    ),
    (
        "end_s",
        "where the envelope falls to the edge threshold again; seconds",
    ),
    ("duration_ms", "end less start"),
    (
        "peak_khz",
        "frequency of most energy: maximum of the power spectrum of the whole pulse",
    ),
    (
        "start_khz",
        "the contour at the start; the contour is the frequency of the fundamental against time",
    ),
    ("end_khz", "the contour at the end"),
    ("high_khz", "the contour's largest value"),
    ("low_khz", "the contour's smallest value"),
    (
        "characteristic_khz",
        "the contour at the end of its flattest stretch, a fifth of the pulse",
    ),
    (
        "sweep_khz_per_ms",
        "end less start frequency, over the duration",
    ),
    (
        "flattest_khz_per_ms",
        "slope of the contour in its flattest stretch",
    ),
    (
        "interval_ms",
        "start less the start of the pulse before it in the same sequence",
    ),
    (
        "level_db",
        "largest amplitude, dB re full scale (0 is the largest value that the file can hold)",
    ),
    (
        "snr_db",
        "level in the pulse's own band less the noise around it in that band",
    ),
    (
        "edge_db",
        "how far below the maximum the edges were taken, dB",
    ),
    (
        "shape",
        "of the contour: FM sweeps, QCF is nearly constant, CF is constant, in this order",
    ),
    (
        "flags",
        "what limits trust: clipped, floor_limited, cut_off, overlapped, missed_before",
    ),
    (
        "sequence",
        "pulses that one animal may have made share a number; empty for one that stands alone",
    ),
    ("buzz", "the feeding buzz that the pulse belongs to"),
    (
        "doubt",
        "why a sound is probably no bat's: click, insect_like, wind, tone, electronics, wandering, faint, lone",
    ),
    (
        "source",
        "automatic for what the program measured, hand for what a person measured",
    ),
    (
        "hand",
        "what a person did: corrected, added, band, interval",
    ),
    ("of", "number of the pulse that a hand entry is about"),
    ("set_aside", "why a person set the pulse aside"),
    ("by", "who did it"),
    ("at", "when (ISO 8601)"),
    ("notes", "what limits a hand measurement"),
];

/// What a column means; none where there is no such column.
pub(super) fn meaning(column: &str) -> Option<String> {
    if let Some((of, unit)) = column.split_once("_u95_") {
        let unit = unit
            .replace("_per_", "/")
            .replace("khz", "kHz")
            .replace("db", "dB");
        return Some(format!(
            "uncertainty of {of}, {unit}: half the width of the interval that holds the true value in 95 of 100 cases"
        ));
    }
    let found = DEFINITIONS.iter().find(|(name, _)| *name == column);
    found.map(|(_, meaning)| (*meaning).to_owned())
}
