//! The sun stands where it is said to, and keeps to the order of the night.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use proptest::prelude::*;

use super::*;

const FEN: GeoPlace = GeoPlace {
    latitude_deg: 52.4,
    longitude_deg: 0.3,
};

/// Every time of a night that there is, with its altitude, in the order of the night.
fn times(night: &Night) -> Vec<(i64, Option<f64>)> {
    let times = [
        (Some(night.noon_s), None),
        (night.sunset_s, Some(HORIZON_DEG)),
        (night.civil_dusk_s, Some(CIVIL_DEG)),
        (night.nautical_dusk_s, Some(NAUTICAL_DEG)),
        (night.astronomical_dusk_s, Some(ASTRONOMICAL_DEG)),
        (Some(night.midnight_s), None),
        (night.astronomical_dawn_s, Some(ASTRONOMICAL_DEG)),
        (night.nautical_dawn_s, Some(NAUTICAL_DEG)),
        (night.civil_dawn_s, Some(CIVIL_DEG)),
        (night.sunrise_s, Some(HORIZON_DEG)),
        (Some(night.next_noon_s), None),
    ];
    let there = times.into_iter().filter_map(|(at, deg)| Some((at?, deg)));
    there.collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// At every time the sun stands where it is said to stand, and the night goes on in order.
    /// Nearer to the poles than 1 degree its altitude follows the season and not the hour.
    #[test]
    fn the_sun_stands_where_it_is_said_to(
        latitude_deg in -89.0..89.0_f64,
        longitude_deg in -180.0..=180.0_f64,
        year in 1970..2100_i32,
        month in 1..=12_u32,
        day in 1..=28_u32,
    ) {
        let place = GeoPlace { latitude_deg, longitude_deg };
        let offset_min = libm::round(longitude_deg * 4.0) as i32;
        let night = evening_and_morning(place, (year, month, day), offset_min).unwrap();
        let times = times(&night);
        for (at_s, deg) in &times {
            if let Some(deg) = deg {
                let there = altitude_deg(place, *at_s as f64).unwrap();
                prop_assert!((there - deg).abs() < 0.01, "{there} for {deg}");
            }
        }
        // Within 3 degrees of a polar night's or day's edge the highest and lowest points are not due south and north.
        if latitude_deg.abs() < 60.0 {
            prop_assert!(times.windows(2).all(|two| two[0].0 < two[1].0), "{times:?}");
            prop_assert_eq!(night.course, SunCourse::Crosses);
        }
        if let (Some(sunset_s), Some(sunrise_s)) = (night.sunset_s, night.sunrise_s) {
            prop_assert!(sunset_s < sunrise_s);
        }
        let turn_s = night.next_noon_s - night.noon_s;
        prop_assert!((turn_s - 86_400).abs() <= 31, "{turn_s}");
        // The clock at the place shows noon when the sun is highest, but for the equation of time, within 17 minutes.
        let clock_s = (night.noon_s + i64::from(offset_min) * 60).rem_euclid(86_400);
        prop_assert!((clock_s - 43_200).abs() < 17 * 60, "{clock_s}");
    }

    /// A clock an hour or two off names the same night.
    #[test]
    fn summer_time_changes_nothing(month in 1..=12_u32, day in 1..=28_u32, off_min in -180..180_i32) {
        let date = (2026, month, day);
        prop_assert_eq!(
            evening_and_morning(FEN, date, off_min).unwrap(),
            evening_and_morning(FEN, date, 0).unwrap()
        );
    }
}

#[test]
fn at_the_poles_the_sun_sets_once_a_year() {
    let pole = GeoPlace {
        latitude_deg: 90.0,
        longitude_deg: 0.0,
    };
    let nights: Vec<Night> = (1..=12)
        .flat_map(|month| (1..=28).map(move |day| (2026, month, day)))
        .map(|date| evening_and_morning(pole, date, 0).unwrap())
        .collect();
    // The equinoxes are on 20 March and 23 September; refraction and the sun's width make the day longer.
    let sets: Vec<&Night> = nights
        .iter()
        .filter(|night| night.sunset_s.is_some())
        .collect();
    let rises: Vec<&Night> = nights
        .iter()
        .filter(|night| night.sunrise_s.is_some())
        .collect();
    assert_eq!((sets.len(), rises.len()), (1, 1));
    assert_eq!(sets[0].sunrise_s, None);
    assert_eq!(sets[0].course, SunCourse::Crosses);
    let day_s = rises[0].sunrise_s.unwrap()..sets[0].sunset_s.unwrap();
    for night in &nights {
        let course = if day_s.contains(&night.midnight_s) {
            SunCourse::AlwaysUp
        } else {
            SunCourse::AlwaysDown
        };
        assert!(night.course == course || night.course == SunCourse::Crosses);
    }
}

#[test]
fn what_is_not_on_earth_is_told() {
    let away = GeoPlace {
        latitude_deg: 91.0,
        ..FEN
    };
    let nowhere = GeoPlace {
        longitude_deg: f64::NAN,
        ..FEN
    };
    for place in [away, nowhere] {
        let error = evening_and_morning(place, (2026, 6, 14), 0).unwrap_err();
        assert!(error.to_string().contains("is not a place"), "{error}");
        assert!(altitude_deg(place, 0.0).is_err());
    }
    for date in [(2026, 2, 30), (2026, 13, 1), (2026, 0, 1), (i32::MIN, 1, 1)] {
        let error = evening_and_morning(FEN, date, 0).unwrap_err();
        assert!(error.to_string().contains("is not a day"), "{error}");
    }
    let error = evening_and_morning(FEN, (2026, 6, 14), i32::MAX).unwrap_err();
    assert!(error.to_string().contains("minutes from UTC"), "{error}");
    for utc_s in [f64::NAN, f64::INFINITY, -1e18, 1e11] {
        assert!(altitude_deg(FEN, utc_s).is_err(), "{utc_s}");
    }
}
