//! The worst cases, in words.

use std::error::Error;

use super::model::Section;
use super::pictures;
use crate::truth::draw::Set;
use crate::truth::report::misses;
use crate::truth::run::Outcome;

/// Every pulse that was missed, far off, or none, and pictures of three.
pub(super) fn section(
    set: Set,
    outcomes: &[Outcome],
) -> Result<Section, Box<dyn Error + Send + Sync>> {
    Ok(Section {
        pictures: pictures::pictures(set, outcomes)?,
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
    })
}
