//! What is no bat is not reported, and what is one is.

use super::*;
use crate::teach::{Cricket, Rain, Rasp, Tone};

fn background(duration_s: f64, sound: Background) -> Scene {
    let mut scene = scene(RATE_HZ, duration_s, HISS_DB, Vec::new());
    scene.backgrounds.push(sound);
    scene
}

#[track_caller]
fn assert_silent(scene: &Scene) {
    let pulses = heard(scene);
    assert_eq!(outline(&pulses), []);
}

#[test]
fn hiss_alone_is_no_pulse() {
    assert_silent(&scene(RATE_HZ, 3.0, -40.0, Vec::new()));
}

#[test]
fn rain_is_no_pulse() {
    let rain = Rain {
        drops_per_s: 20.0,
        level_db: -6.0,
    };
    assert_silent(&background(2.0, Background::Rain(rain)));
}

#[test]
fn strikes_that_ring_at_a_resonance_are_no_pulses() {
    for resonance_khz in [22.0, 40.0] {
        let rasp = Rasp {
            resonance_khz,
            quality: 12.0,
            strikes: 12,
            strike_interval_ms: 4.0,
            syllable_interval_ms: 150.0,
            level_db: -15.0,
        };
        assert_silent(&background(1.5, Background::Rasp(rasp)));
    }
}

#[test]
fn tone_of_electronics_is_no_pulse() {
    assert_silent(&background(
        2.0,
        Background::Tone(Tone::steady(40.0, -30.0)),
    ));
}

#[test]
fn switching_a_tone_on_or_off_is_no_pulse() {
    // It clicks in the same moment, which can make a short trace of it.
    let tone = background(0.4, Background::Tone(Tone::steady(35.5, -20.0))).render();
    let hiss = scene(RATE_HZ, 0.4, HISS_DB, Vec::new()).render();
    for moment in (30_000..30_600).step_by(20) {
        for (first, then) in [(&hiss, &tone), (&tone, &hiss)] {
            let samples = [&first[..moment], &then[moment..]].concat();
            let pulses = measured(&samples, f64::from(RATE_HZ));
            assert!(pulses.is_empty(), "{moment}: {:?}", outline(&pulses));
        }
    }
}

#[test]
fn cricket_below_the_bats_is_no_pulse() {
    let cricket = Cricket {
        khz: 5.0,
        level_db: -12.0,
        sound_ms: 15.0,
        sounds: 3,
        chirp_interval_ms: 400.0,
    };
    assert_silent(&background(2.0, Background::Cricket(cricket)));
}

#[test]
fn lone_click_is_no_pulse() {
    // Less than a millisecond, and nothing like it before or after.
    let click = straight(60.0, 45.0, 0.9, 0.3);
    assert_silent(&scene(RATE_HZ, 0.5, HISS_DB, vec![at(0.25, -15.0, click)]));
}

#[test]
fn lone_loud_call_is_kept() {
    let call = straight(60.0, 40.0, 5.0, 1.0);
    let pulses = heard(&scene(RATE_HZ, 0.5, HISS_DB, vec![at(0.25, -15.0, call)]));
    assert_eq!(pulses.len(), 1);
    assert_eq!((pulses[0].sequence, pulses[0].interval_ms), (None, None));
}

#[test]
fn calls_in_rain_are_kept() {
    let rain = Rain {
        drops_per_s: 10.0,
        level_db: -20.0,
    };
    let mut scene = background(1.2, Background::Rain(rain));
    for n in 0..10 {
        let call = straight(60.0, 40.0, 5.0, 1.0);
        scene.calls.push(at(0.1 + 0.1 * f64::from(n), -10.0, call));
    }
    let pulses = heard(&scene);
    let near = |onset_s: f64| pulses.iter().any(|p| (p.start_s - onset_s).abs() < 1e-3);
    let found = scene.calls.iter().filter(|c| near(c.onset_s)).count();
    assert!(found >= 9, "only {found} of 10 kept");
}

#[test]
fn what_repeats_like_clockwork_is_doubted_and_what_scatters_is_not() {
    let tones = |scatter_s: f64| {
        let onset_s = |n: i32| 0.05 + 0.08 * f64::from(n) + scatter_s * f64::from(n * n % 5);
        let call = |n: i32| at(onset_s(n), -20.0, straight(41.0, 40.0, 12.0, 2.0));
        let scene = scene(RATE_HZ, 1.0, HISS_DB, (0..11).map(call).collect());
        all_heard(&scene)
    };
    let clockwork = tones(0.0);
    assert_eq!(outline(&clockwork.pulses), []);
    assert_eq!(clockwork.doubted.len(), 11);
    assert!(
        clockwork
            .doubted
            .iter()
            .all(|p| p.doubt == Some(Doubt::Electronics))
    );
    assert_eq!(clockwork.summary.verdict, Verdict::ProbablyNone);
    let animal = tones(1e-3);
    assert_eq!(animal.pulses.len(), 11);
    assert_eq!(animal.summary.verdict, Verdict::HoldsPulses);
}

#[test]
fn drops_are_listed_as_clicks_and_deleted_nowhere() {
    let rain = Rain {
        drops_per_s: 20.0,
        level_db: -6.0,
    };
    let found = all_heard(&background(2.0, Background::Rain(rain)));
    let clicks = found
        .doubted
        .iter()
        .filter(|p| p.doubt == Some(Doubt::Click))
        .count();
    // Most of 40 drops; the faintest and those close to others are not seen apart.
    assert!(clicks >= 20, "{clicks} clicks");
    assert_eq!(found.summary.verdict, Verdict::ProbablyNone);
    let counted: usize = found.summary.doubts.iter().map(|count| count.sounds).sum();
    assert_eq!(counted, found.doubted.len());
}

#[test]
fn a_constant_tone_is_named_with_its_frequency() {
    let tone = Background::Tone(Tone::steady(37.5, -30.0));
    let tones = all_heard(&background(2.0, tone)).summary.tones_khz;
    assert_eq!(tones.len(), 1, "{tones:?}");
    near("tone", tones[0], 37.5, 0.05);
}

#[test]
fn one_faint_pulse_leaves_unsure_and_silence_says_none() {
    let call = straight(60.0, 40.0, 5.0, 1.0);
    let one = all_heard(&scene(RATE_HZ, 0.5, HISS_DB, vec![at(0.25, -15.0, call)]));
    assert_eq!(one.summary.verdict, Verdict::Unsure);
    let none = all_heard(&scene(RATE_HZ, 0.5, HISS_DB, Vec::new()));
    assert_eq!(none.summary.verdict, Verdict::ProbablyNone);
}

#[test]
fn buzz_of_five_millisecond_intervals_is_kept_whole_in_one_sequence() {
    // No clockwork: one of two is a tenth of a millisecond late.
    let onset_s = |n: i32| 0.1 + 5e-3 * f64::from(n) + 1e-4 * f64::from(n % 2);
    let buzz = |n: i32| at(onset_s(n), -15.0, bent(50.0, 24.0, 1.4, 0.4));
    let pulses = heard(&scene(RATE_HZ, 0.4, HISS_DB, (0..30).map(buzz).collect()));
    assert_eq!(pulses.len(), 30, "{:?}", outline(&pulses));
    for (n, pulse) in pulses.iter().enumerate() {
        assert_eq!(pulse.sequence, Some(1));
        match pulse.interval_ms {
            Some(interval_ms) => near("interval", interval_ms, 5.0, 0.2),
            None => assert_eq!(n, 0),
        }
    }
}
