//! A whole recording, block by block.

use super::call::{Call, assemble};
use super::finish::{Position, Tools, finish};
use super::follow::Follower;
use super::peak::PulseSpectrum;
use super::ridge::{Block, Ridge};
use super::trace::{Traced, Tracer};
use super::{Pulse, Settings, calm, doubt, echo, sequence};
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
/// assert!(measurer.pulses().is_empty());
/// ```
pub struct Measurer {
    rate_hz: f64,
    frames: u64,
    clip_level: Option<f32>,
    settings: Settings,
    tracer: Option<Tracer>,
    tools: Tools,
    pulses: Vec<Pulse>,
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
            pulses: Vec::new(),
            next: 0,
            counted_from: 0,
        }
    }

    /// The frames to feed next; none when all is measured.
    #[must_use]
    pub fn next_block(&self) -> Option<Range<u64>> {
        let length = (BLOCK_S * self.rate_hz) as u64 + 2 * self.margin();
        (!self.done).then(|| self.next..self.frames.min(self.next + length))
    }

    /// All pulses so far, in order of time and grouped into sequences.
    #[must_use]
    pub fn pulses(&self) -> &[Pulse] {
        &self.pulses
    }

    /// The pulses, once there is nothing left to feed.
    #[must_use]
    pub fn into_pulses(self) -> Vec<Pulse> {
        self.pulses
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
        let (Some(block), Some(mut tracer)) = (self.next_block(), self.tracer.take()) else {
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
        let found = self.measure(&mut tracer, samples, &position);
        let counted = self.counted_from..counted_to;
        self.pulses.extend(found.into_iter().filter(|pulse| {
            let middle = (pulse.start_s + pulse.end_s) / 2.0 * self.rate_hz;
            counted.contains(&(middle as u64))
        }));
        self.tracer = Some(tracer);
        self.counted_from = counted_to;
        self.next = counted_to.saturating_sub(self.margin());
        self.done = last;
        sequence::group(&mut self.pulses, self.settings.sequence_gap_s);
        if last {
            // Only now are all sequences whole.
            echo::remove_far(&mut self.pulses);
            sequence::group(&mut self.pulses, self.settings.sequence_gap_s);
            doubt::reconsider(&mut self.pulses);
            sequence::group(&mut self.pulses, self.settings.sequence_gap_s);
        }
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

    fn measure(&mut self, tracer: &mut Tracer, samples: &[f32], position: &Position) -> Vec<Pulse> {
        let (calm, lines, traced) = self.calmed(tracer, samples);
        let block = Block {
            samples: &calm,
            rate_hz: self.rate_hz,
            noise: &traced.noise,
            lines: &lines,
            settings: &self.settings,
        };
        let clip_level = self.clip_level;
        let overloaded = |span: Range<f64>| is_overloaded(samples, span, clip_level);
        let ridges: Vec<Ridge> = traced
            .traces
            .iter()
            .filter_map(|trace| Ridge::refine(&block, trace, &mut self.tools.follower))
            .collect();
        let mut calls: Vec<Call> = assemble(&block, doubt::sift(&block, ridges), overloaded);
        echo::remove_near(&block, &mut calls);
        calls
            .iter()
            .filter(|call| !doubt::is_too_low(&block, call))
            .filter_map(|call| finish(&block, call, position, &mut self.tools, overloaded))
            .collect()
    }
}

/// Whether a span of samples holds some at the rail.
fn is_overloaded(samples: &[f32], span: Range<f64>, clip_level: Option<f32>) -> bool {
    let Some(level) = clip_level else {
        return false;
    };
    let from = (span.start.max(0.0) as usize).min(samples.len());
    let to = (span.end.max(0.0) as usize + 1).min(samples.len());
    samples[from..to.max(from)].iter().any(|s| s.abs() >= level)
}

/// Measures one channel (counted from 0) of a whole recording.
///
/// # Errors
/// [`ReadError`] where its bytes cannot be read or it has no such channel.
pub fn measure<S: Source>(
    recording: &Recording<S>,
    channel: u16,
    settings: &Settings,
) -> Result<Vec<Pulse>, ReadError> {
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
    Ok(measurer.into_pulses())
}
