//! The table with hand entries.

use super::table::{HandKind, HandRow, SetAside, csv};
use super::*;

fn rows(text: &str) -> Vec<Vec<&str>> {
    text.lines().map(|line| line.split(',').collect()).collect()
}

fn column<'a>(rows: &[Vec<&'a str>], name: &str) -> Vec<&'a str> {
    let at = rows[0].iter().position(|cell| *cell == name).unwrap();
    rows[1..].iter().map(|row| row[at]).collect()
}

fn found() -> (Scene, Findings) {
    let scene = sweeps();
    let found = all_heard(&scene);
    (scene, found)
}

#[test]
fn without_hand_entries_it_is_the_table_of_the_command_line() {
    let (_, found) = found();
    assert_eq!(
        csv("a.wav", &found, &[], &[]),
        crate::pulse::table::csv([("a.wav", &found)])
    );
}

#[test]
fn hand_rows_follow_the_automatic_ones_which_stay_as_they_are() {
    let (scene, found) = found();
    let pulse = &found.pulses[0];
    let start_s = pulse.start_s + 0.4e-3;
    let corrected = HandRequest {
        pulse_start_s: Some(pulse.start_s),
        start_s: Some(start_s),
        ..request(around(pulse))
    };
    let silent = Band {
        start_s: 0.3,
        end_s: 0.31,
        low_khz: 30.0,
        high_khz: 60.0,
    };
    let row = |kind, of: &[&str], measurement: Option<HandMeasurement>| HandRow {
        kind,
        of: of.iter().map(|n| (*n).to_owned()).collect(),
        measurement,
        interval: None,
        by: "R. Fenn, night 2".to_owned(),
        at: "2026-06-15T09:30:00Z".to_owned(),
    };
    let hand = [
        row(
            HandKind::Corrected,
            &["1"],
            Some(by_hand(&scene, &corrected)),
        ),
        row(HandKind::Band, &[], Some(by_hand(&scene, &request(silent)))),
        HandRow {
            interval: Some(interval(pulse, &found.pulses[1], &Settings::default()).unwrap()),
            by: String::new(),
            ..row(HandKind::Interval, &["1", "2"], None)
        },
    ];
    let aside = [SetAside {
        pulse: "2".to_owned(),
        reason: "=echo()".to_owned(),
        by: String::new(),
        at: "2026-06-15T09:31:00Z".to_owned(),
    }];
    let text = csv("a.wav", &found, &hand, &aside);
    let plain = crate::pulse::table::csv([("a.wav", &found)]);
    for (line, automatic) in text.lines().zip(plain.lines()) {
        assert!(line.starts_with(automatic));
    }
    // The one comma within a cell is in a name that is quoted.
    assert!(text.contains(",\"R. Fenn, night 2\","));
    let unquoted = text.replace("\"R. Fenn, night 2\"", "R. Fenn");
    let rows = rows(&unquoted);
    assert!(
        rows.iter().all(|row| row.len() == rows[0].len()),
        "{unquoted}"
    );
    assert_eq!(column(&rows, "pulse"), ["1", "2", "H1", "H2", "H3"]);
    assert_eq!(
        column(&rows, "source"),
        ["automatic", "automatic", "hand", "hand", "hand"]
    );
    assert_eq!(
        column(&rows, "hand"),
        ["", "", "corrected", "band", "interval"]
    );
    assert_eq!(column(&rows, "of"), ["", "", "1", "", "1 2"]);
    assert_eq!(column(&rows, "set_aside"), ["", "'=echo()", "", "", ""]);
    assert_eq!(
        column(&rows, "notes")[2..],
        ["start_given", "nothing_stands_out", ""]
    );
    assert_eq!(
        column(&rows, "start_s")[2..],
        [format!("{start_s:.6}").as_str(), "0.300000", ""]
    );
    // A given start has no uncertainty; the end has its own.
    assert_eq!(column(&rows, "start_u95_ms")[2..], ["", "", ""]);
    assert_ne!(column(&rows, "end_u95_ms")[2], "");
    assert_eq!(column(&rows, "shape")[3..], ["", ""]);
    assert_eq!(column(&rows, "low_khz")[3..], ["30.00", ""]);
    assert_ne!(column(&rows, "interval_ms")[4], "");
    assert_eq!(
        column(&rows, "interval_u95_ms")[4],
        column(&rows, "interval_u95_ms")[1]
    );
}

#[test]
fn names_are_those_that_are_serialised() {
    for note in HandNote::ALL {
        assert_eq!(serde_json::to_value(note).unwrap(), note.name());
    }
    for kind in [
        HandKind::Corrected,
        HandKind::Added,
        HandKind::Band,
        HandKind::Interval,
    ] {
        assert_eq!(serde_json::to_value(kind).unwrap(), kind.name());
    }
}
