//! Bands around the pulses of the sample recordings, as a person would mark them, against what was found
//! automatically, and the truth of the synthesiser.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use std::fs;

use dusklens_core::pulse::hand::{Band, HandRequest, measure_by_hand};
use dusklens_core::pulse::{Pulse, Settings, measure};
use dusklens_core::recording::{OpenOptions, Recording};
use dusklens_core::teach::SampleTruth;
use dusklens_tests::samples::folder;

/// Room that a person leaves around a pulse.
const ROOM_S: f64 = 1e-3;
const ROOM_KHZ: f64 = 2.5;
/// Differences that may remain: a person sees none of them.
const TIME_S: f64 = 5e-6;
const FREQUENCY_KHZ: f64 = 0.01;
const LEVEL_DB: f64 = 0.01;
/// Share of all pulses that must come out the same. Where two sounds lie on one another the louder is measured.
const SAME: f64 = 0.97;

fn around(pulse: &Pulse) -> HandRequest {
    HandRequest {
        band: Band {
            start_s: pulse.start_s - ROOM_S,
            end_s: pulse.end_s + ROOM_S,
            low_khz: pulse.low_khz - ROOM_KHZ,
            high_khz: pulse.high_khz + ROOM_KHZ,
        },
        pulse_start_s: None,
        start_s: None,
        end_s: None,
        points: Vec::new(),
    }
}

fn is_same(hand: &Pulse, automatic: &Pulse) -> bool {
    let near = |a: f64, b: f64, tolerance: f64| (a - b).abs() <= tolerance;
    near(hand.start_s, automatic.start_s, TIME_S)
        && near(hand.end_s, automatic.end_s, TIME_S)
        && near(hand.peak_khz, automatic.peak_khz, FREQUENCY_KHZ)
        && near(hand.high_khz, automatic.high_khz, FREQUENCY_KHZ)
        && near(hand.low_khz, automatic.low_khz, FREQUENCY_KHZ)
        && near(
            hand.characteristic_khz,
            automatic.characteristic_khz,
            FREQUENCY_KHZ,
        )
        && near(hand.level_db, automatic.level_db, LEVEL_DB)
        && near(hand.snr_db, automatic.snr_db, LEVEL_DB)
        && hand.shape == automatic.shape
}

#[test]
fn bands_around_the_pulses_of_the_samples_give_their_numbers_and_the_truth() {
    let (mut all, mut same, mut true_levels) = (0, 0, 0);
    let mut others = Vec::new();
    for entry in fs::read_dir(folder()).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|extension| extension != "wav") {
            continue;
        }
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        let recording = Recording::open(fs::read(&path).unwrap(), &OpenOptions::default()).unwrap();
        let settings = Settings::default();
        let truth = fs::read_to_string(path.with_extension("truth.json")).unwrap();
        let truth: SampleTruth = serde_json::from_str(&truth).unwrap();
        for automatic in measure(&recording, 0, &settings).unwrap().pulses {
            let hand = measure_by_hand(&recording, 0, &around(&automatic), &settings).unwrap();
            all += 1;
            match hand.pulse {
                Some(pulse) if is_same(&pulse, &automatic) => {
                    same += 1;
                    let middle_s = (pulse.start_s + pulse.end_s) / 2.0;
                    let near = |t: &&dusklens_core::teach::TruePulse| {
                        (t.start_s..t.end_s).contains(&middle_s)
                    };
                    let meant = truth.pulses.iter().find(near);
                    true_levels +=
                        i32::from(meant.is_some_and(|t| (t.end_s - pulse.end_s).abs() < 1e-3));
                }
                other => others.push((name.clone(), automatic.start_s, other.map(|p| p.start_s))),
            }
        }
    }
    assert!(all > 150, "{all} pulses in all samples");
    assert!(
        f64::from(same) >= SAME * f64::from(all),
        "{same} of {all}: {others:?}"
    );
    assert!(
        f64::from(true_levels) > 0.9 * f64::from(same),
        "{true_levels} of {same} end where they truly do"
    );
}
