//! Lengths that do not fit 32 bits, from a `ds64` chunk.

use super::chunks::Chunk;
use super::{ReadError, Source, read};

/// A length that a writer has not filled in, or that lies in `ds64`.
const UNFILLED: u32 = u32::MAX;

/// Bytes of `ds64` before its table.
const FIXED: u64 = 28;

/// Entries of the table beyond this many are not read; writers leave it empty.
const MAX_ENTRIES: u64 = 64;

/// What the container says of its own lengths.
#[derive(Debug)]
pub(super) struct Sizes {
    /// Length of the container without its first 8 bytes.
    pub(super) riff: u64,
    data: Option<u64>,
    others: Vec<([u8; 4], u64)>,
}

impl Sizes {
    /// As the first header has it.
    pub(super) fn new(riff: u32) -> Self {
        Self {
            riff: u64::from(riff),
            data: None,
            others: Vec::new(),
        }
    }

    /// The length of a chunk with this header; none where it was never filled in.
    pub(super) fn stated(&self, id: [u8; 4], size: u32) -> Option<u64> {
        if size != UNFILLED {
            return Some(u64::from(size));
        }
        if &id == b"data" {
            return self.data;
        }
        self.others
            .iter()
            .find(|(other, _)| *other == id)
            .map(|(_, size)| *size)
    }

    /// Takes the lengths over from the `ds64` chunk of an RF64 or BW64 file.
    pub(super) fn read(&mut self, source: &impl Source, chunk: Chunk) -> Result<(), ReadError> {
        let mut bytes = vec![0; chunk.present.min(FIXED + 12 * MAX_ENTRIES) as usize];
        read(source, chunk.body, &mut bytes)?;
        let number = |at: usize| {
            bytes
                .get(at..)
                .and_then(|rest| rest.first_chunk())
                .copied()
                .map(u64::from_le_bytes)
        };
        if self.riff == u64::from(UNFILLED) {
            self.riff = number(0).unwrap_or(0);
        }
        // A recorder that lost power leaves zeros, or all ones, for "not known yet".
        self.data = number(8).filter(|&size| size != 0 && size != u64::MAX);
        let (entries, _) = bytes
            .get(FIXED as usize..)
            .unwrap_or_default()
            .as_chunks::<12>();
        for [a, b, c, d, size @ ..] in entries {
            self.others
                .push(([*a, *b, *c, *d], u64::from_le_bytes(*size)));
        }
        Ok(())
    }
}
