//! Arguments as people write them.

use clap::ValueEnum;
use dusklens_core::night::{NamePattern, Position, Timer, TimerEdge};

/// Clocks on Earth are at most so far from UTC, minutes.
const MOST_OFFSET_MIN: i32 = 14 * 60;
/// Sun and timer are at most so far apart, minutes.
const MOST_SUN_MIN: i32 = 12 * 60;
/// A clock that is farther off than this was never set, seconds: a hundred years.
const MOST_CLOCK_S: f64 = 3.2e9;

/// How exactly the place is given.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Place {
    /// As it is known.
    Exact,
    /// To about a kilometre, without the name of the site.
    Rounded,
    /// Not at all.
    Withheld,
}

/// `+01:00`, `-05:30`, `+2`: minutes ahead of UTC.
pub(super) fn utc_offset(text: &str) -> Result<i32, String> {
    let wrong = || "give how far local time is ahead of UTC, such as +01:00".to_owned();
    let (sign, rest) = match text.split_at_checked(1) {
        Some(("-", rest)) => (-1, rest),
        Some(("+", rest)) => (1, rest),
        _ => (1, text),
    };
    let (hours, minutes) = rest.split_once(':').unwrap_or((rest, "0"));
    let hours = number(hours).ok_or_else(wrong)?;
    let minutes = number(minutes)
        .filter(|&minutes| minutes < 60)
        .ok_or_else(wrong)?;
    let offset_min = hours * 60 + minutes;
    if offset_min <= MOST_OFFSET_MIN {
        Ok(sign * offset_min)
    } else {
        Err(wrong())
    }
}

/// A whole number of at most four digits, and nothing else.
fn number(text: &str) -> Option<i32> {
    let is_number = (1..=4).contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_digit());
    is_number.then(|| text.parse().ok()).flatten()
}

pub(super) fn seconds(text: &str) -> Result<f64, String> {
    let seconds = text
        .parse()
        .ok()
        .filter(|seconds: &f64| seconds.abs() <= MOST_CLOCK_S);
    seconds.ok_or_else(|| "give a number of seconds".to_owned())
}

pub(super) fn name_pattern(text: &str) -> Result<String, String> {
    match NamePattern::parse(text) {
        Ok(_) => Ok(text.to_owned()),
        Err(error) => Err(error.to_string()),
    }
}

pub(super) fn position(text: &str) -> Result<Position, String> {
    let degrees = |text: &str, most: f64| {
        let degrees = text.trim().parse().ok();
        degrees.filter(|degrees: &f64| degrees.abs() <= most)
    };
    let both = text.split_once(',').and_then(|(latitude, longitude)| {
        Some((degrees(latitude, 90.0)?, degrees(longitude, 180.0)?))
    });
    let (latitude_deg, longitude_deg) =
        both.ok_or_else(|| "give degrees north and east, such as 52.61,0.38".to_owned())?;
    Ok(Position {
        latitude_deg,
        longitude_deg,
        accuracy_m: None,
    })
}

/// `20:50-05:10`, `sunset-30..sunrise+30`, or one of each with two points between.
pub(super) fn timer(text: &str) -> Result<Timer, String> {
    let (from, to) = text
        .split_once("..")
        .or_else(|| text.split_once('-'))
        .unwrap_or((text, ""));
    let both = edge(from).zip(edge(to));
    let (from, to) = both.ok_or_else(|| "give 20:50-05:10, or sunset-30..sunrise+30".to_owned())?;
    Ok(Timer { from, to })
}

fn edge(text: &str) -> Option<TimerEdge> {
    let text = text.trim();
    if let Some(rest) = text.strip_prefix("sunset") {
        let offset_min = sun_offset(rest)?;
        return Some(TimerEdge::Sunset { offset_min });
    }
    if let Some(rest) = text.strip_prefix("sunrise") {
        let offset_min = sun_offset(rest)?;
        return Some(TimerEdge::Sunrise { offset_min });
    }
    let (hour, minute) = text.split_once(':')?;
    let (hour, minute) = (number(hour)?, number(minute)?);
    let minute = (hour < 24 && minute < 60).then_some(hour * 60 + minute)?;
    Some(TimerEdge::Clock {
        minute: minute.try_into().ok()?,
    })
}

fn sun_offset(text: &str) -> Option<i32> {
    let minutes = match text.split_at_checked(1) {
        None => 0,
        Some(("-", rest)) => -number(rest)?,
        Some(("+", rest)) => number(rest)?,
        Some(_) => return None,
    };
    (minutes.abs() <= MOST_SUN_MIN).then_some(minutes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn offsets_are_read_and_slips_refused() {
        assert_eq!(utc_offset("+01:00"), Ok(60));
        assert_eq!(utc_offset("-05:30"), Ok(-330));
        assert_eq!(utc_offset("2"), Ok(120));
        for slip in ["", "+", "+1:60", "+15:00", "1h", "é1", "--1", "+01:0x"] {
            assert!(utc_offset(slip).is_err(), "{slip}");
        }
    }

    #[test]
    fn timers_are_times_of_day_or_follow_the_sun() {
        let clock = |minute| TimerEdge::Clock { minute };
        let expected = Timer {
            from: clock(20 * 60 + 50),
            to: clock(5 * 60 + 10),
        };
        assert_eq!(timer("20:50-05:10"), Ok(expected));
        let sun = Timer {
            from: TimerEdge::Sunset { offset_min: -30 },
            to: TimerEdge::Sunrise { offset_min: 30 },
        };
        assert_eq!(timer("sunset-30..sunrise+30"), Ok(sun));
        let mixed = Timer {
            from: clock(21 * 60),
            to: TimerEdge::Sunrise { offset_min: 0 },
        };
        assert_eq!(timer("21:00..sunrise"), Ok(mixed));
        for slip in [
            "",
            "20:50",
            "24:00-05:00",
            "sunset..",
            "sunset30..sunrise",
            "a-b",
        ] {
            assert!(timer(slip).is_err(), "{slip}");
        }
    }

    #[test]
    fn positions_lie_on_earth() {
        let at = position("52.61, -0.38").map(|at| (at.latitude_deg, at.longitude_deg));
        assert_eq!(at, Ok((52.61, -0.38)));
        for slip in ["", "52", "91,0", "0,181", "NaN,0"] {
            assert!(position(slip).is_err(), "{slip}");
        }
    }
}
