//! Shared helpers of the cross-room checks.

pub mod contours;
pub mod limit;
pub mod pictures;
pub mod samples;
pub mod truth;
