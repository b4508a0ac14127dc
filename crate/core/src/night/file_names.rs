//! Dates and times in the names of files.
//!
//! A pattern is written with the letters of ISO 8601: `YYYY` (or `YY`), `MM`, `DD`, `hh`, `mm`, `ss`; `?` stands for any one
//! character, everything else for itself. It is looked for anywhere in a file's path, the last place counts,
//! and digits right before or after it are not allowed: they would belong to another number.

use jiff::civil;
use thiserror::Error;

/// Patterns that are tried where a person gives none, the most particular first.
const USUAL: [&str; 4] = [
    "YYYYMMDD?hhmmss",
    "YYYY?MM?DD?hh?mm?ss",
    "YYYYMMDDhhmmss",
    "YYYYMMDD/hhmmss",
];
/// Two-digit years count from here on: recorders of bats write no files of the last century.
const CENTURY: i16 = 2000;

/// A pattern of date and time in names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NamePattern {
    parts: Vec<Part>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Part {
    Number(Unit, usize),
    Any,
    Letter(char),
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Unit {
    Year,
    Month,
    Day,
    Hour,
    Minute,
    Second,
}

/// The letters of a number, the longer first.
const NUMBERS: [(&str, Unit); 7] = [
    ("YYYY", Unit::Year),
    ("YY", Unit::Year),
    ("MM", Unit::Month),
    ("DD", Unit::Day),
    ("hh", Unit::Hour),
    ("mm", Unit::Minute),
    ("ss", Unit::Second),
];

/// Why a pattern cannot be used.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum PatternError {
    /// A part that every time needs is missing.
    #[error(
        "The pattern has no {missing}. It needs YYYY or YY, MM, DD, hh and mm, such as YYYYMMDD_hhmmss."
    )]
    Incomplete {
        /// The letters that are missing.
        missing: &'static str,
    },
    /// A part stands in it more than once.
    #[error("The pattern has {twice} more than once.")]
    Twice {
        /// The letters.
        twice: &'static str,
    },
}

impl NamePattern {
    /// Reads a pattern.
    ///
    /// # Errors
    /// [`PatternError`] where a part is missing or stands in it twice.
    pub fn parse(text: &str) -> Result<Self, PatternError> {
        let mut parts = Vec::new();
        let mut rest = text.trim();
        while let Some(next) = rest.chars().next() {
            let number = NUMBERS
                .iter()
                .find(|(letters, _)| rest.starts_with(letters));
            let (part, length) = match number {
                Some(&(letters, unit)) => (Part::Number(unit, letters.len()), letters.len()),
                None if next == '?' => (Part::Any, 1),
                None => (Part::Letter(next), next.len_utf8()),
            };
            parts.push(part);
            rest = &rest[length..];
        }
        complete(&parts)?;
        Ok(Self { parts })
    }

    /// The patterns that are tried where a person gives none.
    #[must_use]
    pub fn usual() -> Vec<Self> {
        USUAL
            .iter()
            .filter_map(|text| Self::parse(text).ok())
            .collect()
    }

    /// The local time in a path, `2026-06-14T22:41:05`, the last one if there are several; none where there is none.
    #[must_use]
    pub fn find(&self, path: &str) -> Option<String> {
        let letters: Vec<char> = path.chars().collect();
        (0..letters.len())
            .rev()
            .find_map(|at| self.at(&letters, at))
    }

    fn at(&self, letters: &[char], start: usize) -> Option<String> {
        let is_digit = |at: usize| letters.get(at).is_some_and(char::is_ascii_digit);
        let mut values = [0_i16; 6];
        let mut at = start;
        for part in &self.parts {
            match *part {
                Part::Number(unit, digits) => {
                    let text: String = letters.get(at..at + digits)?.iter().collect();
                    let plain = text.bytes().all(|byte| byte.is_ascii_digit());
                    let century = if unit == Unit::Year && digits == 2 {
                        CENTURY
                    } else {
                        0
                    };
                    values[unit as usize] = century + text.parse::<i16>().ok().filter(|_| plain)?;
                    at += digits;
                }
                Part::Any => at += usize::from(!is_digit(at)),
                Part::Letter(letter) => {
                    letters.get(at).filter(|&&there| there == letter)?;
                    at += 1;
                }
            }
        }
        let touched = is_digit(at) || start > 0 && is_digit(start - 1);
        let [year, month, day, hour, minute, second] = values;
        let small = |value: i16| i8::try_from(value).ok();
        let time = civil::DateTime::new(
            year,
            small(month)?,
            small(day)?,
            small(hour)?,
            small(minute)?,
            small(second)?,
            0,
        );
        let time = time.ok().filter(|_| !touched && year >= 1970)?;
        Some(time.strftime("%Y-%m-%dT%H:%M:%S").to_string())
    }
}

fn complete(parts: &[Part]) -> Result<(), PatternError> {
    for (letters, unit) in NUMBERS.into_iter().filter(|&(letters, _)| letters != "YY") {
        let count = parts
            .iter()
            .filter(|part| matches!(part, Part::Number(own, _) if *own == unit))
            .count();
        match count {
            0 if unit != Unit::Second => {
                return Err(PatternError::Incomplete { missing: letters });
            }
            0 | 1 => {}
            _ => return Err(PatternError::Twice { twice: letters }),
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

    use super::*;

    fn usual(path: &str) -> Option<String> {
        NamePattern::usual().iter().find_map(|one| one.find(path))
    }

    /// The basic and extended formats of ISO 8601, and what common practice makes of them in names of files.
    #[test]
    fn finds_what_recorders_usually_write() {
        for path in [
            "FEN-07_20260614_224105.wav",
            "20260614T224105.WAV",
            "card/FEN-07 2026-06-14 22-41-05.wav",
            "2026_06_14__20260614-224105_000.wav",
            "20260614224105.wav",
            "20260614/224105.wav",
        ] {
            assert_eq!(usual(path).unwrap(), "2026-06-14T22:41:05", "{path}");
        }
    }

    #[test]
    fn finds_none_in_other_numbers() {
        for path in [
            "",
            "recording.wav",
            "120260614_2241055.wav",
            "20261314_224105.wav",
            "20260614_254105.wav",
            "00000101_000000.wav",
            "20260614_22410",
        ] {
            assert_eq!(usual(path), None, "{path}");
        }
    }

    #[test]
    fn a_pattern_may_be_typed_in() {
        let pattern = NamePattern::parse("DD.MM.YY hhhmm").unwrap();
        let found = pattern.find("Fen 14.06.26 22h41 é.wav");
        assert_eq!(found.unwrap(), "2026-06-14T22:41:00");
    }

    #[test]
    fn a_pattern_that_cannot_do_says_why() {
        let missing = NamePattern::parse("YYYYMMDD").unwrap_err();
        assert_eq!(missing, PatternError::Incomplete { missing: "hh" });
        let twice = NamePattern::parse("YYYYMMDD_hhmmss_ss").unwrap_err();
        assert_eq!(twice, PatternError::Twice { twice: "ss" });
    }
}
