//! The report as one static page: a single HTML file without scripts.
//!
//! A [`Section`] holds paragraphs, figures and tables; `sections` makes them from what was
//! measured. A further table is a function there that returns a [`Table`].

mod drawn;
mod html;
mod limits;
mod model;
mod pictures;
mod plot;
mod sections;
mod whole;
mod worst;

pub use model::{Axis, Figure, Line, Picture, Section, Series, Table};

use super::draw::Set;
use super::run::{Job, Outcome};
use super::tally::Tally;
use crate::contours::Cell;
use crate::limit::trial;

/// Everything that the page tells of.
#[derive(Debug, Clone, Copy)]
pub struct Input<'a> {
    /// The draw.
    pub set: Set,
    /// What was drawn.
    pub jobs: &'a [Job],
    /// What came out of each.
    pub outcomes: &'a [Outcome],
    /// All of it added up.
    pub tally: &'a Tally,
    /// Ideal pulses beside their bounds; empty where it was not asked for.
    pub limit: &'a [trial::Line],
    /// Contour estimators compared; empty where it was not asked for.
    pub contours: &'a [Cell],
}

/// The page as the text of an HTML file.
///
/// # Errors
/// Fails where a plot cannot be drawn.
pub fn page(input: &Input) -> Result<String, Box<dyn std::error::Error + Send + Sync>> {
    html::document(input, &sections::all(input)?)
}

#[cfg(test)]
mod tests;
