//! How numbers are said in evidence.

/// `1 recording`, `12 recordings`.
pub(super) fn count(number: usize, thing: &str) -> String {
    let ending = if number == 1 { "" } else { "s" };
    format!("{number} {thing}{ending}")
}

/// `12 of 240 recordings (5 %)`.
pub(super) fn part(number: usize, of: usize, thing: &str) -> String {
    format!("{number} of {} ({})", count(of, thing), percent(number, of))
}

/// `5 %`; what is there at all is never said to be nothing, nor what is not all to be all.
pub(super) fn percent(number: usize, of: usize) -> String {
    let share = ratio(number, of) * 100.0;
    match () {
        () if number > 0 && share < 1.0 => "under 1 %".to_owned(),
        () if number < of && share > 99.0 => "over 99 %".to_owned(),
        () => format!("{share:.0} %"),
    }
}

/// A share, 0 to 1; 0 of nothing.
pub(super) fn ratio(number: usize, of: usize) -> f64 {
    number as f64 / of.max(1) as f64
}

/// A span of time: `40 s`, `45 min`, `2 h 10 min`.
pub(super) fn span(seconds: f64) -> String {
    let seconds = seconds.abs();
    let minutes = (seconds / 60.0).round();
    match () {
        () if seconds < 100.0 => format!("{seconds:.0} s"),
        () if minutes < 60.0 => format!("{minutes} min"),
        () if minutes % 60.0 == 0.0 => format!("{} h", minutes / 60.0),
        () => format!("{} h {} min", (minutes / 60.0).floor(), minutes % 60.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_said_as_people_say_them() {
        assert_eq!(part(1, 1, "file"), "1 of 1 file (100 %)");
        assert_eq!(percent(1, 1000), "under 1 %");
        assert_eq!(percent(999, 1000), "over 99 %");
        assert_eq!(percent(0, 0), "0 %");
        assert_eq!(span(-7.4), "7 s");
        assert_eq!(span(3599.0), "1 h");
        assert_eq!(span(7810.0), "2 h 10 min");
    }
}
