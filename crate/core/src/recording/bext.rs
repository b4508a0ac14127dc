//! The broadcast extension chunk, EBU Tech 3285 version 2.

use super::facts::{Field, Stamp, StampOrigin};
use super::stamp;
use super::text::fixed_text;

/// Bytes before the coding history.
const FIXED: usize = 602;

/// What is used of the chunk.
#[derive(Debug, Default, PartialEq)]
pub(super) struct Bext {
    pub(super) start: Option<Stamp>,
    pub(super) fields: Vec<Field>,
}

/// Reads as many of its fields as there are bytes for.
pub(super) fn parse(body: &[u8]) -> Bext {
    let text = |from: usize, length: usize| {
        let end = body.len().min(from + length);
        fixed_text(body.get(from..end).unwrap_or_default())
    };
    let (date, time) = (text(320, 10), text(330, 8));
    // The chunk has no place for a zone or an offset.
    let start = stamp::date(&date)
        .zip(stamp::time(&time))
        .map(|(date, time)| Stamp {
            local: format!("{date}T{time}"),
            utc_offset_min: None,
            origin: StampOrigin::Bext,
        });
    let fields = [
        ("Description", text(0, 256)),
        ("Originator", text(256, 32)),
        ("OriginatorReference", text(288, 32)),
        ("OriginationDate", date),
        ("OriginationTime", time),
        (
            "CodingHistory",
            text(FIXED, body.len().saturating_sub(FIXED)),
        ),
    ];
    let fields = fields
        .into_iter()
        .filter(|(_, value)| !value.is_empty())
        .map(|(key, value)| Field {
            key: format!("bext|{key}"),
            value,
        })
        .collect();
    Bext { start, fields }
}
