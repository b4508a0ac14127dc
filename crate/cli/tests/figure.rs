//! `dusklens figure` as a person runs it.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a test may stop at the first surprise"
)]

use std::fs;
use std::path::PathBuf;
use std::process::{Command, Output};

fn sample() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .join("../../sample-calls/larkwater-fen-01-first-pass.wav")
}

fn figure(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_dusklens"))
        .arg("figure")
        .args(arguments)
        .output()
        .expect("the program runs")
}

#[test]
fn draws_what_was_asked_for_and_never_over_a_file() {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("figure");
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("a folder");
    let (recording, goal) = (sample(), folder.join("pass.svg"));
    let (recording, goal) = (recording.to_str().unwrap(), goal.to_str().unwrap());
    let arguments = [
        recording, "--to", "0.5", "--width", "120", "--dpi", "100", "--title", "A <pass>", "-o",
        goal,
    ];
    let output = figure(&arguments);
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    let svg = fs::read_to_string(goal).unwrap();
    for part in [
        "width=\"120mm\"",
        "A &lt;pass&gt;",
        "Frequency, kHz",
        "larkwater-fen-01-first-pass.wav: ",
    ] {
        assert!(svg.contains(part), "{part}");
    }
    // Again, where the figure is by now, and where the recording is.
    assert!(!figure(&arguments).status.success());
    let before = fs::read(recording).unwrap();
    assert!(
        !figure(&[recording, "--dpi", "100", "-o", recording])
            .status
            .success()
    );
    assert_eq!(fs::read(recording).unwrap(), before);
}

#[test]
fn says_what_is_wrong() {
    let recording = sample();
    let recording = recording.to_str().unwrap();
    let message = |arguments: &[&str]| {
        let output = figure(arguments);
        assert!(!output.status.success());
        String::from_utf8_lossy(&output.stderr).into_owned()
    };
    assert!(message(&[recording, "--width", "9000"]).contains("from 60 to 400 mm wide"));
    assert!(message(&[recording, "--from", "3", "--to", "1"]).contains("no stretch of time"));
    assert!(message(&[recording, "--channel", "2"]).contains("no channel 2"));
    assert!(message(&[recording, "--colours", "pink"]).contains("viridis"));
    assert!(message(&["no-such.wav"]).contains("could not be opened"));
}
