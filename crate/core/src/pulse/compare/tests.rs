//! What must hold of any pulses. Values of others are checked in the workspace's `tests/`.

#![allow(clippy::unwrap_used, reason = "a failed test may panic")]

use proptest::prelude::*;

use super::*;
use crate::pulse::Flag;
use crate::pulse::sequence::tests::pulse;

/// A sweep of so many values from 80 kHz on, which begins at a time and is loudest at a share of it.
fn sweep(start_s: f64, steps: usize, fall_khz: f64, peak_share: f64) -> Pulse {
    let length_s = steps as f64 * 1e-4;
    let khz: Vec<f32> = (0..=steps)
        .map(|step| (80.0 - fall_khz * (step as f64 / steps as f64).sqrt()) as f32)
        .collect();
    let mut pulse = pulse(start_s, 80.0 - fall_khz, -20.0);
    pulse.end_s = start_s + length_s;
    pulse.peak_s = start_s + length_s * peak_share;
    pulse.characteristic_s = start_s + length_s * 0.9;
    pulse.duration_ms = length_s * 1e3;
    pulse.contour.khz = khz;
    pulse
}

fn any_sweep() -> impl Strategy<Value = Pulse> {
    (0.0..60.0, 1usize..120, 1.0..60.0, 0.0..1.0)
        .prop_map(|(start_s, steps, fall_khz, share)| sweep(start_s, steps, fall_khz, share))
}

fn any_alignment() -> impl Strategy<Value = Alignment> {
    prop_oneof![
        Just(Alignment::Peak),
        Just(Alignment::Start),
        Just(Alignment::Characteristic)
    ]
}

fn assert_same(a: &[f64], b: &[f64]) {
    assert_eq!(a.len(), b.len());
    let worst = a
        .iter()
        .zip(b)
        .map(|(a, b)| (a - b).abs())
        .fold(0.0, f64::max);
    assert!(worst < 1e-4, "{worst} kHz apart");
}

proptest! {
    #[test]
    fn the_median_of_the_same_contour_is_that_contour(
        pulse in any_sweep(), copies in 1usize..9, alignment in any_alignment(),
    ) {
        let course = compare(&vec![pulse.clone(); copies], alignment).course;
        let khz: Vec<f64> = pulse.contour.khz.iter().map(|&khz| f64::from(khz)).collect();
        for values in [&course.median_khz, &course.lower_khz, &course.upper_khz] {
            assert_same(values, &khz);
        }
    }

    #[test]
    fn a_shift_in_time_changes_nothing(
        pulses in prop::collection::vec(any_sweep(), 1..9), which: prop::sample::Index,
        by_s in -30.0..30.0, alignment in any_alignment(),
    ) {
        let before = compare(&pulses, alignment);
        let mut shifted = pulses;
        let at = which.index(shifted.len());
        let one = &mut shifted[at];
        for moment in [
            &mut one.start_s, &mut one.end_s, &mut one.peak_s, &mut one.characteristic_s, &mut one.contour.start_s,
        ] {
            *moment += by_s;
        }
        let after = compare(&shifted, alignment);
        // At its ends, a contour may reach a moment more or less by rounding.
        let most = before.course.median_khz.len().min(after.course.median_khz.len());
        prop_assert!(before.course.median_khz.len().abs_diff(after.course.median_khz.len()) <= 2);
        let at_ms = |course: &Course, ms: f64| {
            let place = (ms - course.start_ms) / course.step_ms;
            course.median_khz.get(place.round() as usize).copied()
        };
        let off = (0..most).filter(|&moment| {
            let ms = before.course.start_ms + moment as f64 * before.course.step_ms;
            let told = (at_ms(&before.course, ms), at_ms(&after.course, ms));
            matches!(told, (Some(a), Some(b)) if (a - b).abs() > 1e-3)
        });
        prop_assert!(off.count() <= 2);
        prop_assert_eq!(before.spreads, after.spreads);
        prop_assert_eq!(before.standing_out, after.standing_out);
    }

    #[test]
    fn order_does_not_matter(
        pulses in prop::collection::vec(any_sweep(), 1..12), alignment in any_alignment(),
    ) {
        let before = compare(&pulses, alignment);
        let mut reversed = pulses;
        reversed.reverse();
        let after = compare(&reversed, alignment);
        prop_assert_eq!(&before.course, &after.course);
        prop_assert_eq!(&before.spreads, &after.spreads);
        let last = reversed.len() - 1;
        let mut turned: Vec<StandsOut> = after
            .standing_out
            .iter()
            .map(|one| StandsOut { pulse: last - one.pulse, ..*one })
            .collect();
        turned.sort_by(|a, b| a.pulse.cmp(&b.pulse).then(b.score.total_cmp(&a.score)));
        prop_assert_eq!(before.standing_out, turned);
    }

    #[test]
    fn whatever_a_pulse_holds_every_number_that_comes_out_is_one(
        start_s in any::<f64>(), step_s in any::<f64>(), peak_s in any::<f64>(),
        khz in prop::collection::vec(any::<f32>(), 0..30), level_db in any::<f64>(),
        others in prop::collection::vec(any_sweep(), 0..6), alignment in any_alignment(),
    ) {
        let mut odd = pulse(0.0, 45.0, level_db);
        odd.peak_s = peak_s;
        odd.contour.start_s = start_s;
        odd.contour.step_s = step_s;
        odd.contour.khz = khz;
        let pulses: Vec<Pulse> = others.into_iter().chain([odd]).collect();
        let told = compare(&pulses, alignment);
        let Course { start_ms, step_ms, median_khz, lower_khz, upper_khz } = told.course;
        let course = [start_ms, step_ms].into_iter().chain(median_khz).chain(lower_khz).chain(upper_khz);
        let spreads = told.spreads.iter().flat_map(|s| [s.median, s.lower, s.upper, s.least, s.most]);
        let mut all = course.chain(told.begins_ms).chain(spreads);
        prop_assert!(all.all(f64::is_finite));
    }

    #[test]
    fn quartiles_lie_in_order_and_within(pulses in prop::collection::vec(any_sweep(), 1..20)) {
        let told = compare(&pulses, Alignment::Peak);
        for s in &told.spreads {
            let values = [s.least, s.lower, s.median, s.upper, s.most];
            prop_assert!(values.is_sorted(), "{values:?}");
        }
        let course = &told.course;
        for at in 0..course.median_khz.len() {
            let values = [course.lower_khz[at], course.median_khz[at], course.upper_khz[at]];
            prop_assert!(values.is_sorted(), "{values:?}");
        }
    }
}

#[test]
fn a_contour_that_never_ends_is_left_out() {
    let mut endless = sweep(1.0, 20, 30.0, 0.0);
    endless.contour.step_s = 6e304;
    let course = compare(&[sweep(1.0, 20, 30.0, 0.0), endless], Alignment::Start).course;
    assert!(course.step_ms.is_finite());
    assert_eq!(course.median_khz.len(), 21);
}

#[test]
fn the_course_goes_as_far_as_half_of_the_pulses() {
    let pulses = [20, 40, 60].map(|steps| sweep(1.0, steps, 30.0, 0.0));
    let course = compare(&pulses, Alignment::Start).course;
    assert_eq!(course.median_khz.len(), 41);
    let pair = [20, 60].map(|steps| sweep(1.0, steps, 30.0, 0.0));
    assert_eq!(compare(&pair, Alignment::Start).course.median_khz.len(), 61);
}

#[test]
fn a_pulse_unlike_the_others_stands_out_and_says_in_what() {
    let mut pulses: Vec<Pulse> = [44.0, 45.0, 46.0, 45.0, 44.5, 45.5, 45.0]
        .into_iter()
        .map(|khz| pulse(1.0, khz, -20.0))
        .collect();
    assert_eq!(compare(&pulses, Alignment::Peak).standing_out, []);
    pulses[2].end_khz = 48.1;
    // How loud it is says nothing of the call.
    pulses[3].level_db = 0.0;
    let told = compare(&pulses, Alignment::Peak).standing_out;
    assert_eq!(told.len(), 1, "{told:?}");
    assert_eq!((told[0].pulse, told[0].measure), (2, Measure::EndKhz));
    assert!((told[0].above - 3.1).abs() < 1e-9);
    // What may be off by as much is no reason.
    let mut unsure = pulses.clone();
    unsure[2].uncertainty.end_khz = 3.2;
    assert_eq!(compare(&unsure, Alignment::Peak).standing_out, []);
    // Of four, none can be said to stand out.
    assert_eq!(compare(&pulses[..4], Alignment::Peak).standing_out, []);
}

#[test]
fn an_interval_over_missed_pulses_does_not_count() {
    let mut pulses: Vec<Pulse> = (0..6).map(|n| pulse(f64::from(n), 45.0, -20.0)).collect();
    for (n, pulse) in pulses.iter_mut().enumerate() {
        pulse.interval_ms = Some(90.0 + n as f64);
    }
    pulses[5].interval_ms = Some(180.0);
    pulses[5].flags.push(Flag::MissedBefore);
    let told = compare(&pulses, Alignment::Peak);
    let interval = told
        .spreads
        .iter()
        .find(|s| s.measure == Measure::IntervalMs)
        .unwrap();
    assert_eq!((interval.pulses, interval.most), (5, 94.0));
}

#[test]
fn a_measure_is_serialised_as_the_field_of_a_pulse() {
    let fields = serde_json::to_value(pulse(1.0, 45.0, -20.0)).unwrap();
    for measure in Measure::ALL {
        let name = measure.name();
        assert_eq!(serde_json::to_value(measure).unwrap(), name);
        assert!(fields.get(name).is_some(), "{name}");
    }
}

#[test]
fn spreads_become_a_table() {
    let told = compare(
        &[pulse(1.0, 45.0, -20.0), pulse(2.0, 47.0, -20.0)],
        Alignment::Peak,
    );
    let text = csv(&told.spreads);
    assert!(
        text.contains("\npeak_khz,2,46.000,45.500,46.500,45.000,47.000,1.000\n"),
        "{text}"
    );
    assert_eq!(text.lines().count(), 1 + told.spreads.len());
}
