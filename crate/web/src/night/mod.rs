//! A card's files for the page: examined one by one in some workers, gathered in another.

mod examining;

pub use examining::{ExaminedFile, ExaminingJob};
