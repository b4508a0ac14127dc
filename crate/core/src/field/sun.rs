//! When the sun sets and rises at a place, and how far below the horizon it is.
//!
//! Bats come out by the sun and not by the clock. A **night** here is bound to a place: it
//! lasts from the sun's highest point on one local date to its highest point on the next. That
//! holds where the sun sets after midnight, and where it does not set at all.
//!
//! Positions are those of the Solar Position Algorithm (Reda & Andreas 2004, Solar Energy
//! 76:577-589), within 0.0003 degrees. The hour is less certain than that: air bends the sun's
//! light by 34 arc minutes at the horizon on average, and by much more or less with the
//! weather; hills and height above the sea do the rest. So a time from here is good to a
//! minute or two, worse near the poles: **show minutes, never seconds**.

use serde::{Deserialize, Serialize};
use solar_positioning::time::JulianDate;
use solar_positioning::{Horizon, Location, SolarEvents, SolarPositions, delta_t as earth};
use thiserror::Error;

/// Altitude of the sun's centre when its upper edge is seen at a level horizon, degrees: 16
/// arc minutes of the sun's own radius and 34 of refraction, as almanacs have it.
pub const HORIZON_DEG: f64 = -50.0 / 60.0;
/// Altitude of the sun's centre where civil twilight ends, degrees.
pub const CIVIL_DEG: f64 = -6.0;
/// Altitude of the sun's centre where nautical twilight ends, degrees.
pub const NAUTICAL_DEG: f64 = -12.0;
/// Altitude of the sun's centre where astronomical twilight ends, degrees.
pub const ASTRONOMICAL_DEG: f64 = -18.0;

const DAY_S: f64 = 86_400.0;
/// 1970-01-01T00:00Z as a Julian date.
const EPOCH_JD: f64 = 2_440_587.5;
/// Years for which the turning of the earth is known or foreseen well enough.
const YEARS: std::ops::RangeInclusive<i32> = 1900..=2500;
/// From one passage through the south to the next it is a day, give or take 30 seconds.
const TURN_DAYS: f64 = 1.001;

/// A place on the earth, WGS 84.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct GeoPlace {
    /// Latitude, degrees, north positive; −90 to 90.
    pub latitude_deg: f64,
    /// Longitude, degrees, east positive; −180 to 180.
    pub longitude_deg: f64,
}

/// Whether the sun crosses the horizon in a night.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(rename_all = "camelCase")]
pub enum SunCourse {
    /// It sets, or rises, or both.
    Crosses,
    /// It never sets: midnight sun.
    AlwaysUp,
    /// It never rises: polar night.
    AlwaysDown,
}

/// The sun from one noon to the next; all times in seconds of UTC since 1970-01-01.
///
/// A time is `None` where the sun does not reach that altitude. Whether it stays above or below
/// is told by [`Night::course`] for sunset and sunrise. For a twilight, compare
/// [`Night::midnight_altitude_deg`] with its altitude: above it, the night never gets so dark;
/// below it, the day never gets brighter.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Night {
    /// The sun is due south, or north: highest on the date.
    pub noon_s: i64,
    /// Its upper edge goes below the horizon.
    pub sunset_s: Option<i64>,
    /// Its centre goes below −6 degrees: outlines can no longer be told without a lamp.
    pub civil_dusk_s: Option<i64>,
    /// Its centre goes below −12 degrees.
    pub nautical_dusk_s: Option<i64>,
    /// Its centre goes below −18 degrees: full darkness.
    pub astronomical_dusk_s: Option<i64>,
    /// It is opposite to noon: the middle of the night.
    pub midnight_s: i64,
    /// Altitude of its centre at [`Night::midnight_s`], degrees, without refraction.
    pub midnight_altitude_deg: f64,
    /// Its centre comes above −18 degrees.
    pub astronomical_dawn_s: Option<i64>,
    /// Its centre comes above −12 degrees.
    pub nautical_dawn_s: Option<i64>,
    /// Its centre comes above −6 degrees.
    pub civil_dawn_s: Option<i64>,
    /// Its upper edge comes above the horizon.
    pub sunrise_s: Option<i64>,
    /// It is highest on the day after: the end of the night that begins with [`Night::noon_s`].
    pub next_noon_s: i64,
    /// Whether it sets and rises at all.
    pub course: SunCourse,
}

/// Why no sun can be told, in words for the person who asked.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum SunError {
    /// Not a place on the earth.
    #[error(
        "{latitude_deg}, {longitude_deg} is not a place: latitude goes from -90 to 90 degrees, longitude from -180 to 180"
    )]
    Place {
        /// As given, degrees.
        latitude_deg: f64,
        /// As given, degrees.
        longitude_deg: f64,
    },
    /// No such day, or one too far away.
    #[error(
        "{year}-{month:02}-{day:02} is not a day between the years {} and {}",
        YEARS.start(),
        YEARS.end()
    )]
    Date {
        /// As given.
        year: i32,
        /// As given.
        month: u32,
        /// As given.
        day: u32,
    },
    /// No clock is so far from UTC.
    #[error("a clock {minutes} minutes from UTC is on no place on earth")]
    Offset {
        /// As given, minutes.
        minutes: i32,
    },
    /// A moment too far away.
    #[error(
        "{utc_s} seconds since 1970 do not lie between the years {} and {}",
        YEARS.start(),
        YEARS.end()
    )]
    Moment {
        /// As given, seconds.
        utc_s: f64,
    },
}

/// The night that begins on a local date, `(year, month, day)`, at a place whose clock is
/// `utc_offset_min` minutes ahead of UTC: the sunset that follows the noon of that date and the next sunrise,
/// with the twilights between. A sunset after midnight belongs to the date before it.
///
/// The clock only tells which noon is meant: the one nearest to 12:00, so that an hour of
/// summer time changes nothing.
///
/// # Errors
/// When place, date or clock do not exist, or the date lies outside the years 1900 to 2500.
pub fn evening_and_morning(
    place: GeoPlace,
    date: (i32, u32, u32),
    utc_offset_min: i32,
) -> Result<Night, SunError> {
    let (year, month, day) = date;
    let no_date = || SunError::Date { year, month, day };
    if !(-24 * 60..=24 * 60).contains(&utc_offset_min) {
        return Err(SunError::Offset {
            minutes: utc_offset_min,
        });
    }
    if !YEARS.contains(&year) {
        return Err(no_date());
    }
    let delta_t_s = earth::estimate_from_date(year, month).map_err(|_| no_date())?;
    let clock_noon = JulianDate::from_utc(year, month, day, 12, 0, 0.0, delta_t_s)
        .map_err(|_| no_date())?
        .julian_date()
        - f64::from(utc_offset_min) * 60.0 / DAY_S;
    let sun = Sun::new(place, delta_t_s)?;
    sun.night(clock_noon).ok_or_else(no_date)
}

/// Altitude of the sun's centre above the level horizon at a moment, degrees: where geometry has it,
/// without refraction, so that it compares with [`HORIZON_DEG`] and the twilights.
///
/// `utc_s` is in seconds of UTC since 1970-01-01.
///
/// # Errors
/// When the place does not exist, or the moment lies outside the years 1900 to 2500.
pub fn altitude_deg(place: GeoPlace, utc_s: f64) -> Result<f64, SunError> {
    let jd = julian(utc_s);
    let year = 1970.0 + utc_s / (365.2425 * DAY_S);
    let no_moment = || SunError::Moment { utc_s };
    if !(f64::from(*YEARS.start())..f64::from(YEARS.end() + 1)).contains(&year) {
        return Err(no_moment());
    }
    let delta_t_s = earth::estimate(year).map_err(|_| no_moment())?;
    Sun::new(place, delta_t_s)?
        .altitude_deg(jd)
        .ok_or_else(no_moment)
}

/// The sun over a place. Times are Julian dates of UTC, which is within 0.9 s of the earth's turning (UT1).
struct Sun {
    location: Location,
    /// How far the turning earth is behind even time, seconds. It moves the sun by 0.04 arc
    /// seconds a second, so that an estimate is good enough.
    delta_t_s: f64,
}

impl Sun {
    fn new(place: GeoPlace, delta_t_s: f64) -> Result<Self, SunError> {
        let GeoPlace {
            latitude_deg,
            longitude_deg,
        } = place;
        if !(-90.0..=90.0).contains(&latitude_deg) || !(-180.0..=180.0).contains(&longitude_deg) {
            return Err(SunError::Place {
                latitude_deg,
                longitude_deg,
            });
        }
        Ok(Self {
            location: Location {
                latitude: latitude_deg,
                longitude: longitude_deg,
            },
            delta_t_s,
        })
    }

    fn night(&self, clock_noon: f64) -> Option<Night> {
        let longitude = self.location.longitude;
        let noon = self.passage(longitude, clock_noon - 0.5)?;
        let next_noon = self.passage(longitude, noon + 0.5)?;
        // Where it is midnight here it is noon on the other side of the earth.
        let opposite = if longitude > 0.0 {
            longitude - 180.0
        } else {
            longitude + 180.0
        };
        let midnight = self.passage(opposite, noon)?;
        let cross = |altitude_deg| self.down_and_up(noon, next_noon, altitude_deg);
        let (sunset_s, sunrise_s) = cross(HORIZON_DEG)?;
        let (civil_dusk_s, civil_dawn_s) = cross(CIVIL_DEG)?;
        let (nautical_dusk_s, nautical_dawn_s) = cross(NAUTICAL_DEG)?;
        let (astronomical_dusk_s, astronomical_dawn_s) = cross(ASTRONOMICAL_DEG)?;
        let midnight_altitude_deg = self.altitude_deg(midnight)?;
        let course = if sunset_s.is_some() || sunrise_s.is_some() {
            SunCourse::Crosses
        } else if midnight_altitude_deg > HORIZON_DEG {
            SunCourse::AlwaysUp
        } else {
            SunCourse::AlwaysDown
        };
        Some(Night {
            noon_s: unix(noon),
            sunset_s,
            civil_dusk_s,
            nautical_dusk_s,
            astronomical_dusk_s,
            midnight_s: unix(midnight),
            midnight_altitude_deg,
            astronomical_dawn_s,
            nautical_dawn_s,
            civil_dawn_s,
            sunrise_s,
            next_noon_s: unix(next_noon),
            course,
        })
    }

    /// The first time after `from` that the sun is highest over a longitude.
    fn passage(&self, longitude: f64, from: f64) -> Option<f64> {
        SolarEvents::new()
            .next_transit_from_julian(from, from + TURN_DAYS, longitude, self.delta_t_s)
            .ok()?
    }

    /// When the sun goes below an altitude between two noons, and when it next comes above it, in seconds since 1970.
    /// In the days when the polar night begins or ends it may do either alone, or set just after noon and
    /// come back just before the next: it is waited for a full turn from its setting on.
    fn down_and_up(
        &self,
        noon: f64,
        next_noon: f64,
        altitude_deg: f64,
    ) -> Option<(Option<i64>, Option<i64>)> {
        let horizon = Horizon::Custom(altitude_deg);
        let events = SolarEvents::new();
        let down = events
            .next_set_from_julian(noon, next_noon, self.location, self.delta_t_s, horizon)
            .ok()?;
        let (from, to) = down.map_or((noon, next_noon), |at| (at, at + TURN_DAYS));
        let up = events
            .next_rise_from_julian(from, to, self.location, self.delta_t_s, horizon)
            .ok()?;
        Some((down.map(unix), up.map(unix)))
    }

    fn altitude_deg(&self, jd: f64) -> Option<f64> {
        let time = JulianDate::new(jd, self.delta_t_s).ok()?;
        let position = SolarPositions::new().at_from_julian(time, self.location, 0.0, None);
        Some(position.ok()?.elevation_angle())
    }
}

fn julian(utc_s: f64) -> f64 {
    EPOCH_JD + utc_s / DAY_S
}

fn unix(jd: f64) -> i64 {
    libm::round((jd - EPOCH_JD) * DAY_S) as i64
}

#[cfg(test)]
mod tests;
