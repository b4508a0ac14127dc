//! Samples -> something that a person can hear.
//!
//! What bats call lies above what people hear. Three ways of the trade bring it down:
//!
//! - **time expansion**: played slower by a factor, frequencies fall by the same factor, and every
//!   detail stays;
//! - **heterodyne**: mixed with a tone, the difference of both is heard, in real time, in a band of a
//!   few kilohertz on either side of the tone;
//! - **frequency division**: in real time, the phase of what is loudest runs slower by a factor.
//!
//! The way of a sample, where the rate changes only once:
//!
//! ```text
//! recording -> high pass -> shift or divide -> resample -> low pass -> gain -> limiter -> fades
//! ```
//!
//! A [`Listening`] is advanced in pieces and asks for the samples that it needs, so that memory does not
//! grow with the recording. Nothing that leaves it is louder than [`CEILING`], whatever went in: what
//! comes out goes into somebody's ears.

mod divide;
mod fade;
mod gain;
mod high_pass;
mod limiter;
mod listening;
mod low_pass;
mod note;
mod resample;
mod rounds;
mod settings;
mod shift;
mod wave_file;

#[cfg(test)]
mod tests;

pub use limiter::{CEILING, CEILING_DB};
pub use listening::{Listening, Piece};
pub use note::Origin;
pub use settings::{ListeningError, ListeningSettings, Method};
pub use wave_file::WaveFile;
