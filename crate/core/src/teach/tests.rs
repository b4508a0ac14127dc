#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use super::*;
use crate::pulse::Shape;

fn plan() -> Plan {
    Plan {
        shape: Shape::FmQcf,
        start_khz: 76.0,
        flat_khz: 45.0,
        end_khz: 45.0,
        duration_ms: 5.6,
    }
}

#[test]
fn a_lone_call_over_hiss_has_the_truth_that_was_put_in() {
    let scene = Scene {
        rate_hz: 384_000,
        duration_s: 0.1,
        seed: 1,
        calls: vec![Placed {
            call: plan().call(),
            onset_s: 0.04,
            level_db: -20.0,
            animal: 1,
            echoes: vec![],
        }],
        backgrounds: vec![Background::Hiss(Hiss::white(-60.0))],
    };
    let samples = scene.render();
    let truth = scene.truth(&samples);
    println!("{:#?}", truth);
    assert_eq!(truth.len(), 1);
    assert!((truth[0].characteristic_khz - 45.0).abs() < 1.0);
}
