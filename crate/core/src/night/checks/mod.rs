//! The night check: what went right and wrong with the recorder, each with its evidence.
//!
//! Every check always reports: that nothing was found, or that it cannot be told and what would be needed, is worth
//! knowing too. Each states its rule with the thresholds. Where no source is named beside a threshold, it is our choice,
//! made on invented nights: so that a sound night draws no remark, rather than that every fault draws one.

mod clipping;
mod clock;
mod files;
mod gaps;
mod hours;
mod noise;
mod outside;
mod seen;
mod set_up;
mod steps;
mod triggers;
mod words;

use serde::{Deserialize, Serialize};

use self::seen::Seen;
use super::card::Night;
use super::frame::Frame;

/// Paths beyond this many are counted and not listed.
const MOST_FILES: usize = 200;

/// What is looked at; of the same verdict, the first here comes first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(rename_all = "snake_case")]
pub enum CheckKind {
    /// From when to when it recorded, against the timer.
    RecordedHours,
    /// Long silences between recordings.
    SilentGaps,
    /// Whether the card was full before the night's end.
    CardFull,
    /// Files that are empty, cut off or cannot be read.
    BrokenFiles,
    /// Whether the clock jumped.
    ClockJumps,
    /// Whether those who tell the time agree.
    ClockAgreement,
    /// Times that rest on the date of a file alone.
    WeakTimes,
    /// Files outside the hours that were meant.
    OutsideHours,
    /// Calls that are too loud for the recorder.
    Clipping,
    /// Calls that hardly stand above the noise.
    FaintCalls,
    /// The noise floor through the night.
    NoiseDrift,
    /// High frequencies against low ones through the night.
    HighFrequencies,
    /// Constant tones.
    ConstantTones,
    /// Calls that may go on above what the sampling rate can hold.
    SamplingRate,
    /// What set the recorder off.
    Triggers,
    /// Files of full length, one after the other.
    FullLength,
    /// Settings that changed.
    SettingsChanged,
    /// The same recording more than once.
    Copies,
    /// How cold and how warm it was.
    Temperature,
}

/// What came of a check, the worst first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(rename_all = "snake_case")]
pub enum CheckVerdict {
    /// Something went wrong, or the night cannot be trusted in this.
    Trouble,
    /// Something is unusual: a person should look.
    Look,
    /// It cannot be told from what is known.
    Unknown,
    /// Nothing unusual.
    Fine,
}

/// One thing that was looked at.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Check {
    /// What was looked at.
    pub kind: CheckKind,
    /// What came of it.
    pub verdict: CheckVerdict,
    /// What was found, in a few words.
    pub title: String,
    /// What it rests on, in sentences. Times are those of the night's local clock.
    pub evidence: Vec<String>,
    /// What to do before the next night, or with this one; empty where nothing needs to be done.
    pub advice: String,
    /// Paths of the files that it is about, in order of time.
    pub files: Vec<String>,
    /// How many more there are than are listed.
    pub more: u32,
    /// The rule with its thresholds.
    pub rule: String,
}

/// What is told of a night, in order of [`CheckKind`].
const RULES: [fn(&Seen) -> Check; 19] = [
    hours::recorded_hours,
    gaps::silent_gaps,
    files::card_full,
    files::broken_files,
    steps::clock_jumps,
    clock::clock_agreement,
    clock::weak_times,
    outside::outside_hours,
    clipping::clipping,
    clipping::faint_calls,
    noise::noise_drift,
    noise::high_frequencies,
    noise::constant_tones,
    clipping::sampling_rate,
    triggers::triggers,
    triggers::full_length,
    set_up::settings_changed,
    files::copies,
    set_up::temperature,
];

/// Looks at a night from all sides. The worst comes first, and every kind once.
#[must_use]
pub fn checks(night: &Night, frame: &Frame) -> Vec<Check> {
    let seen = Seen::of(night, frame);
    let mut checks: Vec<Check> = RULES.iter().map(|rule| rule(&seen)).collect();
    checks.sort_by_key(|check| (check.verdict, check.kind));
    checks
}

impl Check {
    /// A check of which nothing is known yet.
    fn of(kind: CheckKind, rule: String) -> Self {
        Self {
            kind,
            verdict: CheckVerdict::Unknown,
            title: String::new(),
            evidence: Vec::new(),
            advice: String::new(),
            files: Vec::new(),
            more: 0,
            rule,
        }
    }

    fn judged(mut self, verdict: CheckVerdict, title: &str, advice: &str) -> Self {
        self.verdict = verdict;
        title.clone_into(&mut self.title);
        advice.clone_into(&mut self.advice);
        self
    }

    fn fine(self, title: &str) -> Self {
        self.judged(CheckVerdict::Fine, title, "")
    }

    /// It cannot be told; `needed` says what it would take.
    fn unknown(self, title: &str, needed: &str) -> Self {
        self.judged(CheckVerdict::Unknown, title, needed)
    }

    fn say(mut self, sentence: impl Into<String>) -> Self {
        self.evidence.push(sentence.into());
        self
    }

    fn say_all(mut self, sentences: impl IntoIterator<Item = String>) -> Self {
        self.evidence.extend(sentences);
        self
    }

    fn listing<'a>(mut self, paths: impl IntoIterator<Item = &'a str>) -> Self {
        for path in paths {
            if self.files.len() < MOST_FILES {
                self.files.push(path.to_owned());
            } else {
                self.more += 1;
            }
        }
        self
    }
}

#[cfg(test)]
mod tests;
