//! Nothing that is put out is louder than the ceiling, whatever went in.

use proptest::collection::vec;
use proptest::prelude::{Just, ProptestConfig, Strategy, any, prop_assert, prop_oneof, proptest};

use super::super::gain::AutomaticGain;
use super::super::limiter::Limiter;
use super::super::{CEILING, CEILING_DB};
use super::*;

/// Samples as no sound has them: what is not a number, infinite, enormous, tiny, squares at full scale.
fn any_samples() -> impl Strategy<Value = Vec<f32>> {
    let run = (any::<f32>(), 1usize..400).prop_map(|(value, count)| vec![value; count]);
    let square = (1usize..40, 0.0..2.0f32).prop_map(|(half, height)| {
        (0..400)
            .map(|n| if n / half % 2 == 0 { height } else { -height })
            .collect()
    });
    let noise = vec(-4.0..4.0f32, 400);
    let odd = prop_oneof![
        Just(f32::NAN),
        Just(f32::INFINITY),
        Just(f32::NEG_INFINITY),
        Just(f32::MAX),
        Just(f32::MIN_POSITIVE)
    ];
    let part = prop_oneof![run, square, noise, vec(odd, 1..20)];
    vec(part, 1..12).prop_map(|parts| parts.concat())
}

#[test]
fn the_ceiling_is_what_it_says() {
    let db = 20.0 * CEILING.log10();
    assert!(db <= CEILING_DB && db > CEILING_DB - 0.01, "{db}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn the_limiter_holds_the_ceiling(samples in any_samples(), output_hz in 8_000u32..192_000) {
        let mut out = samples;
        Limiter::new(f64::from(output_hz)).run(&mut out);
        prop_assert!(out.iter().all(|sample| sample.abs() <= CEILING));
    }

    #[test]
    fn nothing_heard_is_above_the_ceiling(
        samples in any_samples(),
        method in prop_oneof![
            (2.0..32.0f64).prop_map(expansion), (1.0..190.0f64).prop_map(heterodyne), (2.0..32.0f64).prop_map(division)
        ],
        automatic_gain: bool,
        high_pass: bool,
    ) {
        let settings = ListeningSettings {
            automatic_gain,
            high_pass_khz: high_pass.then_some(8.0),
            ..settings(method, samples.len() as f64 / RATE_HZ)
        };
        let sound = heard_in(&samples, &settings, 1000);
        prop_assert!(!sound.is_empty());
        prop_assert!(sound.iter().all(|sample| sample.abs() <= CEILING));
    }
}

#[test]
fn the_limiter_leaves_alone_what_is_below() {
    let quiet: Vec<f32> = (0..5000)
        .map(|n| 0.5 * (f64::from(n) * 0.3).sin() as f32)
        .collect();
    let mut limiter = Limiter::new(48_000.0);
    let mut out = quiet.clone();
    limiter.run(&mut out);
    let late = limiter.delay();
    for (a, b) in quiet.iter().zip(&out[late..]) {
        assert!((a - b).abs() < 1e-6);
    }
}

#[test]
fn the_limiter_bends_no_wave() {
    // A tone at full scale comes out as a tone at the ceiling: harmonics of a mere clipping are 20 dB down.
    let mut out: Vec<f32> = (0..48_000)
        .map(|n| (TAU * 1000.0 * f64::from(n) / 48_000.0).sin() as f32)
        .collect();
    Limiter::new(48_000.0).run(&mut out);
    let (frequency_hz, level_db, others_db) = loudest(&out);
    assert!((frequency_hz - 1000.0).abs() < 0.1);
    assert!((level_db - CEILING_DB).abs() < 0.2, "{level_db}");
    assert!(others_db < level_db - 60.0, "{others_db}");
}

/// Level of the last half second of a tone that was given the automatic gain for so long, decibels.
fn settled_db(amplitude: f32, seconds: usize) -> f32 {
    let sine = |n: usize| amplitude * (TAU * 1000.0 * n as f64 / 48_000.0).sin() as f32;
    let mut out: Vec<f32> = (0..48_000 * seconds).map(sine).collect();
    AutomaticGain::new(48_000.0).run(&mut out);
    let last = &out[out.len() - 24_000..];
    20.0 * last.iter().fold(0.0, |a: f32, b| a.max(b.abs())).log10()
}

#[test]
fn automatic_gain_is_slow_and_bounded() {
    // Brought to -14 dB, from 20 dB below that, at 10 dB a second.
    assert!(
        (settled_db(0.02, 5) + 14.0).abs() < 0.1,
        "{}",
        settled_db(0.02, 5)
    );
    assert!(
        (settled_db(0.02, 1) + 24.0).abs() < 0.5,
        "{}",
        settled_db(0.02, 1)
    );
    assert!(
        (settled_db(0.9, 3) + 12.9).abs() < 0.2,
        "{}",
        settled_db(0.9, 3)
    );
    // -80 dB is brought up by 36 dB and no more.
    assert!(
        (settled_db(1e-4, 8) + 44.0).abs() < 0.1,
        "{}",
        settled_db(1e-4, 8)
    );
}
