//! `dusklens measure` as a person runs it.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test may stop at the first surprise"
)]

mod made;

use std::fs;
use std::io::{BufRead, BufReader};
use std::path::PathBuf;
use std::process::{Command, Output, Stdio};

use made::{calls, wav};
use serde_json::Value;

/// A folder of its own for each test.
struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Self {
        let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
        let _ = fs::remove_dir_all(&path);
        fs::create_dir_all(&path).expect("a folder");
        Self(path)
    }

    fn file(&self, name: &str, bytes: &[u8]) {
        fs::write(self.0.join(name), bytes).expect("a file");
    }

    fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_dusklens"));
        command.current_dir(&self.0).arg("measure").args(arguments);
        command
    }

    fn run(&self, arguments: &[&str]) -> Run {
        Run::from(self.command(arguments).output().expect("the program runs"))
    }
}

struct Run {
    code: Option<i32>,
    out: String,
    err: String,
}

impl From<Output> for Run {
    fn from(output: Output) -> Self {
        Self {
            code: output.status.code(),
            out: String::from_utf8(output.stdout).expect("text"),
            err: String::from_utf8(output.stderr).expect("text"),
        }
    }
}

impl Run {
    fn json(&self) -> Value {
        serde_json::from_str(&self.out).unwrap_or_else(|error| panic!("{error} in {}", self.out))
    }
}

#[test]
fn json_has_facts_and_pulses_of_every_file_in_order() {
    let folder = Folder::new("json");
    folder.file(
        "b.wav",
        &wav(
            384_000,
            &[calls()],
            "GUANO|Version: 1.0\nMake: Alder Works\n",
        ),
    );
    folder.file("a.wav", &wav(384_000, &[vec![0.0; 4_000]], ""));
    let run = folder.run(&["--json", "b.wav", "a.wav"]);
    assert_eq!((run.code, run.err.as_str()), (Some(0), ""));
    let json = run.json();
    let recordings = json["recordings"].as_array().expect("recordings");
    assert_eq!(recordings.len(), 2);
    assert_eq!(
        (&recordings[0]["file"], &recordings[1]["file"]),
        (&"b.wav".into(), &"a.wav".into())
    );
    assert_eq!(recordings[0]["facts"]["make"], "Alder Works");
    assert_eq!(recordings[0]["facts"]["rate_hz"], 384_000.0);
    assert_eq!(recordings[1]["pulses"], Value::Array(Vec::new()));
    let pulses = recordings[0]["pulses"].as_array().expect("pulses");
    assert_eq!(pulses.len(), 3);
    for field in [
        "start_s",
        "end_s",
        "duration_ms",
        "peak_khz",
        "start_khz",
        "end_khz",
        "high_khz",
        "low_khz",
        "characteristic_khz",
        "sweep_khz_per_ms",
        "interval_ms",
        "level_db",
        "snr_db",
        "shape",
        "flags",
        "sequence",
    ] {
        assert!(pulses[0].get(field).is_some(), "{field}");
    }
    assert_eq!(pulses[0].get("contour"), None);
}

#[test]
fn contours_come_only_where_asked_for() {
    let folder = Folder::new("contours");
    folder.file("a.wav", &wav(384_000, &[calls()], ""));
    let json = folder.run(&["--json", "--contours", "a.wav"]).json();
    let khz = json["recordings"][0]["pulses"][0]["contour"]["khz"]
        .as_array()
        .expect("a contour");
    assert!(khz.len() > 10);
}

#[test]
fn csv_has_a_row_for_each_pulse_with_the_numbers_of_the_json() {
    let folder = Folder::new("csv");
    folder.file("a.wav", &wav(384_000, &[calls()], ""));
    let json = folder.run(&["--json", "a.wav"]).json();
    let run = folder.run(&["--csv", "a.wav"]);
    assert_eq!(run.code, Some(0));
    let mut lines = run.out.lines();
    let header: Vec<_> = lines.next().expect("a header").split(',').collect();
    let rows: Vec<Vec<_>> = lines.map(|line| line.split(',').collect()).collect();
    let pulses = json["recordings"][0]["pulses"].as_array().expect("pulses");
    assert_eq!(rows.len(), pulses.len());
    for (index, (row, pulse)) in rows.iter().zip(pulses).enumerate() {
        assert_eq!(row.len(), header.len());
        assert_eq!(
            (row[0], row[1]),
            ("a.wav", (index + 1).to_string().as_str())
        );
        for (name, tolerance) in [("start_s", 1e-6), ("duration_ms", 1e-3), ("peak_khz", 0.01)] {
            let column = header
                .iter()
                .position(|column| *column == name)
                .expect(name);
            let cell: f64 = row[column].parse().expect("a number");
            assert!(
                (cell - pulse[name].as_f64().expect("a number")).abs() <= tolerance,
                "{name}"
            );
        }
    }
}

#[test]
fn people_see_facts_notices_and_an_aligned_table() {
    let folder = Folder::new("people");
    let mut file = wav(
        384_000,
        &[calls()],
        "GUANO|Version: 1.0\nTimestamp: 2026-06-14T22:41:05+01:00\n",
    );
    file.truncate(file.len() - 76_800);
    folder.file("a.wav", &file);
    let run = folder.run(&["a.wav"]);
    assert_eq!((run.code, run.err.as_str()), (Some(0), ""));
    for words in [
        "a.wav",
        "began 2026-06-14 22:41:05 UTC+01:00",
        "0.100 s are missing",
        "peak",
        "kHz",
    ] {
        assert!(run.out.contains(words), "{words} in {}", run.out);
    }
}

#[test]
fn the_persons_expansion_gives_true_times_and_frequencies() {
    let folder = Folder::new("expansion");
    folder.file("slow.wav", &wav(38_400, &[calls()], ""));
    folder.file("real.wav", &wav(384_000, &[calls()], ""));
    let json = folder
        .run(&["--json", "--expansion", "10", "slow.wav", "slow.wav"])
        .json();
    let real = folder.run(&["--json", "real.wav"]).json();
    assert_eq!(
        json["recordings"][0]["pulses"],
        real["recordings"][0]["pulses"]
    );
    assert_eq!(
        json["recordings"][0]["facts"]["expansion"]["origin"],
        "person"
    );
    let guessed = folder.run(&["slow.wav"]);
    assert!(guessed.out.contains("--expansion 10"), "{}", guessed.out);
}

#[test]
fn channels_count_from_one() {
    let folder = Folder::new("channel");
    folder.file("two.wav", &wav(384_000, &[vec![0.0; 153_600], calls()], ""));
    let count = |channel| {
        let json = folder
            .run(&["--json", "--channel", channel, "two.wav"])
            .json();
        json["recordings"][0]["pulses"]
            .as_array()
            .expect("pulses")
            .len()
    };
    assert_eq!((count("1"), count("2")), (0, 3));
    let third = folder.run(&["--json", "--channel", "3", "two.wav"]);
    assert_eq!(third.code, Some(1));
    assert!(
        third.err.contains("there is no channel 3: the file has 2"),
        "{}",
        third.err
    );
}

#[test]
fn bad_files_are_reported_and_the_good_one_is_still_measured() {
    let folder = Folder::new("bad");
    let good = wav(384_000, &[calls()], "");
    let mut lying = good.clone();
    lying[40..44].copy_from_slice(&0x7fff_ffff_u32.to_le_bytes());
    let mut hostile = good.clone();
    hostile[22..24].copy_from_slice(&u16::MAX.to_le_bytes());
    folder.file("empty.wav", b"");
    folder.file("one-byte.wav", b"R");
    folder.file("header-only.wav", &good[..30]);
    folder.file("text.wav", b"date,site\n2026-06-14,Larkwater Fen\n");
    folder.file("zeros.wav", &[0; 4_096]);
    folder.file("channels.wav", &hostile);
    folder.file("cut.wav", &good[..100_001]);
    folder.file("lying.wav", &lying);
    folder.file("good.wav", &good);
    fs::create_dir_all(folder.0.join("folder.wav")).expect("a folder");
    let bad = [
        "empty.wav",
        "one-byte.wav",
        "header-only.wav",
        "text.wav",
        "zeros.wav",
        "missing.wav",
        "folder.wav",
    ];
    let readable = ["channels.wav", "cut.wav", "lying.wav", "good.wav"];
    let all: Vec<_> = ["--json"]
        .iter()
        .chain(&bad)
        .chain(&readable)
        .copied()
        .collect();
    let run = folder.run(&all);
    assert_eq!(run.code, Some(1));
    for name in bad {
        let lines: Vec<_> = run
            .err
            .lines()
            .filter(|line| line.contains(&format!(" {name}: ")))
            .collect();
        assert_eq!(lines.len(), 1, "{name} in {}", run.err);
    }
    assert!(!run.err.contains("panicked"), "{}", run.err);
    let json = run.json();
    let names: Vec<_> = json["recordings"]
        .as_array()
        .expect("recordings")
        .iter()
        .map(|r| r["file"].as_str())
        .collect();
    assert_eq!(names, readable.map(Some));
    assert_eq!(
        json["recordings"][3]["pulses"].as_array().map(Vec::len),
        Some(3)
    );
}

#[test]
fn metadata_and_names_cannot_steer_the_terminal() {
    let folder = Folder::new("script");
    let note =
        "GUANO|Version: 1.0\nTimestamp: <script>\x1b[31m\u{202e}alert(1)</script>\nNote: x\n";
    folder.file("a.wav", &wav(384_000, &[vec![0.0; 4_000]], note));
    let run = folder.run(&["a.wav", "no\x1b[2J.wav"]);
    assert!(!run.out.contains(['\x1b', '\u{202e}']), "{:?}", run.out);
    assert!(!run.err.contains('\x1b'), "{:?}", run.err);
    assert!(run.out.contains("<script>"), "{}", run.out);
}

#[test]
fn choices_that_cannot_be_are_refused_before_anything_is_read() {
    let folder = Folder::new("choices");
    for arguments in [
        &["--expansion", "0", "a.wav"][..],
        &["--expansion", "nan", "a.wav"],
        &["--channel", "0", "a.wav"],
        &["--json", "--csv", "a.wav"],
        &["--contours", "a.wav"],
        &[],
    ] {
        assert_eq!(folder.run(arguments).code, Some(2), "{arguments:?}");
    }
}

#[test]
fn a_reader_that_stops_early_is_no_fault() {
    let folder = Folder::new("pipe");
    folder.file("a.wav", &wav(384_000, &[vec![0.0; 4_000]], ""));
    let many = vec!["a.wav"; 2_000];
    let mut child = folder
        .command(&[&["--json"], many.as_slice()].concat())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program runs");
    let mut line = String::new();
    BufReader::new(child.stdout.take().expect("a pipe"))
        .read_line(&mut line)
        .expect("a line");
    let run = Run::from(child.wait_with_output().expect("it ends"));
    assert_eq!((run.code, run.err.as_str()), (Some(0), ""));
}
