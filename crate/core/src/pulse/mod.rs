//! Levels -> [`Pulse`]: find, trace, measure, and group into sequences.

pub mod table;
mod types;

pub use types::{Contour, Flag, Harmonic, Pulse, Shape};
