//! What people take a recording to be, and how that is written into GUANO metadata and read from them.
//!
//! The standard's own field `Species Manual ID` holds the words alone, separated by commas. All the rest of a label has no
//! place in the standard and lies in a namespace of ours: `Dusklens|Labels`, a JSON list in one line.

use serde::{Deserialize, Serialize};

use super::facts::Field;
use super::guano::{PADDING, VERSION as GUANO_VERSION, field};

/// The standard's field for what a person says, a list of names.
const MANUAL_ID: &str = "Species Manual ID";
/// Our namespace; every key in it is ours to write anew.
pub(super) const NAMESPACE: &str = "Dusklens|";
/// Our field for what others had put into the standard's.
const BEFORE: &str = "Dusklens|Manual ID Before";
/// Our field for whole labels.
pub(super) const LABELS: &str = "Dusklens|Labels";
/// Our field for the version that wrote them.
const VERSION: &str = "Dusklens|Version";

/// What somebody takes a recording, or some of its pulses, to be: a person's judgement and no measurement.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Label {
    /// Never given twice, so that copies of a label are known as such.
    pub id: String,
    /// When it was made or last changed: ISO 8601 with the distance from UTC.
    pub when: String,
    /// The pulses it is about; none: the whole recording.
    pub about: Vec<Span>,
    /// The words themselves.
    pub text: String,
    /// How sure the person is.
    pub certainty: Certainty,
    /// Anything else; may hold line breaks.
    pub note: String,
    /// Who says so; may be empty.
    pub who: String,
}

/// How sure a person is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(rename_all = "snake_case")]
pub enum Certainty {
    /// The person would be surprised to be wrong.
    Sure,
    /// More likely than anything else.
    Probable,
    /// Cannot be ruled out; others are as likely.
    Possible,
}

/// A pulse that a label is about.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Span {
    /// Its number in the table when it was labelled: `7`, or `D3` for a doubted sound.
    pub name: String,
    /// The channel, counted from 0.
    pub channel: u16,
    /// Start, real time at the microphone, seconds, as long as the time expansion is the one below.
    pub start_s: f64,
    /// End, likewise.
    pub end_s: f64,
    /// The time expansion that those times were measured with.
    pub expansion: f64,
}

/// Labels from the value of our field; none where it is not ours.
pub(super) fn read(value: &str) -> Option<Vec<Label>> {
    serde_json::from_str(value).ok()
}

/// A body with these labels in it, and without those that it had. All other lines stay byte for byte as they are.
pub(super) fn relabelled(body: &[u8], labels: &[Label], version: &str) -> Option<Vec<u8>> {
    let lines = lines(body);
    let before = |key: &str| {
        let found = lines
            .iter()
            .find_map(|line| known(line).filter(|field| field.key == key));
        found.map(|field| field.value)
    };
    let names = names(&before, labels);
    let mut text = Vec::with_capacity(body.len() + 256);
    let all = names.all.join(", ");
    let mut name_line = (!all.is_empty()).then(|| format!("{MANUAL_ID}: {all}\n"));
    for line in &lines {
        match known(line) {
            Some(field) if field.key.starts_with(NAMESPACE) => {}
            Some(field) if field.key == MANUAL_ID => {
                text.extend(name_line.take().into_iter().flat_map(String::into_bytes));
            }
            _ => text.extend_from_slice(line),
        }
        if text.last().is_some_and(|&byte| byte != b'\n') {
            text.push(b'\n');
        }
    }
    if text.is_empty() {
        text.extend_from_slice(format!("{GUANO_VERSION}: 1.0\n").as_bytes());
    }
    text.extend(name_line.into_iter().flat_map(String::into_bytes));
    if !labels.is_empty() {
        let mut ours = format!("{VERSION}: {version}\n");
        if !names.others.is_empty() {
            ours.push_str(&format!("{BEFORE}: {}\n", names.others.join(", ")));
        }
        let value = serde_json::to_string(labels).ok()?;
        ours.push_str(&format!("{LABELS}: {value}\n"));
        text.extend_from_slice(ours.as_bytes());
    }
    Some(text)
}

/// The lines of a body, each with its line break, without what pads the chunk.
fn lines(body: &[u8]) -> Vec<&[u8]> {
    let padding = |byte: &u8| matches!(byte, 0 | b' ' | b'\t' | b'\r' | b'\n');
    let end = body
        .iter()
        .rposition(|byte| !padding(byte))
        .map_or(0, |last| last + 1);
    let text = body.get(..end).unwrap_or_default();
    text.split_inclusive(|&byte| byte == b'\n').collect()
}

/// The field of a line, if it is one.
fn known(line: &[u8]) -> Option<Field> {
    field(
        String::from_utf8_lossy(line)
            .trim_matches(PADDING)
            .trim_matches('\n')
            .trim_matches(PADDING),
    )
}

/// The names for the standard's list.
struct Names {
    /// Those that others put there.
    others: Vec<String>,
    /// All, those of others first, each once.
    all: Vec<String>,
}

/// The names of a file whose fields are told by `before`, once it has these labels. Names that others gave stay, be they
/// the words of a label or not; those of labels that it had go.
fn names(before: &impl Fn(&str) -> Option<String>, labels: &[Label]) -> Names {
    let list = |key| before(key).unwrap_or_default();
    let old = before(LABELS)
        .and_then(|value| read(&value))
        .unwrap_or_default();
    let own: Vec<String> = old.iter().map(|label| name(&label.text)).collect();
    let (kept, present) = (list(BEFORE), list(MANUAL_ID));
    let present = items(&present).filter(|item| !own.contains(item));
    let others = distinct(items(&kept).chain(present));
    let all = distinct(
        others
            .iter()
            .cloned()
            .chain(labels.iter().map(|label| name(&label.text))),
    );
    Names { others, all }
}

fn items(list: &str) -> impl Iterator<Item = String> {
    list.split(',').map(|item| item.trim().to_owned())
}

fn distinct(names: impl Iterator<Item = String>) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for name in names {
        if !name.is_empty() && !all.contains(&name) {
            all.push(name);
        }
    }
    all
}

/// The words of a label as one name of the standard's list: a comma would end it, so it becomes a semicolon.
fn name(text: &str) -> String {
    let words = text.split(|letter: char| {
        letter.is_whitespace() || letter.is_control() || letter == '\u{feff}'
    });
    let words: Vec<&str> = words.filter(|word| !word.is_empty()).collect();
    words.join(" ").replace(',', ";")
}
