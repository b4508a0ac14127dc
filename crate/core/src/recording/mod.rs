//! Bytes -> [`Recording`]: chunk walk, samples, metadata, repair of cut-off files.
//!
//! Reading is lenient and says so: whatever is odd about a file but can be read
//! becomes a [`Notice`] in its [`Facts`]; only what leaves no samples with a known
//! meaning is a [`ReadError`]. No length that a file states is trusted before it
//! is compared with the bytes that are there.

mod bext;
mod chunks;
mod container;
mod content;
mod copy;
mod error;
mod expansion;
mod facts;
mod format;
mod guano;
mod info;
mod labels;
mod length;
mod metadata;
mod reader;
mod samples;
mod sizes;
mod source;
mod stamp;
mod text;
mod words;
mod written;

#[cfg(test)]
mod tests;

pub use content::ContentHash;
pub use copy::{CopyError, LabelledCopy, Piece};
pub use error::ReadError;
pub use facts::{
    Expansion, ExpansionGuess, ExpansionOrigin, Facts, Field, Identification, Notice, Place, Stamp,
    StampOrigin,
};
pub use labels::{Certainty, Label, Span};
pub use reader::{OpenOptions, Recording};
pub use source::Source;
pub(crate) use written::{chunk, guano_chunk, one_line};

/// A number of things in words: `1 byte`, `2 bytes`.
fn counted(number: u64, thing: &str) -> String {
    let plural = if number == 1 { "" } else { "s" };
    format!("{number} {thing}{plural}")
}

/// Fills a buffer from a place, or names the place where that failed.
fn read(source: &impl Source, byte: u64, buffer: &mut [u8]) -> Result<(), ReadError> {
    source
        .read_at(byte, buffer)
        .map_err(|source| ReadError::Io { byte, source })
}
