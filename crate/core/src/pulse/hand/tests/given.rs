//! Given edges, given points, and intervals.

use super::*;
use crate::pulse::Shape;

#[test]
fn given_edges_change_what_depends_on_them_and_nothing_else() {
    let scene = sweeps();
    let automatic = &all_heard(&scene).pulses[0];
    let base = HandRequest {
        pulse_start_s: Some(automatic.start_s),
        ..request(around(automatic))
    };
    let start_s = automatic.start_s + 0.4e-3;
    let later = HandRequest {
        start_s: Some(start_s),
        ..base.clone()
    };
    let hand = by_hand(&scene, &later);
    let pulse = hand.pulse.unwrap();
    assert_eq!(hand.notes, [HandNote::StartGiven]);
    near("start", pulse.start_s, start_s, 1e-9);
    near("end", pulse.end_s, automatic.end_s, 1e-9);
    near(
        "duration",
        pulse.duration_ms,
        automatic.duration_ms - 0.4,
        1e-6,
    );
    near("level", pulse.level_db, automatic.level_db, 1e-6);
    near("end", pulse.end_khz, automatic.end_khz, 1e-6);
    // On the same contour, 0.4 ms later.
    let contour = &automatic.contour;
    let step = (0.4e-3 / contour.step_s).round() as usize;
    near("start", pulse.start_khz, f64::from(contour.khz[step]), 0.6);
    assert!(pulse.start_khz < automatic.start_khz - 2.0);
    near(
        "sweep",
        pulse.sweep_khz_per_ms,
        (pulse.end_khz - pulse.start_khz) / pulse.duration_ms,
        1e-9,
    );
    assert_eq!(pulse.uncertainty.start_ms, 0.0);
    assert!(pulse.uncertainty.end_ms > 0.0);

    // Far beyond what was followed: there it holds.
    let wide = HandRequest {
        start_s: Some(automatic.start_s - 8e-3),
        end_s: Some(automatic.end_s + 9e-3),
        ..base
    };
    let hand = by_hand(&scene, &wide);
    assert_eq!(hand.notes, [HandNote::StartGiven, HandNote::EndGiven]);
    let pulse = hand.pulse.unwrap();
    near(
        "duration",
        pulse.duration_ms,
        automatic.duration_ms + 17.0,
        1e-6,
    );
    near("level", pulse.level_db, automatic.level_db, 1e-6);
    near("peak", pulse.peak_khz, automatic.peak_khz, 1.5);
}

#[test]
fn edges_beside_the_loudest_moment_leave_the_level_of_what_is_between_them() {
    // The envelope is level but for its sides: in the side, 20 dB below the top at a tenth of the amplitude.
    let call = straight(50.0, 48.0, 10.0, 4.0);
    let scene = scene(RATE_HZ, 0.3, HISS_DB, vec![at(0.1, -12.0, call)]);
    let automatic = &all_heard(&scene).pulses[0];
    let side = HandRequest {
        pulse_start_s: Some(automatic.start_s),
        start_s: Some(0.1005),
        end_s: Some(0.102),
        ..request(around(automatic))
    };
    let pulse = by_hand(&scene, &side).pulse.unwrap();
    // 0.5 - 0.5 cos(pi 2/4) = 0.5 at 2 ms: 6.02 dB below.
    near("level", pulse.level_db, -12.0 - 6.02, 0.8);
}

#[test]
fn given_points_lead_the_contour_and_fall_off_within_an_eighth() {
    let scene = sweeps();
    let automatic = &all_heard(&scene).pulses[0];
    let middle_s = (automatic.start_s + automatic.end_s) / 2.0;
    let corrected = |points: Vec<ContourPoint>| {
        by_hand(
            &scene,
            &HandRequest {
                pulse_start_s: Some(automatic.start_s),
                points,
                ..request(around(automatic))
            },
        )
    };
    let hand = corrected(vec![ContourPoint {
        time_s: middle_s,
        khz: 95.0,
    }]);
    assert_eq!(hand.notes, [HandNote::ContourGiven]);
    let pulse = hand.pulse.unwrap();
    // The nearest value of the grid lies at most half a step beside the point.
    near("high", pulse.high_khz, 95.0, 2.5);
    near("low", pulse.low_khz, automatic.low_khz, 1e-6);
    near("peak", pulse.peak_khz, automatic.peak_khz, 1e-6);
    near("level", pulse.level_db, automatic.level_db, 1e-6);
    let eighth = (pulse.end_s - pulse.start_s) / 8.0;
    for (step, (new, old)) in pulse
        .contour
        .khz
        .iter()
        .zip(&automatic.contour.khz)
        .enumerate()
    {
        let time_s = pulse.contour.start_s + step as f64 * pulse.contour.step_s;
        let moved = (new - old).abs() > 1e-3;
        assert_eq!(
            moved,
            (time_s - middle_s).abs() < eighth * 0.9999,
            "at {time_s}"
        );
    }

    // Both ends led to one frequency, and everything between: a constant.
    let points = (0..=16)
        .map(|n| ContourPoint {
            time_s: automatic.start_s + f64::from(n) / 16.0 * (automatic.end_s - automatic.start_s),
            khz: 50.0,
        })
        .collect();
    let level = corrected(points).pulse.unwrap();
    near("start", level.start_khz, 50.0, 0.01);
    near("end", level.end_khz, 50.0, 0.01);
    near("sweep", level.sweep_khz_per_ms, 0.0, 0.01);
    // Between the points the sweep's own bend is left: a sixteenth of a chord of a bent line.
    near("high", level.high_khz, 50.0, 0.3);
    assert_eq!(level.shape, Shape::Qcf);
    near("characteristic", level.characteristic_khz, 50.0, 0.3);
}

#[test]
fn given_values_that_make_no_sense_are_refused_in_words() {
    let band = Band {
        start_s: 0.098,
        end_s: 0.108,
        low_khz: 30.0,
        high_khz: 90.0,
    };
    let samples = sweeps().render();
    let refused = |request: HandRequest| {
        measured(&samples, f64::from(RATE_HZ), &request)
            .unwrap_err()
            .to_string()
    };
    let edges = |start_s, end_s| HandRequest {
        start_s,
        end_s,
        ..request(band)
    };
    assert!(refused(edges(Some(0.105), Some(0.105))).contains("at least 0.1 ms"));
    assert!(refused(edges(Some(0.106), Some(0.105))).contains("at least 0.1 ms"));
    assert!(refused(edges(Some(f64::NAN), None)).contains("four numbers"));
    assert!(refused(edges(None, Some(99.0))).contains("too far"));
    for (time_s, khz) in [(0.1, 129.0), (0.1, -1.0), (f64::NAN, 50.0), (0.1, f64::NAN)] {
        let points = vec![ContourPoint { time_s, khz }];
        assert!(
            refused(HandRequest {
                points,
                ..request(band)
            })
            .contains("within the recording's frequencies")
        );
    }
}

#[test]
fn interval_runs_from_start_to_start_and_the_gap_from_end_to_start() {
    let found = all_heard(&sweeps()).pulses;
    // Whatever the order of choice.
    for (a, b) in [(0, 1), (1, 0)] {
        let hand = interval(&found[a], &found[b], &Settings::default()).unwrap();
        near("interval", hand.interval_ms, 100.0, 0.05);
        near(
            "interval",
            hand.interval_ms,
            found[1].interval_ms.unwrap(),
            1e-9,
        );
        near(
            "gap",
            hand.gap_ms,
            hand.interval_ms - found[0].duration_ms,
            1e-9,
        );
        near("rate", hand.rate_hz, 10.0, 0.01);
        assert_eq!(hand.interval_u95_ms, found[1].uncertainty.interval_ms);
    }
    let error = interval(&found[0], &found[0], &Settings::default()).unwrap_err();
    assert!(error.to_string().contains("same one"));
}
