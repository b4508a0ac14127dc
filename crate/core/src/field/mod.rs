//! What lies between an animal and a recorder, and what it goes by: the air, the sun.

mod air;
pub mod sun;

pub use air::Air;
