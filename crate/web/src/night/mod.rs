//! A card's files for the page: examined one by one in some workers, gathered in another.

mod book;
mod checking;
mod examining;
mod handing;
mod plotting;

pub use book::{
    GroupCount, LabelCount, NightBook, NightFacts, Overview, UnreadableFile, pattern_fault,
};
pub use checking::{CheckSoFar, DrawnFiles};
pub use examining::{ExaminedFile, ExaminingJob, examined_form};
pub use handing::{NightChecks, NightTable, PulseFile, pulses_header, rows_with_path};
pub use plotting::{NightPlots, PlotsOfNight};
