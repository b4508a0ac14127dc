//! A night as Darwin Core: events and occurrences, in the terms of the standard (TDWG, <https://dwc.tdwg.org/terms/>), with
//! the `meta.xml` that makes an archive of them (Darwin Core text guide, <https://dwc.tdwg.org/text/>).
//!
//! - A night of a recorder is an event, with its effort. Each recording is an event below it.
//! - An occurrence is what a person's label says of a recording; where nobody labelled it and it holds bat pulses, or where
//!   a person found a bat in it, it is an occurrence of the order Chiroptera, and says who judged.
//! - A name is only what a person wrote. How sure it is stands in every row.
//! - An absence is never stated: that no pulse was found is no proof that no bat was there. What was watched stands in the
//!   events, so that whoever reads them can tell a silent night from one without a recorder.
//! - No number of individuals is given. The quantity is passes, which measure activity.
//! - Identifiers are made of the content's hash and the label's id: handed in again, they are the same.

mod event;
mod meta;
mod name;
mod occurrence;
mod place;

pub use event::events;
pub use meta::meta_xml;
pub use occurrence::occurrences;
pub(in crate::night) use place::ROUNDED_DECIMALS;
pub use place::{PlaceSharing, Sharing};

use super::super::card::{Night, NightFile};
use super::super::decisions::Decisions;
use super::super::moment::Moment;

/// The events of several nights as text.
#[must_use]
pub fn event_csv(nights: &[Night], sharing: Sharing) -> String {
    super::csv(nights.iter().map(|night| events(night, sharing)))
}

/// The occurrences of several nights as text.
#[must_use]
pub fn occurrence_csv(nights: &[Night], decisions: &Decisions) -> String {
    super::csv(nights.iter().map(|night| occurrences(night, decisions)))
}

/// What an event of a night is known by.
fn night_id(night: &Night) -> String {
    format!("night:{}:{}", night.key.evening, night.key.recorder)
}

/// What the event of a recording is known by.
fn recording_id(own: &NightFile) -> String {
    format!("recording:sha256:{}", own.file.examined.sha256)
}

/// An interval of ISO 8601.
fn interval(from: Moment, to: Moment, utc_offset_min: i32) -> String {
    format!("{}/{}", from.iso(utc_offset_min), to.iso(utc_offset_min))
}

/// The name of a file without its folders.
fn file_name(own: &NightFile) -> String {
    let path = &own.file.path;
    path.rsplit('/').next().unwrap_or(path).to_owned()
}

#[cfg(test)]
mod tests;
