//! What people decided about files: labels, and what a check by ear or eye came to.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::content::Examined;
use crate::recording::Label;

/// What people decided about files, by the SHA-256 of their content.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Decisions {
    /// Labels, in the order in which they were made.
    #[cfg_attr(feature = "typescript", tsify(type = "Record<string, Label[]>"))]
    pub labels: BTreeMap<String, Vec<Label>>,
    /// What the last check of a file came to.
    #[cfg_attr(feature = "typescript", tsify(type = "Record<string, Review>"))]
    pub reviews: BTreeMap<String, Review>,
}

/// What somebody found who looked at a file, or listened to it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Review {
    /// What was found.
    pub verdict: ReviewVerdict,
    /// Who says so; may be empty.
    pub who: String,
    /// When: ISO 8601 with the distance from UTC.
    pub when: String,
}

/// What somebody found in a file. A person's judgement and no measurement.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(rename_all = "snake_case")]
pub enum ReviewVerdict {
    /// There is a bat in it.
    Bat,
    /// There is none that could be seen or heard.
    NoBat,
    /// It cannot be told.
    Unsure,
}

impl ReviewVerdict {
    /// The word, as it is serialised.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Bat => "bat",
            Self::NoBat => "no_bat",
            Self::Unsure => "unsure",
        }
    }
}

impl Decisions {
    /// The labels of a file: those that were made here, else those that it carries in its own metadata.
    #[must_use]
    pub fn labels_of<'a>(&'a self, examined: &'a Examined) -> &'a [Label] {
        let own = self.labels.get(&examined.sha256).map(Vec::as_slice);
        let carried = || {
            examined
                .content()
                .map_or(&[][..], |content| &content.labels)
        };
        own.filter(|labels| !labels.is_empty())
            .unwrap_or_else(carried)
    }
}
