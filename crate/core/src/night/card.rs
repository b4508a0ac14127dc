//! All files that were taken from cards, and the nights that they make.

use std::collections::{BTreeMap, HashMap};
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::clock::{Placed, Reader};
use super::content::{Content, Examined, FORM, Outcome};
use super::moment::Moment;
use super::settings::NightSettings;

/// What a recorder is called where neither its files nor their folder name it.
const NAMELESS: &str = "recorder";

/// A file as it lies on the card, examined.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct CardFile {
    /// Its path from the chosen folder on, with `/` between folders.
    pub path: String,
    /// When it was last written to, milliseconds since 1970 UTC, where the system says so.
    pub modified_ms: Option<f64>,
    /// What is known of its content.
    pub examined: Examined,
}

impl CardFile {
    /// A file that could not be read at all: the card or the disk did not give its bytes.
    #[must_use]
    pub fn unreadable(
        path: String,
        bytes: u64,
        modified_ms: Option<f64>,
        message: String,
        advice: String,
    ) -> Self {
        Self {
            path,
            modified_ms,
            examined: Examined {
                form: FORM,
                sha256: String::new(),
                bytes,
                outcome: Outcome::Broken { message, advice },
            },
        }
    }

    /// The first folder of its path; empty where it lies in none.
    fn folder(&self) -> &str {
        self.path.split_once('/').map_or("", |(folder, _)| folder)
    }

    /// The folders that it lies in, the innermost first.
    fn folders(&self) -> impl Iterator<Item = &str> {
        self.path
            .rmatch_indices('/')
            .map(|(at, _)| &self.path[..at])
    }
}

/// All files that were taken in, in any order.
#[derive(Debug, Default)]
pub struct Card {
    files: Vec<Arc<CardFile>>,
}

/// What tells a night from others.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct NightKey {
    /// Date of the evening, `2026-06-14`: nights run from noon to noon.
    pub evening: String,
    /// The recorder: its serial number, else the folder that its files lie in.
    pub recorder: String,
}

/// The files of one recorder in one night, with their times put right.
#[derive(Debug, Clone)]
pub struct Night {
    /// Which night, and whose.
    pub key: NightKey,
    /// Its files in order of time, those that could not be read among them.
    pub files: Vec<NightFile>,
    /// What a person says of it.
    pub settings: NightSettings,
}

/// A file of a night.
#[derive(Debug, Clone)]
pub struct NightFile {
    /// The file.
    pub file: Arc<CardFile>,
    /// When it was recorded.
    pub time: Placed,
    /// The path of the same content that was met before; it is not counted twice.
    pub copy_of: Option<String>,
}

impl NightFile {
    /// What was found in it; none where it could not be read or is a copy, so that whoever counts counts right.
    #[must_use]
    pub fn counted(&self) -> Option<&Content> {
        self.file
            .examined
            .content()
            .filter(|_| self.copy_of.is_none())
    }

    /// When its recording ended.
    #[must_use]
    pub fn end(&self) -> Moment {
        let content = self.file.examined.content();
        self.time
            .start
            .plus_s(content.map_or(0.0, |content| content.duration_s))
    }
}

/// Files that belong to no night, since nothing says when they were recorded.
pub type Unplaced = Vec<Arc<CardFile>>;

impl Card {
    /// Takes a file in.
    pub fn take(&mut self, file: CardFile) {
        self.files.push(Arc::new(file));
    }

    /// All files, in the order in which they came.
    #[must_use]
    pub fn files(&self) -> &[Arc<CardFile>] {
        &self.files
    }

    /// Parts the files into nights, the earliest first, and those that nothing places in time.
    #[must_use]
    pub fn nights(&self, settings: &NightSettings) -> (Vec<Night>, Unplaced) {
        let reader = Reader::new(settings.name_pattern.as_deref(), settings.utc_offset_min);
        let recorders = Recorders::of(&self.files);
        let copies = copies(&self.files);
        let mut unplaced = Vec::new();
        let mut of_recorder: BTreeMap<String, Vec<NightFile>> = BTreeMap::new();
        for file in &self.files {
            let Some(time) = reader.read(file) else {
                unplaced.push(Arc::clone(file));
                continue;
            };
            let copy_of = copies.get(file.path.as_str()).map(|&path| path.to_owned());
            let own = of_recorder.entry(recorders.name(file)).or_default();
            own.push(NightFile {
                file: Arc::clone(file),
                time,
                copy_of,
            });
        }
        let mut nights: BTreeMap<NightKey, Vec<NightFile>> = BTreeMap::new();
        for (recorder, mut files) in of_recorder {
            put_right(&mut files, settings);
            for file in files {
                let evening = file.time.start.evening(settings.utc_offset_min);
                let recorder = recorder.clone();
                nights
                    .entry(NightKey { evening, recorder })
                    .or_default()
                    .push(file);
            }
        }
        let settings = settings.clone();
        let nights = nights.into_iter().map(|(key, files)| Night {
            key,
            files,
            settings: settings.clone(),
        });
        (nights.collect(), unplaced)
    }
}

/// Takes the clock's error off, and puts files in order of time; of the same time, by their path.
fn put_right(files: &mut [NightFile], settings: &NightSettings) {
    let starts = || files.iter().map(|file| file.time.start.utc_s());
    let first = starts().fold(f64::INFINITY, f64::min);
    let last = starts().fold(f64::NEG_INFINITY, f64::max);
    for file in files.iter_mut() {
        let share = (file.time.start.utc_s() - first) / (last - first).max(1.0);
        file.time.start = file.time.start.plus_s(-settings.clock.at(share));
    }
    files.sort_by(|a, b| {
        let by_time = a.time.start.utc_s().total_cmp(&b.time.start.utc_s());
        by_time.then_with(|| a.file.path.cmp(&b.file.path))
    });
}

/// The path of the file with the same content that comes first in order of paths, for every other one.
fn copies(files: &[Arc<CardFile>]) -> HashMap<&str, &str> {
    let mut by_content: HashMap<&str, Vec<&str>> = HashMap::new();
    for file in files {
        // A file without a byte is no recording, and no copy of one.
        if file.examined.bytes > 0 && !file.examined.sha256.is_empty() {
            let same = by_content.entry(&file.examined.sha256).or_default();
            same.push(&file.path);
        }
    }
    let mut copies = HashMap::new();
    for mut paths in by_content.into_values() {
        paths.sort_unstable();
        if let Some((first, others)) = paths.split_first() {
            copies.extend(others.iter().map(|&path| (path, *first)));
        }
    }
    copies
}

/// Which recorder a file comes from: broken ones do not say, but lie in the same folder as others that do, or near by.
struct Recorders {
    by_folder: HashMap<String, String>,
}

impl Recorders {
    fn of(files: &[Arc<CardFile>]) -> Self {
        let mut counts: HashMap<&str, BTreeMap<&str, usize>> = HashMap::new();
        for file in files {
            let Some(serial) = serial(file) else {
                continue;
            };
            for folder in file.folders() {
                let of = counts.entry(folder).or_default();
                *of.entry(serial).or_default() += 1;
            }
        }
        let usual = |of: BTreeMap<&str, usize>| {
            let most = of.into_iter().max_by_key(|&(_, count)| count);
            most.map(|(serial, _)| serial.to_owned())
        };
        let by_folder = counts
            .into_iter()
            .filter_map(|(folder, of)| Some((folder.to_owned(), usual(of)?)))
            .collect();
        Self { by_folder }
    }

    fn name(&self, file: &CardFile) -> String {
        let folder = file.folder();
        let nearest = || file.folders().find_map(|near| self.by_folder.get(near));
        let own = serial(file).or_else(|| nearest().map(String::as_str));
        let place = if folder.is_empty() { NAMELESS } else { folder };
        own.unwrap_or(place).to_owned()
    }
}

fn serial(file: &CardFile) -> Option<&str> {
    file.examined.content()?.serial.as_deref()
}
