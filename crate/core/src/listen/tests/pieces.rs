//! Pieces, places and joints.

use proptest::collection::vec;
use proptest::prelude::{ProptestConfig, prop_assert, prop_assert_eq, proptest};

use super::*;

const METHODS: [Method; 3] = [
    Method::Expansion { factor: 7.3 },
    Method::Heterodyne {
        tuning_khz: 42.0,
        bandwidth_khz: 5.0,
    },
    Method::Division { factor: 10.0 },
];

/// A tone that swells, so that every place sounds different.
fn swelling() -> Vec<f32> {
    let tone = tone(44.0, 0.3, 0.25);
    let count = tone.len() as f32;
    let swell = |(n, sample): (usize, f32)| sample * n as f32 / count;
    tone.into_iter().enumerate().map(swell).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    /// However it is cut into pieces, the sound is the same.
    #[test]
    fn pieces_of_any_size_make_the_same_sound(sizes in vec(1usize..9000, 1..8), method in 0usize..3, gain: bool) {
        let samples = swelling();
        let settings = ListeningSettings { automatic_gain: gain, ..settings(METHODS[method], 0.25) };
        let whole = heard_in(&samples, &settings, 16_384);
        let mut listening = Listening::new(&settings, RATE_HZ, samples.len() as u64, OUTPUT_HZ).unwrap();
        let (mut all, mut out) = (Vec::new(), Vec::new());
        for size in sizes.iter().cycle() {
            if next(&mut listening, &samples, *size, &mut out).is_none() {
                break;
            }
            prop_assert!(out.len() <= *size);
            all.extend_from_slice(&out);
        }
        prop_assert_eq!(all, whole);
    }

    /// It takes as long as the stretch, times the factor of expansion.
    #[test]
    fn it_takes_as_long_as_it_should(start_s in 0.0..0.2f64, length_s in 0.001..0.05f64, factor in 2.0..32.0f64) {
        let samples = swelling();
        for (method, slowness) in [(expansion(factor), factor), (heterodyne(40.0), 1.0), (division(factor), 1.0)] {
            let settings = ListeningSettings { start_s, end_s: start_s + length_s, ..settings(method, 0.0) };
            let frames = heard_in(&samples, &settings, 2400).len() as f64;
            prop_assert!((frames - length_s * slowness * f64::from(OUTPUT_HZ)).abs() <= 1.0);
        }
    }
}

#[test]
fn beginning_in_the_middle_is_hearing_on() {
    let samples = swelling();
    let from_s = 0.1;
    for method in METHODS {
        let all = heard_in(&samples, &settings(method, 0.25), 4800);
        let begun = ListeningSettings {
            start_s: from_s,
            ..settings(method, 0.25)
        };
        let late = heard_in(&samples, &begun, 4800);
        let skipped = all.len() - late.len();
        // Past the fade.
        let (all, late) = (&all[skipped + 400..], &late[400..]);
        let worst = all
            .iter()
            .zip(late)
            .map(|(a, b)| (a - b).abs())
            .fold(0.0, f32::max);
        if matches!(method, Method::Division { .. }) {
            // Where a divider's phase begins is its own affair; pitch and level are not.
            let (of_all, of_late) = (loudest(all), loudest(late));
            assert!((of_all.0 - of_late.0).abs() < 1.0);
            assert!((of_all.1 - of_late.1).abs() < 0.05);
        } else {
            // The first sample lies between two of the recording, so that rounding differs.
            assert!(worst < 1e-3, "{method:?}: {worst}");
        }
    }
}

#[test]
fn pieces_tell_their_time() {
    let samples = swelling();
    let settings = ListeningSettings {
        start_s: 0.05,
        end_s: 0.15,
        ..settings(expansion(10.0), 0.0)
    };
    let mut listening =
        Listening::new(&settings, RATE_HZ, samples.len() as u64, OUTPUT_HZ).unwrap();
    let (mut out, mut at_s) = (Vec::new(), 0.05);
    while let Some(piece) = next(&mut listening, &samples, 4800, &mut out) {
        assert!((piece.start_s - at_s).abs() < 1e-9 && !piece.resting);
        at_s += out.len() as f64 / f64::from(OUTPUT_HZ) / 10.0;
        assert!((piece.end_s - at_s).abs() < 1e-9);
    }
    assert!((at_s - 0.15).abs() < 1e-9);
}

#[test]
fn a_click_is_heard_where_it_was() {
    // A burst of a millisecond: its middle comes out at its own place by every method.
    let mut samples = vec![0.0; (0.2 * RATE_HZ) as usize];
    let (at_s, length_s) = (0.1, 0.001);
    let burst = tone(44.0, 0.3, length_s);
    let from = ((at_s - length_s / 2.0) * RATE_HZ) as usize;
    samples[from..from + burst.len()].copy_from_slice(&burst);
    for method in METHODS {
        let sound = heard(&samples, method);
        let energies = sound.iter().map(|sample| f64::from(sample * sample));
        let (mut sum, mut moment) = (0.0, 0.0);
        for (n, energy) in energies.enumerate() {
            sum += energy;
            moment += energy * n as f64;
        }
        let middle_s = moment / sum / f64::from(OUTPUT_HZ) / method.slowness();
        assert!((middle_s - at_s).abs() < 0.0002, "{method:?}: {middle_s}");
    }
}

#[test]
fn beginnings_ends_and_joints_do_not_click() {
    let samples = tone(45.0, 0.4, 0.2);
    for method in METHODS {
        let settings = ListeningSettings {
            looped: true,
            start_s: 0.05,
            end_s: 0.1,
            ..settings(method, 0.0)
        };
        let mut listening =
            Listening::new(&settings, RATE_HZ, samples.len() as u64, OUTPUT_HZ).unwrap();
        let (mut all, mut out, mut rests) = (Vec::new(), Vec::new(), 0);
        // At least three rounds.
        while all.len() < 3 * (listening.round_frames() as usize + 12_000) {
            let piece = next(&mut listening, &samples, 1000, &mut out).unwrap();
            rests += usize::from(piece.resting);
            all.extend_from_slice(&out);
        }
        assert!(rests >= 3 * 12);
        assert!(all[0].abs() < 1e-3);
        // The steepest tone heard here is 45 kHz / 7.3; a fade adds next to nothing to its steps.
        let steepest = 0.4 * TAU * 45_000.0 / 7.3 / f64::from(OUTPUT_HZ);
        let worst = all
            .windows(2)
            .map(|pair| (pair[1] - pair[0]).abs())
            .fold(0.0, f32::max);
        assert!(f64::from(worst) < 1.05 * steepest, "{method:?}: {worst}");
        // All rounds are the same sound.
        let round = listening.round_frames() as usize + 12_000;
        for (a, b) in all[..round].iter().zip(&all[round..]) {
            assert!((a - b).abs() < 1e-4);
        }
    }
}

#[test]
fn what_cannot_be_heard_is_refused_in_words() {
    let refused = |settings: ListeningSettings, output_hz: u32| {
        Listening::new(&settings, RATE_HZ, 384_000, output_hz)
            .unwrap_err()
            .to_string()
    };
    let good = settings(expansion(10.0), 1.0);
    for (settings, output_hz, words) in [
        (settings(expansion(1.0), 1.0), OUTPUT_HZ, "from 2 to 32"),
        (
            settings(division(f64::NAN), 1.0),
            OUTPUT_HZ,
            "factor of NaN",
        ),
        (settings(heterodyne(200.0), 1.0), OUTPUT_HZ, "0 to 192 kHz"),
        (
            ListeningSettings {
                start_s: 2.0,
                ..good
            },
            OUTPUT_HZ,
            "nothing to hear",
        ),
        (
            ListeningSettings {
                start_s: f64::NAN,
                ..good
            },
            OUTPUT_HZ,
            "nothing to hear",
        ),
        (
            ListeningSettings { end_s: 0.0, ..good },
            OUTPUT_HZ,
            "nothing to hear",
        ),
        (
            ListeningSettings {
                high_pass_khz: Some(-1.0),
                ..good
            },
            OUTPUT_HZ,
            "rumble",
        ),
        (good, 100, "100 Hz"),
    ] {
        let text = refused(settings, output_hz);
        assert!(text.contains(words), "{text}");
    }
}

#[test]
fn a_failed_read_can_be_tried_again() {
    let samples = swelling();
    let settings = settings(heterodyne(42.0), 0.25);
    let whole = heard_in(&samples, &settings, 2400);
    let mut listening =
        Listening::new(&settings, RATE_HZ, samples.len() as u64, OUTPUT_HZ).unwrap();
    let (mut all, mut out, mut turn) = (Vec::new(), Vec::new(), 0);
    loop {
        turn += 1;
        if turn % 3 == 0 {
            assert!(
                listening
                    .next_piece(2400, |_, _| Err("gone"), &mut out)
                    .is_err()
                    || all.len() == whole.len()
            );
            continue;
        }
        if next(&mut listening, &samples, 2400, &mut out).is_none() {
            break;
        }
        all.extend_from_slice(&out);
    }
    assert_eq!(all, whole);
}
