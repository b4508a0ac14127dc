//! Writes the pictures that `tests/pictures.rs` compares with, anew. Look at each before it is kept.

use std::error::Error;

use dusklens_tests::pictures;

fn main() -> Result<(), Box<dyn Error>> {
    let count = pictures::write()?;
    println!(
        "wrote {count} pictures into {}",
        pictures::folder().display()
    );
    Ok(())
}
