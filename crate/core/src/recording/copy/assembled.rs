//! A copy as a source of bytes, before it is written.

use std::io;

use super::super::Source;
use super::Piece;

/// The copy as something that can be read, though it does not exist yet.
pub(super) struct Assembled<'a, S> {
    pub(super) original: &'a S,
    pub(super) pieces: &'a [Piece],
}

impl<S: Source> Source for Assembled<'_, S> {
    fn len(&self) -> u64 {
        self.pieces.iter().map(Piece::len).sum()
    }

    fn read_at(&self, offset: u64, buffer: &mut [u8]) -> io::Result<()> {
        let wanted = offset..offset + buffer.len() as u64;
        let mut start = 0;
        let mut filled = 0;
        for piece in self.pieces {
            let end = start + piece.len();
            let (from, to) = (wanted.start.max(start), wanted.end.min(end));
            if from < to {
                let count = (to - from) as usize;
                let target = buffer
                    .get_mut(filled..filled + count)
                    .ok_or(io::ErrorKind::UnexpectedEof)?;
                match piece {
                    Piece::Original(range) => self
                        .original
                        .read_at(range.start + (from - start), target)?,
                    Piece::Fresh(bytes) => bytes.read_at(from - start, target)?,
                }
                filled += count;
            }
            start = end;
        }
        if filled == buffer.len() {
            Ok(())
        } else {
            Err(io::ErrorKind::UnexpectedEof.into())
        }
    }
}
