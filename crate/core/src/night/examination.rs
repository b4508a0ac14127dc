//! One file of a card: hashed, read, measured, and what is left of it.

use std::rc::Rc;

use serde::{Deserialize, Serialize};

use super::content::{Content, Examined, FORM, Outcome, PassFacts};
use crate::pulse::order::median;
use crate::pulse::{Findings, Flag, Measurer, Pulse, SequenceFacts, Settings};
use crate::recording::{ContentHash, Facts, OpenOptions, ReadError, Recording, Source};

/// What else the metadata say about a recorder's set-up is found by these words in their keys.
const SETTING_WORDS: [&str; 4] = ["gain", "sensitivity", "trigger", "filter"];
/// Pulses that stand so far above the noise tell how high the calls of a night reach, dB.
const PLAIN_SNR_DB: f64 = 15.0;
/// Notices beyond this many are not kept.
const MOST_NOTICES: usize = 8;

/// What a person may decide before files are examined. Results under other options are others.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct ExamineOptions {
    /// The time expansion as the person knows it, 1 to 1000; none leaves it to the files.
    pub expansion: Option<f64>,
    /// The channel to examine, counted from 0; a file that has fewer is examined in its last.
    pub channel: u16,
}

/// A file on its way through hashing, reading and measuring, in steps of bounded work.
#[derive(Debug)]
pub struct Examination<S> {
    source: Rc<S>,
    options: ExamineOptions,
    hash: ContentHash,
    /// The hash, where somebody else has taken it.
    known: Option<String>,
    stage: Stage<S>,
}

#[derive(Debug)]
enum Stage<S> {
    Hashing,
    Measuring(Box<Measuring<S>>),
    Done(Outcome, Findings),
}

struct Measuring<S> {
    recording: Recording<Rc<S>>,
    channel: u16,
    measurer: Measurer,
    samples: Vec<f32>,
    heard: Heard,
}

impl<S> std::fmt::Debug for Measuring<S> {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.debug_struct("Measuring").finish_non_exhaustive()
    }
}

/// What the samples themselves show.
#[derive(Debug, Default)]
struct Heard {
    largest: f32,
    clipped: u64,
    counted_to: u64,
}

/// What an examination came to.
#[derive(Debug)]
pub struct Finished {
    /// What is left of the file.
    pub examined: Examined,
    /// All that was found, for a table of pulses; empty where the file could not be read.
    pub findings: Findings,
}

impl<S: Source> Examination<S> {
    /// Prepares to examine a file. Nothing is read yet.
    #[must_use]
    pub fn new(source: S, options: ExamineOptions) -> Self {
        Self {
            source: Rc::new(source),
            options,
            hash: ContentHash::default(),
            known: None,
            stage: Stage::Hashing,
        }
    }

    /// Tells the SHA-256 of the file's bytes, 64 small hexadecimal digits, where somebody has taken it already: browsers do it
    /// many times as quickly. To be told before the first step; what is no hash is not taken.
    pub fn tell_hash(&mut self, sha256: &str) {
        let is_hash = sha256.len() == 64
            && sha256
                .bytes()
                .all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'f'));
        self.known = is_hash.then(|| sha256.to_owned());
    }

    fn hex(&self) -> String {
        self.known.clone().unwrap_or_else(|| self.hash.hex())
    }

    /// Does a step of bounded work; returns whether it was the last.
    ///
    /// # Errors
    /// [`ReadError::Io`] where the card or disk does not give the bytes. A file that is there, but no recording, is no
    /// error: it is [`Outcome::Broken`].
    pub fn step(&mut self) -> Result<bool, ReadError> {
        match &mut self.stage {
            Stage::Hashing => {
                if self.known.is_some() || self.hash.step(&*self.source)? {
                    self.stage = open(&self.source, self.options)?;
                }
            }
            Stage::Measuring(measuring) => {
                if measuring.step()? {
                    let (outcome, findings) = measuring.finish();
                    self.stage = Stage::Done(outcome, findings);
                }
            }
            Stage::Done(..) => {}
        }
        Ok(matches!(self.stage, Stage::Done(..)))
    }

    /// The SHA-256 of the file once all its bytes are taken in, which is before anything is measured; none until then.
    #[must_use]
    pub fn sha256(&self) -> Option<String> {
        (!matches!(self.stage, Stage::Hashing)).then(|| self.hex())
    }

    /// What it came to; none before the last step.
    #[must_use]
    pub fn into_finished(self) -> Option<Finished> {
        let sha256 = self.hex();
        let Stage::Done(outcome, findings) = self.stage else {
            return None;
        };
        Some(Finished {
            examined: Examined {
                form: FORM,
                sha256,
                bytes: self.source.len(),
                outcome,
            },
            findings,
        })
    }
}

fn open<S: Source>(source: &Rc<S>, options: ExamineOptions) -> Result<Stage<S>, ReadError> {
    let choice = OpenOptions {
        expansion: options.expansion,
    };
    match Recording::open(Rc::clone(source), &choice) {
        Ok(recording) => Ok(Stage::Measuring(Box::new(Measuring::new(
            recording,
            options.channel,
        )))),
        Err(error @ ReadError::Io { .. }) => Err(error),
        Err(error) => Ok(Stage::Done(broken(&error), Findings::default())),
    }
}

fn broken(error: &ReadError) -> Outcome {
    Outcome::Broken {
        message: error.to_string(),
        advice: error.advice().to_owned(),
    }
}

impl<S: Source> Measuring<S> {
    fn new(recording: Recording<Rc<S>>, channel: u16) -> Self {
        let measurer = Measurer::new(
            recording.rate_hz(),
            recording.frames(),
            recording.clip_level(),
            &Settings::default(),
        );
        Self {
            channel: channel.min(recording.facts().channels.saturating_sub(1)),
            recording,
            measurer,
            samples: Vec::new(),
            heard: Heard::default(),
        }
    }

    fn step(&mut self) -> Result<bool, ReadError> {
        let Some(block) = self.measurer.next_block() else {
            return Ok(true);
        };
        let first = block.start;
        self.recording
            .read(self.channel, block, &mut self.samples)?;
        self.heard
            .take_in(first, &self.samples, self.recording.clip_level());
        self.measurer.feed(&self.samples);
        Ok(self.measurer.next_block().is_none())
    }

    fn finish(&mut self) -> (Outcome, Findings) {
        let findings = self.measurer.findings().clone();
        let content = Content {
            noise_db: self.measurer.noise_db(),
            level_db: (self.heard.largest > 0.0)
                .then(|| 20.0 * f64::from(self.heard.largest).log10()),
            clipped_share: self.heard.clipped as f64 / self.recording.frames().max(1) as f64,
            ..found(&findings, said(self.recording.facts()))
        };
        (Outcome::Read(Box::new(content)), findings)
    }
}

impl Heard {
    /// Blocks overlap; each sample is counted once.
    fn take_in(&mut self, first: u64, samples: &[f32], clip_level: Option<f32>) {
        let known = usize::try_from(self.counted_to.saturating_sub(first)).unwrap_or(usize::MAX);
        let fresh = samples.get(known..).unwrap_or_default();
        let limit = clip_level.unwrap_or(f32::INFINITY);
        for sample in fresh.iter().map(|sample| sample.abs()) {
            self.largest = self.largest.max(sample);
            self.clipped += u64::from(sample >= limit);
        }
        self.counted_to = self.counted_to.max(first + samples.len() as u64);
    }
}

/// What the recording says of itself.
fn said(facts: &Facts) -> Content {
    let notices = facts.notices.iter().map(|notice| notice.text.clone());
    let named = facts.identifications.iter();
    Content {
        start: facts.start.clone(),
        place: facts.place,
        duration_s: facts.duration_s,
        rate_hz: facts.rate_hz,
        expansion: facts.expansion.factor,
        channels: facts.channels,
        encoding: facts.encoding.clone(),
        cut_off: facts.cut_off,
        make: facts.make.clone(),
        model: facts.model.clone(),
        serial: facts.serial.clone(),
        firmware: facts.firmware.clone(),
        temperature_c: facts.temperature_c,
        temperature_inside_c: facts.temperature_inside_c,
        humidity_percent: facts.humidity_percent,
        recorder_settings: recorder_settings(facts),
        notices: notices.take(MOST_NOTICES).collect(),
        labels: facts.labels.clone(),
        names_given: named.map(|named| named.name.clone()).collect(),
        ..Content::default()
    }
}

/// What was set on the recorder, as far as its files tell.
fn recorder_settings(facts: &Facts) -> Vec<(String, String)> {
    let corner = |name: &str, khz: Option<f64>| khz.map(|khz| (name.to_owned(), format!("{khz}")));
    let is_setting = |key: &str| {
        let key = key.to_lowercase();
        SETTING_WORDS.iter().any(|word| key.contains(word))
    };
    let others = facts.other.iter().filter(|field| is_setting(&field.key));
    [
        corner("high-pass, kHz", facts.high_pass_khz),
        corner("low-pass, kHz", facts.low_pass_khz),
    ]
    .into_iter()
    .flatten()
    .chain(others.map(|field| (field.key.clone(), field.value.clone())))
    .collect()
}

/// What was found in it, beside what it says of itself.
fn found(findings: &Findings, said: Content) -> Content {
    let Findings {
        pulses, summary, ..
    } = findings;
    let best = |values: &mut dyn Iterator<Item = f64>| values.reduce(f64::max);
    let plain = pulses.iter().filter(|pulse| pulse.snr_db >= PLAIN_SNR_DB);
    let clipped = pulses.iter().filter(|p| p.flags.contains(&Flag::Clipped));
    Content {
        verdict: summary.verdict,
        pulses: pulses.len() as u32,
        clipped_pulses: clipped.count() as u32,
        passes: summary
            .sequences
            .iter()
            .map(|facts| pass(facts, findings))
            .collect(),
        buzzes: summary.buzzes.len() as u32,
        doubts: summary.doubts.clone(),
        tones_khz: summary.tones_khz.clone(),
        best_snr_db: best(&mut pulses.iter().map(|pulse| pulse.snr_db)),
        highest_khz: best(&mut plain.map(|pulse| pulse.high_khz)),
        ..said
    }
}

fn pass(facts: &SequenceFacts, findings: &Findings) -> PassFacts {
    let own: Vec<&Pulse> = findings
        .pulses
        .iter()
        .filter(|pulse| pulse.sequence == Some(facts.number))
        .collect();
    let mut durations_ms: Vec<f64> = own.iter().map(|pulse| pulse.duration_ms).collect();
    let buzzes = &findings.summary.buzzes;
    PassFacts {
        start_s: facts.start_s,
        end_s: facts.end_s,
        pulses: facts.pulses as u32,
        interval_ms: facts.interval_ms,
        peak_khz: facts.peak_khz,
        characteristic_khz: facts.characteristic_khz,
        end_khz: facts.end_khz,
        duration_ms: median(&mut durations_ms, f64::total_cmp).unwrap_or(0.0),
        snr_db: own.iter().map(|pulse| pulse.snr_db).fold(0.0, f64::max),
        buzzes: buzzes
            .iter()
            .filter(|buzz| buzz.sequence == facts.number)
            .count() as u32,
    }
}
