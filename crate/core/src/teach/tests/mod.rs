//! Checks of the synthesiser itself against closed forms and numeric integrals.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test that cannot go on should stop"
)]

mod backgrounds;
mod files;
mod laws;
mod scenes;

use super::{Bend, Call, Envelope, Law, Placed, Scene, Segment};
use crate::pulse::Shape;

fn segment(from_khz: f64, to_khz: f64, duration_ms: f64, bend: Bend) -> Segment {
    Segment {
        from_khz,
        to_khz,
        duration_ms,
        bend,
    }
}

/// A call of one segment under a plain raised-cosine envelope, without harmonics.
fn call(segment: Segment, rise_ms: f64, fall_ms: f64) -> Call {
    Call {
        shape: Shape::Fm,
        law: Law::new([segment]),
        envelope: Envelope {
            rise_ms,
            fall_ms,
            peak_at: 0.5,
            droop_db: 0.0,
        },
        harmonics: vec![],
        way: None,
    }
}

fn placed(call: Call, onset_s: f64, level_db: f64) -> Placed {
    Placed {
        call,
        onset_s,
        level_db,
        animal: 1,
        echoes: vec![],
    }
}

fn scene(calls: Vec<Placed>) -> Scene {
    Scene {
        rate_hz: 384_000,
        duration_s: 0.1,
        seed: 1,
        calls,
        backgrounds: vec![],
    }
}
