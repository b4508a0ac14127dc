//! What a night lies between: sunset and sunrise, and the timer that the recorder was given.

use serde::{Deserialize, Serialize};

use super::card::Night;
use super::moment::Moment;
use super::settings::{Position, TimerEdge};
use crate::field::sun::{self, GeoPlace};
use crate::pulse::order::median;

/// When the sun sets and rises, and how long twilight lasts. Refraction varies by minutes: seconds mean nothing.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Twilight {
    /// The sun's upper edge goes below the horizon; none where it does not.
    pub sunset: Option<Moment>,
    /// The sun's middle is 6 degrees below the horizon.
    pub civil_dusk: Option<Moment>,
    /// The sun's middle is 12 degrees below the horizon.
    pub nautical_dusk: Option<Moment>,
    /// The sun's middle is 12 degrees below the horizon again.
    pub nautical_dawn: Option<Moment>,
    /// The sun's middle is 6 degrees below the horizon again.
    pub civil_dawn: Option<Moment>,
    /// The sun's upper edge comes up.
    pub sunrise: Option<Moment>,
}

/// A stretch of time.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Stretch {
    /// Its beginning.
    pub from: Moment,
    /// Its end.
    pub to: Moment,
}

impl Stretch {
    /// How long it is, hours.
    #[must_use]
    pub fn hours(&self) -> f64 {
        self.to.since_s(self.from) / 3600.0
    }
}

/// What a night lies between, as far as it is known.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Frame {
    /// Where the recorder stood: as the person says, else the median of what its files say.
    pub position: Option<Position>,
    /// Sun and twilight; none where the position is not known.
    pub twilight: Option<Twilight>,
    /// When the recorder was meant to run; none where nobody says.
    pub planned: Option<Stretch>,
    /// From the beginning of its first recording to the end of its last; none without a recording.
    pub recorded: Option<Stretch>,
}

impl Night {
    /// What the night lies between.
    #[must_use]
    pub fn frame(&self) -> Frame {
        let position = self.settings.position.or_else(|| self.stated_position());
        let twilight = position.and_then(|at| self.twilight(at));
        Frame {
            position,
            twilight,
            planned: self.planned(twilight.unwrap_or_default()),
            recorded: self.recorded(),
        }
    }

    /// None where the person gave a position that is not on Earth, or the date is none.
    fn twilight(&self, at: Position) -> Option<Twilight> {
        let mut parts = self.key.evening.split('-');
        let year = parts.next()?.parse().ok()?;
        let (month, day) = (parts.next()?.parse().ok()?, parts.next()?.parse().ok()?);
        let place = GeoPlace {
            latitude_deg: at.latitude_deg,
            longitude_deg: at.longitude_deg,
        };
        let offset_min = self.settings.utc_offset_min;
        let sun = sun::evening_and_morning(place, (year, month, day), offset_min).ok()?;
        let moment = |utc_s: Option<i64>| utc_s.map(|utc_s| Moment::from_utc_s(utc_s as f64));
        Some(Twilight {
            sunset: moment(sun.sunset_s),
            civil_dusk: moment(sun.civil_dusk_s),
            nautical_dusk: moment(sun.nautical_dusk_s),
            nautical_dawn: moment(sun.nautical_dawn_s),
            civil_dawn: moment(sun.civil_dawn_s),
            sunrise: moment(sun.sunrise_s),
        })
    }

    fn stated_position(&self) -> Option<Position> {
        let places = || {
            let contents = self
                .files
                .iter()
                .filter_map(|own| own.file.examined.content());
            contents.filter_map(|content| content.place)
        };
        let usual = |mut values: Vec<f64>| median(&mut values, f64::total_cmp);
        Some(Position {
            latitude_deg: usual(places().map(|place| place.latitude_deg).collect())?,
            longitude_deg: usual(places().map(|place| place.longitude_deg).collect())?,
            accuracy_m: usual(places().filter_map(|place| place.accuracy_m).collect()),
        })
    }

    fn planned(&self, twilight: Twilight) -> Option<Stretch> {
        let timer = self.settings.timer?;
        let offset_min = self.settings.utc_offset_min;
        let midnight = Moment::from_local(&format!("{}T00:00:00", self.key.evening), offset_min)?;
        let after =
            |sun: Option<Moment>, minutes: i32| Some(sun?.plus_s(f64::from(minutes) * 60.0));
        let at = |edge: TimerEdge| match edge {
            TimerEdge::Clock { minute } => {
                let minute = f64::from(minute.min(24 * 60 - 1));
                let day = if minute < 12.0 * 60.0 {
                    24.0 * 60.0
                } else {
                    0.0
                };
                Some(midnight.plus_s((minute + day) * 60.0))
            }
            TimerEdge::Sunset { offset_min } => after(twilight.sunset, offset_min),
            TimerEdge::Sunrise { offset_min } => after(twilight.sunrise, offset_min),
        };
        let (from, to) = (at(timer.from)?, at(timer.to)?);
        (to > from).then_some(Stretch { from, to })
    }

    fn recorded(&self) -> Option<Stretch> {
        let read = || {
            self.files
                .iter()
                .filter(|own| own.file.examined.content().is_some())
        };
        let ends = read().map(super::NightFile::end);
        Some(Stretch {
            from: read().next()?.time.start,
            to: ends.reduce(|a, b| if b > a { b } else { a })?,
        })
    }
}
