//! Absorption of sound in air against ISO 9613-1:1993; `data/air_absorption.csv` says where each row comes from.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use dusklens_core::field::Air;

#[test]
fn absorption_is_that_of_the_standard() {
    let rows = include_str!("../data/air_absorption.csv").lines();
    let rows = rows.filter(|line| !line.starts_with('#')).skip(1);
    let mut checked = 0;
    for row in rows {
        let cells: Vec<&str> = row.split(',').collect();
        let number = |at: usize| cells[at].parse::<f64>().unwrap();
        let air = Air {
            temperature_c: number(0),
            humidity_percent: number(1),
            pressure_kpa: number(2),
        };
        let ratio = air.absorption_db_per_m(number(3)) / number(4);
        // The table is printed to three digits; the computed rows to four decimals.
        let allowed = if cells[5] == "table" { 0.005 } else { 0.001 };
        assert!((ratio - 1.0).abs() < allowed, "{ratio} for {row}");
        checked += 1;
    }
    assert!(checked > 50, "{checked} rows");
}
