//! Why a file cannot be read, in words for the person who holds it.

use std::io;

use thiserror::Error;

/// Why a recording cannot be opened or read.
///
/// The message names the fault and the byte where it lies; [`ReadError::advice`]
/// says what can still be done.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum ReadError {
    /// There is not a single byte.
    #[error("the file is empty (0 bytes)")]
    Empty,
    /// It ends inside the first 12 bytes.
    #[error("the file ends after {length} bytes, before a WAV header is complete (byte {length})")]
    TooShort {
        /// Length of the file in bytes.
        length: u64,
    },
    /// It is something else.
    #[error("this is not a WAV file: it seems to be {seems} (byte 0)")]
    NotWav {
        /// What the first bytes look like, with its article.
        seems: &'static str,
        /// What to do about it.
        advice: &'static str,
    },
    /// No `fmt ` chunk, without which samples have no meaning.
    #[error(
        "the file does not say how its samples are stored: no complete `fmt ` chunk up to byte {byte}"
    )]
    NoFormat {
        /// Where the search ended.
        byte: u64,
    },
    /// No `data` chunk.
    #[error("the file holds no samples: no `data` chunk up to byte {byte}")]
    NoData {
        /// Where the search ended.
        byte: u64,
    },
    /// Compressed or otherwise coded samples.
    #[error("the samples are stored as {codec}, which cannot be read here (byte {byte})")]
    Codec {
        /// Name of the coding.
        codec: String,
        /// Where it is stated.
        byte: u64,
    },
    /// A `fmt ` chunk that contradicts itself.
    #[error("the header makes no sense: {fault} (byte {byte})")]
    Format {
        /// What makes no sense.
        fault: String,
        /// Where it is stated.
        byte: u64,
    },
    /// A true sampling rate that no recorder of bats has.
    #[error(
        "the sampling rate comes to {rate_hz} Hz, outside 8 kHz to 2 MHz \
         ({stored_hz} Hz in the header times an expansion of {factor}; byte {byte})"
    )]
    Rate {
        /// Stored rate times expansion, hertz.
        rate_hz: f64,
        /// Rate in the header, hertz.
        stored_hz: u32,
        /// The time expansion.
        factor: f64,
        /// Where the stored rate lies.
        byte: u64,
    },
    /// A time expansion that is not a sensible number.
    #[error("a time expansion of {factor} is not possible")]
    Expansion {
        /// What was asked for.
        factor: f64,
    },
    /// A channel that the file does not have.
    #[error("there is no channel {asked}: the file has {channels}")]
    Channel {
        /// What was asked for, counted from 1.
        asked: u32,
        /// How many there are.
        channels: u16,
    },
    /// The bytes could not be had from the disk, the card or the browser.
    #[error("the file could not be read at byte {byte}: {source}")]
    Io {
        /// Where reading failed.
        byte: u64,
        /// What the system says.
        source: io::Error,
    },
}

impl ReadError {
    /// The byte where the fault lies, if it lies in one place.
    #[must_use]
    pub fn byte(&self) -> Option<u64> {
        match self {
            Self::Empty | Self::NotWav { .. } => Some(0),
            Self::TooShort { length } => Some(*length),
            Self::NoFormat { byte }
            | Self::NoData { byte }
            | Self::Codec { byte, .. }
            | Self::Format { byte, .. }
            | Self::Rate { byte, .. }
            | Self::Io { byte, .. } => Some(*byte),
            Self::Expansion { .. } | Self::Channel { .. } => None,
        }
    }

    /// What the person can do about it, as a sentence.
    #[must_use]
    pub fn advice(&self) -> &str {
        match self {
            Self::Empty | Self::TooShort { .. } => {
                "Copy the file from the card once more; if it is as short there, the recorder \
                 stopped before it wrote anything and nothing can be rescued."
            }
            Self::NotWav { advice, .. } => advice,
            Self::NoFormat { .. } | Self::NoData { .. } => {
                "Copy the file from the card once more; if it stays like this, its header was \
                 lost or never written."
            }
            Self::Codec { .. } => {
                "Save the recording as WAV with 16-bit PCM in a sound editor, at the same \
                 sampling rate, and open that."
            }
            Self::Format { .. } => {
                "Copy the file from the card once more; if it stays like this, open it in a \
                 sound editor as raw data and save it as WAV."
            }
            Self::Rate { .. } => {
                "Check the time expansion; if none was chosen, the header is damaged and the \
                 file has to be saved anew with its true rate."
            }
            Self::Expansion { .. } => {
                "Give a number from 1 to 1000: 1 for real time, 10 for a recording that was \
                 slowed down ten times."
            }
            Self::Channel { .. } => "Choose one of the channels that the file has.",
            Self::Io { .. } => {
                "Check that the card or disk is still connected and the file is still there, \
                 and open it again."
            }
        }
    }
}
