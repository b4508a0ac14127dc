//! Shared helpers of the cross-room checks.

pub mod samples;
pub mod truth;
