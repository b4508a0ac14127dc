//! A table with typed columns, and its text.

use super::super::moment::Moment;
use crate::pulse::about::as_comments;
use crate::pulse::table::{cell, decimal};

/// A cell.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// Nothing is known.
    Nothing,
    /// Free text, or a word.
    Text(String),
    /// A number, and how many decimals of it mean something.
    Number {
        /// The number.
        value: f64,
        /// Its decimals.
        decimals: usize,
    },
    /// A count.
    Count(u64),
    /// Yes or no.
    Flag(bool),
    /// A moment, and the clock that it is told by.
    Time {
        /// The moment.
        at: Moment,
        /// Minutes that the clock is ahead of UTC.
        utc_offset_min: i32,
    },
}

/// What the cells of a column hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// [`Value::Text`].
    Text,
    /// [`Value::Number`].
    Number,
    /// [`Value::Count`].
    Count,
    /// [`Value::Flag`].
    Flag,
    /// [`Value::Time`].
    Time,
}

/// A column's name, what it holds and what it means.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Heading {
    /// Its name, with its unit as suffix.
    pub name: &'static str,
    /// What its cells hold; each may be [`Value::Nothing`] instead.
    pub kind: Kind,
    /// What it means, as a sentence or a part of one.
    pub meaning: &'static str,
}

/// A table to hand in.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// What its rows are, such as `Recordings of a night`.
    pub title: &'static str,
    /// Its columns.
    pub headings: Vec<Heading>,
    /// Its rows, each with a cell for every column.
    pub rows: Vec<Vec<Value>>,
}

impl Table {
    /// The whole table as text, RFC 4180 with line feeds.
    #[must_use]
    pub fn csv(&self) -> String {
        self.csv_header() + &self.csv_rows()
    }

    /// The line with the names of the columns.
    #[must_use]
    pub fn csv_header(&self) -> String {
        let names: Vec<&str> = self.headings.iter().map(|heading| heading.name).collect();
        names.join(",") + "\n"
    }

    /// The lines of its rows.
    #[must_use]
    pub fn csv_rows(&self) -> String {
        let mut text = String::new();
        for row in &self.rows {
            let cells: Vec<String> = row.iter().map(Value::csv).collect();
            text.push_str(&cells.join(","));
            text.push('\n');
        }
        text
    }

    /// Lines that begin with `#`, to stand before the header: what the table is, and what its columns mean. Readers of
    /// tables can be told to pass over them.
    #[must_use]
    pub fn comments(&self) -> String {
        let version = env!("CARGO_PKG_VERSION");
        let program = format!("{}; written by Dusklens {version}", self.title);
        let columns = self.headings.iter();
        let columns = columns.map(|heading| format!("{}: {}", heading.name, heading.meaning));
        let lines: Vec<String> = std::iter::once(program).chain(columns).collect();
        as_comments(&lines)
    }
}

impl Value {
    /// Its text in a cell; empty where nothing is known.
    fn csv(&self) -> String {
        match self {
            Self::Nothing => String::new(),
            Self::Text(text) => cell(text),
            Self::Number { value, decimals } => decimal(Some(*value), *decimals),
            Self::Count(count) => count.to_string(),
            Self::Flag(flag) => if *flag { "yes" } else { "no" }.to_owned(),
            Self::Time { at, utc_offset_min } => at.iso(*utc_offset_min),
        }
    }
}

/// A column of rows of some kind: its name, what it means, how its value is found.
pub(super) struct Column<R>(
    pub(super) &'static str,
    pub(super) &'static str,
    pub(super) Reading<R>,
);

/// How a cell's value is found in a row.
pub(super) enum Reading<R> {
    /// Text; where it is empty nothing is known.
    Text(fn(&R) -> String),
    /// A number, with so many decimals.
    Number(usize, fn(&R) -> Option<f64>),
    /// A number, and how many decimals of it mean something.
    Rounded(fn(&R) -> Option<(f64, usize)>),
    Count(fn(&R) -> Option<u64>),
    Flag(fn(&R) -> Option<bool>),
    /// A moment, and minutes that the clock that tells it is ahead of UTC.
    Time(fn(&R) -> Option<(Moment, i32)>),
}

impl<R> Reading<R> {
    fn kind(&self) -> Kind {
        match self {
            Self::Text(_) => Kind::Text,
            Self::Number(..) | Self::Rounded(_) => Kind::Number,
            Self::Count(_) => Kind::Count,
            Self::Flag(_) => Kind::Flag,
            Self::Time(_) => Kind::Time,
        }
    }

    fn value(&self, row: &R) -> Value {
        let known = match self {
            Self::Text(of) => Some(of(row))
                .filter(|text| !text.is_empty())
                .map(Value::Text),
            Self::Number(decimals, of) => number(of(row), *decimals),
            Self::Rounded(of) => {
                of(row).and_then(|(value, decimals)| number(Some(value), decimals))
            }
            Self::Count(of) => of(row).map(Value::Count),
            Self::Flag(of) => of(row).map(Value::Flag),
            Self::Time(of) => {
                of(row).map(|(at, utc_offset_min)| Value::Time { at, utc_offset_min })
            }
        };
        known.unwrap_or(Value::Nothing)
    }
}

fn number(value: Option<f64>, decimals: usize) -> Option<Value> {
    let value = value.filter(|value| value.is_finite())?;
    Some(Value::Number { value, decimals })
}

/// A table of rows.
pub(super) fn table<R>(
    title: &'static str,
    columns: &[Column<R>],
    rows: impl IntoIterator<Item = R>,
) -> Table {
    let heading = |Column(name, meaning, reading): &Column<R>| Heading {
        name,
        kind: reading.kind(),
        meaning,
    };
    let cells = |row: R| {
        let cells = columns.iter().map(|Column(_, _, of)| of.value(&row));
        cells.collect()
    };
    Table {
        title,
        headings: columns.iter().map(heading).collect(),
        rows: rows.into_iter().map(cells).collect(),
    }
}
