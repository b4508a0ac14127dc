//! Bands as a person marks them.

use super::*;
use proptest::prelude::*;

#[track_caller]
fn same_numbers(hand: &Pulse, automatic: &Pulse) {
    // The same samples, noise and course: differences are rounding alone.
    near("start", hand.start_s, automatic.start_s, 1e-9);
    near("end", hand.end_s, automatic.end_s, 1e-9);
    near("duration", hand.duration_ms, automatic.duration_ms, 1e-6);
    near("peak", hand.peak_khz, automatic.peak_khz, 1e-6);
    near("start", hand.start_khz, automatic.start_khz, 1e-6);
    near("end", hand.end_khz, automatic.end_khz, 1e-6);
    near("high", hand.high_khz, automatic.high_khz, 1e-6);
    near("low", hand.low_khz, automatic.low_khz, 1e-6);
    near(
        "characteristic",
        hand.characteristic_khz,
        automatic.characteristic_khz,
        1e-6,
    );
    near(
        "sweep",
        hand.sweep_khz_per_ms,
        automatic.sweep_khz_per_ms,
        1e-6,
    );
    near(
        "flattest",
        hand.flattest_khz_per_ms,
        automatic.flattest_khz_per_ms,
        1e-6,
    );
    near("level", hand.level_db, automatic.level_db, 1e-6);
    near("snr", hand.snr_db, automatic.snr_db, 1e-6);
    near("edge", hand.edge_db, automatic.edge_db, 1e-6);
    assert_eq!(hand.shape, automatic.shape);
    assert_eq!(hand.harmonics, automatic.harmonics);
}

#[test]
fn band_with_room_around_an_automatic_pulse_gives_its_numbers() {
    let scene = sweeps();
    let found = all_heard(&scene);
    assert_eq!(found.pulses.len(), 2);
    for automatic in &found.pulses {
        let hand = by_hand(&scene, &request(around(automatic)));
        same_numbers(hand.pulse.as_ref().unwrap(), automatic);
        assert_eq!(hand.notes, []);
        // The spectrum of the raw samples and that of the followed sound have their maximum in one place.
        near(
            "band's peak",
            hand.band_peak_khz.unwrap(),
            automatic.peak_khz,
            1.0,
        );
        assert!(hand.band_level_db < automatic.level_db && hand.band_over_noise_db > 20.0);
    }
}

#[test]
fn blocks_of_a_long_recording_are_those_of_the_automatic_measurement() {
    const SLOW_HZ: u32 = 128_000;
    let call = bent(40.0, 22.0, 6.0, 1.0);
    let calls: Vec<_> = (0..26)
        .map(|n| {
            at(
                0.3 + 0.5 * f64::from(n) + 0.013 * f64::from(n * n % 7),
                -14.0,
                call.clone(),
            )
        })
        .collect();
    let scene = scene(SLOW_HZ, 13.5, HISS_DB, calls);
    let samples = scene.render();
    let found = crate::pulse::tests::measured(&samples, f64::from(SLOW_HZ));
    assert_eq!(found.len(), 26);
    for automatic in &found {
        let hand = measured(&samples, f64::from(SLOW_HZ), &request(around(automatic))).unwrap();
        same_numbers(hand.pulse.as_ref().unwrap(), automatic);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, rng_seed: proptest::test_runner::RngSeed::Fixed(11), ..ProptestConfig::default() })]
    #[test]
    fn how_much_room_a_band_leaves_does_not_matter(
        before_ms in 0.2f64..20.0, after_ms in 0.2f64..20.0, below_khz in 0.5f64..15.0, above_khz in 0.5f64..15.0,
    ) {
        let scene = sweeps();
        let automatic = &all_heard(&scene).pulses[0];
        let band = Band {
            start_s: automatic.start_s - before_ms * 1e-3,
            end_s: automatic.end_s + after_ms * 1e-3,
            low_khz: automatic.low_khz - below_khz,
            high_khz: automatic.high_khz + above_khz,
        };
        let hand = by_hand(&scene, &request(band));
        same_numbers(hand.pulse.as_ref().unwrap(), automatic);
    }

    #[test]
    fn no_band_makes_it_panic(
        start_s in prop::num::f64::ANY, end_s in -1.0f64..2.0, low_khz in -10.0f64..200.0, high_khz in prop::num::f64::ANY,
        given in prop::option::of(prop::num::f64::ANY), point in prop::option::of((prop::num::f64::ANY, 0.0f64..128.0)),
    ) {
        let scene = sweeps();
        let points = point.map(|(time_s, khz)| ContourPoint { time_s, khz });
        let request = HandRequest {
            start_s: given,
            points: points.into_iter().collect(),
            ..request(Band { start_s, end_s, low_khz, high_khz })
        };
        if let Err(error) = measured(&scene.render(), f64::from(RATE_HZ), &request) {
            prop_assert!(!error.to_string().is_empty() && !error.advice().is_empty());
        }
    }
}

#[test]
fn band_over_a_faint_call_finds_what_the_automatic_measurement_leaves_out() {
    // Alone, faint and steep: doubted or not found.
    let call = straight(60.0, 45.0, 4.0, 0.8);
    let scene = scene(RATE_HZ, 0.3, HISS_DB, vec![at(0.15, -62.0, call)]);
    let found = all_heard(&scene);
    assert!(
        found.pulses.is_empty(),
        "loud enough for the automatic measurement"
    );
    let band = Band {
        start_s: 0.148,
        end_s: 0.156,
        low_khz: 42.0,
        high_khz: 63.0,
    };
    let pulse = by_hand(&scene, &request(band)).pulse.unwrap();
    near("start", pulse.start_s, 0.15, 1.2e-3);
    near("end", pulse.end_s, 0.154, 1.2e-3);
    near("level", pulse.level_db, -62.0, 2.5);
    near("sweep", pulse.sweep_khz_per_ms, -3.75, 1.2);
}

#[test]
fn band_over_hiss_says_that_nothing_stands_out_and_gives_what_there_is() {
    let scene = sweeps();
    let (mut said, mut all) = (0, 0);
    for n in 0..20 {
        let start_s = 0.22 + 0.007 * f64::from(n);
        let band = Band {
            start_s,
            end_s: start_s + 0.006,
            low_khz: 30.0,
            high_khz: 60.0,
        };
        let hand = by_hand(&scene, &request(band));
        all += 1;
        said += i32::from(hand.pulse.is_none() && hand.notes == [HandNote::NothingStandsOut]);
        assert!(
            hand.band_peak_khz
                .is_some_and(|khz| (30.0..60.0).contains(&khz))
        );
        // White noise of that power in 2.2 of 128 kHz, re half a sine's square; and the largest of some 180
        // exponentially distributed powers is on average ln 180 + 0.58 times their mean.
        let mean_db = HISS_DB + 10.0 * (2.2f64 / 128.0).log10() + 10.0 * 2f64.log10();
        let largest_db = 10.0 * (180f64.ln() + 0.58).log10();
        near("level", hand.band_level_db, mean_db + largest_db, 4.0);
    }
    // Chance may stand out of one band in twenty.
    assert!(said >= all - 2, "{said} of {all}");
}

#[test]
fn digital_silence_has_no_peak_and_says_so() {
    let silence = vec![0f32; 50_000];
    let band = Band {
        start_s: 0.05,
        end_s: 0.06,
        low_khz: 20.0,
        high_khz: 60.0,
    };
    let hand = measured(&silence, f64::from(RATE_HZ), &request(band)).unwrap();
    assert_eq!(hand.band_peak_khz, None);
    assert_eq!(hand.notes, [HandNote::NothingStandsOut]);
}

#[test]
fn band_that_cuts_a_pulse_measures_what_is_inside_and_says_so() {
    let scene = scene(
        RATE_HZ,
        0.3,
        HISS_DB,
        vec![at(0.1, -15.0, straight(60.0, 40.0, 10.0, 1.0))],
    );
    let band = Band {
        start_s: 0.103,
        end_s: 0.107,
        low_khz: 35.0,
        high_khz: 70.0,
    };
    let hand = by_hand(&scene, &request(band));
    let pulse = hand.pulse.unwrap();
    near("start", pulse.start_s, 0.103, 1e-9);
    near("end", pulse.end_s, 0.107, 1e-9);
    // 60 kHz less 2 kHz/ms.
    near("start", pulse.start_khz, 54.0, 0.2);
    near("end", pulse.end_khz, 46.0, 0.2);
    assert_eq!(
        hand.notes,
        [HandNote::BeginsBeforeBand, HandNote::EndsAfterBand]
    );
    assert_eq!(
        (pulse.uncertainty.start_ms, pulse.uncertainty.end_khz),
        (0.0, 0.0)
    );
    assert!(pulse.uncertainty.level_db > 0.0);

    let low = Band {
        start_s: 0.095,
        end_s: 0.115,
        low_khz: 30.0,
        high_khz: 50.0,
    };
    let hand = by_hand(&scene, &request(low));
    assert_eq!(hand.notes, [HandNote::LeavesFrequencies]);
    near("start", hand.pulse.unwrap().start_s, 0.105, 1e-4);
}

#[test]
fn of_two_sounds_the_louder_in_the_band_is_measured_or_the_one_that_is_asked_for() {
    let calls = vec![
        at(0.1, -12.0, straight(80.0, 60.0, 5.0, 1.0)),
        at(0.101, -30.0, straight(33.0, 27.0, 5.0, 1.0)),
    ];
    let scene = scene(RATE_HZ, 0.3, HISS_DB, calls);
    let band = Band {
        start_s: 0.098,
        end_s: 0.108,
        low_khz: 20.0,
        high_khz: 90.0,
    };
    let loud = by_hand(&scene, &request(band)).pulse.unwrap();
    assert!(loud.low_khz > 55.0);
    let asked = HandRequest {
        pulse_start_s: Some(0.1012),
        ..request(band)
    };
    assert!(by_hand(&scene, &asked).pulse.unwrap().high_khz < 45.0);
    let low = Band {
        high_khz: 50.0,
        ..band
    };
    assert!(by_hand(&scene, &request(low)).pulse.unwrap().high_khz < 45.0);
}

#[test]
fn bands_that_are_none_are_refused_in_words() {
    let good = Band {
        start_s: 0.1,
        end_s: 0.2,
        low_khz: 20.0,
        high_khz: 60.0,
    };
    let refused = |band: Band| {
        let error = band.within(1.0, 256_000.0).unwrap_err();
        assert!(!error.advice().is_empty());
        error.to_string()
    };
    for nan in [
        Band {
            start_s: f64::NAN,
            ..good
        },
        Band {
            high_khz: f64::INFINITY,
            ..good
        },
    ] {
        assert!(refused(nan).contains("four numbers"));
    }
    assert!(
        refused(Band {
            end_s: 0.05,
            ..good
        })
        .contains("not after its beginning")
    );
    assert!(refused(Band { end_s: 0.1, ..good }).contains("not after its beginning"));
    assert!(
        refused(Band {
            high_khz: 20.0,
            ..good
        })
        .contains("not above")
    );
    assert!(
        refused(Band {
            start_s: 1.0,
            end_s: 1.2,
            ..good
        })
        .contains("outside the recording")
    );
    assert!(
        refused(Band {
            start_s: -2.0,
            end_s: -1.0,
            ..good
        })
        .contains("outside the recording")
    );
    assert!(
        refused(Band {
            low_khz: 130.0,
            high_khz: 140.0,
            ..good
        })
        .contains("0 to 128.0 kHz")
    );
    let long = Band {
        start_s: 0.0,
        end_s: 9.0,
        ..good
    };
    assert!(
        long.within(20.0, 256_000.0)
            .unwrap_err()
            .to_string()
            .contains("at most 6 s")
    );
    // What reaches over the border is cut.
    let over = Band {
        start_s: -1.0,
        high_khz: 500.0,
        ..good
    };
    let (cut, is_cut) = over.within(1.0, 256_000.0).unwrap();
    assert!(is_cut && cut.start_s == 0.0 && cut.high_khz == 128.0);
}
