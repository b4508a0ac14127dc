//! A whole recording, block by block.

use super::call::{Call, assemble};
use super::doubt::Sifted;
use super::finish::{Position, Tools, finish};
use super::follow::Follower;
use super::noise::NoiseBands;
use super::peak::PulseSpectrum;
use super::rail::Rail;
use super::ridge::{Block, Ridge};
use super::trace::{Traced, Tracer};
use super::{Doubt, Findings, Pulse, Settings, calm, doubt, echo};
use crate::recording::{ReadError, Recording, Source};
use std::ops::Range;

/// Length of a block, seconds: long enough that a block's noise floor is sure
/// and that a usual recording is one block, short enough to report progress.
const BLOCK_S: f64 = 6.0;

/// Finds and measures the pulses of a recording that is fed to it in blocks.
/// Memory follows the block, not the recording.
///
/// ```
/// use dusklens_core::pulse::{Measurer, Settings};
///
/// let silence = vec![0.0f32; 256_000];
/// let mut measurer = Measurer::new(256_000.0, 256_000, None, &Settings::default());
/// while let Some(block) = measurer.next_block() {
///     measurer.feed(&silence[block.start as usize..block.end as usize]);
/// }
/// assert!(measurer.findings().pulses.is_empty());
/// ```
pub struct Measurer {
    rate_hz: f64,
    frames: u64,
    clip_level: Option<f32>,
    settings: Settings,
    tracer: Option<Tracer>,
    tools: Tools,
    findings: Findings,
    noise: NoiseBands,
    /// First frame of the next block.
    next: u64,
    /// Pulses count from this frame on: those before belong to the block before.
    counted_from: u64,
    done: bool,
}

impl Measurer {
    /// Prepares for a recording of so many `frames` at a (true) sampling rate.
    ///
    /// `clip_level` is the magnitude at and above which a sample is at the rail,
    /// as [`crate::recording::Recording::clip_level`] tells.
    #[must_use]
    pub fn new(rate_hz: f64, frames: u64, clip_level: Option<f32>, settings: &Settings) -> Self {
        let tracer = Tracer::new(rate_hz, settings);
        Self {
            rate_hz,
            frames,
            clip_level,
            settings: settings.clone(),
            done: frames == 0 || tracer.is_none(),
            tracer,
            tools: Tools {
                follower: Follower::default(),
                spectrum: PulseSpectrum::default(),
            },
            findings: Findings::default(),
            noise: NoiseBands::default(),
            next: 0,
            counted_from: 0,
        }
    }

    /// The frames to feed next; none when all is measured.
    #[must_use]
    pub fn next_block(&self) -> Option<Range<u64>> {
        let length = self.step() + 2 * self.margin();
        (!self.done).then(|| self.next..self.frames.min(self.next + length))
    }

    /// What was found so far.
    #[must_use]
    pub fn findings(&self) -> &Findings {
        &self.findings
    }

    /// What was found, once there is nothing left to feed.
    #[must_use]
    pub fn into_findings(self) -> Findings {
        self.findings
    }

    /// The noise floor so far, in bands of 10 kHz from 0 kHz up to half the sampling rate: the mean power in each, dB
    /// re full scale. Calls, rumble and constant tones are not in it.
    #[must_use]
    pub fn noise_db(&self) -> Vec<f32> {
        self.noise.levels_db()
    }

    /// How much of the recording is measured, in frames.
    #[must_use]
    pub fn measured_frames(&self) -> u64 {
        if self.done {
            self.frames
        } else {
            self.counted_from
        }
    }

    /// Frames at either end of a block that only lend their surroundings: what
    /// the longest pulse and its noise take.
    fn margin(&self) -> u64 {
        ((self.settings.longest_ms * 1e-3 + 0.03) * self.rate_hz) as u64
    }

    /// Measures the samples of the block that [`Self::next_block`] asked for.
    /// Fewer samples than asked for end the recording.
    pub fn feed(&mut self, samples: &[f32]) {
        let Some(block) = self.next_block() else {
            return;
        };
        let end = block.start + samples.len() as u64;
        let last = end >= self.frames || end < block.end;
        let counted_to = if last { u64::MAX } else { end - self.margin() };
        let position = Position {
            first_frame: block.start,
            at_beginning: block.start == 0,
            at_end: last,
        };
        let (found, tones_khz) = self.measure(samples, &position);
        let counted = self.counted_from..counted_to;
        self.findings.take_in(
            found.into_iter().filter(|pulse| {
                let middle = (pulse.start_s + pulse.end_s) / 2.0 * self.rate_hz;
                counted.contains(&(middle as u64))
            }),
            tones_khz,
        );
        self.counted_from = counted_to;
        self.next = counted_to.saturating_sub(self.margin());
        self.done = last;
        self.findings.arrange(&self.settings, last);
    }

    /// A block without what lasts and is no bat, the tones that were taken out of it, and the
    /// traces in it.
    fn calmed(&self, tracer: &mut Tracer, samples: &[f32]) -> (Vec<f32>, Vec<f64>, Traced) {
        let mut calm = calm::without_rumble(samples, self.rate_hz);
        let lines = calm::lines(&tracer.lasting(&calm));
        for &hz in &lines {
            calm::remove_line(&mut calm, self.rate_hz, hz);
        }
        let traced = tracer.trace(&calm, &self.settings);
        (calm, lines, traced)
    }

    /// All sounds of a block, those that are doubted with their reason, and its constant tones, kHz.
    fn measure(&mut self, samples: &[f32], position: &Position) -> (Vec<Pulse>, Vec<f64>) {
        let measured = self.hear(samples, |heard| {
            let Heard {
                block, rail, tools, ..
            } = heard;
            let found: Vec<Pulse> = calls(block, doubt::sift(block, heard.ridges), rail)
                .into_iter()
                .filter_map(|(call, doubt)| {
                    let pulse = finish(block, &call, position, tools, rail)?;
                    Some(Pulse { doubt, ..pulse })
                })
                .collect();
            (found, block.lines.iter().map(|hz| hz * 1e-3).collect())
        });
        measured.unwrap_or_default()
    }

    /// Listens to a block and hands what is heard to `work`; none where the sampling rate leaves nothing to
    /// listen to.
    pub(super) fn hear<T>(&mut self, samples: &[f32], work: impl FnOnce(Heard) -> T) -> Option<T> {
        let mut tracer = self.tracer.take()?;
        let (calm, lines, traced) = self.calmed(&mut tracer, samples);
        self.tracer = Some(tracer);
        self.noise.take_in(&traced.noise, samples.len());
        let block = Block {
            samples: &calm,
            rate_hz: self.rate_hz,
            noise: &traced.noise,
            lines: &lines,
            settings: &self.settings,
        };
        let rail = Rail {
            samples,
            level: self.clip_level,
            rate_hz: self.rate_hz,
        };
        let ridges: Vec<Ridge> = traced
            .traces
            .iter()
            .filter_map(|trace| Ridge::refine(&block, trace, &mut self.tools.follower))
            .collect();
        Some(work(Heard {
            block: &block,
            rail: &rail,
            ridges,
            tools: &mut self.tools,
        }))
    }

    /// The block that a frame's sounds count in.
    pub(super) fn block_of(&self, frame: u64) -> Range<u64> {
        let (step, margin) = (self.step(), self.margin());
        // The last block is the first one that reaches the recording's end.
        let last = self.frames.saturating_sub(2 * margin).div_ceil(step.max(1));
        let number = (frame.saturating_sub(margin) / step.max(1)).min(last.saturating_sub(1));
        let start = number * step;
        start..self.frames.min(start + step + 2 * margin)
    }

    /// Frames from the beginning of one block to that of the next.
    fn step(&self) -> u64 {
        (BLOCK_S * self.rate_hz) as u64
    }
}

/// What is heard in a block.
pub(super) struct Heard<'a> {
    pub(super) block: &'a Block<'a>,
    pub(super) rail: &'a Rail<'a>,
    pub(super) ridges: Vec<Ridge>,
    pub(super) tools: &'a mut Tools,
}

/// The calls that ridges make, each with a reason if it is doubted.
pub(super) fn calls(block: &Block, sifted: Sifted, rail: &Rail) -> Vec<(Call, Option<Doubt>)> {
    let mut calls: Vec<Call> = assemble(block, sifted.kept, rail);
    echo::remove_near(block, &mut calls);
    let low = |call: &Call| doubt::is_too_low(block, call).then_some(Doubt::Wind);
    let calls = calls.into_iter().map(|call| (low(&call), call));
    let doubtful = sifted.doubtful.into_iter();
    calls
        .map(|(doubt, call)| (call, doubt))
        .chain(doubtful.map(|(ridge, doubt)| (Call::of(ridge), Some(doubt))))
        .collect()
}

/// Measures one channel (counted from 0) of a whole recording.
///
/// # Errors
/// [`ReadError`] where its bytes cannot be read or it has no such channel.
pub fn measure<S: Source>(
    recording: &Recording<S>,
    channel: u16,
    settings: &Settings,
) -> Result<Findings, ReadError> {
    let mut measurer = Measurer::new(
        recording.rate_hz(),
        recording.frames(),
        recording.clip_level(),
        settings,
    );
    let mut samples = Vec::new();
    while let Some(block) = measurer.next_block() {
        recording.read(channel, block, &mut samples)?;
        measurer.feed(&samples);
    }
    Ok(measurer.into_findings())
}
