//! A recording that is open, and how it comes to be.

use std::ops::Range;

use super::chunks::Extent;
use super::expansion::{self, FACTORS, RATES};
use super::facts::{Facts, Notice};
use super::format::{self, Format};
use super::metadata::Metadata;
use super::{ReadError, Source, chunks, container, length, read, samples};

/// Bytes that are read from the source at once: large enough that a browser's
/// cost per slice does not show, small enough for a phone.
const BLOCK_BYTES: u64 = 1 << 20;

/// What a person may decide before a recording is opened.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct OpenOptions {
    /// The time expansion as the person knows it, 1 to 1000; none leaves it to the file.
    pub expansion: Option<f64>,
}

/// A recording of which headers and metadata have been read, and samples not yet.
///
/// ```
/// use dusklens_core::recording::{OpenOptions, Recording};
///
/// # let mut file = b"RIFF\x28\0\0\0WAVEfmt \x10\0\0\0\x01\0\x01\0".to_vec();
/// # file.extend_from_slice(&384_000_u32.to_le_bytes());
/// # file.extend_from_slice(&768_000_u32.to_le_bytes());
/// # file.extend_from_slice(b"\x02\0\x10\0data\x04\0\0\0\0\x40\0\xc0");
/// let recording = Recording::open(file, &OpenOptions::default())?;
/// assert_eq!(recording.rate_hz(), 384_000.0);
/// let mut samples = Vec::new();
/// recording.read(0, 0..recording.frames(), &mut samples)?;
/// assert_eq!(samples, [0.5, -0.5]);
/// # Ok::<(), dusklens_core::recording::ReadError>(())
/// ```
#[derive(Debug)]
pub struct Recording<S> {
    source: S,
    format: Format,
    /// First byte of the samples.
    pub(super) start: u64,
    facts: Facts,
}

impl<S: Source> Recording<S> {
    /// Reads headers and metadata; the work and the memory do not grow with the
    /// length of the recording.
    ///
    /// # Errors
    /// Fails where the file is not WAV, is coded in a way that is not read here, or
    /// has no header that gives its samples a meaning; where the true sampling rate
    /// lies outside 8 kHz to 2 MHz; and where the source fails.
    pub fn open(source: S, options: &OpenOptions) -> Result<Self, ReadError> {
        if let Some(factor) = options.expansion
            && !FACTORS.contains(&factor)
        {
            return Err(ReadError::Expansion { factor });
        }
        let (container, riff_size) = container::recognise(&source)?;
        let mut walk = chunks::walk(&source, container, riff_size)?;
        let mut notices = std::mem::take(&mut walk.notices);
        let fmt = walk
            .first(b"fmt ")
            .ok_or(ReadError::NoFormat { byte: walk.end })?;
        let format = format::read_format(&source, fmt, &mut notices)?;
        let data = walk
            .first(b"data")
            .ok_or(ReadError::NoData { byte: walk.end })?;
        let metadata = Metadata::read(&source, &walk, &mut notices)?;
        let stored_hz = f64::from(format.stored_rate_hz);
        let decision = expansion::decide(stored_hz, metadata.expansion, options.expansion);
        let rate_hz = true_rate(&format, decision.expansion.factor)?;
        notices.extend(decision.notice.map(|text| Notice { text, byte: None }));
        notices.extend(length::notices(&walk, data, &format, rate_hz));
        let mut facts = metadata.facts;
        facts.frames = data.present / format.frame_bytes();
        facts.container = container.name().to_owned();
        facts.encoding = format.name();
        facts.channels = format.channels;
        facts.stored_rate_hz = stored_hz;
        facts.rate_hz = rate_hz;
        facts.duration_s = facts.frames as f64 / rate_hz;
        facts.cut_off = matches!(walk.extent, Extent::CutOff | Extent::Unfilled);
        facts.expansion = decision.expansion;
        facts.expansion_guess = decision.guess;
        facts.notices = notices;
        Ok(Self {
            source,
            format,
            start: data.body,
            facts,
        })
    }

    /// What the recording says of itself.
    #[must_use]
    pub fn facts(&self) -> &Facts {
        &self.facts
    }

    /// Where the recording is read from.
    #[must_use]
    pub fn source(&self) -> &S {
        &self.source
    }

    /// Frames (one sample of every channel) that can be read.
    #[must_use]
    pub fn frames(&self) -> u64 {
        self.facts.frames
    }

    /// Sampling rate at the microphone, hertz.
    #[must_use]
    pub fn rate_hz(&self) -> f64 {
        self.facts.rate_hz
    }

    /// Absolute value at and above which a sample has reached the largest number that
    /// the file can hold; none for floating point, which has no such limit.
    #[must_use]
    pub fn clip_level(&self) -> Option<f32> {
        self.format.clip_level()
    }

    /// Replaces `out` with the samples of one channel (counted from 0), -1 to 1. The
    /// range is cut to what the file has.
    ///
    /// # Errors
    /// Fails where the channel does not exist and where the source fails; `out` then
    /// holds what was read before.
    pub fn read(
        &self,
        channel: u16,
        frames: Range<u64>,
        out: &mut Vec<f32>,
    ) -> Result<(), ReadError> {
        out.clear();
        if channel >= self.format.channels {
            return Err(ReadError::Channel {
                asked: u32::from(channel) + 1,
                channels: self.format.channels,
            });
        }
        let end = frames.end.min(self.facts.frames);
        let frame_bytes = self.format.frame_bytes();
        let block_frames = (BLOCK_BYTES / frame_bytes).max(1);
        let mut at = frames.start;
        let mut bytes = Vec::new();
        out.reserve(usize::try_from(end.saturating_sub(at)).unwrap_or(0));
        while at < end {
            let count = block_frames.min(end - at);
            let byte = self.start + at * frame_bytes;
            bytes.resize((count * frame_bytes) as usize, 0);
            read(&self.source, byte, &mut bytes)?;
            samples::decode(&bytes, &self.format, channel, out);
            at += count;
        }
        Ok(())
    }
}

/// Stored rate times expansion, where a recorder can have it.
fn true_rate(format: &Format, factor: f64) -> Result<f64, ReadError> {
    let rate_hz = f64::from(format.stored_rate_hz) * factor;
    if RATES.contains(&rate_hz) {
        return Ok(rate_hz);
    }
    Err(ReadError::Rate {
        rate_hz,
        stored_hz: format.stored_rate_hz,
        factor,
        byte: format.rate_byte,
    })
}
