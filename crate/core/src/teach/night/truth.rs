//! What is true of a night and of each of its files, from the plan and not by measuring.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::plan::NightPlan;
use super::{Crowd, Fault};

/// What a file holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    /// Bats that fly past.
    Passes,
    /// A call that stands alone.
    SingleCall,
    /// Rain, with some wind.
    Rain,
    /// Bush crickets.
    Insects,
    /// Wind.
    Wind,
    /// Nothing but the recorder's hiss.
    Hiss,
    /// A test by daylight: hands on the recorder.
    Handling,
    /// No recording, whatever its name says.
    NoRecording,
}

/// An animal that flies past within a file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TruePass {
    /// What its calls are like.
    pub crowd: Crowd,
    /// When its first call begins, seconds from the beginning of the file.
    pub start_s: f64,
    /// When its last call begins, seconds.
    pub end_s: f64,
    /// Calls, the buzz's among them.
    pub calls: u32,
    /// Peak frequency of the call that the animal repeats, kilohertz.
    pub peak_khz: f64,
    /// Level of its loudest call, decibels re full scale; above 0 it is clipped.
    pub level_db: f64,
    /// Power of its loudest call over that of the hiss within the call's own band, decibels.
    pub best_snr_db: f64,
    /// Whether it ends in a feeding buzz.
    pub buzz: bool,
}

/// What is true of one file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FileTruth {
    /// Path from the card's folder, with slashes.
    pub path: String,
    /// What it holds, as far as it reached the card.
    pub kind: Kind,
    /// When it started by the recorder's clock, as written in its name and its metadata.
    pub start: Option<String>,
    /// When it really started.
    pub true_start: Option<String>,
    /// Sampling rate, hertz; none for what is no recording.
    pub rate_hz: Option<u32>,
    /// Length of what reached the card, seconds.
    pub duration_s: f64,
    /// Whether there is any call in what reached the card.
    pub holds_bat: bool,
    /// The best of its calls' signal-to-noise ratios, decibels; none without a call.
    pub best_snr_db: Option<f64>,
    /// Animals that are heard at least twice, in the order of their numbers.
    pub passes: Vec<TruePass>,
    /// Feeding buzzes.
    pub buzzes: u32,
    /// Whether the loudest call is louder than full scale.
    pub clipped: bool,
    /// Faults of the night that this very file shows.
    pub faults: Vec<Fault>,
    /// The file whose bytes it holds too, for one that lies there twice.
    pub copy_of: Option<String>,
}

/// What is true of a night.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct NightTruth {
    /// Where it was.
    pub site: String,
    /// The recorder's serial.
    pub recorder: String,
    /// Latitude, degrees north.
    pub latitude_deg: f64,
    /// Longitude, degrees east.
    pub longitude_deg: f64,
    /// When the timer was to start the recorder.
    pub timer_start: String,
    /// When it was to stop it.
    pub timer_end: String,
    /// Sunset.
    pub sunset: String,
    /// Sunrise.
    pub sunrise: String,
    /// Every random choice follows from it.
    pub seed: u64,
    /// What was made to go wrong.
    pub faults: Vec<Fault>,
    /// How many files hold what.
    pub files_by_kind: BTreeMap<Kind, u32>,
    /// Files with at least one call.
    pub files_with_bats: u32,
    /// Passes in all files; a file that lies there twice counts once.
    pub passes: u32,
    /// Feeding buzzes in all files; a file that lies there twice counts once.
    pub buzzes: u32,
    /// Each file, in the order of the plan.
    pub files: Vec<FileTruth>,
}

impl NightPlan {
    /// Files that hold a call at least so many decibels above the hiss, copies left out.
    pub fn files_with_bats_above(&self, snr_db: f64) -> impl Iterator<Item = &FileTruth> {
        let files = self.truth.files.iter();
        files.filter(move |file| {
            file.copy_of.is_none() && file.best_snr_db.is_some_and(|best| best >= snr_db)
        })
    }
}
