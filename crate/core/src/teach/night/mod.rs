//! An invented night of the Larkwater Fen survey: a card full of recordings, with its truth
//! and its faults.
//!
//! [`NightPlan::new`] decides everything, seeded and without a sample: when each recording
//! starts, what it holds, what is wrong with it, and what is true of it. It is cheap. The bytes
//! of one file at a time come from [`PlannedFile::render`]; the same plan gives the same bytes.
//!
//! Hiss, wind and insects are not made anew for every file, as that would take minutes of
//! processor time: a [`Renderer`] makes one long stretch of each, and a file takes two pieces of
//! it from places of its own, one of them played backwards (insects' forwards), each with a sign
//! and a share of its own. Both are the same noise and hardly ever meet themselves, so the sum has
//! the spectrum of the stretch, and no two files are alike. Calls and rain are made for each file.

mod activity;
mod block;
mod clock;
mod crowd;
mod fault;
mod filter;
mod leftovers;
mod plan;
mod recording;
mod render;
mod spoil;
mod truth;
mod truth_of;

#[cfg(test)]
mod tests;

pub use clock::{SUNRISE_S, SUNSET_S, TIMER_END_S, TIMER_START_S, UTC_OFFSET_MIN};
pub use crowd::{Animal, Crowd};
pub use fault::Fault;
pub use plan::{NightError, NightOptions, NightPlan};
pub use recording::{Content, Ending, PlannedFile, PlannedRecording, Sound};
pub use render::Renderer;
pub use truth::{FileTruth, Kind, NightTruth, TruePass};
