//! An invented night on a disk: what lies there is what its truth says.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use dusklens_core::recording::{OpenOptions, Recording};
use dusklens_core::teach::night::{Fault, NightOptions, NightPlan, NightTruth};
use dusklens_tests::night::{CARD, TRUTH, write};

fn files_below(folder: &Path, found: &mut BTreeSet<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files_below(&path, found);
        } else {
            found.insert(path);
        }
    }
}

#[test]
fn a_card_holds_what_its_truth_says() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("night");
    // What an earlier run left.
    let _ = fs::remove_dir_all(&folder);
    let plan = NightPlan::new(&NightOptions {
        files: 12,
        duration_s: 0.2,
        faults: Fault::together(),
        ..NightOptions::default()
    })
    .unwrap();
    let bytes = write(&plan, &folder, |_, _| {}).unwrap();
    let again = write(&plan, &folder, |_, _| {}).unwrap_err().to_string();
    assert!(again.contains("already"), "{again}");

    let text = fs::read_to_string(folder.join(TRUTH)).unwrap();
    let truth: NightTruth = serde_json::from_str(&text).unwrap();
    let mut found = BTreeSet::new();
    files_below(&folder.join(CARD), &mut found);
    let said = truth
        .files
        .iter()
        .map(|file| folder.join(CARD).join(&file.path));
    assert_eq!(found, said.collect());
    let sizes = found.iter().map(|path| fs::metadata(path).unwrap().len());
    assert_eq!(sizes.sum::<u64>(), bytes);

    for file in &truth.files {
        let bytes = fs::read(folder.join(CARD).join(&file.path)).unwrap();
        let opened = Recording::open(bytes, &OpenOptions::default());
        let Some(rate_hz) = file.rate_hz.filter(|_| file.duration_s > 0.0) else {
            assert!(opened.is_err(), "{} is no recording", file.path);
            continue;
        };
        let recording = opened.unwrap();
        assert_eq!(recording.rate_hz(), f64::from(rate_hz), "{}", file.path);
        let off_s = recording.facts().duration_s - file.duration_s;
        assert!(off_s.abs() < 2.0 / f64::from(rate_hz), "{}", file.path);
        if let Some(start) = &recording.facts().start {
            // The offset from UTC stands in a field of its own.
            let local = file.start.as_deref().and_then(|start| start.get(..19));
            assert_eq!(Some(start.local.as_str()), local, "{}", file.path);
        }
    }
}
