//! The walk over a container's chunks, which trusts no length that it is told.

use super::container::Container;
use super::facts::Notice;
use super::sizes::Sizes;
use super::{ReadError, Source, read};

/// Chunks beyond this many are not looked at: no recorder writes a tenth of it,
/// and a hostile file could hold millions.
const MAX_CHUNKS: usize = 4096;

/// Ids that this room reads or that lie in most files.
const KNOWN: &[&[u8; 4]] = &[
    b"fmt ", b"data", b"fact", b"guan", b"bext", b"LIST", b"ds64", b"JUNK", b"junk", b"PEAK",
    b"iXML", b"cue ", b"smpl", b"id3 ", b"PAD ", b"FLLR", b"axml", b"chna",
];

/// How far the next chunk is searched for after one with a wrong length.
const SEARCH: u64 = 1 << 20;

/// One chunk as found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Chunk {
    /// Its four letters.
    pub(super) id: [u8; 4],
    /// First byte of its body.
    pub(super) body: u64,
    /// Length that its header states.
    pub(super) stated: u64,
    /// Bytes of it that are there.
    pub(super) present: u64,
}

/// Why the samples do not have the length that the header states.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Extent {
    /// As stated.
    Whole,
    /// The file ends early.
    CutOff,
    /// The length was never filled in; taken to the end of the file.
    Unfilled,
    /// The length was wrong; taken to where the container ends.
    Corrected,
}

/// All that the walk found.
#[derive(Debug)]
pub(super) struct Walk {
    pub(super) chunks: Vec<Chunk>,
    /// How the length of the `data` chunk was settled.
    pub(super) extent: Extent,
    /// Where the walk ended.
    pub(super) end: u64,
    /// Bytes after the end that belong to no chunk.
    pub(super) stray: u64,
    pub(super) notices: Vec<Notice>,
}

impl Walk {
    /// The first chunk with an id.
    pub(super) fn first(&self, id: &[u8; 4]) -> Option<Chunk> {
        self.chunks.iter().find(|chunk| &chunk.id == id).copied()
    }
}

/// Walks from the first chunk to the end of the file.
pub(super) fn walk(
    source: &impl Source,
    container: Container,
    riff_size: u32,
) -> Result<Walk, ReadError> {
    let mut walker = Walker {
        source,
        length: source.len(),
        sizes: Sizes::new(riff_size),
        recovered: false,
        container,
        walk: Walk {
            chunks: Vec::new(),
            extent: Extent::Whole,
            end: 12,
            stray: 0,
            notices: Vec::new(),
        },
    };
    walker.run()?;
    Ok(walker.walk)
}

struct Walker<'s, S> {
    source: &'s S,
    length: u64,
    sizes: Sizes,
    /// Whether the way was lost and found once; it is not searched for twice.
    recovered: bool,
    container: Container,
    walk: Walk,
}

impl<S: Source> Walker<'_, S> {
    fn run(&mut self) -> Result<(), ReadError> {
        let mut at = 12;
        loop {
            let head = self.header(at)?;
            let Some((id, size)) = head.filter(|&(id, size)| self.plausible(at, id, size)) else {
                match self.recover(at)? {
                    Some(found) => at = found,
                    None => break,
                }
                continue;
            };
            if self.walk.chunks.len() == MAX_CHUNKS {
                self.notice(at, format!(
                    "The file has more than {MAX_CHUNKS} chunks; what lies after them was not read."
                ));
                self.walk.end = self.length;
                return Ok(());
            }
            let chunk = self.measure(at + 8, id, size)?;
            self.walk.chunks.push(chunk);
            if &id == b"ds64" && self.container != Container::Riff {
                self.sizes.read(self.source, chunk)?;
            }
            at = self.after(chunk)?;
        }
        self.walk.end = at.min(self.length);
        self.walk.stray = self.length - self.walk.end;
        Ok(())
    }

    fn notice(&mut self, byte: u64, text: String) {
        self.walk.notices.push(Notice {
            text,
            byte: Some(byte),
        });
    }

    /// Id and 32-bit size at a place; none where the file ends first.
    fn header(&self, at: u64) -> Result<Option<([u8; 4], u32)>, ReadError> {
        if at.checked_add(8).is_none_or(|end| end > self.length) {
            return Ok(None);
        }
        let mut bytes = [0; 8];
        read(self.source, at, &mut bytes)?;
        let [a, b, c, d, size @ ..] = bytes;
        Ok(Some(([a, b, c, d], u32::from_le_bytes(size))))
    }

    /// Whether eight bytes look like the head of a chunk and not like samples or garbage.
    fn plausible(&self, at: u64, id: [u8; 4], size: u32) -> bool {
        KNOWN.contains(&&id)
            || (id.iter().all(|byte| (0x20..0x7f).contains(byte))
                && (size == u32::MAX || u64::from(size) <= self.length.saturating_sub(at + 8)))
    }

    /// Settles how much of a chunk there is.
    fn measure(&mut self, body: u64, id: [u8; 4], size: u32) -> Result<Chunk, ReadError> {
        let rest = self.length - body;
        let stated = self.sizes.stated(id, size);
        if &id == b"data" && self.walk.first(b"data").is_none() {
            return self.measure_data(body, stated, rest);
        }
        let stated = stated.unwrap_or(rest);
        if stated > rest {
            self.notice(
                body,
                format!(
                    "The chunk `{}` claims {stated} bytes, but the file ends after {rest} of them.",
                    id.escape_ascii()
                ),
            );
        }
        Ok(Chunk {
            id,
            body,
            stated,
            present: stated.min(rest),
        })
    }

    fn measure_data(
        &mut self,
        body: u64,
        stated: Option<u64>,
        rest: u64,
    ) -> Result<Chunk, ReadError> {
        let chunk = |stated, present| Chunk {
            id: *b"data",
            body,
            stated,
            present,
        };
        let Some(stated) = stated else {
            self.walk.extent = Extent::Unfilled;
            return Ok(chunk(rest, rest));
        };
        if stated > rest {
            self.walk.extent = Extent::CutOff;
            return Ok(chunk(stated, rest));
        }
        if rest - stated <= 1 || self.chunk_follows(body, stated)? {
            return Ok(chunk(stated, stated));
        }
        if stated == 0 && rest >= 8 {
            self.walk.extent = Extent::Unfilled;
            return Ok(chunk(0, rest));
        }
        if let Some(present) = self.corrected(body, stated, rest) {
            self.walk.extent = Extent::Corrected;
            return Ok(chunk(stated, present));
        }
        Ok(chunk(stated, stated))
    }

    /// Whether another chunk lies where this one should end.
    fn chunk_follows(&self, body: u64, size: u64) -> Result<bool, ReadError> {
        for at in [body + size, body + size + size % 2] {
            if let Some((id, size)) = self.header(at)?
                && self.plausible(at, id, size)
            {
                return Ok(true);
            }
        }
        Ok(false)
    }

    /// The length of samples by the container's own size, where the data chunk's is too small.
    ///
    /// Past 4 GiB a 32-bit writer's sizes wrap around, both by the same amount.
    fn corrected(&self, body: u64, stated: u64, rest: u64) -> Option<u64> {
        const WRAP: u64 = 1 << 32;
        let end = self.sizes.riff.checked_add(8)?;
        if self.container == Container::Riff && self.length > WRAP {
            let wrapped = (self.length - 8) % WRAP == self.sizes.riff;
            return wrapped.then(|| stated + (rest - stated) / WRAP * WRAP);
        }
        (end > body + stated + 1 && end <= self.length).then(|| end - body)
    }

    /// Where the chunk after this one starts, with or without the pad byte.
    fn after(&mut self, chunk: Chunk) -> Result<u64, ReadError> {
        let end = chunk.body + chunk.present;
        if chunk.present.is_multiple_of(2) || chunk.present < chunk.stated || end >= self.length {
            return Ok(end);
        }
        let padded = end + 1;
        let at_padded = self.header(padded)?;
        if at_padded.is_some_and(|(id, _)| KNOWN.contains(&&id)) {
            return Ok(padded);
        }
        if let Some((id, size)) = self.header(end)?
            && self.plausible(end, id, size)
            && (KNOWN.contains(&&id)
                || !at_padded.is_some_and(|(id, size)| self.plausible(padded, id, size)))
        {
            self.notice(end, format!(
                "The chunk `{}` has an odd length and its pad byte is missing; the file was read \
                 as if it were there.",
                chunk.id.escape_ascii()
            ));
            return Ok(end);
        }
        Ok(padded)
    }

    /// Where the format or the samples lie, after a chunk with a wrong length has led
    /// astray. Only what fits the file exactly is believed, because the same letters may
    /// stand in any text.
    fn recover(&mut self, lost: u64) -> Result<Option<u64>, ReadError> {
        if self.recovered || self.walk.first(b"data").is_some() {
            return Ok(None);
        }
        self.recovered = true;
        let from = self.walk.chunks.last().map_or(lost, |chunk| chunk.body);
        let mut bytes = vec![0; self.length.saturating_sub(from).min(SEARCH) as usize];
        read(self.source, from, &mut bytes)?;
        for (index, id) in bytes.windows(4).enumerate() {
            let at = from + index as u64;
            if (id == b"fmt " || id == b"data") && self.fits(at)? {
                if let Some(last) = self.walk.chunks.last_mut() {
                    last.present = last.present.min(at - last.body);
                }
                self.notice(
                    from,
                    format!(
                        "The chunk at byte {from} has a wrong length; reading went on at byte {at}."
                    ),
                );
                return Ok(Some(at));
            }
        }
        Ok(None)
    }

    /// Whether the chunk at a place ends where the next begins, or with the file.
    fn fits(&self, at: u64) -> Result<bool, ReadError> {
        let Some((id, size)) = self.header(at)? else {
            return Ok(false);
        };
        let (rest, size) = (self.length - at - 8, u64::from(size));
        let sensible = size <= rest && (&id == b"data" || (16..128).contains(&size));
        Ok(sensible && (rest - size <= 1 || self.chunk_follows(at + 8, size)?))
    }
}
