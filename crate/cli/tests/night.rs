//! `dusklens night` as a person runs it.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test may stop at the first surprise"
)]

mod made;

use std::collections::BTreeMap;
use std::fs;
use std::path::PathBuf;
use std::process::Command;

use dusklens_core::night::Moment;
use made::{calls, wav};
use parquet::file::reader::{FileReader, SerializedFileReader};
use parquet::record::Field;
use serde_json::Value;

type Row = BTreeMap<String, String>;

/// A folder of its own for each test, with cards in it.
struct Folder(PathBuf);

struct Run {
    code: Option<i32>,
    out: String,
    err: String,
}

impl Folder {
    fn new(name: &str) -> Self {
        let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
        let _ = fs::remove_dir_all(&path);
        fs::create_dir_all(&path).expect("a folder");
        Self(path.canonicalize().expect("a path"))
    }

    fn file(&self, name: &str, bytes: &[u8]) {
        let path = self.0.join(name);
        fs::create_dir_all(path.parent().expect("a parent")).expect("a folder");
        fs::write(path, bytes).expect("a file");
    }

    fn run(&self, arguments: &[&str]) -> Run {
        let mut command = Command::new(env!("CARGO_BIN_EXE_dusklens"));
        let output = command
            .current_dir(&self.0)
            .arg("night")
            .args(arguments)
            .output();
        let output = output.expect("the program runs");
        Run {
            code: output.status.code(),
            out: String::from_utf8(output.stdout).expect("text"),
            err: String::from_utf8(output.stderr).expect("text"),
        }
    }

    fn text(&self, name: &str) -> String {
        fs::read_to_string(self.0.join(name)).expect("a text")
    }

    /// The rows of a table, as somebody else's reader has them.
    fn rows(&self, name: &str) -> Vec<Row> {
        let mut reader = csv::Reader::from_path(self.0.join(name)).expect("a table");
        reader
            .deserialize()
            .map(|row| row.expect("a row"))
            .collect()
    }

    fn names(&self, folder: &str) -> Vec<String> {
        let entries = fs::read_dir(self.0.join(folder)).expect("a folder");
        let mut names: Vec<String> = entries
            .map(|entry| {
                entry
                    .expect("an entry")
                    .file_name()
                    .to_string_lossy()
                    .into_owned()
            })
            .collect();
        names.sort();
        names
    }
}

fn at(local: &str) -> String {
    format!("GUANO|Version: 1.0\nTimestamp: {local}+01:00\nMake: Alder Works\nSerial: FEN-07\n")
}

/// Two cards of a recorder: an evening with calls, silence, a copy, an empty and a broken file, other files; and a night later.
fn cards(name: &str) -> Folder {
    let folder = Folder::new(name);
    let call = wav(384_000, &[calls()], &at("2026-06-14T22:41:05"));
    folder.file("card/FEN-07/a.wav", &call);
    folder.file(
        "card/FEN-07/b.WAV",
        &wav(384_000, &[vec![0.0; 40_000]], &at("2026-06-15T02:00:00")),
    );
    folder.file("card/again/a.wav", &call);
    folder.file("card/FEN-07/20260615_030000.wav", b"");
    folder.file("card/FEN-07/20260615_031000.wav", b"RIFF\0\0\0\0WAVEjunk");
    folder.file("card/FEN-07/log.txt", b"battery 5.9 V");
    folder.file("card/FEN-07/._a.wav", b"shadow");
    folder.file(
        "later/c.wav",
        &wav(384_000, &[calls()], &at("2026-06-15T23:00:00")),
    );
    folder
}

fn sum(rows: &[Row], column: &str) -> u64 {
    let cells = rows.iter().map(|row| row[column].as_str());
    cells
        .filter(|cell| !cell.is_empty())
        .map(|cell| cell.parse::<u64>().expect("a count"))
        .sum()
}

#[test]
fn two_cards_give_two_nights_with_all_files_in_the_tables() {
    let folder = cards("night-tables");
    let run = folder.run(&[
        "card",
        "later",
        "--out",
        "results",
        "--utc-offset",
        "+01:00",
        "--position",
        "52.6,-0.4",
    ]);
    assert_eq!((run.code, run.err.as_str()), (Some(0), ""));
    assert!(
        run.out.contains("6 files examined, 0 already known"),
        "{}",
        run.out
    );
    assert!(run.out.contains("2 other files"), "{}", run.out);
    let recordings = folder.rows("results/recordings.csv");
    let nights: Vec<_> = recordings.iter().map(|row| row["night"].as_str()).collect();
    assert_eq!(
        nights,
        ["2026-06-14"; 5]
            .into_iter()
            .chain(["2026-06-15"])
            .collect::<Vec<_>>()
    );
    assert!(recordings.iter().all(|row| row["recorder"] == "FEN-07"));
    let of = |path: &str| {
        recordings
            .iter()
            .find(|row| row["path"] == path)
            .expect(path)
    };
    assert_eq!(of("card/FEN-07/a.wav")["pulses"], "3");
    assert_eq!(of("card/again/a.wav")["copy_of"], "card/FEN-07/a.wav");
    assert_eq!(
        of("card/FEN-07/20260615_030000.wav")["fault"],
        "the file is empty (0 bytes)"
    );
    assert!(!of("card/FEN-07/20260615_031000.wav")["fault"].is_empty());
    assert_eq!(
        of("card/FEN-07/20260615_031000.wav")["start"],
        "2026-06-15T03:10:00+01:00"
    );
    assert_eq!(of("later/c.wav")["start"], "2026-06-15T23:00:00+01:00");

    let pulses = folder.rows("results/pulses.csv");
    assert_eq!(pulses.len() as u64, 6);
    assert_eq!(sum(&recordings, "pulses"), 6);
    assert_eq!(folder.rows("results/passes.csv").len(), 2);
    assert_eq!(
        sum(&folder.rows("results/passes_per_hour.csv"), "passes"),
        2
    );
    let summary: Value = serde_json::from_str(&folder.text("results/night.json")).expect("JSON");
    assert_eq!(summary["nights"][0]["totals"]["broken"], 2);
    assert_eq!(summary["nights"][0]["totals"]["copies"], 1);
    assert_eq!(summary["nights"][1]["totals"]["passes"], 1);
    let report = folder.text("results/report.html");
    assert!(report.contains("2026-06-14") && report.contains("2026-06-15"));
    // A night each, and the recordings that could be read and are no copies.
    assert_eq!(folder.rows("results/event.csv").len(), 2 + 3);
    assert_eq!(folder.rows("results/occurrence.csv").len(), 2);
    assert!(
        folder
            .text("results/meta.xml")
            .contains("<location>occurrence.csv</location>")
    );
    assert!(
        folder
            .names("results")
            .iter()
            .all(|name| !name.ends_with(".part"))
    );
}

#[test]
fn parquet_has_a_row_group_a_night_and_the_values_of_the_text() {
    let folder = cards("night-parquet");
    let run = folder.run(&[
        "card",
        "later",
        "--out",
        "results",
        "--utc-offset",
        "+01:00",
    ]);
    assert_eq!(run.code, Some(0), "{}", run.err);
    for (name, groups, rows) in [("recordings", 2, 6), ("passes", 2, 2), ("pulses", 2, 6)] {
        let file =
            fs::File::open(folder.0.join(format!("results/{name}.parquet"))).expect("a file");
        let reader = SerializedFileReader::new(file).expect("Parquet");
        assert_eq!(reader.num_row_groups(), groups, "{name}");
        let typed = reader.get_row_iter(None).expect("rows");
        let text = folder.rows(&format!("results/{name}.csv"));
        assert_eq!(text.len(), rows, "{name}");
        let mut count = 0;
        for (typed, text) in typed.zip(&text) {
            count += 1;
            let typed = typed.expect("a row");
            let columns: BTreeMap<&String, &Field> = typed.get_column_iter().collect();
            for (column, cell) in text {
                is_same(column, columns[column], cell);
            }
        }
        assert_eq!(count, rows, "{name}");
    }
}

/// Whether a typed value is what the text has.
fn is_same(column: &str, value: &Field, cell: &str) {
    let told = || cell.parse::<f64>().expect("a number");
    match value {
        Field::Null => assert_eq!(cell, "", "{column}"),
        Field::Bool(flag) => assert_eq!(cell, if *flag { "yes" } else { "no" }),
        Field::Str(word) => assert_eq!(cell, word, "{column}"),
        Field::Long(count) => assert_eq!(cell, count.to_string(), "{column}"),
        // Rates have no decimals in the text.
        Field::Double(number) => {
            assert!((number - told()).abs() <= 0.5, "{column}: {number}, {cell}")
        }
        Field::TimestampMillis(ms) => {
            let local = Moment::from_utc_s(*ms as f64 / 1e3).iso(60);
            assert_eq!(local, cell, "{column}");
        }
        other => panic!("{column} holds {other:?}"),
    }
}

#[test]
fn a_command_that_was_stopped_goes_on_where_it_was() {
    let folder = cards("night-resume");
    let arguments = [
        "card",
        "later",
        "--out",
        "results",
        "--utc-offset",
        "+01:00",
        "--jobs",
        "1",
    ];
    assert_eq!(folder.run(&arguments).code, Some(0));
    let tables = ["recordings.csv", "pulses.csv", "passes.csv", "event.csv"]
        .map(|name| format!("results/{name}"));
    let whole = tables.each_ref().map(|name| folder.text(name));
    // As if it was killed while the fourth line was written.
    let journal = folder.text("results/examined.jsonl");
    let three: usize = journal.lines().take(3).map(|line| line.len() + 1).sum();
    fs::write(
        folder.0.join("results/examined.jsonl"),
        &journal[..three + 40],
    )
    .expect("a journal");
    for name in &tables {
        fs::remove_file(folder.0.join(name)).expect("a table");
    }
    let run = folder.run(&arguments);
    assert!(
        run.out.contains("3 files examined, 3 already known"),
        "{}",
        run.out
    );
    assert_eq!(tables.each_ref().map(|name| folder.text(name)), whole);
    let run = folder.run(&arguments);
    assert!(
        run.out.contains("0 files examined, 6 already known"),
        "{}",
        run.out
    );

    // A file that changed, and other options, are other results.
    folder.file(
        "card/FEN-07/b.WAV",
        &wav(384_000, &[vec![0.0; 50_000]], &at("2026-06-15T02:00:00")),
    );
    let run = folder.run(&arguments);
    assert!(
        run.out.contains("1 files examined, 5 already known"),
        "{}",
        run.out
    );
    let run = folder.run(&[&arguments[..], &["--expansion", "2"]].concat());
    assert!(
        run.out.contains("6 files examined, 0 already known"),
        "{}",
        run.out
    );
}

#[test]
fn no_recording_is_touched_and_wrong_folders_are_refused() {
    let folder = cards("night-refuse");
    let before = fs::read(folder.0.join("card/FEN-07/a.wav")).expect("bytes");
    let refused = folder.run(&["card", "--out", "card"]);
    assert_eq!(refused.code, Some(2));
    assert!(
        refused.err.contains("name another one with --out"),
        "{}",
        refused.err
    );
    folder.file("mine/recordings.csv", b"not yours");
    let refused = folder.run(&["card", "--out", "mine"]);
    assert_eq!(refused.code, Some(2));
    assert_eq!(folder.text("mine/recordings.csv"), "not yours");
    assert_eq!(folder.run(&["nowhere", "--out", "results"]).code, Some(2));
    assert_eq!(
        folder
            .run(&["card", "--out", "results", "--timer", "noon"])
            .code,
        Some(2)
    );
    // Results within a folder that is searched are no recordings.
    let within = folder.run(&["card", "--out", "card/results"]);
    assert_eq!(within.code, Some(0), "{}", within.err);
    let again = folder.run(&["card", "--out", "card/results"]);
    assert!(
        again.out.contains("0 files examined, 5 already known"),
        "{}",
        again.out
    );
    assert!(again.err.contains("passed over"), "{}", again.err);
    assert_eq!(
        fs::read(folder.0.join("card/FEN-07/a.wav")).expect("bytes"),
        before
    );
    assert_eq!(folder.names("card/FEN-07").len(), 6);
}

#[cfg(unix)]
#[test]
fn links_that_lead_back_are_followed_once() {
    let folder = cards("night-links");
    std::os::unix::fs::symlink(folder.0.join("card"), folder.0.join("card/FEN-07/back"))
        .expect("a link");
    let run = folder.run(&["card", "card/FEN-07", "--out", "results"]);
    assert_eq!(run.code, Some(0), "{}", run.err);
    assert!(run.out.contains("5 files examined"), "{}", run.out);
}

#[test]
fn labels_of_a_keep_file_are_the_identifications_and_the_place_is_withheld() {
    let folder = cards("night-labels");
    let run = folder.run(&["card", "--out", "results"]);
    assert_eq!(run.code, Some(0), "{}", run.err);
    let recordings = folder.rows("results/recordings.csv");
    let hash = &recordings
        .iter()
        .find(|row| row["path"] == "card/FEN-07/a.wav")
        .expect("a row")["sha256"];
    let keep = format!(
        r#"{{"format": "dusklens keep file", "version": 1, "written": "2026-06-16T09:00:00+01:00", "by": "Dusklens",
        "own": {{"words": [], "who": "Rosa Field"}}, "recordings": [{{"hash": "{hash}", "bytes": 1, "name": "a.wav", "remarks":
        {{"hand": [], "labels": [{{"id": "x1", "when": "2026-06-16T09:00:00+01:00", "about": [], "text": "Myotis cf. nattereri",
        "certainty": "probable", "note": "", "who": "Rosa Field"}}]}}}}]}}"#
    );
    folder.file("keep.json", keep.as_bytes());
    let run = folder.run(&[
        "card",
        "--out",
        "results",
        "--labels",
        "keep.json",
        "--place",
        "withheld",
        "--position",
        "52.6,0.4",
    ]);
    assert_eq!(run.code, Some(0), "{}", run.err);
    let occurrences = folder.rows("results/occurrence.csv");
    assert_eq!(occurrences.len(), 1);
    assert_eq!(occurrences[0]["scientificName"], "Myotis");
    assert_eq!(
        occurrences[0]["identificationQualifier"],
        "cf. nattereri; probable"
    );
    assert!(!folder.text("results/event.csv").contains("52.6"));
    folder.file("keep.json", b"{}");
    assert_eq!(
        folder
            .run(&["card", "--out", "results", "--labels", "keep.json"])
            .code,
        Some(2)
    );
}

/// The script of the documentation, with nothing but Python's own library.
#[test]
fn the_script_for_many_nights_works_through_a_season() {
    let python = |folder: &Folder, arguments: &[&str]| {
        let script = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/many_nights.py");
        let mut command = Command::new("python3");
        command
            .current_dir(&folder.0)
            .arg(script)
            .args(["season", "results"]);
        command
            .args(["--program", env!("CARGO_BIN_EXE_dusklens")])
            .args(arguments);
        command.output()
    };
    let folder = Folder::new("night-season");
    for (card, local) in [
        ("east", "2026-06-14T22:41:05"),
        ("west", "2026-06-15T22:00:00"),
    ] {
        folder.file(
            &format!("season/{card}/a.wav"),
            &wav(384_000, &[calls()], &at(local)),
        );
    }
    let Ok(counted) = python(&folder, &["--count"]) else {
        eprintln!("NOT RUN: there is no python3 here to run crate/cli/docs/many_nights.py with");
        return;
    };
    assert_eq!(String::from_utf8_lossy(&counted.stdout).trim(), "2");
    let one = python(&folder, &["--task", "1", "--", "--utc-offset", "+01:00"]).expect("python3");
    assert!(
        one.status.success(),
        "{}",
        String::from_utf8_lossy(&one.stderr)
    );
    assert_eq!(folder.names("results"), ["west"]);
    let all =
        python(&folder, &["--at-once", "2", "--", "--utc-offset", "+01:00"]).expect("python3");
    assert!(
        all.status.success(),
        "{}",
        String::from_utf8_lossy(&all.stderr)
    );
    for (card, told) in [
        ("east", "1 files examined, 0 already known"),
        ("west", "0 files examined, 1 already known"),
    ] {
        assert!(
            folder
                .text(&format!("results/{card}/messages.txt"))
                .contains(told),
            "{card}"
        );
        assert_eq!(folder.rows(&format!("results/{card}/passes.csv")).len(), 1);
    }
}
