//! Levels -> [`Pulse`]: find, trace, measure, and group into sequences.
//!
//! # How
//! 0. `calm`: rumble and constant tones are taken out.
//! 1. `trace`: spectral peaks of every frame that stand above the noise floor
//!    are linked by continuity. A credible trace is a candidate.
//! 2. `ridge`: a narrow channel follows each candidate's own sweep and corrects
//!    itself, which gives its exact course (the contour), its envelope and,
//!    with `edges`, its beginning and end.
//!    `along` makes the first guess of the sweep, `deviation` the last word on it.
//! 3. `doubt` sets ridges apart that are probably no bat's. `call`: the others are
//!    sorted into calls with their harmonics; duplicates, the distortion of
//!    overloads (`rail`) and echoes (`echo`) drop out.
//! 4. `finish`: the numbers, with `channels`, `peak` and `shape`, and how well they
//!    are known (`uncertainty`, `calibration`).
//! 5. `findings`: `sequence` and `lanes` say which pulses one animal may have made,
//!    `rhythm` what their intervals tell, `doubt` what only shows among neighbours,
//!    and `summary` what all of it comes to.
//!
//! [`compare`] lays pulses that a person picked over one another.
//!
//! [`Measurer`] drives all of it, block by block.

pub mod about;
mod along;
mod calibration;
mod call;
mod calm;
mod channels;
pub mod compare;
mod definitions;
mod deviation;
mod doubt;
mod echo;
mod edges;
mod findings;
mod finish;
mod follow;
pub mod hand;
mod lanes;
mod line;
mod measurer;
mod noise;
pub(crate) mod order;
mod peak;
mod rail;
mod rhythm;
mod ridge;
mod sequence;
mod settings;
mod shape;
mod summary;
pub mod table;
mod trace;
mod types;
mod uncertainty;

pub use calibration::{Calibration, Scale};
pub use findings::Findings;
pub use measurer::{Measurer, measure};
pub use settings::Settings;
pub use summary::{Buzz, DoubtCount, SequenceFacts, Summary, Verdict};
pub use types::{Contour, Doubt, Flag, Harmonic, Pulse, Shape, Uncertainty};

/// Removes the items whose flag is set.
fn remove_flagged<T>(items: &mut Vec<T>, flags: Vec<bool>) {
    let mut flags = flags.into_iter();
    items.retain(|_| !flags.next().unwrap_or(false));
}

#[cfg(test)]
mod tests;
