//! What lies between an animal and a recorder.

mod air;

pub use air::Air;
