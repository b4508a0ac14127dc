#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test may stop at the first surprise"
)]

use std::collections::BTreeMap;

use super::super::super::{NightSettings, Position};
use super::super::tests::{label, night, read};
use super::*;
use crate::night::{Review, ReviewVerdict};
use crate::recording::Certainty;

/// The terms of the standard by class with their types; see `make_darwin_core_terms.py` beside the file.
const TERMS: &str = include_str!("../../../../../../tests/data/darwin_core_terms.csv");

fn terms(class: &str) -> BTreeMap<String, (String, String)> {
    let mut rows = read(TERMS);
    rows.retain(|row| row["class"] == class);
    let entries = rows.into_iter();
    entries
        .map(|mut row| {
            let mut take = |name: &str| row.remove(name).unwrap();
            (take("term"), (take("uri"), take("type")))
        })
        .collect()
}

fn placed(mut night: Night) -> Night {
    night.settings.position = Some(Position {
        latitude_deg: 52.123_456,
        longitude_deg: -0.987_654,
        accuracy_m: Some(12.0),
    });
    night
}

fn sharing(place: PlaceSharing) -> Sharing {
    Sharing { place }
}

#[test]
fn every_column_is_a_term_of_the_standard_and_its_cells_are_of_its_type() {
    let (night, decisions) = night();
    let nights = [placed(night)];
    let exact = Sharing::default();
    for (class, text) in [
        ("event", event_csv(&nights, exact)),
        ("occurrence", occurrence_csv(&nights, &decisions)),
    ] {
        let terms = terms(class);
        assert!(terms.len() > 90);
        let rows = read(&text);
        assert!(rows.len() > 2);
        for (column, cell) in rows.iter().flatten() {
            let (_, kind) = terms
                .get(column)
                .unwrap_or_else(|| panic!("{column} is no term of {class}"));
            if kind == "decimal" && !cell.is_empty() {
                assert!(cell.parse::<f64>().is_ok(), "{column}: {cell}");
            }
        }
    }
}

#[test]
fn the_archives_description_names_every_column_by_its_terms_address() {
    let (night, decisions) = night();
    let nights = [night];
    let text = meta_xml();
    let meta = roxmltree::Document::parse(&text).unwrap();
    let namespace = "http://rs.tdwg.org/dwc/text/";
    for (class, element, key, table) in [
        (
            "event",
            "core",
            "id",
            event_csv(&nights, Sharing::default()),
        ),
        (
            "occurrence",
            "extension",
            "coreid",
            occurrence_csv(&nights, &decisions),
        ),
    ] {
        let terms = terms(class);
        let file = meta
            .descendants()
            .find(|node| node.has_tag_name((namespace, element)))
            .unwrap();
        let row_type = file.attribute("rowType").unwrap();
        assert_eq!(
            row_type.to_lowercase(),
            format!("http://rs.tdwg.org/dwc/terms/{class}")
        );
        let location = file
            .descendants()
            .find(|node| node.has_tag_name((namespace, "location")));
        assert_eq!(location.unwrap().text().unwrap(), format!("{class}.csv"));
        let header: Vec<&str> = table.lines().next().unwrap().split(',').collect();
        let fields: Vec<_> = file
            .children()
            .filter(|node| node.has_tag_name((namespace, "field")))
            .collect();
        assert_eq!(fields.len(), header.len());
        for (index, (field, column)) in fields.iter().zip(&header).enumerate() {
            assert_eq!(field.attribute("index").unwrap(), index.to_string());
            assert_eq!(field.attribute("term").unwrap(), terms[*column].0);
        }
        let id = file
            .children()
            .find(|node| node.has_tag_name((namespace, key)))
            .unwrap();
        let index: usize = id.attribute("index").unwrap().parse().unwrap();
        assert_eq!(header[index], "eventID");
    }
}

#[test]
fn events_state_their_effort_and_recordings_belong_to_their_night() {
    let (night, _) = night();
    let rows = read(&event_csv(&[placed(night)], Sharing::default()));
    // The night, and four files that are read and no copies.
    assert_eq!(rows.len(), 5);
    let whole = &rows[0];
    assert_eq!(whole["eventID"], "night:2026-06-14:FEN-07");
    assert_eq!(
        whole["eventDate"],
        "2026-06-14T22:00:00+01:00/2026-06-15T02:10:05+01:00"
    );
    assert_eq!(
        (
            whole["sampleSizeValue"].as_str(),
            whole["sampleSizeUnit"].as_str()
        ),
        ("4.168", "hour")
    );
    assert!(
        whole["samplingEffort"]
            .contains("4 recordings with 0.006 h of sound; 1 files could not be read")
    );
    assert!(whole["eventRemarks"].contains("no proof"));
    for row in &rows[1..] {
        assert_eq!(row["parentEventID"], whole["eventID"]);
        assert_eq!(
            (
                row["sampleSizeValue"].as_str(),
                row["sampleSizeUnit"].as_str()
            ),
            ("5.000", "second")
        );
        assert_eq!(row["decimalLatitude"], "52.12346");
        assert_eq!(row["coordinateUncertaintyInMeters"], "12");
    }
}

#[test]
fn an_occurrence_names_what_a_person_wrote_and_else_the_order() {
    let (night, decisions) = night();
    let events = read(&event_csv(std::slice::from_ref(&night), Sharing::default()));
    let rows = read(&occurrence_csv(&[night], &decisions));
    let ids: std::collections::BTreeSet<_> = rows.iter().map(|row| &row["occurrenceID"]).collect();
    // Two labels, a lone pulse that the program takes for a bat's, a review, and a recording that nobody looked at.
    assert_eq!((rows.len(), ids.len()), (5, 5));
    for row in &rows {
        assert_eq!(row["occurrenceStatus"], "present");
        assert_eq!(row["basisOfRecord"], "MachineObservation");
        assert!(
            events
                .iter()
                .any(|event| event["eventID"] == row["eventID"])
        );
        assert!(
            !row["identificationRemarks"].is_empty()
                && !row["identificationVerificationStatus"].is_empty()
        );
    }
    let by = |name: &str, value: &str| rows.iter().find(|row| row[name] == value).unwrap();
    let named = by("verbatimIdentification", "Pipistrellus pipistrellus");
    assert_eq!(named["scientificName"], "Pipistrellus pipistrellus");
    assert_eq!(
        (named["taxonRank"].as_str(), named["order"].as_str()),
        ("species", "")
    );
    assert_eq!(named["identifiedBy"], "Rosa Field");
    assert!(named["identificationRemarks"].starts_with("certainty: sure"));
    let words = by("verbatimIdentification", "'@two, perhaps");
    assert_eq!(words["scientificName"], "Chiroptera");
    assert_eq!(words["identificationQualifier"], "to order only; possible");
    // Two labels about the same recording: whose the passes are is not known.
    assert_eq!(words["organismQuantity"], "");
    let automatic = by(
        "identificationRemarks",
        "automatic, pulses like a bat's, not verified",
    );
    assert_eq!(automatic["identificationVerificationStatus"], "unverified");
    let quantities: Vec<_> = rows
        .iter()
        .map(|row| row["organismQuantity"].as_str())
        .collect();
    assert_eq!(quantities, ["", "", "", "", "1"]);
    let seen = by("identificationVerificationStatus", "seen by a person");
    assert_eq!(seen["scientificName"], "Chiroptera");
    assert_eq!(seen["organismQuantityType"], "");
}

#[test]
fn who_finds_no_bat_is_believed_and_no_absence_is_stated() {
    let (night, mut decisions) = night();
    let before = occurrences(&night, &decisions).rows.len();
    let last = night.files.last().unwrap().file.examined.sha256.clone();
    let review = Review {
        verdict: ReviewVerdict::NoBat,
        who: String::new(),
        when: String::new(),
    };
    decisions.reviews.insert(last.clone(), review);
    let after = occurrence_csv(std::slice::from_ref(&night), &decisions);
    assert_eq!(read(&after).len(), before - 1);
    assert!(!after.contains("absent"));
    decisions.reviews.clear();
    decisions
        .labels
        .insert(last, vec![label("c", "Noise", Certainty::Sure)]);
    // The recording that only the review knew goes as well.
    assert_eq!(occurrences(&night, &decisions).rows.len(), before - 2);
}

#[test]
fn identifiers_stay_when_files_move_and_are_handed_in_again() {
    let (night, decisions) = night();
    let mut moved = night.clone();
    for own in &mut moved.files {
        let mut file = (*own.file).clone();
        file.path = format!("elsewhere/{}", file.path);
        own.file = std::sync::Arc::new(file);
    }
    let ids = |night: &Night| -> Vec<String> {
        let rows = read(&occurrences(night, &decisions).csv());
        rows.iter().map(|row| row["occurrenceID"].clone()).collect()
    };
    assert_eq!(ids(&night), ids(&moved));
}

#[test]
fn a_place_is_given_as_exactly_as_was_asked() {
    let (night, _) = night();
    let mut night = placed(night);
    night.settings = NightSettings {
        remarks: "by the old oak".to_owned(),
        ..night.settings
    };
    let nights = [night];
    let row = |place| read(&event_csv(&nights, sharing(place))).swap_remove(0);
    let exact = row(PlaceSharing::Exact);
    assert_eq!(exact["locality"], "Larkwater Fen, east");
    assert_eq!(
        (
            exact["decimalLongitude"].as_str(),
            exact["geodeticDatum"].as_str()
        ),
        ("-0.98765", "EPSG:4326")
    );
    let rounded = row(PlaceSharing::Rounded);
    assert_eq!(
        (
            rounded["decimalLatitude"].as_str(),
            rounded["decimalLongitude"].as_str()
        ),
        ("52.12", "-0.99")
    );
    assert_eq!(
        (
            rounded["coordinatePrecision"].as_str(),
            rounded["locality"].as_str()
        ),
        ("0.01", "")
    );
    assert_eq!(
        rounded["dataGeneralizations"],
        "Position rounded to 0.01 degrees"
    );
    let withheld = event_csv(&nights, sharing(PlaceSharing::Withheld));
    for secret in ["52.1", "0.98", "Larkwater", "oak"] {
        assert!(!withheld.contains(secret), "{secret}");
    }
    assert!(row(PlaceSharing::Withheld)["informationWithheld"].contains("withheld"));
    // What a rounded position may be off is no less than the distance to where it was.
    let off_m: f64 = rounded["coordinateUncertaintyInMeters"].parse().unwrap();
    let north_m = (52.123_456_f64 - 52.12) * 111_320.0;
    let east_m = (0.99_f64 - 0.987_654) * 111_320.0 * 52.12_f64.to_radians().cos();
    assert!(off_m >= north_m.hypot(east_m) + 12.0);
}
