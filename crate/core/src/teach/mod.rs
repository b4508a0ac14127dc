//! Synthetic recordings of bat-like calls whose truth is known.
//!
//! A [`Call`] is a frequency [`Law`] under an [`Envelope`] with harmonics; a
//! [`Scene`] places calls over [`Background`]s. Its samples come from
//! [`Scene::render`], what is true of each call from [`Scene::truth`], and the
//! bytes of a file from [`wav::encode`]. Everything random is seeded, and all
//! transcendental functions are computed in software, so that a scene gives the
//! same samples on every machine.

mod background;
mod call;
mod envelope;
mod flight;
mod hiss;
mod hump;
mod insects;
mod law;
pub mod night;
pub mod random;
mod sample;
mod scene;
mod shapes;
mod survey;
mod truth;
pub mod wav;
mod way;
mod weather;

#[cfg(test)]
mod tests;

pub use background::Background;
pub use call::Call;
pub use envelope::Envelope;
pub use flight::{Buzz, Flight, FlyPast, Passage};
pub use hiss::Hiss;
pub use insects::{Cricket, Rasp, Stridulation};
pub use law::{Bend, Law, Segment};
pub use sample::{Ending, Sample, SampleTruth};
pub use scene::{Echo, Placed, Scene};
pub use shapes::Plan;
pub use survey::larkwater_fen;
pub use truth::{Edges, TruePulse};
pub use way::Way;
pub use weather::{Bumps, Rain, Tone, Wind};
