#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use std::collections::BTreeMap;

use super::*;
use crate::night::tests::{content, file, with_pass};
use crate::night::{
    Card, CardFile, Content, NightSettings, Review, ReviewVerdict, Timer, TimerEdge,
};
use crate::pulse::{Doubt, DoubtCount, Findings};
use crate::recording::{Certainty, Label};

/// What a reader of tables that others wrote makes of a text: its rows by the names of the columns.
pub(super) fn read(text: &str) -> Vec<BTreeMap<String, String>> {
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(text.as_bytes());
    reader.deserialize().map(Result::unwrap).collect()
}

pub(super) fn label(id: &str, text: &str, certainty: Certainty) -> Label {
    Label {
        id: id.to_owned(),
        when: "2026-06-15T09:00:00+01:00".to_owned(),
        about: Vec::new(),
        text: text.to_owned(),
        certainty,
        note: String::new(),
        who: "Rosa Field".to_owned(),
    }
}

/// A night of six files: a pass, a pass of a single pulse (none by the settings), silence, a copy, a broken one, one with a name
/// that does its worst.
pub(super) fn night() -> (Night, Decisions) {
    let mut card = Card::default();
    let mut lone = with_pass("2026-06-14T23:10:00");
    lone.passes[0].pulses = 1;
    let one = file("FEN-07/1.wav", with_pass("2026-06-14T22:00:00"));
    card.take(CardFile {
        path: "later/1.wav".to_owned(),
        ..one.clone()
    });
    card.take(one);
    card.take(file("FEN-07/2.wav", lone));
    card.take(file("FEN-07/3.wav", content("2026-06-15T01:30:00")));
    card.take(CardFile::unreadable(
        "FEN-07/20260615_020000.wav".to_owned(),
        0,
        None,
        "the file is empty".to_owned(),
        String::new(),
    ));
    let doubted = Content {
        doubts: vec![DoubtCount {
            doubt: Doubt::Wind,
            sounds: 4,
        }],
        tones_khz: vec![19.5, 38.0],
        ..with_pass("2026-06-15T02:10:00")
    };
    card.take(file("=cmd(\"a\"),#\n.wav", doubted));
    let settings = NightSettings {
        utc_offset_min: 60,
        site: "Larkwater Fen, east".to_owned(),
        who: "Rosa Field".to_owned(),
        ..NightSettings::default()
    };
    let night = card.nights(&settings).0.swap_remove(0);
    let key = |path: &str| {
        let own = night.files.iter().find(|own| own.file.path == path);
        own.unwrap().file.examined.sha256.clone()
    };
    let mut decisions = Decisions::default();
    let words = vec![
        label("a", "Pipistrellus pipistrellus", Certainty::Sure),
        label("b", "@two, perhaps", Certainty::Possible),
    ];
    decisions.labels.insert(key("FEN-07/1.wav"), words);
    let review = Review {
        verdict: ReviewVerdict::Bat,
        who: "Rosa Field".to_owned(),
        when: "2026-06-15T10:00:00+01:00".to_owned(),
    };
    decisions.reviews.insert(key("FEN-07/3.wav"), review);
    (night, decisions)
}

fn sum(rows: &[BTreeMap<String, String>], column: &str) -> f64 {
    let cells = rows.iter().map(|row| row[column].as_str());
    let known = cells.filter(|cell| !cell.is_empty());
    known.map(|cell| cell.parse::<f64>().unwrap()).sum()
}

#[test]
fn every_file_is_a_row_and_counts_agree_between_tables_and_totals() {
    let (night, decisions) = night();
    let totals = night.totals();
    let nights = [night];
    let recordings = read(&recordings_csv(&nights, &decisions));
    let passes = read(&passes_csv(&nights, &decisions));
    let hours = read(&passes_per_hour_csv(&nights));
    assert_eq!(recordings.len(), 6);
    for rows in [&recordings, &hours] {
        assert_eq!(sum(rows, "passes"), 2.0);
    }
    assert_eq!((passes.len(), totals.passes), (2, 2));
    assert_eq!(sum(&recordings, "pulses"), f64::from(totals.pulses));
    assert_eq!(sum(&hours, "recordings"), f64::from(totals.recordings));
    assert_eq!(sum(&recordings, "wind_sounds"), 4.0);
}

#[test]
fn a_row_says_what_is_known_and_nothing_else() {
    let (night, decisions) = night();
    let rows = read(&recordings_csv(&[night], &decisions));
    let of = |path: &str| rows.iter().find(|row| row["path"] == path).unwrap();
    let first = of("FEN-07/1.wav");
    assert_eq!(first["start"], "2026-06-14T22:00:00+01:00");
    assert_eq!(first["time_original"], "2026-06-14T22:00:00+01:00");
    assert_eq!(first["labels"], "Pipistrellus pipistrellus; @two, perhaps");
    assert_eq!(first["certainty"], "sure; possible");
    assert_eq!(first["loudest_peak_khz"], "45.00");
    assert_eq!(first["noise_40_khz_db"], "-75.0");
    let copy = of("later/1.wav");
    assert_eq!(
        (copy["copy_of"].as_str(), copy["pulses"].as_str()),
        ("FEN-07/1.wav", "")
    );
    let broken = of("FEN-07/20260615_020000.wav");
    assert_eq!(broken["fault"], "the file is empty");
    assert_eq!(
        (broken["verdict"].as_str(), broken["cut_off"].as_str()),
        ("", "")
    );
    assert_eq!(broken["start"], "2026-06-15T02:00:00+01:00");
    // The name begins no formula and breaks no line; a reader that passes over comments keeps it whole.
    let worst = of("'=cmd(\"a\"),# .wav");
    assert_eq!(worst["tones_khz"], "19.5; 38.0");
    assert_eq!(of("FEN-07/3.wav")["review"], "bat");
}

#[test]
fn an_hour_with_nothing_is_a_row_with_its_effort() {
    let (night, _) = night();
    let rows = read(&passes_per_hour_csv(&[night]));
    let hour = |from: &str| rows.iter().find(|row| row["from"].contains(from)).unwrap();
    let nothing = hour("T00:00:00");
    assert_eq!(
        (nothing["passes"].as_str(), nothing["watched_min"].as_str()),
        ("0", "60.0")
    );
    assert_eq!(nothing["passes_per_watched_h"], "0.00");
    // The last recording ends 5 s after ten past two: 2 passes... one in 10 min 5 s.
    let last = hour("T02:00:00");
    assert_eq!(last["watched_min"], "10.1");
    assert_eq!(last["passes_per_watched_h"], "5.95");
    assert_eq!(last["to"], "2026-06-15T03:00:00+01:00");
}

/// Whoever only planned to watch has no zero to hand in.
#[test]
fn an_hour_that_no_recording_vouches_for_has_no_rate() {
    let (mut night, _) = night();
    let clock = |hour: u32| TimerEdge::Clock { minute: hour * 60 };
    night.settings.timer = Some(Timer {
        from: clock(20),
        to: clock(6),
    });
    let rows = read(&passes_per_hour_csv(std::slice::from_ref(&night)));
    let hour = |from: &str| rows.iter().find(|row| row["from"].contains(from)).unwrap();
    let cells = |row: &BTreeMap<String, String>| {
        [
            "watched_min",
            "recorded_min",
            "passes",
            "passes_per_watched_h",
        ]
        .map(|name| row[name].clone())
    };
    assert_eq!(cells(hour("T20:00:00")), ["60.0", "0.0", "0", ""]);
    assert_eq!(cells(hour("T00:00:00")), ["60.0", "60.0", "0", "0.00"]);
    assert_eq!(cells(hour("T05:00:00")), ["60.0", "0.0", "0", ""]);
    let events = read(&darwin::event_csv(
        std::slice::from_ref(&night),
        darwin::Sharing::default(),
    ));
    assert_eq!(events[0]["sampleSizeValue"], "4.168");
    assert!(events[0]["samplingEffort"].contains("10.00 h planned"));
    night
        .files
        .retain(|own| own.counted().is_none() && own.copy_of.is_none());
    assert_eq!(night.files.len(), 1);
    assert!(
        darwin::events(&night, darwin::Sharing::default())
            .rows
            .is_empty()
    );
}

#[test]
fn no_cell_is_a_formula_and_comments_define_every_column() {
    let (night, decisions) = night();
    for table in [
        recordings(&night, &decisions),
        passes(&night, &decisions),
        passes_per_hour(&night),
        night_checks(&night),
    ] {
        let text = table.comments() + &table.csv();
        let rows = read(&text);
        assert_eq!(rows.len(), table.rows.len());
        for cell in rows.iter().flat_map(BTreeMap::values) {
            let is_number = cell.parse::<f64>().is_ok();
            assert!(
                is_number || !cell.starts_with(['=', '+', '-', '@', '\t', '\r']),
                "{cell:?}"
            );
        }
        for heading in &table.headings {
            let line = format!("\n# {}: {}\n", heading.name, heading.meaning);
            assert!(
                text.contains(&line) && heading.meaning.len() > 5,
                "{}",
                heading.name
            );
        }
    }
}

#[test]
fn every_check_is_a_row() {
    let (night, _) = night();
    let expected = crate::night::checks(&night, &night.frame());
    let rows = read(&checks_csv(&[night]));
    assert_eq!(rows.len(), expected.len());
    let broken = rows
        .iter()
        .find(|row| row["check"] == "broken_files")
        .unwrap();
    assert_eq!(broken["files"], "1");
    assert_eq!(broken["paths"], "FEN-07/20260615_020000.wav");
    assert!(["trouble", "look"].contains(&broken["verdict"].as_str()));
    assert!(!broken["rule"].is_empty());
}

#[test]
fn pulses_get_their_path_when_they_are_written() {
    let sample = &crate::teach::larkwater_fen()[0];
    let mut examination = crate::night::Examination::new(
        sample.wav().unwrap(),
        crate::night::ExamineOptions::default(),
    );
    while !examination.step().unwrap() {}
    let findings: Findings = examination.into_finished().unwrap().findings;
    let text = pulses_csv_header() + &with_path(&pulse_rows(&findings), "=a, b.wav");
    assert_eq!(text, crate::pulse::table::csv([("=a, b.wav", &findings)]));
    assert!(text.lines().count() > 10);
}
