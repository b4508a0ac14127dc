//! A copy of a recording that carries labels in its metadata, put together from pieces of the original.
//!
//! The original is only read. Every chunk but `guan` is taken over byte for byte, and what the headers say of lengths is put
//! right where it has to be. The plan is checked by reading the copy through the same door as any recording.

mod assembled;
mod plan;

use std::io::{self, Write};
use std::ops::Range;

use thiserror::Error;

use super::chunks::walk;
use super::container;
use super::facts::{Expansion, Facts};
use super::guano::VERSION as GUANO_VERSION;
use super::labels::{Label, NAMESPACE};
use super::{OpenOptions, ReadError, Recording, Source};

use assembled::Assembled;
use plan::Plan;

/// Bytes that are written at once.
const BLOCK_BYTES: u64 = 1 << 20;

/// Why no copy with labels can be made.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum CopyError {
    /// The original cannot be read.
    #[error(transparent)]
    Read(#[from] ReadError),
    /// The headers are so faulty that a copy would not be read as the original is.
    #[error(
        "the structure of this file is damaged, so that a copy of it cannot safely be given labels: {fault}"
    )]
    Damaged {
        /// What is damaged.
        fault: String,
    },
    /// A WAV file states its length in 32 bits.
    #[error("with its labels the copy would be longer than the 4 GiB that a WAV file can state")]
    TooLong,
}

impl CopyError {
    /// What the person can do about it, as a sentence.
    #[must_use]
    pub fn advice(&self) -> &str {
        match self {
            Self::Read(error) => error.advice(),
            Self::Damaged { .. } => {
                "Save the labels as a table (CSV) and keep it beside the recording, which is as it was."
            }
            Self::TooLong => {
                "Save the labels as a table (CSV) and keep it beside the recording, or save the recording as RF64 first."
            }
        }
    }
}

/// A piece of the copy.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Piece {
    /// These bytes of the original.
    Original(Range<u64>),
    /// These bytes.
    Fresh(Vec<u8>),
}

impl Piece {
    fn len(&self) -> u64 {
        match self {
            Self::Original(range) => range.end - range.start,
            Self::Fresh(bytes) => bytes.len() as u64,
        }
    }
}

/// A copy of a recording as the pieces that it is put together from; nothing of it lies in memory but what is new.
#[derive(Debug)]
pub struct LabelledCopy {
    /// The pieces in their order.
    pub pieces: Vec<Piece>,
    /// What is other than in the original besides the labels, as sentences.
    pub notices: Vec<String>,
}

impl LabelledCopy {
    /// Writes the copy, slice by slice.
    ///
    /// # Errors
    /// Fails where the original cannot be read or the copy not be written.
    pub fn write_to(&self, original: &impl Source, out: &mut impl Write) -> io::Result<()> {
        let mut buffer = Vec::new();
        for piece in &self.pieces {
            match piece {
                Piece::Fresh(bytes) => out.write_all(bytes)?,
                Piece::Original(range) => {
                    let mut at = range.start;
                    while at < range.end {
                        let count = BLOCK_BYTES.min(range.end - at);
                        buffer.resize(count as usize, 0);
                        original.read_at(at, &mut buffer)?;
                        out.write_all(&buffer)?;
                        at += count;
                    }
                }
            }
        }
        Ok(())
    }
}

impl<S: Source> Recording<S> {
    /// Plans a copy of this recording with these labels in its GUANO metadata, in place of those that it may carry.
    /// `version` says which version wrote them.
    ///
    /// # Errors
    /// Fails where the file's structure is damaged beyond what a copy can put right, where a WAV file would grow past 4 GiB,
    /// and where the source fails.
    pub fn labelled_copy(
        &self,
        labels: &[Label],
        version: &str,
    ) -> Result<LabelledCopy, CopyError> {
        let source = self.source();
        let (container, riff_size) = container::recognise(source)?;
        let walk = walk(source, container, riff_size)?;
        let mut plan = Plan {
            source,
            container,
            walk: &walk,
            edits: Vec::new(),
            notices: Vec::new(),
        };
        plan.metadata(labels, version)?;
        plan.lengths()?;
        let copy = plan.finish();
        self.check(&copy, labels)?;
        Ok(copy)
    }

    /// Reads the copy as any recording is read.
    fn check(&self, copy: &LabelledCopy, labels: &[Label]) -> Result<(), CopyError> {
        let damaged = |fault: &str| CopyError::Damaged {
            fault: fault.to_owned(),
        };
        let assembled = Assembled {
            original: self.source(),
            pieces: &copy.pieces,
        };
        let options = OpenOptions {
            expansion: Some(self.facts().expansion.factor),
        };
        let read = Recording::open(assembled, &options)
            .map_err(|error| damaged(&format!("of the copy is said that {error}")))?;
        if self.frames() > 0 && self.start_in(&copy.pieces) != Some(read.start) {
            return Err(damaged("the copy would not hold the same samples"));
        }
        let is = read.facts();
        if comparable(self.facts()) != comparable(is) {
            return Err(damaged("the copy would not say the same of the recording"));
        }
        if is.labels != labels {
            return Err(damaged("the labels could not be read back"));
        }
        Ok(())
    }

    /// Where the samples begin in a copy; none where they are not taken over.
    fn start_in(&self, pieces: &[Piece]) -> Option<u64> {
        let mut at = 0;
        for piece in pieces {
            match piece {
                Piece::Original(range) if range.contains(&self.start) => {
                    return Some(at + (self.start - range.start));
                }
                _ => at += piece.len(),
            }
        }
        None
    }
}

/// What must be the same in a copy: all but labels, and what the file's lengths and ours give rise to.
fn comparable(facts: &Facts) -> Facts {
    let mut facts = facts.clone();
    facts.labels.clear();
    facts.notices.clear();
    facts.cut_off = false;
    facts.identifications.retain(|one| !one.by_person);
    let ours = |key: &str| key.starts_with(NAMESPACE) || key == GUANO_VERSION;
    facts.other.retain(|field| !ours(&field.key));
    facts.expansion = Expansion::default();
    facts.expansion_guess = None;
    facts
}
