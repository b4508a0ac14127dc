//! What is heard, as a WAV file that is made piece by piece.

use std::cell::RefCell;
use std::io::{self, Seek, SeekFrom, Write};
use std::ops::Range;
use std::rc::Rc;

use hound::{SampleFormat, WavSpec, WavWriter};

use super::listening::Listening;
use super::note::{self, Origin};
use super::settings::{ListeningError, ListeningSettings};

/// Bytes of the header that hound writes for 16-bit mono.
const HEADER_BYTES: usize = 44;
/// Samples that one step makes.
const STEP: usize = 1 << 13;
/// The most samples: 1 GiB of them.
const MOST_FRAMES: u64 = 1 << 29;

/// A WAV file in the making: 16 bits, one channel. Its bytes are taken away as they come, so that memory does not
/// grow with it; the header is ready at the end.
pub struct WaveFile {
    listening: Listening,
    writer: Option<WavWriter<Sink>>,
    sink: Sink,
    metadata: Vec<u8>,
    written: u64,
    samples: Vec<f32>,
}

impl WaveFile {
    /// Prepares the file of a stretch of a recording with `frames` samples at `rate_hz`.
    ///
    /// # Errors
    /// Fails where the settings cannot be met in this recording, or the file would be too long.
    pub fn new(
        settings: &ListeningSettings,
        rate_hz: f64,
        frames: u64,
        output_hz: u32,
        origin: &Origin,
    ) -> Result<Self, ListeningError> {
        if settings.looped {
            return Err(ListeningError::Endless);
        }
        let listening = Listening::new(settings, rate_hz, frames, output_hz)?;
        if listening.round_frames() > MOST_FRAMES {
            return Err(ListeningError::TooLong {
                seconds: listening.round_frames() as f64 / f64::from(output_hz),
                most_s: MOST_FRAMES as f64 / f64::from(output_hz),
            });
        }
        let spec = WavSpec {
            channels: 1,
            sample_rate: output_hz,
            bits_per_sample: 16,
            sample_format: SampleFormat::Int,
        };
        let sink = Sink::default();
        let end_s = settings.end_s.min(frames as f64 / rate_hz);
        Ok(Self {
            listening,
            // Writing into memory cannot fail.
            writer: WavWriter::new(sink.clone(), spec).ok(),
            sink,
            metadata: note::chunks(settings, end_s, origin, output_hz),
            written: 0,
            samples: Vec::new(),
        })
    }

    /// How much of it is made, 0 to 1.
    #[must_use]
    pub fn done_fraction(&self) -> f64 {
        self.written as f64 / self.listening.round_frames().max(1) as f64
    }

    /// Makes a bounded part of it; returns whether that was the last.
    ///
    /// # Errors
    /// Fails where `read` fails.
    pub fn step<E>(
        &mut self,
        read: impl FnOnce(Range<u64>, &mut Vec<f32>) -> Result<(), E>,
    ) -> Result<bool, E> {
        let piece = self.listening.next_piece(STEP, read, &mut self.samples)?;
        let Some(writer) = &mut self.writer else {
            return Ok(true);
        };
        if piece.is_some() {
            let mut block = writer.get_i16_writer(self.samples.len() as u32);
            for sample in &self.samples {
                block.write_sample((sample * f32::from(i16::MAX)).round() as i16);
            }
            self.written += self.samples.len() as u64;
            return Ok(block.flush().is_err());
        }
        // hound fills the lengths in.
        let ended = self.writer.take().map(WavWriter::finalize);
        if matches!(ended, Some(Ok(()))) {
            self.append_metadata();
        }
        Ok(true)
    }

    /// Takes away the bytes after the header that were made since the last time.
    #[must_use]
    pub fn take_bytes(&mut self) -> Vec<u8> {
        std::mem::take(&mut self.sink.0.borrow_mut().body)
    }

    /// The header, right once all is made.
    #[must_use]
    pub fn header(&self) -> Vec<u8> {
        self.sink.0.borrow().head.clone()
    }

    fn append_metadata(&mut self) {
        let mut parts = self.sink.0.borrow_mut();
        parts.body.extend_from_slice(&self.metadata);
        let riff_bytes = 2 * self.written + (HEADER_BYTES - 8 + self.metadata.len()) as u64;
        if let (Some(field), Ok(length)) = (parts.head.get_mut(4..8), u32::try_from(riff_bytes)) {
            field.copy_from_slice(&length.to_le_bytes());
        }
    }
}

impl std::fmt::Debug for WaveFile {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter
            .debug_struct("WaveFile")
            .field("listening", &self.listening)
            .field("written", &self.written)
            .finish_non_exhaustive()
    }
}

/// Where hound writes to: the header stays, what follows is taken away.
#[derive(Debug, Clone, Default)]
struct Sink(Rc<RefCell<Parts>>);

#[derive(Debug, Default)]
struct Parts {
    head: Vec<u8>,
    body: Vec<u8>,
    at: u64,
    length: u64,
}

impl Write for Sink {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let mut parts = self.0.borrow_mut();
        let at = parts.at as usize;
        let count = if at < HEADER_BYTES {
            let count = bytes.len().min(HEADER_BYTES - at);
            if parts.head.len() < at + count {
                parts.head.resize(at + count, 0);
            }
            parts.head[at..at + count].copy_from_slice(&bytes[..count]);
            count
        } else {
            parts.body.extend_from_slice(bytes);
            bytes.len()
        };
        parts.at += count as u64;
        parts.length = parts.length.max(parts.at);
        Ok(count)
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

impl Seek for Sink {
    fn seek(&mut self, to: SeekFrom) -> io::Result<u64> {
        let mut parts = self.0.borrow_mut();
        let at = match to {
            SeekFrom::Start(at) => Some(at),
            SeekFrom::Current(by) => parts.at.checked_add_signed(by),
            SeekFrom::End(by) => parts.length.checked_add_signed(by),
        };
        parts.at = at.ok_or(io::ErrorKind::InvalidInput)?;
        Ok(parts.at)
    }
}
