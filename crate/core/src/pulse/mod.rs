//! Levels -> [`Pulse`]: find, trace, measure, and group into sequences.

mod types;

pub use types::{Contour, Flag, Harmonic, Pulse, Shape};
