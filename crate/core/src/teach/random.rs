//! Fixed streams of random numbers.
//!
//! Everything random in a scene comes from ChaCha8 with the scene's seed and a
//! stream number of its own, so that adding a background does not change the
//! calls, and the same seed gives the same recording on every machine.

use rand::rngs::ChaCha8Rng;
use rand::{Rng, RngExt, SeedableRng};
use rand_distr::StandardNormal;

/// Which part of a scene a stream of random numbers is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stream {
    /// The choices that a draw of recordings makes.
    Draw,
    /// The sequence of an animal, by its number.
    Animal(u32),
    /// A background, by its place in the scene's list.
    Background(u32),
    /// A recording of a night, by its place in the order of time.
    File(u32),
    /// A fault of a night's recorder, by its place in the list of faults.
    Fault(u32),
}

/// The generator for one part of a scene.
pub fn stream(seed: u64, part: Stream) -> ChaCha8Rng {
    let mut random = ChaCha8Rng::seed_from_u64(seed);
    random.set_stream(match part {
        Stream::Draw => 0,
        Stream::Animal(number) => (1 << 32) | u64::from(number),
        Stream::Background(number) => (2 << 32) | u64::from(number),
        Stream::File(number) => (3 << 32) | u64::from(number),
        Stream::Fault(number) => (4 << 32) | u64::from(number),
    });
    random
}

/// A number from `low` to `high`, evenly.
pub fn between(random: &mut impl Rng, low: f64, high: f64) -> f64 {
    low + (high - low) * random.random::<f64>()
}

/// A number of zero mean and unit variance from the normal distribution.
pub fn normal(random: &mut impl Rng) -> f64 {
    random.sample(StandardNormal)
}

/// Time to the next of events that come at random, seconds.
pub fn waiting_s(random: &mut impl Rng, per_s: f64) -> f64 {
    -libm::log(1.0 - random.random::<f64>()) / per_s
}
