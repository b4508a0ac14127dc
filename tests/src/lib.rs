//! Shared helpers of the cross-room checks.

pub mod call_links;
pub mod contours;
pub mod limit;
pub mod night;
pub mod pictures;
pub mod samples;
pub mod truth;
