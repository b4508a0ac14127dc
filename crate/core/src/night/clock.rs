//! When a file was recorded, and who says so.

use serde::{Deserialize, Serialize};

use super::card::CardFile;
use super::file_names::NamePattern;
use super::moment::Moment;
use crate::recording::{Stamp, StampOrigin};

/// Who says when a file was recorded, the most trusted first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(rename_all = "snake_case")]
pub enum TimeOrigin {
    /// GUANO metadata.
    Guano,
    /// Broadcast extension chunk, EBU Tech 3285.
    Bext,
    /// RIFF `INFO` list.
    Info,
    /// Date and time in the file's name.
    FileName,
    /// The file's date in the folder: when it was last written to or copied. Weak.
    FileDate,
}

impl TimeOrigin {
    /// The word, as it is serialised.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Guano => "guano",
            Self::Bext => "bext",
            Self::Info => "info",
            Self::FileName => "file_name",
            Self::FileDate => "file_date",
        }
    }

    /// Whether it may well be something else than the time of recording.
    #[must_use]
    pub fn is_weak(self) -> bool {
        self == Self::FileDate
    }
}

/// How wrong a recorder's clock was: its time less the true one, seconds. Positive where it was fast.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct ClockError {
    /// When it was set up: at its first file.
    pub at_setup_s: f64,
    /// When it was collected: at its last file. None: as at set-up. Between both it is taken to drift evenly.
    pub at_collection_s: Option<f64>,
}

impl ClockError {
    /// What to take off a recorder's time that lies at a share, 0 to 1, of the way from its first to its last file.
    #[must_use]
    pub fn at(self, share: f64) -> f64 {
        let last = self.at_collection_s.unwrap_or(self.at_setup_s);
        self.at_setup_s + (last - self.at_setup_s) * share.clamp(0.0, 1.0)
    }
}

/// A file's place in time.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Placed {
    /// When its recording began, with the clock's error taken off.
    pub start: Moment,
    /// Who says so.
    pub origin: TimeOrigin,
    /// What it says itself, untouched.
    pub original: String,
}

/// How files are placed in time before their clock's error is known.
pub(super) struct Reader {
    patterns: Vec<NamePattern>,
    utc_offset_min: i32,
}

impl Reader {
    /// `pattern` is the person's own; where it cannot be read, or finds nothing in a name, the usual ones serve.
    pub(super) fn new(pattern: Option<&str>, utc_offset_min: i32) -> Self {
        let own = pattern.and_then(|text| NamePattern::parse(text).ok());
        Self {
            patterns: own.into_iter().chain(NamePattern::usual()).collect(),
            utc_offset_min,
        }
    }

    /// When a file was recorded by its own account; none where nobody says.
    pub(super) fn read(&self, file: &CardFile) -> Option<Placed> {
        let stamp = file.examined.content().and_then(|own| own.start.as_ref());
        stamp
            .and_then(|stamp| self.stamped(stamp))
            .or_else(|| self.named(&file.path))
            .or_else(|| self.dated(file))
    }

    fn stamped(&self, stamp: &Stamp) -> Option<Placed> {
        let offset_min = stamp.utc_offset_min.unwrap_or(self.utc_offset_min);
        let zone = stamp
            .utc_offset_min
            .map_or(String::new(), |_| zone(offset_min));
        Some(Placed {
            // A leap second is no time that calendars know.
            start: Moment::from_local(&stamp.local.replace(":60", ":59"), offset_min)?,
            origin: match stamp.origin {
                StampOrigin::Guano => TimeOrigin::Guano,
                StampOrigin::Bext => TimeOrigin::Bext,
                StampOrigin::Info => TimeOrigin::Info,
            },
            original: format!("{}{zone}", stamp.local),
        })
    }

    fn named(&self, path: &str) -> Option<Placed> {
        let local = self.patterns.iter().find_map(|one| one.find(path))?;
        Some(Placed {
            start: Moment::from_local(&local, self.utc_offset_min)?,
            origin: TimeOrigin::FileName,
            original: local,
        })
    }

    /// A file is dated when it was closed: its recording began as long before as it lasts.
    fn dated(&self, file: &CardFile) -> Option<Placed> {
        let written = Moment::from_utc_s(file.modified_ms? / 1e3);
        let lasts_s = file.examined.content().map_or(0.0, |own| own.duration_s);
        Some(Placed {
            start: written.plus_s(-lasts_s),
            origin: TimeOrigin::FileDate,
            original: written.iso(self.utc_offset_min),
        })
    }
}

fn zone(offset_min: i32) -> String {
    Moment::from_utc_s(0.0).iso(offset_min)[19..].to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_error_that_grows_is_taken_off_by_its_share() {
        let drifting = ClockError {
            at_setup_s: 10.0,
            at_collection_s: Some(-20.0),
        };
        assert_eq!(drifting.at(0.0), 10.0);
        assert_eq!(drifting.at(0.5), -5.0);
        assert_eq!(drifting.at(2.0), -20.0);
        let constant = ClockError {
            at_setup_s: 3600.0,
            at_collection_s: None,
        };
        assert_eq!(constant.at(0.7), 3600.0);
    }
}
