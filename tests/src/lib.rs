//! Shared helpers of the cross-room checks.
