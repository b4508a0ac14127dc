//! The files of nights as a list that can be narrowed down, put in order, and looked at a few rows at a time.

use serde::{Deserialize, Serialize};

use super::card::{Night, NightFile, NightKey};
use super::clock::TimeOrigin;
use super::content::{Content, Outcome, PassFacts};
use super::decisions::{Decisions, ReviewVerdict};
use super::moment::Moment;
use super::settings::NightSettings;
use crate::pulse::Verdict;

/// What a file is, seen from afar: every file is in exactly one group.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(rename_all = "snake_case")]
pub enum Group {
    /// It holds bat pulses.
    HoldsPulses,
    /// It holds sounds that may be a bat's.
    Unsure,
    /// It holds probably no bat. That is no proof of absence.
    ProbablyNone,
    /// It could not be read.
    Broken,
    /// The same content was met before.
    Copy,
}

impl Group {
    /// The group of a file.
    #[must_use]
    pub fn of(own: &NightFile) -> Self {
        match (&own.copy_of, &own.file.examined.outcome) {
            (_, Outcome::Broken { .. }) => Self::Broken,
            (Some(_), _) => Self::Copy,
            (None, Outcome::Read(content)) => match content.verdict {
                Verdict::HoldsPulses => Self::HoldsPulses,
                Verdict::Unsure => Self::Unsure,
                Verdict::ProbablyNone => Self::ProbablyNone,
            },
        }
    }
}

/// Which files are wanted, and in which order. What is not said does not narrow.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Wanted {
    /// Files of these nights; none: of all.
    pub nights: Vec<NightKey>,
    /// Files of these groups; none: of all.
    pub groups: Vec<Group>,
    /// Files that were begun at this moment or later.
    pub from: Option<Moment>,
    /// Files that were begun before this moment.
    pub to: Option<Moment>,
    /// Files with a pass whose characteristic frequency is at least this, kilohertz; with `high_khz`, the same pass.
    pub low_khz: Option<f64>,
    /// ... and at most this.
    pub high_khz: Option<f64>,
    /// Files with a feeding buzz.
    pub buzzes: bool,
    /// Files with this label; an empty text: files without any.
    pub label: Option<String>,
    /// Files that were checked by ear or eye, or not.
    pub reviewed: Option<bool>,
    /// Files of these contents, by SHA-256, such as those of a double-check; none: all.
    pub contents: Option<Vec<String>>,
    /// Files whose path holds these letters, small or large.
    pub path: String,
    /// The order.
    pub order: Order,
    /// Whether the order is turned round.
    pub descending: bool,
}

/// What files are put in order by; of the same value, by time.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(rename_all = "snake_case")]
pub enum Order {
    /// When they were begun.
    #[default]
    Time,
    /// Their paths.
    Path,
    /// How many pulses they hold.
    Pulses,
    /// How many passes they hold.
    Passes,
    /// How far their loudest pulse stands above the noise.
    Snr,
    /// The characteristic frequency of their plainest pass.
    Frequency,
    /// As they were asked for by their contents: the order in which a double-check was drawn.
    Asked,
}

/// A file in the list.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Row {
    /// Its path from the chosen folder on.
    pub path: String,
    /// What it is known by; empty where it could not be read at all.
    pub sha256: String,
    /// Size, bytes.
    pub bytes: u64,
    /// Which night it belongs to.
    pub night: NightKey,
    /// When it was begun.
    pub start: Moment,
    /// The same as local time, `2026-06-14T22:41:05`.
    pub local: String,
    /// Who says so.
    pub origin: TimeOrigin,
    /// The group that it is in.
    pub group: Group,
    /// Duration, seconds; none where it could not be read.
    pub duration_s: Option<f64>,
    /// How many pulses.
    pub pulses: u32,
    /// How many passes.
    pub passes: u32,
    /// How many feeding buzzes.
    pub buzzes: u32,
    /// Characteristic frequency of the plainest pass, kilohertz.
    pub khz: Option<f64>,
    /// Signal-to-noise ratio of the plainest pulse, decibels.
    pub snr_db: Option<f64>,
    /// What else there is to say, in a few words each: doubts, clipping, cut-offs, why it could not be read.
    pub notes: Vec<String>,
    /// The labels that it has, the newest last.
    pub labels: Vec<String>,
    /// What somebody found who checked it by ear or eye.
    pub review: Option<ReviewVerdict>,
}

/// The passes of a recording that count, by the person's own definition of a pass.
pub fn passes<'a>(
    content: &'a Content,
    settings: &NightSettings,
) -> impl Iterator<Item = &'a PassFacts> + use<'a> {
    let fewest = settings.pass_min_pulses;
    content
        .passes
        .iter()
        .filter(move |pass| pass.pulses >= fewest)
}

/// A file that is wanted: the night's place among the nights, and its place in it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// Which night.
    pub night: usize,
    /// Which of its files.
    pub file: usize,
}

/// The files that are wanted, in the order that is wanted.
#[must_use]
pub fn wanted(nights: &[Night], decisions: &Decisions, wanted: &Wanted) -> Vec<Place> {
    let letters = wanted.path.to_lowercase();
    let mut found: Vec<Place> = Vec::new();
    for (number, night) in nights.iter().enumerate() {
        if !wanted.nights.is_empty() && !wanted.nights.contains(&night.key) {
            continue;
        }
        let files = night.files.iter().enumerate();
        let own = files.filter(|(_, file)| is_wanted(night, file, decisions, wanted, &letters));
        found.extend(own.map(|(file, _)| Place {
            night: number,
            file,
        }));
    }
    put_in_order(nights, wanted, &mut found);
    found
}

fn is_wanted(
    night: &Night,
    own: &NightFile,
    decisions: &Decisions,
    wanted: &Wanted,
    letters: &str,
) -> bool {
    let sha256 = &own.file.examined.sha256;
    let start = own.time.start;
    let labels = decisions.labels_of(&own.file.examined);
    let is_labelled = |text: &String| match text.as_str() {
        "" => labels.is_empty(),
        text => labels.iter().any(|label| label.text == text),
    };
    let is_reviewed = decisions.reviews.contains_key(sha256);
    (wanted.groups.is_empty() || wanted.groups.contains(&Group::of(own)))
        && wanted.from.is_none_or(|from| start >= from)
        && wanted.to.is_none_or(|to| start < to)
        && sounds_as_wanted(night, own, wanted)
        && wanted.label.as_ref().is_none_or(is_labelled)
        && wanted
            .reviewed
            .is_none_or(|reviewed| reviewed == is_reviewed)
        && wanted
            .contents
            .as_ref()
            .is_none_or(|contents| contents.contains(sha256))
        && (letters.is_empty() || own.file.path.to_lowercase().contains(letters))
}

fn sounds_as_wanted(night: &Night, own: &NightFile, wanted: &Wanted) -> bool {
    let content = own.file.examined.content();
    let within = |pass: &PassFacts| {
        wanted
            .low_khz
            .is_none_or(|low| pass.characteristic_khz >= low)
            && wanted
                .high_khz
                .is_none_or(|high| pass.characteristic_khz <= high)
    };
    let banded = wanted.low_khz.is_some() || wanted.high_khz.is_some();
    let has_pass = || content.is_some_and(|own| passes(own, &night.settings).any(within));
    (!banded || has_pass()) && (!wanted.buzzes || content.is_some_and(|own| own.buzzes > 0))
}

fn put_in_order(nights: &[Night], wanted: &Wanted, places: &mut [Place]) {
    let own = |place: &Place| &nights[place.night].files[place.file];
    let settings = |place: &Place| &nights[place.night].settings;
    let content = |place: &Place| own(place).file.examined.content();
    match wanted.order {
        Order::Time => sort(places, |p| own(p).time.start.utc_s()),
        Order::Path => places.sort_by(|a, b| own(a).file.path.cmp(&own(b).file.path)),
        Order::Pulses => sort(places, |p| {
            content(p).map_or(-1.0, |own| f64::from(own.pulses))
        }),
        Order::Passes => sort(places, |p| {
            content(p).map_or(-1.0, |own| passes(own, settings(p)).count() as f64)
        }),
        Order::Snr => sort(places, |p| {
            content(p).and_then(|own| own.best_snr_db).unwrap_or(-1.0)
        }),
        Order::Frequency => sort(places, |p| {
            content(p)
                .and_then(|own| plainest(own, settings(p)))
                .map_or(-1.0, |pass| pass.characteristic_khz)
        }),
        Order::Asked => {
            let asked = wanted.contents.as_deref().unwrap_or_default();
            sort(places, |p| {
                let sha256 = &own(p).file.examined.sha256;
                asked
                    .iter()
                    .position(|one| one == sha256)
                    .unwrap_or(asked.len()) as f64
            });
        }
    }
    if wanted.descending {
        places.reverse();
    }
}

/// Values are worked out once for each place; places of the same value stay in order of time.
fn sort(places: &mut [Place], value: impl Fn(&Place) -> f64) {
    places.sort_by_cached_key(|place| Ordered(value(place)));
}

/// A number with an order.
#[derive(PartialEq)]
struct Ordered(f64);

impl Eq for Ordered {}

impl PartialOrd for Ordered {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Ordered {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.0.total_cmp(&other.0)
    }
}

/// The pass of a recording that stands farthest above the noise.
fn plainest<'a>(content: &'a Content, settings: &NightSettings) -> Option<&'a PassFacts> {
    passes(content, settings).max_by(|a, b| a.snr_db.total_cmp(&b.snr_db))
}

/// A file as the list shows it.
#[must_use]
pub fn row(night: &Night, own: &NightFile, decisions: &Decisions) -> Row {
    let examined = &own.file.examined;
    let content = examined.content();
    let labels = decisions.labels_of(examined);
    Row {
        path: own.file.path.clone(),
        sha256: examined.sha256.clone(),
        bytes: examined.bytes,
        night: night.key.clone(),
        start: own.time.start,
        local: own.time.start.local(night.settings.utc_offset_min),
        origin: own.time.origin,
        group: Group::of(own),
        duration_s: content.map(|own| own.duration_s),
        pulses: content.map_or(0, |own| own.pulses),
        passes: content.map_or(0, |own| passes(own, &night.settings).count() as u32),
        buzzes: content.map_or(0, |own| own.buzzes),
        khz: content
            .and_then(|own| plainest(own, &night.settings))
            .map(|pass| pass.characteristic_khz),
        snr_db: content.and_then(|own| own.best_snr_db),
        notes: notes(own),
        labels: labels.iter().map(|label| label.text.clone()).collect(),
        review: decisions
            .reviews
            .get(&examined.sha256)
            .map(|review| review.verdict),
    }
}

fn notes(own: &NightFile) -> Vec<String> {
    let mut notes = Vec::new();
    if let Some(path) = &own.copy_of {
        notes.push(format!("same content as {path}"));
    }
    if own.time.origin.is_weak() {
        notes.push("time from the file's date".to_owned());
    }
    let content = match &own.file.examined.outcome {
        Outcome::Broken { message, .. } => {
            notes.push(message.clone());
            return notes;
        }
        Outcome::Read(content) => content,
    };
    if content.cut_off {
        notes.push("cut off".to_owned());
    }
    if content.clipped_pulses > 0 {
        notes.push("clipped".to_owned());
    }
    let doubted = |count: &crate::pulse::DoubtCount| {
        let what = count.doubt.name().replace('_', " ");
        format!("{} × {what}", count.sounds)
    };
    notes.extend(content.doubts.iter().map(doubted));
    notes
}
