//! The aims of the measurement, on a smaller draw than the truth table's.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use std::sync::LazyLock;

use dusklens_tests::truth::draw::Set;
use dusklens_tests::truth::tally::{ALL, Tally, cases};
use dusklens_tests::truth::{Amount, jobs, table};

/// One run serves all tests.
static TALLY: LazyLock<Tally> =
    LazyLock::new(|| table(Set::Report, &jobs(Amount::SMALL, None)).unwrap().1);

/// Cases that fall short of the aim, and what they must not fall below: a loud rasp,
/// chirp or drop in the same moment hides a pulse, and so does a tone at its frequency. The README
/// says how many are missed.
const SHORT_OF_THE_AIM: [(&str, f64); 4] = [
    ("over-rain", 0.8),
    ("over-tones", 0.85),
    ("over-rasp", 0.6),
    ("over-cricket", 0.8),
];

#[test]
fn pulses_that_a_person_sees_plainly_are_found() {
    let (mut found, mut all) = (0, 0);
    for case in cases() {
        let row = TALLY.plain(case.name()).unwrap();
        assert!(row.n >= 20, "only {} pulses of {}", row.n, row.case);
        let short = SHORT_OF_THE_AIM.iter().find(|(name, _)| *name == row.case);
        if short.is_none() {
            found += row.found;
            all += row.n;
        }
        // In so small a draw one recording more or less is several percent.
        let wanted = short.map_or(0.95, |(_, recall)| *recall);
        assert!(
            row.recall() >= wanted,
            "{}: {} of {} found from 15 dB on, {:.3}",
            row.case,
            row.found,
            row.n,
            row.recall()
        );
    }
    let recall = f64::from(found as u32) / f64::from(all as u32);
    assert!(recall >= 0.98, "{found} of {all} found, {recall:.3}");
}

#[test]
fn peak_frequency_is_right_to_a_third_of_a_kilohertz() {
    let all = TALLY.plain(ALL).unwrap();
    let peak = all.median["peak_khz"];
    assert!(peak < 0.3, "median error {peak:.3} kHz from 15 dB on");
    assert!(
        all.bias["peak_khz"].abs() < 0.1,
        "median signed error {:+.3} kHz from 15 dB on",
        all.bias["peak_khz"]
    );
}

#[test]
fn edges_and_times_are_right() {
    let all = TALLY.plain(ALL).unwrap();
    let limits = [
        ("start_khz", 1.0),
        ("end_khz", 0.5),
        ("high_khz", 1.0),
        ("low_khz", 0.5),
        ("characteristic_khz", 0.5),
        ("duration_ms", 0.3),
        ("interval_ms", 0.3),
        ("level_db", 1.5),
        ("snr_db", 2.0),
    ];
    for (quantity, limit) in limits {
        let median = all.median[quantity];
        assert!(
            median < limit,
            "median error of {quantity} {median:.3} from 15 dB on, wanted below {limit}"
        );
    }
}

#[test]
fn hardly_any_harmonic_is_taken_for_the_fundamental() {
    let all = TALLY.plain(ALL).unwrap();
    assert!(
        all.misassigned * 200 <= all.n,
        "{} of {} pulses from 15 dB on were measured at a multiple",
        all.misassigned,
        all.n
    );
}

/// Dense broadband song is the one background that still yields pulses now and
/// then; the README says how many.
const SONG: &str = "insect-stridulation";

#[test]
fn stated_intervals_hold_as_often_as_they_say() {
    let all = TALLY
        .coverage
        .iter()
        .find(|r| r.case == ALL && r.snr == "all");
    let all = all.unwrap();
    assert_eq!(all.held.len(), 14, "every number has an interval");
    for (quantity, (held, n)) in &all.held {
        let share = *held as f64 / *n as f64;
        // 95 % are stated. In so small a draw one recording is several percent.
        assert!(
            (0.90..=0.99).contains(&share),
            "the intervals of {quantity} hold in {share:.3} of {n} pulses"
        );
    }
}

#[test]
fn sequences_follow_one_animal() {
    let (mut right, mut wrong, mut broken) = (0, 0, 0);
    for (_, links) in &TALLY.links {
        right += links.right;
        wrong += links.wrong;
        broken += links.broken;
    }
    assert!(
        wrong * 50 <= right && broken * 25 <= right,
        "{right} links right, {wrong} wrong, {broken} broken"
    );
    let buzzes = TALLY.buzzes;
    assert!(
        buzzes.found * 6 >= buzzes.made * 5 && buzzes.false_ones <= 1,
        "{buzzes:?}"
    );
}

#[test]
fn recordings_are_said_to_hold_what_they_hold() {
    let bats: Vec<&str> = cases().map(|case| case.name()).collect();
    for row in &TALLY.verdicts {
        let all = row.holds + row.unsure + row.none;
        if bats.contains(&row.case) {
            // Some of the fainter ones hold one plain pulse or none.
            assert!(row.none * 3 <= all, "{row:?}");
        } else {
            assert!(row.holds * 2 <= all, "{row:?}");
        }
    }
}

#[test]
fn what_no_bat_made_is_listed_with_its_reason() {
    let of = |case: &str, reason: &str| {
        let row = TALLY.doubts.iter().find(|row| row.case == case).unwrap();
        let all: usize = row.reasons.values().sum();
        (row.reasons.get(reason).copied().unwrap_or(0), all)
    };
    for (case, reason) in [
        ("insect-rasp", "insect_like"),
        ("insect-cricket", "wind"),
        ("rain", "click"),
        ("bumps", "click"),
        ("pulsed-tones", "electronics"),
    ] {
        let (own, all) = of(case, reason);
        assert!(
            own > 0 && own * 2 >= all,
            "{case}: {own} of {all} are {reason}"
        );
    }
}

#[test]
fn noise_holds_no_bats() {
    let mut minutes = 0.0;
    let mut count = 0;
    for row in &TALLY.silence {
        let own: usize = row.extras.values().sum();
        // A third of a minute of each kind: one pulse is as little as can be seen.
        let allowed = if row.case == SONG { 6 } else { 1 };
        assert!(
            own <= allowed,
            "{}: {own} false pulses in {:.2} min",
            row.case,
            row.minutes
        );
        if row.case != SONG {
            minutes += row.minutes;
            count += own;
        }
    }
    assert!(
        f64::from(count as u32) / minutes <= 1.0,
        "{count} false pulses in {minutes:.2} min of noise"
    );
}

#[test]
fn one_sound_is_one_pulse() {
    // Echoes are judged apart: the loudest of them a person cannot tell from calls either.
    let rows = TALLY.extras.iter().filter(|row| row.case != "echoes");
    let extra: usize = rows.flat_map(|row| row.extras.values()).sum();
    let found: usize = TALLY
        .rows
        .iter()
        .filter(|r| r.case == ALL)
        .map(|r| r.found)
        .sum();
    assert!(
        extra * 50 <= found,
        "{extra} extra pulses beside {found} true ones: {:?}",
        TALLY.extras
    );
}
