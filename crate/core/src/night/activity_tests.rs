#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use super::*;
use crate::night::tests::{content, file, night, with_pass};
use crate::night::{Card, CardFile, NightSettings, Timer, TimerEdge};

fn settings() -> NightSettings {
    NightSettings {
        utc_offset_min: 60,
        ..NightSettings::default()
    }
}

/// Meant to run from 21:00 to 05:30.
fn timed() -> NightSettings {
    NightSettings {
        timer: Some(Timer {
            from: TimerEdge::Clock { minute: 21 * 60 },
            to: TimerEdge::Clock {
                minute: 5 * 60 + 30,
            },
        }),
        ..settings()
    }
}

fn at(local: &str) -> Moment {
    Moment::from_local(local, 60).unwrap()
}

/// A recording with a sequence for each number of pulses, half a second apart; the last holds a buzz.
fn with_sequences(local: &str, pulses: &[u32]) -> Content {
    let whole = with_pass(local);
    let sequence = |(number, &pulses): (usize, &u32)| PassFacts {
        start_s: number as f64 * 0.5,
        pulses,
        ..whole.passes[0]
    };
    let mut passes: Vec<PassFacts> = pulses.iter().enumerate().map(sequence).collect();
    passes.last_mut().unwrap().buzzes = 1;
    Content {
        passes,
        pulses: pulses.iter().sum(),
        buzzes: 1,
        ..whole
    }
}

#[test]
fn totals_count_passes_by_the_definition_that_was_set() {
    let contents = || {
        [
            with_sequences("2026-06-14T22:00:00", &[2, 3, 1]),
            content("2026-06-14T23:00:00"),
        ]
    };
    let totals = night(contents(), &timed()).totals();
    assert_eq!((totals.recordings, totals.holding_pulses), (2, 1));
    assert_eq!((totals.passes, totals.buzzes, totals.pulses), (2, 1, 6));
    assert_eq!((totals.planned_h, totals.watch_h), (Some(8.5), 8.5));
    assert!((totals.sound_h - 10.0 / 3600.0).abs() < 1e-12);
    assert!((totals.recorded_h - 3605.0 / 3600.0).abs() < 1e-9);
    assert!((totals.passes_per_h.unwrap() - 2.0 / 8.5).abs() < 1e-12);
    let strict = NightSettings {
        pass_min_pulses: 3,
        ..timed()
    };
    assert_eq!(night(contents(), &strict).totals().passes, 1);
}

#[test]
fn nothing_found_is_a_zero_with_its_effort() {
    let silent = ["2026-06-14T21:30:00", "2026-06-15T04:00:00"].map(content);
    let totals = night(silent, &settings()).totals();
    assert_eq!((totals.passes, totals.probably_none), (0, 2));
    assert_eq!(totals.passes_per_h, Some(0.0));
    // From 21:30 to the end of the last recording.
    assert!((totals.watch_h - (6.5 + 5.0 / 3600.0)).abs() < 1e-9);
}

#[test]
fn without_a_recording_that_was_read_there_is_no_effort_and_no_rate() {
    let mut card = Card::default();
    card.take(CardFile::unreadable(
        "x/20260614_220000.wav".to_owned(),
        0,
        None,
        "the file is empty".to_owned(),
        String::new(),
    ));
    let night = card.nights(&settings()).0.swap_remove(0);
    let totals = night.totals();
    assert_eq!((totals.recordings, totals.broken), (0, 1));
    assert_eq!((totals.watch_h, totals.passes_per_h), (0.0, None));
    let activity = night.activity(60);
    assert_eq!(activity.bins.len(), 12);
    assert!(activity.bins.iter().all(|bin| bin.watched_share == 0.0));
}

#[test]
fn a_copy_counts_as_a_copy_and_nowhere_else() {
    let mut card = Card::default();
    let one = file("a/1.wav", with_pass("2026-06-14T22:00:00"));
    card.take(one.clone());
    card.take(CardFile {
        path: "b/1.wav".to_owned(),
        ..one
    });
    let night = card.nights(&settings()).0.swap_remove(0);
    let totals = night.totals();
    assert_eq!((totals.recordings, totals.copies, totals.passes), (1, 1, 1));
    assert_eq!(night.marks().len(), 1);
}

#[test]
fn bins_begin_on_the_clock_and_hold_everything_once() {
    let contents = [
        with_sequences("2026-06-14T22:09:59", &[4, 4, 4]),
        with_pass("2026-06-15T03:59:00"),
    ];
    let night = night(contents, &timed());
    for bin_min in [1, 5, 7, 10, 60, 120, 9999] {
        let activity = night.activity(bin_min);
        let sum = |of: fn(&Bin) -> u32| activity.bins.iter().map(of).sum::<u32>();
        assert_eq!(sum(|bin| bin.passes), 4, "{bin_min}");
        assert_eq!(sum(|bin| bin.buzzes), 1);
        assert_eq!(sum(|bin| bin.recordings), 2);
        let width_s = f64::from(activity.bin_min) * 60.0;
        let watched: f64 = activity.bins.iter().map(|bin| bin.watched_share).sum();
        assert!((watched * width_s - 8.5 * 3600.0).abs() < 1e-6, "{bin_min}");
        assert_eq!(activity.from, activity.bins[0].from);
        assert_eq!(
            activity.to.since_s(activity.from),
            activity.bins.len() as f64 * width_s
        );
    }
    // The file begins at 22:09:59, its third sequence a second later.
    let ten = night.activity(10);
    assert_eq!(ten.from, at("2026-06-14T21:00:00"));
    assert_eq!(
        (ten.bins[6].recordings, ten.bins[6].passes),
        (1, 2),
        "22:00"
    );
    assert_eq!(
        (ten.bins[7].recordings, ten.bins[7].passes),
        (0, 1),
        "22:10"
    );
}

#[test]
fn hours_tell_how_long_was_watched() {
    let hours = night([with_pass("2026-06-14T22:09:59")], &timed()).hours();
    assert_eq!(hours.len(), 9);
    assert_eq!(hours[0].from, at("2026-06-14T21:00:00"));
    assert_eq!(hours[1].passes, 1);
    assert!((hours[0].watched_min - 60.0).abs() < 1e-9);
    assert!((hours[8].watched_min - 30.0).abs() < 1e-9);
}

#[test]
fn marks_lie_where_their_passes_begin_and_name_their_file() {
    let contents = [
        content("2026-06-14T22:00:00"),
        with_sequences("2026-06-14T22:30:00", &[5, 1, 3]),
    ];
    let marks = night(contents, &timed()).marks();
    let seen: Vec<_> = marks
        .iter()
        .map(|mark| (mark.file, mark.pulses, mark.has_buzz))
        .collect();
    assert_eq!(seen, [(1, 5, false), (1, 3, true)]);
    assert_eq!(marks[1].at, at("2026-06-14T22:30:01"));
}

#[test]
fn temperatures_outside_come_before_those_inside() {
    let with = |local, outside, inside| Content {
        temperature_c: outside,
        temperature_inside_c: inside,
        ..content(local)
    };
    let both = [
        with("2026-06-14T22:00:00", Some(14.0), Some(19.0)),
        with("2026-06-15T02:00:00", Some(9.5), Some(16.0)),
    ];
    let range = night(both, &settings()).totals().temperature.unwrap();
    assert_eq!(
        (range.low_c, range.high_c, range.is_inside),
        (9.5, 14.0, false)
    );
    let inside = [with("2026-06-14T22:00:00", None, Some(19.0))];
    assert!(
        night(inside, &settings())
            .totals()
            .temperature
            .unwrap()
            .is_inside
    );
    let none = [with("2026-06-14T22:00:00", None, None)];
    assert_eq!(night(none, &settings()).totals().temperature, None);
}

#[test]
fn absurd_times_make_no_more_than_a_day_of_bins() {
    let endless = Content {
        duration_s: 1e9,
        ..content("2026-06-14T22:00:00")
    };
    assert_eq!(
        night([endless], &settings()).activity(1).bins.len(),
        14 * 60
    );
}
