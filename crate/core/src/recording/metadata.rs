//! All metadata chunks -> one set of [`Facts`].

use super::chunks::{Chunk, Walk};
use super::expansion::{FACTORS, Stated};
use super::facts::{Facts, Field, Identification, Notice, Place, StampOrigin};
use super::guano::Guano;
use super::labels::{self, LABELS};
use super::text::number;
use super::{ReadError, Source, bext, guano, info, read, stamp};

/// A chunk of metadata longer than this is refused; a long one has 10 kB.
const MAX_BYTES: u64 = 16 << 20;

/// What the metadata chunks say. The facts about the samples are filled in later.
#[derive(Debug)]
pub(super) struct Metadata {
    pub(super) facts: Facts,
    pub(super) expansion: Stated,
}

impl Metadata {
    /// Reads every metadata chunk. Where two say the same thing, GUANO wins over
    /// `bext`, and `bext` over `INFO`.
    pub(super) fn read(
        source: &impl Source,
        walk: &Walk,
        notices: &mut Vec<Notice>,
    ) -> Result<Self, ReadError> {
        let mut metadata = Self {
            facts: Facts::default(),
            expansion: Stated::default(),
        };
        if let Some(chunk) = walk.first(b"guan")
            && let Some(body) = body(source, chunk, notices)?
        {
            let mut guano = guano::parse(&body, chunk.body);
            metadata.take_guano(&mut guano, chunk.body);
            notices.append(&mut guano.notices);
            metadata.facts.other = guano.fields;
        }
        if let Some(chunk) = walk.first(b"bext")
            && let Some(body) = body(source, chunk, notices)?
        {
            metadata.take_bext(bext::parse(&body));
        }
        for chunk in walk
            .chunks
            .iter()
            .filter(|chunk| &chunk.id == b"LIST")
            .take(4)
        {
            if let Some(body) = body(source, *chunk, notices)? {
                metadata.take_info(info::parse(&body));
            }
        }
        Ok(metadata)
    }

    fn take_guano(&mut self, guano: &mut Guano, at: u64) {
        let facts = &mut self.facts;
        facts.make = text(guano, "Make");
        facts.model = text(guano, "Model");
        facts.serial = text(guano, "Serial");
        facts.firmware = text(guano, "Firmware Version");
        // The two characters `\n` stand for a line break, in this field only.
        facts.note = text(guano, "Note").map(|note| note.replace("\\n", "\n"));
        let mut take = |key: &str, within: std::ops::RangeInclusive<f64>| {
            typed(guano, at, key, |value| {
                number(value).filter(|value| within.contains(value))
            })
        };
        facts.temperature_c = take("Temperature Ext", -100.0..=100.0);
        facts.temperature_inside_c = take("Temperature Int", -100.0..=150.0);
        facts.humidity_percent = take("Humidity", 0.0..=100.0);
        facts.high_pass_khz = take("Filter HP", 0.0..=1000.0);
        facts.low_pass_khz = take("Filter LP", 0.0..=1000.0);
        self.expansion = Stated {
            factor: take("TE", FACTORS),
            rate_hz: take("Samplerate", 1.0..=1e9),
            could_say: true,
        };
        let elevation_m = take("Loc Elevation", -500.0..=10_000.0);
        let accuracy_m = take("Loc Accuracy", 0.0..=1e7);
        facts.place = typed(guano, at, "Loc Position", position).map(|place| Place {
            elevation_m,
            accuracy_m,
            ..place
        });
        facts.start = typed(guano, at, "Timestamp", |value| {
            stamp::parse(value, StampOrigin::Guano)
        });
        for (key, by_person) in [("Species Manual ID", true), ("Species Auto ID", false)] {
            let names = list(guano, key).into_iter();
            facts
                .identifications
                .extend(names.map(|name| Identification { name, by_person }));
        }
        facts.tags = list(guano, "Tags");
        facts.labels = typed(guano, at, LABELS, labels::read).unwrap_or_default();
    }

    fn take_bext(&mut self, bext: bext::Bext) {
        let used = self.facts.start.is_none() && bext.start.is_some();
        if used {
            self.facts.start = bext.start;
        }
        let moment = ["bext|OriginationDate", "bext|OriginationTime"];
        let kept = bext
            .fields
            .into_iter()
            .filter(|f| !used || !moment.contains(&f.key.as_str()));
        self.facts.other.extend(kept);
    }

    fn take_info(&mut self, fields: Vec<Field>) {
        for field in fields {
            match field.key.as_str() {
                "INFO|ICMT" if self.facts.note.is_none() => self.facts.note = Some(field.value),
                "INFO|ICRD" if self.facts.start.is_none() => {
                    self.facts.start = stamp::parse(&field.value, StampOrigin::Info);
                    if self.facts.start.is_none() {
                        self.facts.other.push(field);
                    }
                }
                _ => self.facts.other.push(field),
            }
        }
    }
}

/// A chunk's bytes; none, with a notice, where there are absurdly many.
fn body(
    source: &impl Source,
    chunk: Chunk,
    notices: &mut Vec<Notice>,
) -> Result<Option<Vec<u8>>, ReadError> {
    if chunk.present > MAX_BYTES {
        notices.push(Notice {
            text: format!(
                "The metadata chunk `{}` has {} MiB, more than any recorder writes; it was not read.",
                chunk.id.escape_ascii(),
                chunk.present >> 20,
            ),
            byte: Some(chunk.body),
        });
        return Ok(None);
    }
    let mut bytes = vec![0; chunk.present as usize];
    read(source, chunk.body, &mut bytes)?;
    Ok(Some(bytes))
}

fn text(guano: &mut Guano, key: &str) -> Option<String> {
    guano.take(key).filter(|value| !value.is_empty())
}

/// Takes a field out if its value can be understood; else leaves it among the others
/// and says so.
fn typed<T>(
    guano: &mut Guano,
    at: u64,
    key: &str,
    parse: impl FnOnce(&str) -> Option<T>,
) -> Option<T> {
    let value = &guano.fields.iter().find(|field| field.key == key)?.value;
    if value.is_empty() {
        return None;
    }
    let parsed = parse(value);
    if parsed.is_some() {
        guano.take(key);
    } else {
        let value: String = value.chars().take(60).collect();
        guano.notices.push(Notice {
            text: format!(
                "The metadata state `{key}: {value}`, which cannot be right; it was left aside."
            ),
            byte: Some(at),
        });
    }
    parsed
}

fn list(guano: &mut Guano, key: &str) -> Vec<String> {
    let value = guano.take(key).unwrap_or_default();
    let items = value
        .split(',')
        .map(str::trim)
        .filter(|item| !item.is_empty());
    items.map(str::to_owned).collect()
}

/// Latitude and longitude. Recorders without a fix write `0 0`, which lies in the sea.
fn position(value: &str) -> Option<Place> {
    let mut numbers = value
        .split([' ', ',', '\t'])
        .filter(|part| !part.is_empty());
    let latitude_deg: f64 = numbers.next()?.parse().ok()?;
    let longitude_deg: f64 = numbers.next()?.parse().ok()?;
    let real = numbers.next().is_none()
        && (-90.0..=90.0).contains(&latitude_deg)
        && (-180.0..=180.0).contains(&longitude_deg)
        && (latitude_deg, longitude_deg) != (0.0, 0.0);
    real.then_some(Place {
        latitude_deg,
        longitude_deg,
        elevation_m: None,
        accuracy_m: None,
    })
}
