//! What is probably no bat: clicks of rain and twigs, strikes and trains of insects, wind, tones,
//! electronics. Nothing is deleted for it: such a sound is listed with its reason.

mod reconsider;
mod repeats;
mod sift;

pub(super) use reconsider::reconsider;
pub(super) use repeats::doubt_machines;
pub(super) use sift::{Sifted, is_too_low, sift};
