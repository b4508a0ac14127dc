//! Echoes, harmonics and other animals: what is a pulse of its own and what is not.

use super::*;
use crate::teach::{Echo, Tone, Wind};

/// A sweep as bats call it at search: 70 to 40 kHz in 5 ms.
fn search_call() -> Call {
    bent(70.0, 40.0, 5.0, 1.2)
}

/// Ten of them every 90 ms or so, in an uneven rhythm.
fn flight() -> Vec<Placed> {
    (0..10)
        .map(|n| {
            let onset_s = 0.05 + 0.09 * f64::from(n) + 0.004 * f64::from(n * n % 7);
            at(onset_s, -15.0, search_call())
        })
        .collect()
}

fn with_echo(delay_ms: f64, loss_db: f64) -> Vec<Pulse> {
    let mut calls = flight();
    for placed in &mut calls {
        placed.echoes = vec![Echo {
            delay_ms,
            loss_db,
            corner_khz: 120.0,
        }];
    }
    heard(&scene(RATE_HZ, 1.1, HISS_DB, calls))
}

/// The pulses are those of the flight, at their own starts and of their own length.
#[track_caller]
fn assert_flight_alone(pulses: &[Pulse], tolerance_ms: f64) {
    let plain = heard(&scene(RATE_HZ, 1.1, HISS_DB, flight()));
    assert_eq!(plain.len(), 10);
    assert_eq!(pulses.len(), 10, "{:?}", outline(pulses));
    for (pulse, plain) in pulses.iter().zip(&plain) {
        near("start", pulse.start_s, plain.start_s, tolerance_ms * 1e-3);
        near(
            "duration",
            pulse.duration_ms,
            plain.duration_ms,
            tolerance_ms,
        );
    }
}

#[test]
fn echo_that_overlaps_its_call_is_no_pulse_and_does_not_lengthen_it() {
    assert_flight_alone(&with_echo(2.5, 12.0), 0.3);
}

#[test]
fn echo_close_after_its_call_is_no_pulse() {
    assert_flight_alone(&with_echo(12.0, 14.0), 0.1);
}

#[test]
fn far_echoes_of_constant_delay_are_no_pulses() {
    assert_flight_alone(&with_echo(38.0, 9.0), 0.1);
}

#[test]
fn fainter_second_animal_of_another_rhythm_is_kept() {
    let mut calls = flight();
    for n in 0..10 {
        // Always within an echo's reach after the first one's, but never twice as far.
        let onset_s = calls[n].onset_s + 0.026 + 0.0017 * n as f64;
        let second = straight(71.0, 41.0, 5.0, 1.2);
        calls.push(at(onset_s, -21.0, second));
    }
    let pulses = heard(&scene(RATE_HZ, 1.2, HISS_DB, calls));
    assert_eq!(pulses.len(), 20, "{:?}", outline(&pulses));
}

/// A call of 35 to 25 kHz with a second harmonic of a level re the fundamental.
fn with_second_harmonic(relative_db: f64) -> Vec<Pulse> {
    let mut call = straight(35.0, 25.0, 6.0, 1.5);
    call.harmonics = vec![Harmonic {
        multiple: 2,
        relative_db,
    }];
    let calls = [0.05, 0.15, 0.25].map(|onset_s| at(onset_s, -20.0, call.clone()));
    heard(&scene(RATE_HZ, 0.35, HISS_DB, calls.to_vec()))
}

#[test]
fn second_harmonic_is_listed_with_its_level_and_no_pulse_of_its_own() {
    for relative_db in [-25.0, -12.0, -3.0, 6.0, 15.0] {
        let pulses = with_second_harmonic(relative_db);
        assert_eq!(pulses.len(), 3, "{relative_db} dB: {:?}", outline(&pulses));
        for pulse in pulses {
            let second = pulse.harmonics.iter().find(|h| h.multiple == 2);
            near("harmonic", second.unwrap().relative_db, relative_db, 1.5);
            assert_eq!(pulse.harmonics[0].multiple, 1);
            assert_eq!(pulse.harmonics[0].relative_db, 0.0);
            assert!(pulse.harmonics.iter().all(|h| h.multiple <= 2));
        }
    }
}

#[test]
fn louder_second_harmonic_gives_the_contour_of_the_fundamental() {
    for pulse in with_second_harmonic(12.0) {
        let middle = f64::from(pulse.contour.khz[pulse.contour.khz.len() / 2]);
        near("contour", middle, 30.0, 0.3);
        assert!(pulse.low_khz > 24.0 && pulse.high_khz < 36.0, "{pulse:?}");
        assert!((50.0..70.0).contains(&pulse.peak_khz), "{}", pulse.peak_khz);
        // Both together: 12 dB over the fundamental, and that itself besides.
        let joint_db = 10.0 * (1.0 + 10f64.powf(1.2)).log10();
        near("level", pulse.level_db, -20.0 + joint_db, 0.3);
    }
}

#[test]
fn pulse_without_harmonics_lists_the_fundamental_alone() {
    let calls = vec![at(0.1, -20.0, search_call()), at(0.2, -20.0, search_call())];
    for pulse in heard(&scene(RATE_HZ, 0.3, HISS_DB, calls)) {
        assert_eq!(pulse.harmonics.len(), 1);
    }
}

#[test]
fn animals_that_call_at_once_at_other_frequencies_are_two_pulses() {
    let mut calls = flight();
    for placed in flight() {
        let second = bent(26.0, 22.0, 6.0, 1.5);
        calls.push(at(placed.onset_s, -18.0, second));
    }
    let pulses = heard(&scene(RATE_HZ, 1.1, HISS_DB, calls));
    assert_eq!(pulses.len(), 20, "{:?}", outline(&pulses));
    let sequences: std::collections::BTreeSet<_> = pulses.iter().map(|p| p.sequence).collect();
    assert_eq!(sequences.len(), 2, "{sequences:?}");
}

#[test]
fn calls_that_fill_most_of_the_time_are_no_constant_tone() {
    // 40 ms in every 55: a tone that lasts would be taken out before measuring.
    // One of two is a millisecond late, or it were clockwork.
    let onset_s = |n: i32| 0.02 + 0.055 * f64::from(n) + 1e-3 * f64::from(n % 2);
    let onsets: Vec<f64> = (0..16).map(onset_s).collect();
    let calls = onsets
        .iter()
        .map(|&onset_s| at(onset_s, -20.0, straight(83.0, 83.0, 40.0, 2.0)));
    let pulses = heard(&scene(RATE_HZ, 0.95, HISS_DB, calls.collect()));
    assert_eq!(pulses.len(), onsets.len(), "{:?}", outline(&pulses));
}

/// Measures eight equal calls over something that sounds all the time; all must be found.
fn eight_over(background: Background, level_db: f64, call: Call) -> Vec<Pulse> {
    let calls = (0..8).map(|n| at(0.05 + 0.1 * f64::from(n), level_db, call.clone()));
    let mut scene = scene(RATE_HZ, 0.9, HISS_DB, calls.collect());
    scene.backgrounds.push(background);
    let pulses = heard(&scene);
    assert_eq!(pulses.len(), 8, "{:?}", outline(&pulses));
    pulses
}

#[test]
fn calls_are_found_over_a_constant_tone_that_they_cross() {
    let tone = Background::Tone(Tone::steady(60.3, -26.0));
    for pulse in eight_over(tone, -30.0, straight(80.0, 40.0, 5.0, 1.0)) {
        near("start", pulse.start_khz, 77.0, 2.0);
        near("end", pulse.end_khz, 43.0, 2.0);
        near("duration", pulse.duration_ms, 4.2, 0.5);
    }
}

#[test]
fn calls_are_found_over_strong_wind() {
    let wind = Background::Wind(Wind {
        rms_db: -15.0,
        corner_hz: 300.0,
        gust_s: 0.5,
    });
    eight_over(wind, -40.0, straight(60.0, 35.0, 5.0, 1.0));
}
