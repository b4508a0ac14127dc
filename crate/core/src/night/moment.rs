//! Moments, and what a clock on the wall says of them.

use jiff::Timestamp;
use jiff::civil::DateTime;
use jiff::tz::Offset;
use serde::{Deserialize, Serialize};

/// A moment: seconds since the beginning of 1970, UTC, leap seconds not counted.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(transparent)]
pub struct Moment(f64);

impl Moment {
    /// The moment so many seconds after the beginning of 1970, UTC.
    #[must_use]
    pub fn from_utc_s(utc_s: f64) -> Self {
        Self(utc_s)
    }

    /// Seconds since the beginning of 1970, UTC.
    #[must_use]
    pub fn utc_s(self) -> f64 {
        self.0
    }

    /// So many seconds later.
    #[must_use]
    pub fn plus_s(self, seconds: f64) -> Self {
        Self(self.0 + seconds)
    }

    /// Seconds from another moment to this one.
    #[must_use]
    pub fn since_s(self, earlier: Self) -> f64 {
        self.0 - earlier.0
    }

    /// The moment when a clock that runs so many minutes ahead of UTC says `2026-06-14T22:41:05`, with an optional
    /// fraction; none where the text is no such time.
    #[must_use]
    pub fn from_local(text: &str, utc_offset_min: i32) -> Option<Self> {
        let local: DateTime = text.parse().ok()?;
        let at = offset(utc_offset_min).to_timestamp(local).ok()?;
        Some(Self(at.as_duration().as_secs_f64()))
    }

    /// What a clock that runs so many minutes ahead of UTC says: `2026-06-14T22:41:05`, to the second; a moment outside
    /// the years 1 to 9999 is given as their bound.
    #[must_use]
    pub fn local(self, utc_offset_min: i32) -> String {
        self.civil(utc_offset_min)
            .strftime("%Y-%m-%dT%H:%M:%S")
            .to_string()
    }

    /// The same with the clock's distance from UTC, as ISO 8601 has it: `2026-06-14T22:41:05+01:00`.
    #[must_use]
    pub fn iso(self, utc_offset_min: i32) -> String {
        let (sign, minutes) = (
            if utc_offset_min < 0 { '-' } else { '+' },
            utc_offset_min.abs(),
        );
        let local = self.local(utc_offset_min);
        format!("{local}{sign}{:02}:{:02}", minutes / 60, minutes % 60)
    }

    /// The time of day to the minute, rounded down: `22:41`.
    #[must_use]
    pub fn clock(self, utc_offset_min: i32) -> String {
        self.civil(utc_offset_min).strftime("%H:%M").to_string()
    }

    /// The date, `2026-06-14`.
    #[must_use]
    pub fn date(self, utc_offset_min: i32) -> String {
        self.civil(utc_offset_min).date().to_string()
    }

    /// The evening's date of the night that it belongs to: nights run from noon to noon.
    #[must_use]
    pub fn evening(self, utc_offset_min: i32) -> String {
        self.plus_s(-12.0 * 3600.0).date(utc_offset_min)
    }

    fn civil(self, utc_offset_min: i32) -> DateTime {
        let seconds = self.0.floor().clamp(
            Timestamp::MIN.as_second() as f64 + 1e6,
            Timestamp::MAX.as_second() as f64 - 1e6,
        );
        let at = Timestamp::from_second(seconds as i64).unwrap_or(Timestamp::UNIX_EPOCH);
        offset(utc_offset_min).to_datetime(at)
    }
}

fn offset(minutes: i32) -> Offset {
    // Clocks on Earth stay within 14 hours of UTC; anything else is a slip of the keyboard.
    Offset::from_seconds(minutes.clamp(-14 * 60, 14 * 60) * 60).unwrap_or(Offset::UTC)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

    use super::*;

    /// `date -u -d 2026-06-14T21:41:05Z +%s` (GNU coreutils 9.1) says 1781473265.
    #[test]
    fn agrees_with_another_calendar() {
        let moment = Moment::from_local("2026-06-14T22:41:05", 60).unwrap();
        assert_eq!(moment.utc_s(), 1_781_473_265.0);
        assert_eq!(moment.local(60), "2026-06-14T22:41:05");
        assert_eq!(moment.iso(-90), "2026-06-14T20:11:05-01:30");
        assert_eq!(moment.clock(60), "22:41");
    }

    #[test]
    fn nights_run_from_noon_to_noon() {
        let evening = |text| Moment::from_local(text, 60).unwrap().evening(60);
        assert_eq!(evening("2026-06-14T12:00:00"), "2026-06-14");
        assert_eq!(evening("2026-06-15T11:59:59"), "2026-06-14");
        assert_eq!(evening("2026-03-01T03:00:00"), "2026-02-28");
    }

    #[test]
    fn absurd_moments_are_still_some_text() {
        for utc_s in [f64::NAN, f64::INFINITY, -1e300, 1e18] {
            assert!(Moment::from_utc_s(utc_s).local(10_000).contains('T'));
        }
        assert_eq!(Moment::from_local("2026-02-30T00:00:00", 0), None);
    }
}
