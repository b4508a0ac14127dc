//! The seeds of the fuzz target, and whatever has crashed it, replayed.

use std::path::Path;

use super::properties::exercise;

#[test]
fn every_seed_is_read_or_refused() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fuzz/seeds/read");
    let mut count = 0;
    for entry in std::fs::read_dir(folder).expect("the seeds are there") {
        let bytes = std::fs::read(entry.expect("a seed").path()).expect("a seed");
        for length in 0..=bytes.len().min(300) {
            exercise(bytes[..length].to_vec());
        }
        exercise(bytes);
        count += 1;
    }
    assert!(count >= 29, "only {count} seeds");
}
