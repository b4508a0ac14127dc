//! Rows of pulses as text -> the same with types.

use dusklens_core::night::tables::{Kind, Value, pulses_csv_header};
use dusklens_core::night::{Night, NightFile};

use super::parquet::ColumnOf;

/// Columns of the table of pulses that hold words or whole numbers; all others are numbers.
const WORDS: [&str; 5] = ["file", "pulse", "shape", "flags", "doubt"];
const COUNTS: [&str; 2] = ["sequence", "buzz"];
/// What stands before them in the typed table.
const BEFORE: [(&str, Kind); 3] = [
    ("night", Kind::Text),
    ("recorder", Kind::Text),
    ("start", Kind::Time),
];

/// The columns of the typed table: the night, when the recording began, and those of the text.
pub(super) fn columns() -> Vec<ColumnOf> {
    let before = BEFORE.map(|(name, kind)| (name.to_owned(), kind));
    let header = pulses_csv_header();
    let own = header
        .trim_end()
        .split(',')
        .map(|name| (name.to_owned(), kind(name)));
    before.into_iter().chain(own).collect()
}

fn kind(name: &str) -> Kind {
    if WORDS.contains(&name) {
        Kind::Text
    } else if COUNTS.contains(&name) {
        Kind::Count
    } else {
        Kind::Number
    }
}

/// The typed rows of a recording. Lines without a path hold words and numbers alone: nothing in them is quoted.
pub(super) fn typed(
    night: &Night,
    own: &NightFile,
    lines: &str,
    columns: &[ColumnOf],
) -> Vec<Vec<Value>> {
    let before = [
        Value::Text(night.key.evening.clone()),
        Value::Text(night.key.recorder.clone()),
        Value::Time {
            at: own.time.start,
            utc_offset_min: night.settings.utc_offset_min,
        },
        Value::Text(own.file.path.clone()),
    ];
    // The first cell is the path's, and empty.
    let kinds = || columns.iter().skip(before.len()).map(|(_, kind)| *kind);
    let row = |line: &str| {
        let cells = line.split(',').skip(1).zip(kinds());
        let cells = cells.map(|(cell, kind)| value(cell, kind));
        before.iter().cloned().chain(cells).collect()
    };
    lines.lines().map(row).collect()
}

fn value(cell: &str, kind: Kind) -> Value {
    let known = match kind {
        _ if cell.is_empty() => None,
        Kind::Count => cell.parse().ok().map(Value::Count),
        Kind::Number => cell
            .parse()
            .ok()
            .map(|value| Value::Number { value, decimals: 0 }),
        _ => Some(Value::Text(cell.to_owned())),
    };
    known.unwrap_or(Value::Nothing)
}
