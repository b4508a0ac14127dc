//! Labels and reviews from a keep file of the page.

use std::fs;
use std::path::Path;

use dusklens_core::night::{Decisions, Review};
use dusklens_core::recording::Label;
use serde::Deserialize;

use super::Stop;

/// What the first field of every keep file says, and the newest version that is understood.
const FORMAT: &str = "dusklens keep file";
const VERSION: u64 = 1;

#[derive(Deserialize)]
struct KeepFile {
    format: String,
    version: u64,
    recordings: Vec<Recording>,
}

#[derive(Deserialize)]
struct Recording {
    hash: String,
    remarks: Remarks,
}

/// Lists that are not known here are left out.
#[derive(Deserialize)]
struct Remarks {
    #[serde(default)]
    labels: Vec<Label>,
    #[serde(default)]
    reviews: Vec<Review>,
}

/// What people decided, as the file has it.
pub(super) fn read(path: &Path) -> Result<Decisions, Stop> {
    let shown = path.display();
    let text = fs::read_to_string(path)
        .map_err(|error| Stop::Disk(format!("{shown}: the labels could not be read: {error}")))?;
    let file: KeepFile = serde_json::from_str(&text).map_err(|error| {
        Stop::Usage(format!(
            "{shown}: this is no keep file of the page: {error}"
        ))
    })?;
    if file.format != FORMAT {
        return Err(Stop::Usage(format!(
            "{shown}: this is no keep file of the page"
        )));
    }
    if file.version > VERSION {
        return Err(Stop::Usage(format!(
            "{shown}: this keep file was written by a newer version than this one"
        )));
    }
    let mut decisions = Decisions::default();
    for Recording { hash, remarks } in file.recordings {
        if let Some(last) = remarks.reviews.into_iter().next_back() {
            decisions.reviews.insert(hash.clone(), last);
        }
        if !remarks.labels.is_empty() {
            decisions.labels.insert(hash, remarks.labels);
        }
    }
    Ok(decisions)
}
