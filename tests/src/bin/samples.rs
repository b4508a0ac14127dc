//! Writes the sample recordings of the Larkwater Fen survey with their truth.
//!
//! Usage: `samples [FOLDER]`; without a folder, the repository's `sample-calls`.

use std::error::Error;
use std::path::PathBuf;

use dusklens_tests::samples;

fn main() -> Result<(), Box<dyn Error>> {
    let folder = std::env::args_os()
        .nth(1)
        .map_or_else(samples::folder, PathBuf::from);
    let bytes = samples::write(&folder)?;
    println!(
        "wrote {:.2} MB into {}",
        bytes as f64 / 1e6,
        folder.display()
    );
    Ok(())
}
