//! Frequencies and levels against theory.

use proptest::prelude::{ProptestConfig, prop_assert, proptest};

use super::*;

/// Amplitude of the tones: below the limiter's ceiling.
const AMPLITUDE: f64 = 0.25;
const AMPLITUDE_DB: f32 = -12.041;

/// Asserts that a sound is one tone, with nothing beside it above `rest_db` below it.
fn assert_tone(sound: &[f32], frequency_hz: f64, rest_db: f32, what: &str) {
    let (got_hz, level_db, others_db) = loudest(sound);
    let bin_hz = f64::from(OUTPUT_HZ) / sound.len().min(1 << 13) as f64;
    assert!(
        (got_hz - frequency_hz).abs() < 0.1 * bin_hz,
        "{what}: {got_hz:.2} Hz for {frequency_hz:.2}"
    );
    assert!(
        (level_db - AMPLITUDE_DB).abs() < 0.1,
        "{what}: {level_db:.3} dB"
    );
    assert!(
        others_db < level_db - rest_db,
        "{what}: something at {others_db:.1} dB beside {level_db:.1} dB"
    );
}

#[test]
fn a_tone_expanded_is_the_same_tone_lower() {
    for (khz, factor) in [
        (45.0, 10.0),
        (110.0, 10.0),
        (20.0, 2.0),
        (80.0, 4.5),
        (50.0, 7.3),
        (150.0, 32.0),
    ] {
        let sound = heard(&tone(khz, AMPLITUDE, 1.0), expansion(factor));
        assert_tone(
            &sound,
            khz * 1e3 / factor,
            80.0,
            &format!("{khz} kHz by {factor}"),
        );
    }
}

#[test]
fn what_would_still_be_too_high_is_not_folded_down() {
    // 60 kHz at half speed is 30 kHz, above what 48 kHz hold; folded it would be heard at 18 kHz.
    for khz in [48.0, 60.0, 90.0, 150.0] {
        let (_, level_db, _) = loudest(&heard(&tone(khz, AMPLITUDE, 0.5), expansion(2.0)));
        assert!(level_db < AMPLITUDE_DB - 60.0, "{khz} kHz: {level_db} dB");
    }
}

#[test]
fn a_heterodyne_is_the_difference_on_either_side() {
    for (khz, tuning_khz) in [
        (47.0, 45.0),
        (43.0, 45.0),
        (45.5, 45.0),
        (24.0, 20.0),
        (118.0, 120.0),
    ] {
        let sound = heard(&tone(khz, AMPLITUDE, 1.0), heterodyne(tuning_khz));
        let difference_hz = f64::abs(khz - tuning_khz) * 1e3;
        assert_tone(
            &sound,
            difference_hz,
            70.0,
            &format!("{khz} kHz tuned to {tuning_khz}"),
        );
    }
}

#[test]
fn a_heterodyne_hears_its_band_and_nothing_else() {
    let level = |khz: f64| loudest(&heard(&tone(khz, AMPLITUDE, 0.5), heterodyne(45.0))).1;
    // Half the amplitude at the edge.
    for edge in [40.0, 50.0] {
        assert!(
            (level(edge) - AMPLITUDE_DB + 6.02).abs() < 0.2,
            "{edge}: {}",
            level(edge)
        );
    }
    for inside in [40.75, 41.5, 49.25] {
        assert!(
            (level(inside) - AMPLITUDE_DB).abs() < 0.1,
            "{inside}: {}",
            level(inside)
        );
    }
    for outside in [15.0, 39.0, 39.25, 50.75, 55.0, 90.0, 140.0] {
        assert!(
            level(outside) < AMPLITUDE_DB - 50.0,
            "{outside}: {}",
            level(outside)
        );
    }
}

#[test]
fn a_divided_tone_has_its_amplitude_and_a_part_of_its_frequency() {
    for (khz, factor) in [
        (45.0, 10.0),
        (110.0, 10.0),
        (25.0, 4.0),
        (33.0, 7.5),
        (100.0, 16.0),
        (45.0, 2.5),
    ] {
        let sound = heard(&tone(khz, AMPLITUDE, 1.0), division(factor));
        assert_tone(
            &sound,
            khz * 1e3 / factor,
            60.0,
            &format!("{khz} kHz by {factor}"),
        );
    }
}

#[test]
fn of_two_tones_division_follows_the_louder() {
    let louder = tone(40.0, 0.3, 0.5);
    let both: Vec<f32> = louder
        .iter()
        .zip(tone(60.0, 0.1, 0.5))
        .map(|(a, b)| a + b)
        .collect();
    let (frequency_hz, _, _) = loudest(&heard(&both, division(10.0)));
    assert!((frequency_hz - 4000.0).abs() < 1.0, "{frequency_hz}");
}

/// Instantaneous frequency of a sound, hertz, from its rising zero crossings, with their moments.
fn frequencies(sound: &[f32]) -> Vec<(f64, f64)> {
    let crossings: Vec<f64> = sound
        .windows(2)
        .enumerate()
        .filter(|(_, pair)| pair[0] < 0.0 && pair[1] >= 0.0)
        .map(|(n, pair)| {
            (n as f64 + f64::from(pair[0] / (pair[0] - pair[1]))) / f64::from(OUTPUT_HZ)
        })
        .collect();
    let between = |pair: &[f64]| ((pair[0] + pair[1]) / 2.0, 1.0 / (pair[1] - pair[0]));
    crossings.windows(2).map(between).collect()
}

#[test]
fn sweeps_are_followed() {
    // From 80 to 30 kHz in a second: slow enough that zero crossings tell the frequency.
    let law_khz = |s: f64| 80.0 - 50.0 * s;
    let phase = |s: f64| 80e3 * s - 25e3 * s * s;
    let sweep: Vec<f32> = (0..RATE_HZ as usize)
        .map(|n| (AMPLITUDE * (TAU * phase(n as f64 / RATE_HZ)).sin()) as f32)
        .collect();
    for (method, slowness, to_hz) in [
        (expansion(8.0), 8.0, 1e3 / 8.0),
        (division(8.0), 1.0, 1e3 / 8.0),
    ] {
        let followed = frequencies(&heard(&sweep, method));
        assert!(followed.len() > 1000);
        for (at_s, hz) in followed {
            let real_s = at_s / slowness;
            let wanted_hz = law_khz(real_s) * to_hz;
            let inside = (0.02..0.98).contains(&real_s);
            assert!(
                !inside || (hz / wanted_hz - 1.0).abs() < 0.01,
                "{method:?}: {hz} for {wanted_hz} at {real_s}"
            );
        }
    }
    // In the heterodyne it falls to the tuning at 0.5 s and rises again: the mirror of theory.
    let followed = frequencies(&heard(&sweep, heterodyne(55.0)));
    let mut seen = 0;
    for (at_s, hz) in followed {
        let wanted_hz = (law_khz(at_s) - 55.0).abs() * 1e3;
        if (500.0..4000.0).contains(&wanted_hz) {
            seen += 1;
            assert!(
                (hz / wanted_hz - 1.0).abs() < 0.1,
                "{hz} for {wanted_hz} at {at_s}"
            );
        }
    }
    assert!(seen > 200);
}

#[test]
fn tuning_anew_makes_no_click() {
    let samples = tone(45.0, AMPLITUDE, 1.0);
    let settings = settings(heterodyne(43.0), 1.0);
    let mut listening =
        Listening::new(&settings, RATE_HZ, samples.len() as u64, OUTPUT_HZ).unwrap();
    let (mut all, mut out) = (Vec::new(), Vec::new());
    while next(&mut listening, &samples, 2400, &mut out).is_some() {
        all.extend_from_slice(&out);
        match all.len() {
            12_000 => listening.tune(44.0),
            24_000 => listening.tune(42.0),
            _ => {}
        }
    }
    // No step between two samples is larger than the highest tone that there ever was has: 3 kHz.
    let steepest = AMPLITUDE * TAU * 3000.0 / f64::from(OUTPUT_HZ);
    for pair in all.windows(2) {
        assert!(f64::from((pair[1] - pair[0]).abs()) < 1.02 * steepest);
    }
    // And all three tones were heard.
    for (range, wanted_hz) in [
        (1000..11_000, 2000.0),
        (13_500..23_500, 1000.0),
        (26_000..47_000, 3000.0),
    ] {
        let (frequency_hz, level_db, _) = loudest(&all[range]);
        assert!(
            (frequency_hz - wanted_hz).abs() < 1.0,
            "{frequency_hz} for {wanted_hz}"
        );
        assert!((level_db - AMPLITUDE_DB).abs() < 0.1);
    }
}

#[test]
fn rumble_is_taken_out_and_calls_are_not() {
    let level = |khz: f64| {
        let with = ListeningSettings {
            high_pass_khz: Some(8.0),
            ..settings(expansion(10.0), 0.5)
        };
        loudest(&heard_in(&tone(khz, AMPLITUDE, 0.5), &with, 4800)).1 - AMPLITUDE_DB
    };
    // A Butterworth filter of the fourth order has 1 / (1 + (fe/f)^8) of the power; the bilinear transform
    // takes it a little further down at these frequencies.
    for khz in [2.0_f64, 4.0, 8.0, 12.0, 20.0, 100.0] {
        let theory_db = -10.0 * (1.0 + (8.0 / khz).powi(8)).log10();
        assert!(
            (f64::from(level(khz)) - theory_db).abs() < 0.3,
            "{khz}: {} for {theory_db}",
            level(khz)
        );
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Any tone by any factor: the frequency of theory, and the level.
    #[test]
    fn any_tone_by_any_factor(khz in 20.0..150.0f64, factor in 2.0..32.0f64) {
        let heard_hz = khz * 1e3 / factor;
        let sound = heard(&tone(khz, AMPLITUDE, 0.4), expansion(factor));
        let (got_hz, level_db, others_db) = loudest(&sound);
        if heard_hz < 20_500.0 {
            prop_assert!((got_hz - heard_hz).abs() < 0.5, "{got_hz} for {heard_hz}");
            prop_assert!((level_db - AMPLITUDE_DB).abs() < 0.1, "{level_db}");
            prop_assert!(others_db < level_db - 60.0, "{others_db}");
        } else if heard_hz > 24_000.0 {
            prop_assert!(level_db < AMPLITUDE_DB - 60.0);
        }
    }
}
