//! Dates and times as recorders write them.

use super::facts::{Stamp, StampOrigin};

/// Reads `2026-06-14T22:41:05`, with an optional fraction and an optional `Z` or
/// `+01:00`; a space may stand for the `T`, and seconds may be left out.
pub(super) fn parse(text: &str, origin: StampOrigin) -> Option<Stamp> {
    let text = text.trim();
    let date = date(text.get(..10)?)?;
    let rest = text.get(10..)?;
    let rest = rest.strip_prefix(['T', ' '])?.trim();
    let zone_at = rest.find(['Z', '+', '-']).unwrap_or(rest.len());
    let (clock, zone) = rest.split_at(zone_at);
    let clock = clock_time(clock.trim())?;
    let utc_offset_min = if zone.is_empty() {
        None
    } else {
        Some(offset(zone)?)
    };
    Some(Stamp {
        local: format!("{date}T{clock}"),
        utc_offset_min,
        origin,
    })
}

/// A valid day of the calendar, `2026-06-14`, whatever stands between the numbers.
pub(super) fn date(text: &str) -> Option<String> {
    let [year, month, day] = numbers(text, [4, 2, 2])?;
    let days = match month {
        4 | 6 | 9 | 11 => 30,
        2 if year % 4 == 0 && (year % 100 != 0 || year % 400 == 0) => 29,
        2 => 28,
        1..=12 => 31,
        _ => return None,
    };
    (year >= 1970 && (1..=days).contains(&day)).then(|| format!("{year:04}-{month:02}-{day:02}"))
}

/// A time of day with an optional fraction of a second.
fn clock_time(text: &str) -> Option<String> {
    let (whole, fraction) = text.split_once('.').map_or((text, ""), |(a, b)| (a, b));
    if fraction.len() > 9 || !fraction.bytes().all(|byte| byte.is_ascii_digit()) {
        return None;
    }
    let whole = if whole.len() == 5 {
        format!("{whole}:00")
    } else {
        whole.to_owned()
    };
    let clock = time(&whole)?;
    Some(if fraction.is_empty() {
        clock
    } else {
        format!("{clock}.{fraction}")
    })
}

/// A time of day, `22:41:05`, whatever stands between the numbers.
pub(super) fn time(text: &str) -> Option<String> {
    let [hour, minute, second] = numbers(text, [2, 2, 2])?;
    // 60 is a leap second.
    (hour < 24 && minute < 60 && second <= 60).then(|| format!("{hour:02}:{minute:02}:{second:02}"))
}

/// Three numbers of fixed width with one separator after each but the last.
fn numbers(text: &str, widths: [usize; 3]) -> Option<[u32; 3]> {
    let mut numbers = [0; 3];
    let mut rest = text;
    for (index, (number, width)) in numbers.iter_mut().zip(widths).enumerate() {
        if index > 0 {
            // EBU Tech 3285 allows any of these between the numbers.
            rest = rest.strip_prefix(['-', '_', ':', ' ', '.', '/'])?;
        }
        let digits = rest.get(..width)?;
        if !digits.bytes().all(|byte| byte.is_ascii_digit()) {
            return None;
        }
        *number = digits.parse().ok()?;
        rest = rest.get(width..)?;
    }
    rest.is_empty().then_some(numbers)
}

/// Minutes east of UTC.
fn offset(zone: &str) -> Option<i32> {
    if zone == "Z" {
        return Some(0);
    }
    let (sign, digits) = match zone.split_at_checked(1)? {
        ("+", rest) => (1, rest),
        ("-", rest) => (-1, rest),
        _ => return None,
    };
    let (hours, minutes) = match (digits.split_once(':'), digits.len()) {
        (Some(parts), _) => parts,
        (None, 4) => digits.split_at_checked(2)?,
        (None, _) => (digits, "0"),
    };
    let plain = |text: &str| text.len() <= 2 && text.bytes().all(|byte| byte.is_ascii_digit());
    if !plain(hours) || !plain(minutes) {
        return None;
    }
    let (hours, minutes): (i32, i32) = (hours.parse().ok()?, minutes.parse().ok()?);
    // Clocks on Earth lie between -12:00 and +14:00.
    (hours <= 14 && minutes < 60).then_some(sign * (hours * 60 + minutes))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

    use super::*;

    fn read(text: &str) -> Option<(String, Option<i32>)> {
        parse(text, StampOrigin::Guano).map(|stamp| (stamp.local, stamp.utc_offset_min))
    }

    #[test]
    fn reads_every_form_that_the_standard_allows_and_some_that_people_write() {
        for (text, local, offset) in [
            ("2015-12-31T23:59:59", "2015-12-31T23:59:59", None),
            ("2015-12-31T23:59:59.123", "2015-12-31T23:59:59.123", None),
            (
                "2015-12-31T23:59:59.123456Z",
                "2015-12-31T23:59:59.123456",
                Some(0),
            ),
            (
                "2015-12-31T23:59:59+04:00",
                "2015-12-31T23:59:59",
                Some(240),
            ),
            ("2015-12-31T23:59-03:30", "2015-12-31T23:59:00", Some(-210)),
            ("2015-12-31 23:59:59 +0100", "2015-12-31T23:59:59", Some(60)),
            ("2015-12-31T23:59:60-12", "2015-12-31T23:59:60", Some(-720)),
            ("2024-02-29T00:00:00", "2024-02-29T00:00:00", None),
        ] {
            assert_eq!(read(text), Some((local.to_owned(), offset)), "{text}");
        }
    }

    #[test]
    fn refuses_moments_that_never_were() {
        for text in [
            "",
            "2015-12-31",
            "2015-13-01T00:00:00",
            "2015-02-29T00:00:00",
            "2100-02-29T00:00:00",
            "0000-00-00T00:00:00",
            "2015-12-31T24:00:00",
            "2015-12-31T23:60:00",
            "2015-12-31T23:59:59.12x",
            "2015-12-31T23:59:59+15:00",
            "2015-12-31T23:59:59+1:2:3",
            "2015-12-31T23:59:59Zulu",
            "2015-12-31T2é:59:59",
            "é015-12-31T23:59:59",
        ] {
            assert_eq!(read(text), None, "{text}");
        }
    }

    #[test]
    fn takes_any_separator_of_the_broadcast_standard() {
        assert_eq!(date("2026/06/14").unwrap(), "2026-06-14");
        assert_eq!(time("22.41_05").unwrap(), "22:41:05");
    }
}
