//! The worst cases, in words.

use super::model::Section;
use crate::truth::report::misses;
use crate::truth::run::Outcome;

/// Every pulse that was missed, far off, or none.
pub(super) fn section(outcomes: &[Outcome]) -> Section {
    Section {
        id: "worst",
        title: "The worst cases".into(),
        text: vec![
            "Every pulse that was missed from 10 dB signal-to-noise on, measured far off from 15 dB on, or is none. \
             The recording's name says which case it belongs to; `cargo xtask truth --only CASE --list-misses --save \
             FOLDER` writes it down to be looked at."
                .into(),
        ],
        list: outcomes.iter().flat_map(misses).collect(),
        ..Section::default()
    }
}
