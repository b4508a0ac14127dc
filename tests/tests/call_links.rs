//! Call links of all samples and of pulses drawn at random: they are short, and a receiver measures what the sender did.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use dusklens_tests::call_links::{Row, drawn, of_file};
use dusklens_tests::samples;

/// Few enough for every run of the tests; `cargo run --profile quick -p dusklens-tests --bin call_links` draws two hundred.
const DRAWN: usize = 18;

fn print(rows: &[Row]) {
    for row in rows {
        println!("{row}");
    }
}

#[test]
fn calls_of_all_samples_travel_well() {
    let files = samples::files().unwrap();
    let rows: Vec<Row> = files
        .into_iter()
        .filter(|(name, _)| name.ends_with(".wav"))
        .flat_map(|(name, bytes)| of_file(&name, bytes).unwrap())
        .collect();
    print(&rows);
    assert!(rows.len() >= 20, "{}", rows.len());
    for row in &rows {
        assert!(row.is_good(), "{row}");
        let limit = if row.pulses == 1 { 2000 } else { 16_000 };
        assert!(row.chars < limit, "{row}");
    }
}

#[test]
fn calls_drawn_at_random_travel_well() {
    let rows = drawn(DRAWN).unwrap();
    print(&rows);
    assert_eq!(rows.len(), DRAWN);
    // Of a short FM pulse it is promised.
    for row in rows
        .iter()
        .filter(|row| row.what == "FM" && row.duration_ms <= 6.0)
    {
        assert!(row.chars < 2000, "{row}");
    }
    assert!(rows.iter().all(|row| row.chars < 4000));
    let good = rows.iter().filter(|row| row.is_good()).count();
    assert!(good + 1 >= DRAWN, "{good} of {DRAWN}");
}
