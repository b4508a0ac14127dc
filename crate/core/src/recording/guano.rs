//! GUANO metadata, version 1.0: lines of `Namespace|Key: Value` in a `guan` chunk.

use super::counted;
use super::facts::{Field, Notice};

/// The field that comes first.
pub(super) const VERSION: &str = "GUANO|Version";

/// Fields beyond this many are dropped; a long one has forty.
const MAX_FIELDS: usize = 4096;

/// The characters that pad lines and chunks.
pub(super) const PADDING: [char; 5] = [' ', '\t', '\r', '\0', '\u{feff}'];

/// The fields as written, keys with their namespace, in the file's order.
#[derive(Debug, Default, PartialEq)]
pub(super) struct Guano {
    pub(super) fields: Vec<Field>,
    pub(super) notices: Vec<Notice>,
}

impl Guano {
    /// Takes a field out by its key.
    pub(super) fn take(&mut self, key: &str) -> Option<String> {
        let at = self.fields.iter().position(|field| field.key == key)?;
        Some(self.fields.remove(at).value)
    }

    fn notice(&mut self, byte: u64, text: impl Into<String>) {
        self.notices.push(Notice {
            text: text.into(),
            byte: Some(byte),
        });
    }
}

/// Reads a body that starts at a byte of the file. Faulty lines are skipped and
/// become one notice with the byte of the first.
pub(super) fn parse(body: &[u8], at: u64) -> Guano {
    let mut guano = Guano::default();
    let text = String::from_utf8_lossy(body);
    if let std::borrow::Cow::Owned(_) = text {
        let valid = std::str::from_utf8(body)
            .err()
            .map_or(0, |error| error.valid_up_to());
        guano.notice(
            at + valid as u64,
            "The GUANO metadata are not clean UTF-8 text; what could not be read is shown as \u{fffd}.",
        );
    }
    let (mut faulty, mut first_faulty, mut offset) = (0_u64, 0_u64, 0_u64);
    for line in text.split('\n') {
        let line_at = at + offset;
        offset += line.len() as u64 + 1;
        let line = line.trim_matches(PADDING);
        if line.is_empty() {
            continue;
        }
        if guano.fields.len() == MAX_FIELDS {
            guano.notice(
                line_at,
                format!("Only the first {MAX_FIELDS} metadata fields were read."),
            );
            break;
        }
        match field(line) {
            Some(field) => guano.fields.push(field),
            None => {
                if faulty == 0 {
                    first_faulty = line_at;
                }
                faulty += 1;
            }
        }
    }
    if faulty > 0 {
        guano.notice(
            first_faulty,
            format!(
                "In the GUANO metadata, {} without `key: value` had to be skipped.",
                counted(faulty, "line"),
            ),
        );
    }
    check(&mut guano, at);
    guano
}

/// Splits at the first colon, and the key at its first bar.
pub(super) fn field(line: &str) -> Option<Field> {
    let (key, value) = line.split_once(':')?;
    let key = match key.split_once('|') {
        Some((namespace, key)) => {
            let (namespace, key) = (namespace.trim_matches(PADDING), key.trim_matches(PADDING));
            if namespace.is_empty() {
                key.to_owned()
            } else {
                format!("{namespace}|{key}")
            }
        }
        None => key.trim_matches(PADDING).to_owned(),
    };
    let value = value.trim_matches(PADDING).to_owned();
    (!key.is_empty()).then_some(Field { key, value })
}

/// What the standard requires of the whole.
fn check(guano: &mut Guano, at: u64) {
    match guano.fields.iter().position(|field| field.key == VERSION) {
        Some(0) => {}
        Some(_) => guano.notice(
            at,
            "The GUANO metadata do not begin with their version; they were read all the same.",
        ),
        None => guano.notice(
            at,
            "The GUANO metadata do not state their version; they were read as version 1.0.",
        ),
    }
    let mut seen = std::collections::HashSet::new();
    let doubled = guano
        .fields
        .iter()
        .find(|field| !seen.insert(field.key.as_str()));
    if let Some(key) = doubled.map(|field| field.key.clone()) {
        guano.notice(
            at,
            format!("The GUANO metadata state `{key}` more than once; the first was believed."),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fields(text: &str) -> Vec<(String, String)> {
        parse(text.as_bytes(), 0)
            .fields
            .into_iter()
            .map(|field| (field.key, field.value))
            .collect()
    }

    fn pair(key: &str, value: &str) -> (String, String) {
        (key.to_owned(), value.to_owned())
    }

    #[test]
    fn splits_at_the_first_bar_and_the_first_colon() {
        let read = fields("GUANO|Version: 1.0\nUser|a|b: c|d: e\n|Plain : x \nNote:\n");
        assert_eq!(
            read,
            [
                pair("GUANO|Version", "1.0"),
                pair("User|a|b", "c|d: e"),
                pair("Plain", "x"),
                pair("Note", ""),
            ]
        );
    }

    #[test]
    fn trims_padding_and_skips_blank_lines() {
        let read = fields("\u{feff}GUANO|Version: 1.0\r\n\n\t\r\nTE:\t10 \r\n   \0\0\0");
        assert_eq!(read, [pair("GUANO|Version", "1.0"), pair("TE", "10")]);
    }

    #[test]
    fn mentions_a_version_that_is_missing_or_late() {
        assert!(
            parse(b"TE: 10\n", 0).notices[0]
                .text
                .contains("do not state their version")
        );
        let late = parse(b"TE: 10\nGUANO|Version: 1.0\n", 0);
        assert!(late.notices[0].text.contains("do not begin with"));
    }

    #[test]
    fn names_the_byte_of_what_is_not_text() {
        let guano = parse(b"GUANO|Version: 1.0\nNote: fen \xff\xfe\n", 100);
        assert_eq!(guano.notices[0].byte, Some(100 + 29));
        assert_eq!(guano.fields[1].value, "fen \u{fffd}\u{fffd}");
    }

    #[test]
    fn counts_faulty_lines_and_names_the_first() {
        let guano = parse(b"GUANO|Version: 1.0\nwhat\n: no key\nTE: 10", 50);
        assert_eq!(guano.notices.len(), 1);
        assert!(guano.notices[0].text.contains("2 lines without"));
        assert_eq!(guano.notices[0].byte, Some(50 + 19));
        assert_eq!(guano.fields.len(), 2);
    }

    #[test]
    fn stops_after_more_fields_than_any_recorder_writes() {
        let many: String = (0..MAX_FIELDS + 10)
            .map(|n| format!("User|k{n}: v\n"))
            .collect();
        let guano = parse(format!("GUANO|Version: 1.0\n{many}").as_bytes(), 0);
        assert_eq!(guano.fields.len(), MAX_FIELDS);
        assert!(guano.notices[0].text.contains("Only the first"));
    }
}
