//! Pulses laid over one another, against numpy and scipy; `data/make_compare_reference.py` says what was computed.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use std::collections::HashMap;

use dusklens_core::pulse::Pulse;
use dusklens_core::pulse::compare::{Alignment, Comparison, Course, Spread, StandsOut, compare};
use serde::Deserialize;

#[derive(Deserialize)]
struct Reference {
    pulses: Vec<Pulse>,
    spreads: Vec<Spread>,
    standing_out: Vec<StandsOut>,
    courses: HashMap<Alignment, Vec<Moment>>,
}

/// Lower quartile, median and upper quartile of all contours at a moment.
#[derive(Deserialize)]
struct Moment {
    ms: f64,
    quartiles_khz: [f64; 3],
}

fn reference() -> Reference {
    serde_json::from_str(include_str!("../data/compare_reference.json")).unwrap()
}

fn compared(alignment: Alignment) -> (Reference, Comparison) {
    let reference = reference();
    let comparison = compare(&reference.pulses, alignment);
    (reference, comparison)
}

#[test]
fn spreads_are_those_of_numpy_and_scipy() {
    let (reference, told) = compared(Alignment::Peak);
    assert_eq!(told.spreads.len(), reference.spreads.len());
    for (own, theirs) in told.spreads.iter().zip(&reference.spreads) {
        assert_eq!((own.measure, own.pulses), (theirs.measure, theirs.pulses));
        let values = |s: &Spread| [s.median, s.lower, s.upper, s.least, s.most, s.mad];
        for (own, theirs) in values(own).into_iter().zip(values(theirs)) {
            assert!((own - theirs).abs() < 1e-9, "{own} and {theirs}");
        }
    }
}

#[test]
fn the_same_pulses_stand_out_by_the_same_score() {
    let (mut reference, told) = compared(Alignment::Peak);
    let order =
        |a: &StandsOut, b: &StandsOut| a.pulse.cmp(&b.pulse).then(b.score.total_cmp(&a.score));
    reference.standing_out.sort_by(order);
    assert!(!reference.standing_out.is_empty());
    assert_eq!(told.standing_out.len(), reference.standing_out.len());
    for (own, theirs) in told.standing_out.iter().zip(&reference.standing_out) {
        assert_eq!((own.pulse, own.measure), (theirs.pulse, theirs.measure));
        assert!((own.above - theirs.above).abs() < 1e-9);
        // 1.4826 has five digits.
        assert!((own.score / theirs.score - 1.0).abs() < 1e-5);
    }
}

#[test]
fn courses_are_the_percentiles_of_interpolated_contours() {
    for alignment in [Alignment::Peak, Alignment::Start, Alignment::Characteristic] {
        let (reference, told) = compared(alignment);
        let moments = &reference.courses[&alignment];
        assert!(moments.len() > 10, "{} moments", moments.len());
        for moment in moments {
            for (own, theirs) in at(&told.course, moment.ms)
                .into_iter()
                .zip(moment.quartiles_khz)
            {
                assert!(
                    (own - theirs).abs() < 1e-6,
                    "{own} and {theirs} kHz at {} ms",
                    moment.ms
                );
            }
        }
    }
}

/// Lower quartile, median and upper quartile of a course at one of its moments.
fn at(course: &Course, ms: f64) -> [f64; 3] {
    let place = (ms - course.start_ms) / course.step_ms;
    assert!(
        (place - place.round()).abs() < 1e-6,
        "{ms} ms is no moment of the course"
    );
    [&course.lower_khz, &course.median_khz, &course.upper_khz]
        .map(|khz| khz[place.round() as usize])
}
