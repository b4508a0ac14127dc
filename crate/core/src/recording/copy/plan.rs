//! What stands in a copy instead of what in the original.

use std::ops::Range;

use super::super::chunks::{Chunk, Extent, Walk};
use super::super::container::Container;
use super::super::labels::{Label, relabelled};
use super::super::{ReadError, Source, read};
use super::{CopyError, LabelledCopy, Piece};

/// GUANO metadata longer than this are refused, as in reading.
const MAX_GUANO_BYTES: u64 = 16 << 20;
/// Bytes of a chunk before its body.
const HEADER: u64 = 8;
/// A 32-bit length that stands for "see `ds64`".
const ELSEWHERE: u32 = u32::MAX;

/// A copy while it is planned.
pub(super) struct Plan<'a, S> {
    pub(super) source: &'a S,
    pub(super) container: Container,
    pub(super) walk: &'a Walk,
    /// What stands instead of stretches of the original.
    pub(super) edits: Vec<(Range<u64>, Vec<u8>)>,
    pub(super) notices: Vec<String>,
}

impl<S: Source> Plan<'_, S> {
    /// The `guan` chunk: in its place, or after all others.
    pub(super) fn metadata(&mut self, labels: &[Label], version: &str) -> Result<(), CopyError> {
        let index = self
            .walk
            .chunks
            .iter()
            .position(|chunk| &chunk.id == b"guan");
        let (range, body) = match index
            .and_then(|index| self.walk.chunks.get(index).copied().zip(Some(index)))
        {
            Some((chunk, index)) => (chunk.body - HEADER..self.end_of(index), self.body(chunk)?),
            None => (self.walk.end..self.walk.end, Vec::new()),
        };
        let fresh = relabelled(&body, labels, version).ok_or_else(|| CopyError::Damaged {
            fault: "the labels cannot be written as text".to_owned(),
        })?;
        let mut bytes = Vec::with_capacity(fresh.len() + 10);
        let lacks_pad = index.is_none()
            && self
                .walk
                .chunks
                .last()
                .is_some_and(|last| (range.start - last.body) % 2 == 1);
        if lacks_pad {
            bytes.push(0);
        }
        bytes.extend_from_slice(b"guan");
        bytes.extend_from_slice(
            &u32::try_from(fresh.len())
                .map_err(|_| CopyError::TooLong)?
                .to_le_bytes(),
        );
        bytes.extend_from_slice(&fresh);
        if fresh.len() % 2 == 1 {
            bytes.push(0);
        }
        self.edits.push((range, bytes));
        Ok(())
    }

    fn body(&self, chunk: Chunk) -> Result<Vec<u8>, CopyError> {
        if chunk.present > MAX_GUANO_BYTES {
            return Err(CopyError::Damaged {
                fault: format!("its metadata have {} MiB", chunk.present >> 20),
            });
        }
        let mut body = vec![0; chunk.present as usize];
        read(self.source, chunk.body, &mut body)?;
        Ok(body)
    }

    /// Where the chunk after this one begins.
    fn end_of(&self, index: usize) -> u64 {
        let next = self.walk.chunks.get(index + 1);
        next.map_or(self.walk.end, |next| next.body - HEADER)
    }

    /// The lengths that the headers state: of the whole, and of the samples where it was wrong.
    pub(super) fn lengths(&mut self) -> Result<(), CopyError> {
        self.refuse_wrong_lengths()?;
        let data = self.walk.first(b"data").ok_or(ReadError::NoData {
            byte: self.walk.end,
        })?;
        let whole = self.new_length() - self.walk.stray - HEADER;
        if self.container == Container::Riff {
            let whole = u32::try_from(whole).ok().filter(|&size| size != ELSEWHERE);
            self.edit(4, &whole.ok_or(CopyError::TooLong)?.to_le_bytes());
        } else {
            let table = self.table()?;
            self.edit(4, &ELSEWHERE.to_le_bytes());
            self.edit(table.body, &whole.to_le_bytes());
        }
        if self.walk.extent != Extent::Whole {
            self.put_right(data)?;
        }
        Ok(())
    }

    /// Only the samples may be shorter than stated: what follows another such chunk would be lost in the copy.
    fn refuse_wrong_lengths(&self) -> Result<(), CopyError> {
        let wrong = |chunk: &&Chunk| {
            chunk.stated != chunk.present && !matches!(&chunk.id, b"data" | b"guan")
        };
        match self.walk.chunks.iter().find(wrong) {
            Some(chunk) => Err(CopyError::Damaged {
                fault: format!(
                    "the chunk `{}` states a wrong length (byte {})",
                    chunk.id.escape_ascii(),
                    chunk.body
                ),
            }),
            None => Ok(()),
        }
    }

    fn put_right(&mut self, data: Chunk) -> Result<(), CopyError> {
        self.notices.push(format!(
            "The header of the original states a wrong length of its samples; that of the copy states the {} bytes that are \
             there.",
            data.present
        ));
        let size = u32::try_from(data.present)
            .ok()
            .filter(|&size| size != ELSEWHERE);
        if self.container == Container::Riff {
            self.edit(
                data.body - 4,
                &size.ok_or(CopyError::TooLong)?.to_le_bytes(),
            );
        } else {
            let table = self.table()?;
            self.edit(data.body - 4, &ELSEWHERE.to_le_bytes());
            self.edit(table.body + 8, &data.present.to_le_bytes());
        }
        Ok(())
    }

    /// The chunk with lengths of 64 bits.
    fn table(&self) -> Result<Chunk, CopyError> {
        self.walk
            .first(b"ds64")
            .filter(|chunk| chunk.present >= 16)
            .ok_or_else(|| CopyError::Damaged {
                fault: "it has no complete `ds64` chunk, which states its length".to_owned(),
            })
    }

    fn edit(&mut self, at: u64, bytes: &[u8]) {
        self.edits
            .push((at..at + bytes.len() as u64, bytes.to_vec()));
    }

    /// Length of the copy, bytes; edits of lengths do not change it.
    fn new_length(&self) -> u64 {
        self.edits
            .iter()
            .fold(self.source.len(), |length, (range, bytes)| {
                length - (range.end - range.start) + bytes.len() as u64
            })
    }

    /// The pieces between the edits and the edits themselves.
    pub(super) fn finish(mut self) -> LabelledCopy {
        self.edits.sort_by_key(|(range, _)| range.start);
        let mut pieces = Vec::new();
        let mut at = 0;
        for (range, bytes) in self.edits {
            pieces.push(Piece::Original(at..range.start));
            pieces.push(Piece::Fresh(bytes));
            at = range.end;
        }
        pieces.push(Piece::Original(at..self.source.len()));
        pieces.retain(|piece| piece.len() > 0);
        LabelledCopy {
            pieces,
            notices: self.notices,
        }
    }
}
