//! Checks of planned nights: what a plan says, what each fault does to it, and what is heard.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test that cannot go on should stop"
)]

mod faults;
mod plans;
mod sounds;

use super::{Fault, NightOptions, NightPlan, PlannedRecording};

/// A night of recordings of up to so many seconds with one fault, or none.
fn night(files: usize, duration_s: f64, faults: &[Fault]) -> NightPlan {
    let options = NightOptions {
        files,
        duration_s,
        faults: faults.to_vec(),
        ..NightOptions::default()
    };
    NightPlan::new(&options).unwrap()
}

fn recordings(plan: &NightPlan) -> Vec<&PlannedRecording> {
    let recordings = plan.files.iter().filter_map(|file| file.recording());
    recordings.collect()
}
