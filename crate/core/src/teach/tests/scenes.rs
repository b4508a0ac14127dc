use super::*;
use crate::field::Air;
use crate::pulse::{Flag, Harmonic};
use crate::teach::{Background, Buzz, Echo, Flight, FlyPast, Hiss, Passage, Plan, Way};

fn tone(khz: f64) -> Call {
    call(segment(khz, khz, 20.0, Bend::Straight), 2.0, 2.0)
}

#[test]
fn truth_of_a_tone_is_what_was_put_in() {
    let mut scene = scene(vec![placed(tone(83.0), 0.03, -20.0)]);
    scene.backgrounds.push(Background::Hiss(Hiss::white(-60.0)));
    let truth = scene.truth(&scene.render());
    let pulse = &truth[0];
    // A raised cosine of 2 ms is 20 dB down after 2 acos(0.8) / pi = 0.40967 ms.
    assert!((pulse.start_s - 0.030_409_67).abs() < 1e-8, "{pulse:?}");
    assert!((pulse.duration_ms - 19.180_67).abs() < 1e-4, "{pulse:?}");
    assert!((pulse.peak_khz - 83.0).abs() < 0.02);
    assert!((pulse.characteristic_khz - 83.0).abs() < 1e-9);
    assert_eq!((pulse.low_khz, pulse.high_khz), (83.0, 83.0));
    assert_eq!(pulse.level_db, -20.0);
    // Sine of -20 dB: -23.01 dB re a mean square of 1. Hiss of -60 dB over 192 kHz, of which
    // the pulse's band is 2 kHz: -60 - 19.82 dB. Difference 56.81 dB.
    assert!((pulse.snr_db.unwrap() - 56.81).abs() < 0.01, "{pulse:?}");
    assert!(pulse.flags.is_empty() && pulse.interval_ms.is_none());
}

#[test]
fn harmonics_count_into_level() {
    let mut loud = tone(30.0);
    loud.harmonics = vec![Harmonic {
        multiple: 2,
        relative_db: 0.0,
    }];
    let truth = scene(vec![placed(loud, 0.03, -20.0)]).truth(&[0.0; 38_400]);
    // Two equal parts: 10 lg 2 more.
    assert!((truth[0].level_db + 16.99).abs() < 0.01);
    assert_eq!(truth[0].harmonics.len(), 2);
}

#[test]
fn a_sweep_has_its_flattest_stretch_at_its_flat_end() {
    let call = Plan {
        shape: Shape::FmQcf,
        start_khz: 76.0,
        flat_khz: 45.0,
        end_khz: 45.0,
        duration_ms: 5.6,
    }
    .call();
    let truth = scene(vec![placed(call, 0.03, -20.0)]).truth(&[0.0; 38_400]);
    assert_eq!(truth[0].characteristic_khz, truth[0].end_khz);
    assert!(truth[0].flattest_khz_per_ms.abs() < 0.7);
    assert!((45.0..48.0).contains(&truth[0].peak_khz), "{:?}", truth[0]);
}

#[test]
fn a_constant_part_within_sweeps_gives_the_characteristic_frequency() {
    let call = Plan {
        shape: Shape::FmCfFm,
        start_khz: 98.0,
        flat_khz: 110.0,
        end_khz: 92.0,
        duration_ms: 40.0,
    }
    .call();
    let truth = scene(vec![placed(call, 0.03, -20.0)]).truth(&[0.0; 38_400]);
    assert!((truth[0].characteristic_khz - 110.0).abs() < 0.01);
    assert!((truth[0].peak_khz - 110.0).abs() < 0.02);
}

#[test]
fn clipped_cut_off_and_overlapping_pulses_are_flagged() {
    let scene = scene(vec![
        placed(tone(30.0), -0.005, -20.0),
        placed(tone(40.0), 0.03, 3.0),
        placed(tone(60.0), 0.06, -20.0),
        placed(
            call(segment(80.0, 40.0, 4.0, Bend::Straight), 0.5, 0.5),
            0.068,
            -20.0,
        ),
    ]);
    let samples = scene.render();
    let flags: Vec<Vec<Flag>> = scene.truth(&samples).into_iter().map(|p| p.flags).collect();
    assert_eq!(flags[0], [Flag::CutOff]);
    assert_eq!(flags[1], [Flag::Clipped]);
    assert_eq!(flags[2], [Flag::Overlapped]);
    assert_eq!(flags[3], [Flag::Overlapped]);
    assert!(samples.iter().all(|s| s.abs() <= 1.0));
}

#[test]
fn intervals_count_within_one_animal() {
    let mut calls: Vec<Placed> = [0.0, 0.01, 0.05, 0.08]
        .map(|onset| {
            placed(
                call(segment(40.0, 40.0, 3.0, Bend::Straight), 0.5, 0.5),
                onset,
                -20.0,
            )
        })
        .to_vec();
    calls[1].animal = 2;
    let intervals: Vec<Option<f64>> = scene(calls)
        .truth(&[0.0; 38_400])
        .iter()
        .map(|p| p.interval_ms)
        .collect();
    assert_eq!(intervals[..2], [None, None]);
    assert!((intervals[2].unwrap() - 50.0).abs() < 1e-9);
    assert!((intervals[3].unwrap() - 30.0).abs() < 1e-9);
}

#[test]
fn an_echo_is_a_later_fainter_copy_and_no_pulse() {
    let mut direct = placed(
        call(segment(40.0, 40.0, 3.0, Bend::Straight), 0.5, 0.5),
        0.01,
        -6.0,
    );
    direct.echoes = vec![Echo {
        delay_ms: 30.0,
        loss_db: 12.0,
        corner_khz: 400.0,
    }];
    let scene = scene(vec![direct]);
    let samples = scene.render();
    let top = |from: usize| {
        samples[from..from + 2000]
            .iter()
            .fold(0.0_f32, |a, s| a.max(s.abs()))
    };
    // 30 ms are 11 520 samples; 12 dB are a factor of 3.98.
    let ratio = top(3_840) / top(3_840 + 11_520);
    assert!((ratio - 3.98).abs() < 0.02, "{ratio}");
    assert_eq!(scene.truth(&samples).len(), 1);
}

fn flight(buzz: Option<Buzz>) -> Flight {
    Flight {
        animal: 1,
        call: call(segment(60.0, 40.0, 5.0, Bend::Hyperbolic), 1.0, 1.0),
        first_s: 0.0,
        last_s: 1.0,
        interval_ms: 90.0,
        jitter: 0.05,
        spread: (0.01, 0.05),
        past: FlyPast {
            nearest_db: -10.0,
            nearest_s: 0.5,
            passing_s: 0.2,
        },
        echoes: vec![],
        buzz,
        passage: None,
    }
}

#[test]
fn a_pass_gets_louder_then_fainter() {
    let calls = flight(None).calls(7);
    let levels: Vec<f64> = calls.iter().map(|c| c.level_db).collect();
    let nearest = levels
        .iter()
        .position(|&l| l == levels.iter().copied().fold(-99.0, f64::max))
        .unwrap();
    assert!((calls[nearest].onset_s - 0.5).abs() < 0.06);
    assert!(levels[..nearest].is_sorted());
    assert!(levels[nearest..].iter().rev().is_sorted());
    assert!(levels[0] < -20.0);
}

#[test]
fn a_buzz_quickens_to_its_final_interval_without_overlap() {
    let buzz = Buzz {
        from_s: 0.4,
        quickening: 0.15,
        final_interval_ms: 5.5,
        final_calls: 12,
        final_khz_factor: 0.75,
    };
    let calls = flight(Some(buzz)).calls(7);
    let gaps: Vec<f64> = calls
        .windows(2)
        .map(|w| (w[1].onset_s - w[0].onset_s) * 1e3)
        .collect();
    let last = &gaps[gaps.len() - 11..];
    assert!(last.iter().all(|gap| (gap - 5.5).abs() < 0.12), "{last:?}");
    for pair in calls.windows(2) {
        let end_s = pair[0].onset_s + pair[0].call.duration_ms() / 1e3;
        assert!(end_s < pair[1].onset_s);
    }
    let sunk = calls[calls.len() - 1].call.law.khz(0.0) / 60.0;
    assert!((sunk - 0.75).abs() < 1e-9);
}

#[test]
fn same_seed_same_sound_and_parts_do_not_disturb_each_other() {
    let calls = flight(None).calls(7);
    assert_eq!(calls, flight(None).calls(7));
    assert_ne!(calls, flight(None).calls(8));
    let hissing = |extra: bool| {
        let mut scene = scene(vec![]);
        scene.backgrounds.push(Background::Hiss(Hiss::white(-40.0)));
        if extra {
            scene
                .backgrounds
                .push(Background::Hiss(Hiss::white(-400.0)));
        }
        scene.render()
    };
    assert_eq!(hissing(false), hissing(true));
}

/// What is left of the fundamental at a moment of a sample, from its own quadrature.
fn amplitude_near(samples: &[f32], rate_hz: f64, at_s: f64, hz: f64) -> f64 {
    let (from, count) = ((at_s * rate_hz) as usize, (2e-3 * rate_hz) as usize);
    let (mut re, mut im) = (0.0, 0.0);
    for (n, &sample) in samples[from..from + count].iter().enumerate() {
        let angle = std::f64::consts::TAU * hz * n as f64 / rate_hz;
        re += f64::from(sample) * angle.cos();
        im += f64::from(sample) * angle.sin();
    }
    2.0 * re.hypot(im) / count as f64
}

#[test]
fn air_takes_of_each_frequency_what_the_standard_says() {
    let way = Way {
        air: Air::new(15.0, 50.0),
        metres: 10.0,
    };
    // 1.1125 and 2.0815 dB a metre at 40 and 80 kHz (ISO 9613-1, by two libraries).
    assert!((way.loss_db(40.0) - 11.125).abs() < 0.02);
    let mut heard = tone(40.0);
    heard.harmonics = vec![Harmonic {
        multiple: 2,
        relative_db: -6.0,
    }];
    heard.way = Some(way);
    let scene = scene(vec![placed(heard, 0.03, -20.0)]);
    let samples = scene.render();
    let rate_hz = f64::from(scene.rate_hz);
    let level = |hz: f64| 20.0 * amplitude_near(&samples, rate_hz, 0.038, hz).log10();
    // The level is that at the microphone; the harmonic has lost 9.69 dB more on the way.
    assert!((level(40e3) + 20.0).abs() < 0.1, "{}", level(40e3));
    assert!(
        (level(80e3) + 20.0 + 6.0 + 9.69).abs() < 0.1,
        "{}",
        level(80e3)
    );
}

#[test]
fn a_far_sweep_loses_its_high_beginning() {
    let near = call(segment(90.0, 30.0, 5.0, Bend::Straight), 0.5, 0.5);
    let far = Call {
        way: Some(Way {
            air: Air::new(20.0, 50.0),
            metres: 15.0,
        }),
        ..near.clone()
    };
    let (near, far) = (near.edges(20.0), far.edges(20.0));
    assert!(far.start_ms > near.start_ms + 1.0, "{far:?}");
    assert!((far.end_ms - near.end_ms).abs() < 0.1, "{far:?}");
    assert!(far.high_khz < near.high_khz - 10.0, "{far:?}");
}

#[test]
fn an_animal_sounds_higher_as_it_comes_and_lower_as_it_goes() {
    let passing = Flight {
        call: tone(80.0),
        spread: (0.0, 0.0),
        passage: Some(Passage {
            air: Air::new(20.0, 50.0),
            speed_m_s: 8.0,
        }),
        ..flight(None)
    };
    let calls = passing.calls(3);
    let khz = |placed: &Placed| placed.call.law.khz(1.0);
    // From afar, the whole speed counts: f / (1 -+ v/c) (handbook formula).
    let shift = 8.0 / 343.2;
    let (first, last) = (&calls[0], &calls[calls.len() - 1]);
    assert!(
        (khz(first) / (80.0 / (1.0 - shift)) - 1.0).abs() < 0.003,
        "{}",
        khz(first)
    );
    assert!(
        (khz(last) / (80.0 / (1.0 + shift)) - 1.0).abs() < 0.003,
        "{}",
        khz(last)
    );
    assert!(first.call.duration_ms() < 20.0 && last.call.duration_ms() > 20.0);
    // Half a second from 1.6 m: 4.3 m, 8.6 dB by spreading, 7.0 dB by 2.606 dB/m (ISO 9613-1).
    let lost = -10.0 - first.level_db;
    let metres = 1.6 * (1.0f64 + 6.25).sqrt();
    let expected = 20.0 * (metres / 1.6).log10() + 2.66 * (metres - 1.6);
    assert!((lost - expected).abs() < 0.3, "{lost} for {expected}");
}
