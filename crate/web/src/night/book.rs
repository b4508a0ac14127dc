//! What is known of a card, gathered: the nights, their lists and what they come to.

use crate::{Problem, convert};
use dusklens_core::night::list::{self, Group, Place, Row, Wanted};
use dusklens_core::night::{
    Card, CardFile, Crowd, Decisions, Examined, Frame, NamePattern, Night, NightFile, NightKey,
    NightSettings, Review, Totals, Unplaced,
};
use dusklens_core::recording::Label;
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, HashSet};
use std::sync::Arc;
use tsify::Tsify;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

/// Paths beyond this many are counted and not named.
const MOST_NAMED: usize = 200;

/// A file that the card or the disk did not give.
#[derive(Debug, Deserialize, Tsify)]
pub struct UnreadableFile {
    /// Its path from the chosen folder on.
    pub path: String,
    /// Its size, bytes.
    pub bytes: u64,
    /// When it was last written to, milliseconds since 1970 UTC.
    pub modified_ms: Option<f64>,
    /// Why it could not be read, as a sentence.
    pub message: String,
    /// What can be done, as a sentence.
    pub advice: String,
}

/// What all nights come to, seen from afar.
#[derive(Debug, Serialize, Tsify)]
pub struct Overview {
    /// How many files were taken in.
    pub files: u32,
    /// The nights, the earliest first.
    pub nights: Vec<NightFacts>,
    /// Paths of files that nothing places in time, at most two hundred.
    pub unplaced: Vec<String>,
    /// How many those are.
    pub unplaced_count: u32,
}

/// A night, seen from afar.
#[derive(Debug, Serialize, Tsify)]
pub struct NightFacts {
    /// Which night, and whose.
    pub key: NightKey,
    /// Files in it, with those that could not be read.
    pub files: u32,
    /// Files whose time is their date in the folder.
    pub weak_times: u32,
    /// Minutes that the recorder's clock ran ahead of UTC, as most of its files state; none where none does.
    pub stated_offset_min: Option<i32>,
    /// What it comes to.
    pub totals: Totals,
    /// What it lies between.
    pub frame: Frame,
    /// Passes that are together in frequency. A crowd is no species.
    pub crowds: Vec<Crowd>,
    /// How many files of each group were checked by ear or eye.
    pub reviewed: Vec<GroupCount>,
    /// Labels and how many files have each, the most frequent first.
    pub labels: Vec<LabelCount>,
}

/// How many files of a group.
#[derive(Debug, Serialize, Tsify)]
pub struct GroupCount {
    /// The group.
    pub group: Group,
    /// How many.
    pub files: u32,
}

/// How many files have a label.
#[derive(Debug, Serialize, Tsify)]
pub struct LabelCount {
    /// The words.
    pub text: String,
    /// How many.
    pub files: u32,
}

/// Everything that is known of a card.
#[wasm_bindgen]
#[derive(Default)]
pub struct NightBook {
    card: Card,
    settings: NightSettings,
    decisions: Decisions,
    nights: Vec<Night>,
    unplaced: Unplaced,
    listed: Vec<Place>,
}

impl NightBook {
    /// The nights of these keys, in the order of the book; all, where none are given.
    pub(crate) fn nights_of(&self, keys: &[NightKey]) -> Vec<Night> {
        let chosen = |night: &&Night| keys.is_empty() || keys.contains(&night.key);
        self.nights.iter().filter(chosen).cloned().collect()
    }

    /// What the wanted files are known by, in the order that is wanted, each once.
    pub(crate) fn contents_of(&self, wanted: &Wanted) -> Vec<String> {
        let mut seen = HashSet::new();
        let contents = self.wanted(wanted).map(|own| &own.file.examined.sha256);
        let fresh = contents.filter(|sha256| !sha256.is_empty() && seen.insert(sha256.as_str()));
        fresh.cloned().collect()
    }

    /// All files, in the order in which they came.
    pub(crate) fn files(&self) -> &[Arc<CardFile>] {
        self.card.files()
    }

    pub(crate) fn decisions(&self) -> &Decisions {
        &self.decisions
    }
}

#[wasm_bindgen]
impl NightBook {
    /// A book without a file.
    #[wasm_bindgen(constructor)]
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Takes a file in. Returns false for what was kept in another form: that file is to be examined anew.
    pub fn take(&mut self, path: String, modified_ms: Option<f64>, examined: &str) -> bool {
        let examined = Examined::from_text(examined);
        let is_known = examined.is_some();
        if let Some(examined) = examined {
            self.card.take(CardFile {
                path,
                modified_ms,
                examined,
            });
        }
        is_known
    }

    /// Takes a file in that could not be read at all.
    ///
    /// # Errors
    /// [`Problem`] where the page sends something else.
    pub fn take_unreadable(
        &mut self,
        #[wasm_bindgen(unchecked_param_type = "UnreadableFile")] file: JsValue,
    ) -> Result<(), Problem> {
        let UnreadableFile {
            path,
            bytes,
            modified_ms,
            message,
            advice,
        } = convert::read(file)?;
        self.card.take(CardFile::unreadable(
            path,
            bytes,
            modified_ms,
            message,
            advice,
        ));
        Ok(())
    }

    /// Parts all files into nights by what the person says of them, and says what they come to.
    ///
    /// # Errors
    /// [`Problem`] where the page sends something else, or it cannot be handed over.
    #[wasm_bindgen(unchecked_return_type = "Overview")]
    pub fn settle(
        &mut self,
        #[wasm_bindgen(unchecked_param_type = "NightSettings")] settings: JsValue,
    ) -> Result<JsValue, Problem> {
        self.settings = convert::read(settings)?;
        (self.nights, self.unplaced) = self.card.nights(&self.settings);
        self.listed.clear();
        let unplaced = self.unplaced.iter().take(MOST_NAMED);
        convert::write(&Overview {
            files: self.card.files().len() as u32,
            nights: self.nights.iter().map(|own| self.facts(own)).collect(),
            unplaced: unplaced.map(|file| file.path.clone()).collect(),
            unplaced_count: self.unplaced.len() as u32,
        })
    }

    /// What people decided about all files.
    ///
    /// # Errors
    /// [`Problem`] where the page sends something else.
    pub fn decide(
        &mut self,
        #[wasm_bindgen(unchecked_param_type = "Decisions")] decisions: JsValue,
    ) -> Result<(), Problem> {
        self.decisions = convert::read(decisions)?;
        Ok(())
    }

    /// What people decided about one file; no labels and no review take back what was there.
    ///
    /// # Errors
    /// [`Problem`] where the page sends something else.
    pub fn decide_one(
        &mut self,
        sha256: String,
        #[wasm_bindgen(unchecked_param_type = "Label[]")] labels: JsValue,
        #[wasm_bindgen(unchecked_param_type = "Review | undefined")] review: JsValue,
    ) -> Result<(), Problem> {
        let labels: Vec<Label> = convert::read(labels)?;
        let review: Option<Review> = convert::read(review)?;
        let Decisions {
            labels: all,
            reviews,
        } = &mut self.decisions;
        if labels.is_empty() {
            all.remove(&sha256);
        } else {
            all.insert(sha256.clone(), labels);
        }
        match review {
            Some(review) => reviews.insert(sha256, review),
            None => reviews.remove(&sha256),
        };
        Ok(())
    }

    /// Lists the files that are wanted; returns how many. Their rows are then asked for by [`Self::rows`].
    ///
    /// # Errors
    /// [`Problem`] where the page sends something else.
    pub fn list(
        &mut self,
        #[wasm_bindgen(unchecked_param_type = "Wanted")] wanted: JsValue,
    ) -> Result<u32, Problem> {
        let wanted: Wanted = convert::read(wanted)?;
        self.listed = list::wanted(&self.nights, &self.decisions, &wanted);
        Ok(self.listed.len() as u32)
    }

    /// Some rows of the list, from a place on.
    ///
    /// # Errors
    /// [`Problem`] where they cannot be handed over.
    #[wasm_bindgen(unchecked_return_type = "Row[]")]
    pub fn rows(&self, from: usize, count: usize) -> Result<JsValue, Problem> {
        let places = self.listed.iter().skip(from).take(count);
        let rows: Vec<Row> = places.filter_map(|&place| self.row(place)).collect();
        convert::write(&rows)
    }

    /// Where a file stands in the list, by its path.
    #[must_use]
    pub fn place_of(&self, path: &str) -> Option<usize> {
        self.listed.iter().position(|place| {
            let own = self.nights[place.night].files.get(place.file);
            own.is_some_and(|own| own.file.path == path)
        })
    }

    /// The paths of the wanted files, in the order that is wanted. The list itself stays as it is.
    ///
    /// # Errors
    /// [`Problem`] where the page sends something else.
    pub fn paths(
        &self,
        #[wasm_bindgen(unchecked_param_type = "Wanted")] wanted: JsValue,
    ) -> Result<Vec<String>, Problem> {
        let wanted = convert::read(wanted)?;
        Ok(self
            .wanted(&wanted)
            .map(|own| own.file.path.clone())
            .collect())
    }
}

impl NightBook {
    fn wanted(&self, wanted: &Wanted) -> impl Iterator<Item = &NightFile> {
        let places = list::wanted(&self.nights, &self.decisions, wanted);
        places
            .into_iter()
            .filter_map(|place| self.nights.get(place.night)?.files.get(place.file))
    }

    fn row(&self, place: Place) -> Option<Row> {
        let night = self.nights.get(place.night)?;
        Some(list::row(
            night,
            night.files.get(place.file)?,
            &self.decisions,
        ))
    }

    fn facts(&self, night: &Night) -> NightFacts {
        let mut reviewed: BTreeMap<Group, u32> = BTreeMap::new();
        let mut labels: BTreeMap<&str, u32> = BTreeMap::new();
        for own in &night.files {
            let examined = &own.file.examined;
            if self.decisions.reviews.contains_key(&examined.sha256) {
                *reviewed.entry(Group::of(own)).or_default() += 1;
            }
            for label in self.decisions.labels_of(examined) {
                *labels.entry(&label.text).or_default() += 1;
            }
        }
        let mut labels: Vec<LabelCount> = labels
            .into_iter()
            .map(|(text, files)| LabelCount {
                text: text.to_owned(),
                files,
            })
            .collect();
        labels.sort_by_key(|count| std::cmp::Reverse(count.files));
        let weak = night.files.iter().filter(|own| own.time.origin.is_weak());
        NightFacts {
            key: night.key.clone(),
            files: night.files.len() as u32,
            weak_times: weak.count() as u32,
            stated_offset_min: stated_offset_min(night),
            totals: night.totals(),
            frame: night.frame(),
            crowds: night.crowds(),
            reviewed: reviewed
                .into_iter()
                .map(|(group, files)| GroupCount { group, files })
                .collect(),
            labels,
        }
    }
}

fn stated_offset_min(night: &Night) -> Option<i32> {
    let mut counts: BTreeMap<i32, u32> = BTreeMap::new();
    let contents = night
        .files
        .iter()
        .filter_map(|own| own.file.examined.content());
    for stamp in contents.filter_map(|content| content.start.as_ref()) {
        if let Some(minutes) = stamp.utc_offset_min {
            *counts.entry(minutes).or_default() += 1;
        }
    }
    let most = counts.into_iter().max_by_key(|&(_, files)| files);
    most.map(|(minutes, _)| minutes)
}

/// Why a pattern of date and time in file names cannot be used, as a sentence; `undefined` for one that can.
#[must_use]
#[wasm_bindgen(js_name = patternFault)]
pub fn pattern_fault(pattern: &str) -> Option<String> {
    let error = NamePattern::parse(pattern).err()?;
    Some(error.to_string())
}
