//! Gain, noise, tones, triggers.

use super::*;
use crate::pulse::{Doubt, DoubtCount, Verdict};

/// A sound night with something done to every recording, by its share of the night.
fn night_with(change: impl Fn(f64, &mut Content)) -> Vec<Content> {
    let mut contents = sound_night();
    let last = (contents.len() - 1) as f64;
    for (number, own) in contents.iter_mut().enumerate() {
        change(number as f64 / last, own);
    }
    contents
}

fn bats(own: &Content) -> bool {
    own.verdict == Verdict::HoldsPulses
}

#[test]
fn clipped_calls_are_judged_by_their_share() {
    let clipped = |share: f64| {
        let mut left = 0.0;
        let mut contents = sound_night();
        for own in contents.iter_mut().filter(|own| bats(own)) {
            left += share;
            if left >= 1.0 {
                left -= 1.0;
                own.clipped_pulses = 4;
            }
        }
        told(CheckKind::Clipping, contents)
    };
    assert_eq!(clipped(0.05).verdict, Fine);
    assert_eq!(clipped(0.2).verdict, Look);
    assert_told(&clipped(0.5), Trouble, "in 39 of 79 recordings (49 %)");
}

#[test]
fn calls_that_hardly_stand_above_the_noise_are_noticed() {
    let best = |db: f64| {
        told(
            CheckKind::FaintCalls,
            night_with(|_, own| own.best_snr_db = bats(own).then_some(db)),
        )
    };
    assert_eq!(best(30.0).verdict, Fine);
    assert_told(&best(16.0), Look, "16 dB above the noise");
    assert_eq!(best(12.0).verdict, Trouble);
    let mut few = sound_night();
    few.truncate(6);
    assert_eq!(told(CheckKind::FaintCalls, few).verdict, Unknown);
}

#[test]
fn calls_that_reach_the_top_ask_for_a_higher_rate() {
    let reaching = |khz: f64| {
        told(
            CheckKind::SamplingRate,
            night_with(|_, own| {
                own.rate_hz = 192_000.0;
                own.highest_khz = bats(own).then_some(khz);
            }),
        )
    };
    assert_eq!(reaching(80.0).verdict, Fine);
    assert_told(&reaching(94.0), Trouble, "holds up to 96 kHz");
}

#[test]
fn noise_that_rises_or_falls_is_told_apart_from_rain() {
    let rising = |db: f32| {
        told(
            CheckKind::NoiseDrift,
            night_with(|share, own| {
                own.noise_db
                    .iter_mut()
                    .for_each(|band| *band += db * share as f32);
            }),
        )
    };
    assert_eq!(rising(3.0).verdict, Fine);
    assert_eq!(rising(10.0).verdict, Look);
    assert_told(&rising(20.0), Trouble, "It rose by 15 dB");
    assert_told(&rising(-16.0), Look, "It fell by 12 dB");
    // A shower in the last quarter, with three recordings in four.
    let mut number = 0;
    let mut shower = sound_night();
    let from = shower.len() * 3 / 4;
    for own in &mut shower[from..] {
        number += 1;
        if number % 4 != 0 {
            own.noise_db = vec![-50.0; 19];
            own.doubts = vec![DoubtCount {
                doubt: Doubt::Click,
                sounds: 200,
            }];
        }
    }
    assert_eq!(told(CheckKind::NoiseDrift, shower).verdict, Fine);
}

#[test]
fn high_bands_that_fade_are_told_apart_from_low_ones_that_rise() {
    let fading = |low_db: f32, high_db: f32| {
        told(
            CheckKind::HighFrequencies,
            night_with(|share, own| {
                let (low, high) = own.noise_db.split_at_mut(5);
                low.iter_mut()
                    .for_each(|band| *band += low_db * share as f32);
                high.iter_mut()
                    .for_each(|band| *band += high_db * share as f32);
            }),
        )
    };
    assert_eq!(fading(0.0, -2.0).verdict, Fine);
    assert_eq!(fading(0.0, -8.0).verdict, Look);
    assert_eq!(fading(0.0, -16.0).verdict, Trouble);
    assert_eq!(fading(16.0, 0.0).verdict, Fine);
    assert_eq!(fading(-16.0, -16.0).verdict, Fine);
    let low_rate = night_with(|_, own| {
        own.rate_hz = 96_000.0;
        own.noise_db.truncate(4);
    });
    assert_eq!(told(CheckKind::HighFrequencies, low_rate).verdict, Unknown);
}

#[test]
fn a_tone_in_many_recordings_is_electronics() {
    let tone = |every: usize| {
        let mut contents = sound_night();
        for (number, own) in contents
            .iter_mut()
            .enumerate()
            .filter(|(number, _)| number % every == 0)
        {
            own.tones_khz = vec![50.0 + 0.2 * (number % 3) as f64, 90.0 + number as f64];
        }
        told(CheckKind::ConstantTones, contents)
    };
    let check = tone(2);
    assert_told(&check, Look, "A tone of 50.2 kHz in ");
    assert_eq!(check.evidence.len(), 1);
    assert_eq!(tone(4).verdict, Fine);
}

#[test]
fn what_set_it_off_is_told_in_shares() {
    let insects = |every: usize, number: usize| {
        let mut contents = Vec::new();
        for at_file in 0..number {
            let when = at(at_file as f64 * 470.0 / number as f64 + (at_file * 7 % 5) as f64 * 0.2);
            let doubts = vec![
                DoubtCount {
                    doubt: Doubt::Faint,
                    sounds: 90,
                },
                DoubtCount {
                    doubt: Doubt::InsectLike,
                    sounds: 40,
                },
                DoubtCount {
                    doubt: Doubt::Click,
                    sounds: 3,
                },
            ];
            contents.push(if at_file % every == 0 {
                with_pass(&when)
            } else {
                Content {
                    doubts,
                    ..content(&when)
                }
            });
        }
        told(CheckKind::Triggers, contents)
    };
    assert_eq!(insects(2, 300).verdict, Fine);
    let check = insects(10, 300);
    assert_told(
        &check,
        Look,
        "300 recordings: bats 30 (10 %), insects 270 (90 %)",
    );
    assert!(check.advice.contains("high-pass"));
    assert_eq!(insects(100, 300).verdict, Trouble);
}

#[test]
fn a_trigger_that_cannot_let_go_is_noticed() {
    assert_told(
        &told(CheckKind::FullLength, every(5.0, 0.0, 60.0)),
        Look,
        "(100 %) have the full length of 5.0 s",
    );
    assert_eq!(
        told(CheckKind::FullLength, every(20.0, 0.0, 60.0)).verdict,
        Fine
    );
    let bats = every(5.0, 0.0, 60.0)
        .into_iter()
        .map(|own| with_pass(&own.start.unwrap().local));
    assert_eq!(told(CheckKind::FullLength, bats.collect()).verdict, Fine);
}
