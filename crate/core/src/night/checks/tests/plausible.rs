//! Nights as they are, without a fault: activity that peaks at dusk and dawn or fades in the cold, bouts of passes,
//! showers, insects of the evening. The check must not cry without need.

use rand::rngs::ChaCha8Rng;
use rand::{RngExt, SeedableRng};

use super::words::ratio;
use super::*;
use crate::pulse::{Doubt, DoubtCount};

const NIGHTS: u64 = 200;

/// A night of so many bouts of activity, whose recorder waits for sounds.
fn plausible(seed: u64) -> Vec<Content> {
    let mut random = ChaCha8Rng::seed_from_u64(seed);
    let mut draw = move |low: f64, high: f64| low + (high - low) * random.random::<f64>();
    // From a lane that bats rarely use to a roost.
    let per_hour = 10.0_f64.powf(draw(0.0, 1.8));
    let (dusk, dawn) = (draw(1.0, 6.0), draw(0.0, 4.0));
    // In a cold night activity halves every so many minutes.
    let half_min = if draw(0.0, 1.0) < 0.3 {
        draw(30.0, 120.0)
    } else {
        1e9
    };
    let share_of_bats = draw(0.3, 1.0);
    let shower_min = draw(-200.0, 440.0);
    let mut minutes = draw(15.0, 45.0);
    let mut contents = Vec::new();
    while minutes < 470.0 {
        let peaks = 1.0
            + dusk * (-((minutes - 60.0) / 40.0).powi(2)).exp()
            + dawn * (-((minutes - 430.0) / 30.0).powi(2)).exp();
        let cold = 0.5_f64.powf(minutes / half_min).max(0.02);
        let showers = (minutes - shower_min).abs() < 20.0;
        let bout = if draw(0.0, 1.0) < 0.3 {
            draw(2.0, 12.0) as u32
        } else {
            1
        };
        for _ in 0..bout {
            let when = at(minutes);
            contents.push(if !showers && draw(0.0, 1.0) < share_of_bats {
                let best_snr_db = Some(12.0 + 30.0 * draw(0.0, 1.0));
                Content {
                    best_snr_db,
                    clipped_pulses: u32::from(draw(0.0, 1.0) < 0.04),
                    ..with_pass(&when)
                }
            } else {
                let doubts = vec![DoubtCount {
                    doubt: Doubt::Click,
                    sounds: draw(0.0, 60.0) as usize,
                }];
                Content {
                    doubts,
                    ..content(&when)
                }
            });
            if let Some(own) = contents.last_mut() {
                let fade_db = 4.0 * minutes / 480.0;
                own.noise_db
                    .iter_mut()
                    .for_each(|db| *db += draw(-2.0, 2.0) as f32 - fade_db as f32);
            }
            minutes += draw(0.1, 0.8);
        }
        let rate = if showers {
            200.0
        } else {
            per_hour * peaks * cold / 3.0
        };
        minutes += -60.0 / rate * draw(1e-9, 1.0).ln();
    }
    contents
}

fn told_of(contents: Vec<Content>) -> Vec<Check> {
    let night = night(contents, &timed());
    checks(&night, &night.frame())
}

fn number_of(told: &[Vec<Check>], kind: CheckKind, worst: CheckVerdict) -> usize {
    let is_it = |check: &Check| check.kind == kind && check.verdict <= worst;
    told.iter()
        .filter(|checks| checks.iter().any(is_it))
        .count()
}

/// Three in ten of them fade in the cold, and may leave the second half of the night without a file.
#[test]
fn plausible_nights_draw_no_trouble_and_few_looks() {
    let nights = (0..NIGHTS)
        .map(plausible)
        .filter(|contents| !contents.is_empty());
    let told: Vec<Vec<Check>> = nights.map(told_of).collect();
    for checks in &told {
        assert!(checks[0].verdict > Trouble, "{:#?}", checks[0]);
    }
    let looks = |kind| number_of(&told, kind, Look);
    assert!(looks(CheckKind::RecordedHours) < told.len() / 5);
    assert!(looks(CheckKind::SilentGaps) < told.len() / 10);
    assert!(looks(CheckKind::Clipping) < told.len() / 20);
    for kind in [
        CheckKind::NoiseDrift,
        CheckKind::HighFrequencies,
        CheckKind::FaintCalls,
        CheckKind::FullLength,
        CheckKind::ClockJumps,
    ] {
        assert_eq!(looks(kind), 0, "{kind:?}");
    }
}

/// The same nights, with a recorder that gave up after 2 to 5 of 8 hours, or stood still for two hours in between.
#[test]
fn a_recorder_that_gives_up_in_a_night_with_some_activity_is_noticed() {
    let starts = |own: &Content| own.start.as_ref().unwrap().local.clone();
    let busy = || {
        (0..NIGHTS)
            .map(plausible)
            .filter(|own| own.len() >= 100)
            .enumerate()
    };
    let stopped = busy().map(|(number, mut contents)| {
        let stop = at(120.0 + 20.0 * (number % 10) as f64);
        contents.retain(|own| starts(own) < stop);
        told_of(contents)
    });
    let stopped: Vec<Vec<Check>> = stopped.collect();
    let paused = busy().map(|(number, mut contents)| {
        let from = 90.0 + 20.0 * (number % 10) as f64;
        contents.retain(|own| starts(own) < at(from) || starts(own) > at(from + 120.0));
        told_of(contents)
    });
    let paused: Vec<Vec<Check>> = paused.collect();
    let share = |told: &[Vec<Check>], kind, worst| ratio(number_of(told, kind, worst), told.len());
    assert!(share(&stopped, CheckKind::RecordedHours, Look) > 0.85);
    assert!(share(&paused, CheckKind::SilentGaps, Look) > 0.65);
}
