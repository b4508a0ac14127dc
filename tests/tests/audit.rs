//! How many bats were missed, against published intervals, scipy's (`data/miss_rate_reference.csv`), theory, and by
//! counting every outcome that there can be.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use std::collections::HashSet;

use dusklens_core::night::audit::{AuditError, MissRate, draw, miss_rate};

#[test]
fn shares_are_those_of_the_literature() {
    // Newcombe 1998, Statistics in Medicine 17:857-872, table I, method 5 (Clopper & Pearson), four digits.
    for (found, checked, low, high) in [
        (81, 263, 0.2527, 0.3676),
        (15, 148, 0.0578, 0.1617),
        (0, 20, 0.0, 0.1684),
        (1, 29, 0.0009, 0.1776),
    ] {
        let rate = miss_rate(found, checked, 20_000).unwrap();
        assert!((rate.low - low).abs() < 0.000_05, "{rate:?}");
        assert!((rate.high - high).abs() < 0.000_05, "{rate:?}");
    }
}

#[test]
fn nothing_found_follows_the_rule_of_three() {
    // Hanley & Lippman-Hand 1983, JAMA 249:1743-1745: 3 in n, where all the 5 % lie above. With half of them above,
    // it is 1 - 0.025^(1/n), at most 3.69 in n.
    for checked in [1_u32, 2, 5, 20, 100, 1000, 20_000] {
        let rate = miss_rate(0, checked, 20_000).unwrap();
        let n = f64::from(checked);
        assert_eq!(
            (rate.share, rate.low, rate.missed, rate.missed_low),
            (0.0, 0.0, 0, 0)
        );
        assert!(
            (rate.high - (1.0 - 0.025_f64.powf(1.0 / n))).abs() < 1e-12,
            "{rate:?}"
        );
        assert!(
            checked < 20 || rate.high > 3.0 / n && rate.high < 3.69 / n,
            "{rate:?}"
        );
        // All found is the mirror of it.
        let all = miss_rate(checked, checked, 20_000).unwrap();
        assert_eq!((all.share, all.high, all.missed_high), (1.0, 1.0, 20_000));
        assert!((all.low - (1.0 - rate.high)).abs() < 1e-12, "{all:?}");
        assert_eq!(all.missed_low, 20_000 - rate.missed_high);
    }
}

#[test]
fn shares_and_numbers_are_those_of_scipy() {
    let table = include_str!("../data/miss_rate_reference.csv").lines();
    let mut checked = 0;
    for row in table.filter(|line| !line.starts_with('#')).skip(1) {
        let cells: Vec<f64> = row.split(',').map(|cell| cell.parse().unwrap()).collect();
        let rate = miss_rate(cells[0] as u32, cells[1] as u32, cells[2] as u32).unwrap();
        assert!((rate.low - cells[3]).abs() < 1e-9, "{rate:?} for {row}");
        assert!((rate.high - cells[4]).abs() < 1e-9, "{rate:?} for {row}");
        let numbers = (f64::from(rate.missed_low), f64::from(rate.missed_high));
        assert_eq!(numbers, (cells[5], cells[6]), "{rate:?}");
        assert!(
            (rate.missed_low..=rate.missed_high).contains(&rate.missed),
            "{rate:?}"
        );
        checked += 1;
    }
    assert_eq!(checked, 21);
}

/// The ways to choose `k` of `n`, exactly.
fn choose(n: u32, k: u32) -> f64 {
    if k > n {
        return 0.0;
    }
    (0..u128::from(k)).fold(1, |ways, i| ways * (u128::from(n) - i) / (i + 1)) as f64
}

/// What comes out for every number that can be found.
fn every(checked: u32, of_total: u32) -> Vec<MissRate> {
    (0..=checked)
        .map(|found| miss_rate(found, checked, of_total).unwrap())
        .collect()
}

#[test]
fn the_number_is_covered_whatever_it_is() {
    for (checked, of_total) in [
        (1, 1),
        (3, 10),
        (10, 10),
        (12, 40),
        (39, 40),
        (20, 75),
        (60, 100),
    ] {
        let rates = every(checked, of_total);
        for number in 0..=of_total {
            let outcome =
                |found| choose(number, found) * choose(of_total - number, checked - found);
            let covering = rates
                .iter()
                .filter(|rate| (rate.missed_low..=rate.missed_high).contains(&number));
            let covered: f64 = covering.map(|rate| outcome(rate.found)).sum();
            let covered = covered / choose(of_total, checked);
            assert!(
                covered > 0.95 - 1e-9,
                "{number} of {of_total} by {checked}: {covered}"
            );
        }
        if checked == of_total {
            assert!(
                rates
                    .iter()
                    .all(|rate| rate.missed_low == rate.found && rate.missed_high == rate.found)
            );
        }
    }
}

#[test]
fn the_share_is_covered_whatever_it_is() {
    for checked in [1, 2, 7, 20, 50] {
        let rates = every(checked, checked);
        for thousandth in 0..=1000 {
            let share = f64::from(thousandth) / 1000.0;
            let outcome = |found: u32| {
                let (hits, others) = (found as i32, (checked - found) as i32);
                choose(checked, found) * share.powi(hits) * (1.0 - share).powi(others)
            };
            let covering = rates
                .iter()
                .filter(|rate| rate.low <= share && share <= rate.high);
            let covered: f64 = covering.map(|rate| outcome(rate.found)).sum();
            assert!(covered > 0.95 - 1e-9, "{share} by {checked}: {covered}");
        }
    }
}

#[test]
fn counts_that_do_not_go_together_are_refused() {
    assert_eq!(miss_rate(0, 0, 10).unwrap_err(), AuditError::NothingChecked);
    for (found, checked, of_total) in [(2, 1, 10), (1, 11, 10)] {
        let error = miss_rate(found, checked, of_total).unwrap_err();
        assert!(error.to_string().contains("do not go together"), "{error}");
    }
    // No number is too large.
    let rate = miss_rate(0, 1, u32::MAX).unwrap();
    assert_eq!((rate.missed_low, rate.missed), (0, 0));
    assert!(miss_rate(u32::MAX, u32::MAX, u32::MAX).is_ok());
}

#[test]
fn a_draw_depends_on_seed_and_files_alone() {
    let names: Vec<String> = (0..200)
        .map(|number| format!("{:064x}", number * 7919 % 200))
        .collect();
    let contents: Vec<&str> = names.iter().map(String::as_str).collect();
    let mut turned = contents.clone();
    turned.reverse();
    turned.push(contents[5]);
    let drawn = draw(11, &contents, 30);
    assert_eq!(drawn.iter().collect::<HashSet<_>>().len(), 30);
    assert_eq!(draw(11, &turned, 30), drawn);
    assert_eq!(draw(11, &contents, 60)[..30], drawn);
    assert_ne!(draw(12, &contents, 30), drawn);
    assert_eq!(draw(11, &contents, 1000).len(), 200);
    assert_eq!(draw(11, &[], 3), Vec::<String>::new());
}

#[test]
fn every_file_is_as_likely_to_be_drawn() {
    let contents = ["a", "b", "c", "d", "e", "f", "g", "h"];
    let (draws, count) = (4000, 3);
    let mut times = [[0.0; 8]; 3];
    for seed in 0..draws {
        for (place, content) in draw(seed, &contents, count).iter().enumerate() {
            let which = contents.iter().position(|other| other == content).unwrap();
            times[place][which] += 1.0;
        }
    }
    // Pearson's chi-square of each place with 7 degrees of freedom: 24.3 is left above with probability 0.001.
    let expected = draws as f64 / 8.0;
    for place in times {
        let squares = place
            .iter()
            .map(|seen| (seen - expected) * (seen - expected));
        let chi_square = squares.sum::<f64>() / expected;
        assert!(chi_square < 24.3, "{chi_square} of {place:?}");
    }
}
