//! Many recordings -> nights: clock, activity, checks on the recorder, tables.
//!
//! ```text
//! file -> Examination -> Examined (a few kilobytes, known by the content's hash)
//! Examined + path + date of the file -> Card -> Night (one recorder, noon to noon, times put right)
//! Night -> activity, checks, tables, plots, report
//! ```
//!
//! [`Examination`] is the only part that touches samples. Everything after it works on what is left of a file, so that
//! a night of twenty thousand files can be looked at anew in the time that a settings dialogue is open.

mod activity;
pub mod audit;
mod card;
mod checks;
mod clock;
mod content;
mod crowds;
mod decisions;
mod examination;
mod file_names;
mod frame;
pub mod list;
mod moment;
pub mod plot;
pub mod report;
mod settings;
pub mod tables;

pub use activity::{Activity, Bin, Hour, PassMark, TemperatureMark, TemperatureRange, Totals};
pub use card::{Card, CardFile, Night, NightFile, NightKey, Unplaced};
pub use checks::{Check, CheckKind, CheckVerdict, checks};
pub use clock::{ClockError, Placed, TimeOrigin};
pub use content::{Content, Examined, FORM, Outcome, PassFacts};
pub use crowds::Crowd;
pub use decisions::{Decisions, Review, ReviewVerdict};
pub use examination::{Examination, ExamineOptions, Finished};
pub use file_names::{NamePattern, PatternError};
pub use frame::{Frame, Stretch, Twilight};
pub use moment::Moment;
pub use settings::{NightSettings, Position, Timer, TimerEdge};

#[cfg(test)]
mod tests;
