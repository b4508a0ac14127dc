//! The sun against ephemerides that are not ours: `data/sun_times.csv` and `data/twilight_reference.csv` say which.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use dusklens_core::field::sun::{self, GeoPlace, Night, SunCourse};

/// The cells of a table without its remarks and its heading.
fn rows(table: &'static str) -> impl Iterator<Item = Vec<&'static str>> {
    let rows = table.lines().filter(|line| !line.starts_with('#')).skip(1);
    rows.map(|row| row.split(',').collect())
}

/// The night that begins on a row's date (columns 1 to 3), by a clock at the even zone of its longitude, to the hour.
fn night(cells: &[&str]) -> Night {
    let date: Vec<u32> = cells[3]
        .split('-')
        .map(|part| part.parse().unwrap())
        .collect();
    night_of(cells, (date[0] as i32, date[1], date[2]))
}

/// The night that ends on a row's date.
fn night_before(cells: &[&str]) -> Night {
    let date: Vec<u32> = cells[3]
        .split('-')
        .map(|part| part.parse().unwrap())
        .collect();
    // The rows of the first of a month follow April and June, of 30 days.
    let (month, day) = match date[2] {
        1 => (date[1] - 1, 30),
        day => (date[1], day - 1),
    };
    night_of(cells, (date[0] as i32, month, day))
}

fn night_of(cells: &[&str], date: (i32, u32, u32)) -> Night {
    let place = GeoPlace {
        latitude_deg: cells[1].parse().unwrap(),
        longitude_deg: cells[2].parse().unwrap(),
    };
    let offset_min = (place.longitude_deg / 15.0).round() as i32 * 60;
    sun::evening_and_morning(place, date, offset_min).unwrap()
}

/// Seconds since 1970 of `2024-06-21T02:55:25Z`.
fn seconds(text: &str) -> i64 {
    let number = |from: usize, to: usize| text[from..to].parse::<i64>().unwrap();
    let (year, month) = (number(0, 4), number(5, 7));
    // Days from a March on, after which leap days come last.
    let (year, month) = if month > 2 {
        (year, month - 3)
    } else {
        (year - 1, month + 9)
    };
    let days = 365 * year + year / 4 - year / 100 + year / 400 + (153 * month + 2) / 5;
    let days = days + number(8, 10) - 1 - 719_468;
    days * 86_400 + number(11, 13) * 3600 + number(14, 16) * 60 + number(17, 19)
}

/// Whether both are none, or how far apart they are in seconds.
fn apart_s(ours: Option<i64>, theirs: &str) -> Option<i64> {
    match (ours, theirs) {
        (None, "none") => Some(0),
        (Some(ours), text) if text != "none" => Some((ours - seconds(text)).abs()),
        _ => None,
    }
}

#[test]
fn sunset_and_sunrise_are_those_of_skyfield_and_of_meeus() {
    let mut nones = 0;
    let mut checked = 0;
    for cells in rows(include_str!("../data/sun_times.csv")) {
        let ours = match cells[4] {
            "civil_dawn" => night_before(&cells).civil_dawn_s,
            "sunrise" => night_before(&cells).sunrise_s,
            "sunset" => night(&cells).sunset_s,
            _ => night(&cells).civil_dusk_s,
        };
        let latitude_deg: f64 = cells[1].parse().unwrap();
        let (skyfield, meeus) = if latitude_deg.abs() > 60.0 {
            (5, 15)
        } else {
            (3, 5)
        };
        for (theirs, allowed_s) in [(cells[6], skyfield), (cells[7], meeus)] {
            let apart = apart_s(ours, theirs);
            assert!(
                apart.is_some_and(|s| s <= allowed_s),
                "{ours:?}, {apart:?} s in {cells:?}"
            );
        }
        nones += usize::from(ours.is_none());
        checked += 1;
    }
    assert_eq!((checked, nones), (64, 10));
}

#[test]
fn deeper_twilights_are_those_of_pyephem() {
    let mut checked = 0;
    for cells in rows(include_str!("../data/twilight_reference.csv")) {
        let night = night(&cells);
        let ours = match cells[4] {
            "nautical_dusk" => night.nautical_dusk_s,
            "nautical_dawn" => night.nautical_dawn_s,
            "astronomical_dusk" => night.astronomical_dusk_s,
            _ => night.astronomical_dawn_s,
        };
        let apart = apart_s(ours, cells[5]);
        assert!(
            apart.is_some_and(|s| s <= 5),
            "{ours:?}, {apart:?} s in {cells:?}"
        );
        checked += 1;
    }
    assert_eq!(checked, 64);
}

#[test]
fn where_it_does_not_set_or_rise_the_course_says_which() {
    let tromso = GeoPlace {
        latitude_deg: 69.6492,
        longitude_deg: 18.9553,
    };
    // Midnight sun lasts from 20 May to 22 July there, polar night from 27 November to 15 January.
    for (date, course) in [
        ((2025, 6, 21), SunCourse::AlwaysUp),
        ((2025, 12, 21), SunCourse::AlwaysDown),
        ((2025, 5, 10), SunCourse::Crosses),
        ((2025, 8, 1), SunCourse::Crosses),
        ((2025, 11, 20), SunCourse::Crosses),
        ((2026, 1, 25), SunCourse::Crosses),
    ] {
        let night = sun::evening_and_morning(tromso, date, 60).unwrap();
        assert_eq!(night.course, course, "{date:?}");
        let crosses = course == SunCourse::Crosses;
        assert_eq!(night.sunset_s.is_some(), crosses, "{date:?}");
        assert_eq!(night.sunrise_s.is_some(), crosses, "{date:?}");
    }
    // In the polar night there is twilight at noon, and in the midnight sun no twilight at all.
    let winter = sun::evening_and_morning(tromso, (2025, 12, 21), 60).unwrap();
    assert!(winter.civil_dusk_s.unwrap() < winter.astronomical_dusk_s.unwrap());
    assert!(winter.astronomical_dawn_s.unwrap() < winter.civil_dawn_s.unwrap());
    let summer = sun::evening_and_morning(tromso, (2025, 6, 21), 60).unwrap();
    assert_eq!((summer.civil_dusk_s, summer.nautical_dawn_s), (None, None));
    assert!(summer.midnight_altitude_deg > 0.0);
}
