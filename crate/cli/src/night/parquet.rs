//! Tables as Parquet: the same columns as in the text, with types, for whoever reads many nights at once.
//!
//! Every night is a row group of its own, or several where it has many rows, so that an engine that looks for one night reads
//! that alone. Rows are in order of night, recorder and time.

use std::fs::File;
use std::io::{self, BufWriter};
use std::sync::Arc;

use dusklens_core::night::tables::{Heading, Kind, Table, Value};
use parquet::basic::{Compression, LogicalType, Repetition, TimeUnit, Type as Physical};
use parquet::data_type::{BoolType, ByteArray, ByteArrayType, DataType, DoubleType, Int64Type};
use parquet::errors::{ParquetError, Result};
use parquet::file::metadata::KeyValue;
use parquet::file::properties::WriterProperties;
use parquet::file::writer::{SerializedColumnWriter, SerializedFileWriter};
use parquet::schema::types::Type;

/// The most rows of a row group.
pub(super) const MOST_ROWS: usize = 50_000;

/// A column's name and what its cells hold.
pub(super) type ColumnOf = (String, Kind);

/// A file that rows are added to.
pub(super) struct Writer {
    file: SerializedFileWriter<BufWriter<File>>,
    columns: Vec<ColumnOf>,
}

impl Writer {
    /// Begins a file with these columns. Any cell may be empty.
    pub(super) fn new(file: BufWriter<File>, columns: Vec<ColumnOf>) -> Result<Self> {
        let fields = columns
            .iter()
            .map(|(name, kind)| Ok(Arc::new(field(name, *kind)?)));
        let schema = Type::group_type_builder("rows")
            .with_fields(fields.collect::<Result<_>>()?)
            .build()?;
        let version = env!("CARGO_PKG_VERSION").to_owned();
        let properties = WriterProperties::builder()
            .set_compression(Compression::SNAPPY)
            .set_key_value_metadata(Some(vec![KeyValue::new("dusklens".to_owned(), version)]))
            .build();
        Ok(Self {
            file: SerializedFileWriter::new(file, Arc::new(schema), Arc::new(properties))?,
            columns,
        })
    }

    /// Adds rows as row groups of their own.
    pub(super) fn add(&mut self, rows: &[Vec<Value>]) -> Result<()> {
        for rows in rows.chunks(MOST_ROWS) {
            let mut group = self.file.next_row_group()?;
            let mut at = 0;
            while let Some(mut column) = group.next_column()? {
                let kind = self.columns.get(at).map(|(_, kind)| *kind);
                write_column(&mut column, kind.unwrap_or(Kind::Text), rows, at)?;
                column.close()?;
                at += 1;
            }
            group.close()?;
        }
        Ok(())
    }

    /// Ends the file.
    pub(super) fn finish(self) -> Result<()> {
        self.file.close().map(drop)
    }
}

/// The columns of a table.
pub(super) fn columns_of(table: &Table) -> Vec<ColumnOf> {
    let of = |heading: &Heading| (heading.name.to_owned(), heading.kind);
    table.headings.iter().map(of).collect()
}

/// An error of this module as one of the disk's, which it is as a rule.
pub(super) fn to_io(error: ParquetError) -> io::Error {
    io::Error::other(error)
}

fn field(name: &str, kind: Kind) -> Result<Type> {
    let (physical, logical) = match kind {
        Kind::Text => (Physical::BYTE_ARRAY, Some(LogicalType::String)),
        Kind::Number => (Physical::DOUBLE, None),
        Kind::Count => (Physical::INT64, None),
        Kind::Flag => (Physical::BOOLEAN, None),
        Kind::Time => (
            Physical::INT64,
            Some(LogicalType::timestamp(true, TimeUnit::MILLIS)),
        ),
    };
    Type::primitive_type_builder(name, physical)
        .with_repetition(Repetition::OPTIONAL)
        .with_logical_type(logical)
        .build()
}

fn write_column(
    column: &mut SerializedColumnWriter<'_>,
    kind: Kind,
    rows: &[Vec<Value>],
    at: usize,
) -> Result<()> {
    let cells = || {
        rows.iter()
            .map(|row| row.get(at).unwrap_or(&Value::Nothing))
    };
    match kind {
        Kind::Text => write::<ByteArrayType>(column, cells().map(text)),
        Kind::Number => write::<DoubleType>(column, cells().map(number)),
        Kind::Count | Kind::Time => write::<Int64Type>(column, cells().map(whole)),
        Kind::Flag => write::<BoolType>(column, cells().map(flag)),
    }
}

/// Writes what is known; the levels tell where something is.
fn write<T: DataType>(
    column: &mut SerializedColumnWriter<'_>,
    cells: impl Iterator<Item = Option<T::T>>,
) -> Result<()> {
    let mut known = Vec::new();
    let mut levels = Vec::new();
    for cell in cells {
        levels.push(i16::from(cell.is_some()));
        known.extend(cell);
    }
    column
        .typed::<T>()
        .write_batch(&known, Some(&levels), None)
        .map(drop)
}

fn text(value: &Value) -> Option<ByteArray> {
    match value {
        Value::Text(text) => Some(text.as_str().into()),
        _ => None,
    }
}

fn number(value: &Value) -> Option<f64> {
    match value {
        Value::Number { value, .. } => Some(*value),
        _ => None,
    }
}

/// A count, or a moment in milliseconds since 1970.
fn whole(value: &Value) -> Option<i64> {
    match value {
        Value::Count(count) => i64::try_from(*count).ok(),
        Value::Time { at, .. } => Some((at.utc_s() * 1e3).round() as i64),
        _ => None,
    }
}

fn flag(value: &Value) -> Option<bool> {
    match value {
        Value::Flag(flag) => Some(*flag),
        _ => None,
    }
}
