//! The recorder's clock: whole seconds since the midnight before the evening of 14 June 2026.

/// Offset of the recorder's clock from UTC, minutes.
pub const UTC_OFFSET_MIN: i32 = 60;
/// Sunset at the fen (53.2 N, 2.6 E) by the formula of the NOAA's solar calculator, on the
/// recorder's clock.
pub const SUNSET_S: i64 = at(21, 17);
/// Sunrise after it, by the same formula.
pub const SUNRISE_S: i64 = at(24 + 4, 22);
/// When the timer starts the recorder: half an hour before sunset.
pub const TIMER_START_S: i64 = SUNSET_S - 30 * 60;
/// When the timer stops it: half an hour after sunrise.
pub const TIMER_END_S: i64 = SUNRISE_S + 30 * 60;

const DAY_S: i64 = 24 * 3600;

/// A time of the evening's day; hours from 24 on are of the morning after.
pub(super) const fn at(hour: i64, minute: i64) -> i64 {
    (hour * 60 + minute) * 60
}

/// `2026-06-14T21:41:05+01:00`.
pub(super) fn stamp(clock_s: i64) -> String {
    let (day, [hour, minute, second]) = parts(clock_s);
    format!("2026-06-{day:02}T{hour:02}:{minute:02}:{second:02}+01:00")
}

/// `20260614_214105`, as recorders write it into names.
pub(super) fn name(clock_s: i64) -> String {
    let (day, [hour, minute, second]) = parts(clock_s);
    format!("202606{day:02}_{hour:02}{minute:02}{second:02}")
}

/// `20260614`: the day on whose noon the night of this time begins.
pub(super) fn night(clock_s: i64) -> String {
    format!("202606{:02}", parts(clock_s - DAY_S / 2).0)
}

fn parts(clock_s: i64) -> (i64, [i64; 3]) {
    let second = clock_s.rem_euclid(DAY_S);
    let day = 14 + clock_s.div_euclid(DAY_S);
    (day, [second / 3600, second / 60 % 60, second % 60])
}
