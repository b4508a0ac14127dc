//! Prints how long call links are and what a receiver measures: of all samples, and of 200 pulses drawn at random.

use dusklens_tests::call_links::{Row, drawn, of_file};
use dusklens_tests::samples;
use std::error::Error;

const DRAWN: usize = 200;

fn main() -> Result<(), Box<dyn Error + Send + Sync>> {
    let files = samples::files().map_err(|error| error.to_string())?;
    for (name, bytes) in files.into_iter().filter(|(name, _)| name.ends_with(".wav")) {
        for row in of_file(&name, bytes)? {
            println!("{row}");
        }
    }
    let rows = drawn(DRAWN)?;
    for row in &rows {
        println!("{row}");
    }
    let share = |is: fn(&Row) -> bool| rows.iter().filter(|row| is(row)).count();
    println!(
        "Of {DRAWN} pulses {} came within 0.1 kHz and 0.1 ms, {} within that or the sender's own interval of 95 %.",
        share(|row| row.cost.is_small()),
        share(Row::is_good),
    );
    let mut chars: Vec<usize> = rows.iter().map(|row| row.chars).collect();
    chars.sort_unstable();
    let at = |share: usize| chars.get(DRAWN * share / 100).copied().unwrap_or(0);
    println!(
        "Half of the links have up to {} characters, 95 % up to {}, all up to {}.",
        at(50),
        at(95),
        at(99)
    );
    Ok(())
}
