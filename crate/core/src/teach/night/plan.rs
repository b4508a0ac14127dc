//! The plan of a night: which files there will be, and what is true of them.

use std::collections::BTreeSet;

use rand::{Rng, RngExt};
use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::activity::{self, Cause, OpenTime};
use super::clock::{TIMER_END_S, TIMER_START_S, at};
use super::spoil::{self, CARD_FULL_S};
use super::{Content, Ending, Fault, NightTruth, PlannedFile, PlannedRecording, Sound};
use super::{crowd::Crowd, leftovers, truth_of};
use crate::teach::random::{Stream, between, stream};

/// Sampling rate of a night without a fault, hertz.
const RATE_HZ: u32 = 384_000;
/// Corner of the high-pass of a night without a fault, kilohertz.
const HIGH_PASS_KHZ: f64 = 1.0;
/// Lengths of recordings, seconds: much shorter than a call or longer than a trigger holds is no use.
const LENGTHS_S: (f64, f64) = (0.2, 60.0);
/// The gap of a night that has one.
const GAP_S: std::ops::Range<i64> = at(22, 50)..at(24, 0);
/// Share of bats that is left where other things set the trigger off.
const FEW_BATS: f64 = 0.08;

/// What is wanted of a night.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct NightOptions {
    /// Recordings that the trigger makes. What a fault adds (copies, tests, files that are no
    /// recordings) comes besides. With fewer than 60 a night has long gaps without a fault.
    pub files: usize,
    /// Everything random follows from it.
    pub seed: u64,
    /// Longest recording, seconds.
    pub duration_s: f64,
    /// Whether every recording has that length, as with recorders whose files never end earlier;
    /// otherwise some end when nothing more is heard.
    pub fixed_length: bool,
    /// What goes wrong, in any order.
    pub faults: Vec<Fault>,
}

impl Default for NightOptions {
    /// 60 recordings of up to 5 s, and nothing goes wrong.
    fn default() -> Self {
        Self {
            files: 60,
            seed: 1,
            duration_s: 5.0,
            fixed_length: false,
            faults: Vec::new(),
        }
    }
}

/// Why a night cannot be planned.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum NightError {
    /// More recordings than the night has room for.
    #[error(
        "{wanted} recordings of {duration_s} s do not fit into one night: at most {most} do. Ask for fewer, or for shorter ones."
    )]
    TooMany {
        /// Recordings wanted.
        wanted: usize,
        /// Their length, seconds.
        duration_s: f64,
        /// Recordings for which there is room.
        most: usize,
    },
    /// A length that no recorder's trigger has.
    #[error("Recordings of {duration_s} s cannot be made: from 0.2 to 60 s can.")]
    Length {
        /// Length wanted, seconds.
        duration_s: f64,
    },
}

/// A planned night.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct NightPlan {
    /// Every file, recordings in order of time, then what lies beside them.
    pub files: Vec<PlannedFile>,
    /// What is true of the night and, in the same order, of every file.
    pub truth: NightTruth,
}

impl NightPlan {
    /// Plans a night; the same options give the same plan.
    ///
    /// # Errors
    /// [`NightError`] where recordings do not fit into a night, or have no possible length.
    pub fn new(options: &NightOptions) -> Result<NightPlan, NightError> {
        if !(LENGTHS_S.0..=LENGTHS_S.1).contains(&options.duration_s) {
            let duration_s = options.duration_s;
            return Err(NightError::Length { duration_s });
        }
        let faults: BTreeSet<Fault> = options.faults.iter().copied().collect();
        let mut recordings: Vec<PlannedRecording> = starts(options, &faults)?
            .into_iter()
            .zip(0..)
            .map(|(start_s, number)| recording(options, &faults, start_s, number))
            .collect();
        for fault in &faults {
            spoil::spoil(&mut recordings, *fault, options.seed);
        }
        let mut files = named(recordings);
        let copies_from = files.len();
        let copied = add_leftovers(&mut files, &faults, options.seed);
        let faults: Vec<Fault> = faults.into_iter().collect();
        let mut truths: Vec<_> = files.iter().map(|f| truth_of::file(f, &faults)).collect();
        truth_of::mark_copies(&mut truths, copies_from, &copied);
        if faults.contains(&Fault::CardFull) {
            truth_of::mark(&mut truths, copies_from.checked_sub(1), Fault::CardFull);
        }
        let truth = truth_of::night(options.seed, faults, truths);
        Ok(NightPlan { files, truth })
    }
}

/// When each recording starts.
fn starts(options: &NightOptions, faults: &BTreeSet<Fault>) -> Result<Vec<i64>, NightError> {
    // A second to close a file and to open the next.
    let spacing_s = options.duration_s.ceil() as i64 + 1;
    let end_s = if faults.contains(&Fault::CardFull) {
        CARD_FULL_S
    } else {
        TIMER_END_S
    };
    let gap_s = faults.contains(&Fault::SilentGap).then_some(GAP_S);
    let open = OpenTime { end_s, gap_s };
    let most = open.room(spacing_s);
    if options.files > most {
        return Err(NightError::TooMany {
            wanted: options.files,
            duration_s: options.duration_s,
            most,
        });
    }
    if faults.contains(&Fault::Stuck) {
        let numbers = 0..options.files as i64;
        let back_to_back = numbers.map(|number| TIMER_START_S + number * (spacing_s - 1));
        return Ok(back_to_back.collect());
    }
    let mut random = stream(options.seed, Stream::Draw);
    Ok(open.starts(options.files, spacing_s, &mut random))
}

/// A recording without a fault.
fn recording(
    options: &NightOptions,
    faults: &BTreeSet<Fault>,
    start_s: i64,
    number: u32,
) -> PlannedRecording {
    let mut random = stream(options.seed, Stream::File(number));
    let full = random.random_bool(0.55);
    let share = between(&mut random, 0.45, 1.0);
    let whole = full || options.fixed_length || faults.contains(&Fault::Stuck);
    let duration_s = options.duration_s * if whole { 1.0 } else { share };
    let night = activity::share_of_night(start_s);
    let bats = if faults.contains(&Fault::NoiseTriggers) {
        FEW_BATS
    } else {
        1.0
    };
    PlannedRecording {
        start_s,
        written_s: start_s,
        rate_hz: RATE_HZ,
        duration_s,
        high_pass_khz: HIGH_PASS_KHZ,
        // It cools quickly at first.
        temperature_c: 9.0 + 9.0 * (1.0 - night) * (1.0 - night) + between(&mut random, -0.1, 0.1),
        seed: random.random(),
        sound: sound(start_s, duration_s, bats, &mut random),
        sound_gain_db: 0.0,
        hiss_gain_db: 0.0,
        microphone_loss_db: 0.0,
        tone: false,
        ending: Ending::Whole,
    }
}

fn sound(start_s: i64, duration_s: f64, bats: f64, random: &mut impl Rng) -> Sound {
    match activity::cause(start_s, bats, random) {
        Cause::Pass => {
            let number = between(random, 0.0, 1.0);
            let animals = 1 + u32::from(number > 0.75) + u32::from(number > 0.95);
            let flying = (1..=animals).map(|animal| {
                let crowd = activity::crowd(start_s, random);
                crowd.passing(animal, duration_s, random)
            });
            Sound::Bats(flying.collect())
        }
        Cause::FaintCall => {
            // The one that is heard all night.
            Sound::Bats(vec![Crowd::About45.calling_once(duration_s, random)])
        }
        Cause::Rain => Sound::Rain,
        Cause::Insects => Sound::Insects,
        Cause::Wind => Sound::Wind,
        Cause::Nothing => Sound::Nothing,
    }
}

/// Recordings with their paths; where a clock went back, a name that is taken is avoided as a
/// recorder does, by a later second.
fn named(recordings: Vec<PlannedRecording>) -> Vec<PlannedFile> {
    let mut taken = BTreeSet::new();
    let files = recordings.into_iter().map(|mut recording| {
        while !taken.insert(recording.written_s) {
            recording.written_s += 1;
        }
        PlannedFile {
            path: recording.path(),
            content: Content::Recording(Box::new(recording)),
        }
    });
    files.collect()
}

/// Adds what lies beside the night's recordings, copies first; the indices of what was copied.
fn add_leftovers(files: &mut Vec<PlannedFile>, faults: &BTreeSet<Fault>, seed: u64) -> Vec<usize> {
    let random = |fault: Fault| stream(seed, Stream::Fault(fault.number()));
    let mut copied = Vec::new();
    if faults.contains(&Fault::Twice) {
        copied = spoil::some(files.len(), 0.02, &mut random(Fault::Twice));
        // Of an empty file it cannot be said that it lies there twice.
        let holds = |index: &usize| files.get(*index).is_some_and(|file| !is_empty(file));
        copied.retain(holds);
        let copies: Vec<_> = copied
            .iter()
            .filter_map(|&index| files.get(index))
            .collect();
        let copies: Vec<_> = copies.into_iter().map(leftovers::copy).collect();
        files.extend(copies);
    }
    let first = files.first().and_then(PlannedFile::recording).cloned();
    if let (true, Some(first)) = (faults.contains(&Fault::OtherNight), first) {
        let tests = leftovers::other_night(&first, &mut random(Fault::OtherNight));
        files.extend(tests);
    }
    if faults.contains(&Fault::Foreign) {
        files.extend(leftovers::foreign(&mut random(Fault::Foreign)));
    }
    copied
}

fn is_empty(file: &PlannedFile) -> bool {
    file.recording().is_some_and(|r| r.ending == Ending::Empty)
}
