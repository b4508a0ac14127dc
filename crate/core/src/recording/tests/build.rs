//! A builder of small files. Every test says what it builds, so no binary needs a name.

/// Wave format tags, from the Microsoft registry (from memory).
pub(super) const PCM: u16 = 1;
pub(super) const FLOAT: u16 = 3;

/// A file as it grows.
pub(super) struct Wav {
    bytes: Vec<u8>,
}

impl Wav {
    /// A plain RIFF file, mono, 16 bits, with only its format.
    pub(super) fn mono16(rate_hz: u32) -> Self {
        Self::riff().chunk(b"fmt ", &format(PCM, 1, rate_hz, 16))
    }

    pub(super) fn riff() -> Self {
        Self::container(b"RIFF")
    }

    pub(super) fn container(id: &[u8; 4]) -> Self {
        let mut bytes = id.to_vec();
        bytes.extend_from_slice(&u32::MAX.to_le_bytes());
        bytes.extend_from_slice(b"WAVE");
        Self { bytes }
    }

    /// A chunk with its right length and its pad byte.
    pub(super) fn chunk(self, id: &[u8; 4], body: &[u8]) -> Self {
        let padded = self.lying(id, body.len() as u32, body);
        if body.len() % 2 == 1 {
            padded.raw(&[0])
        } else {
            padded
        }
    }

    /// A chunk that states any length, without a pad byte.
    pub(super) fn lying(self, id: &[u8; 4], stated: u32, body: &[u8]) -> Self {
        self.raw(id).raw(&stated.to_le_bytes()).raw(body)
    }

    /// Bytes as they are.
    pub(super) fn raw(mut self, bytes: &[u8]) -> Self {
        self.bytes.extend_from_slice(bytes);
        self
    }

    /// The file, with the container's length filled in.
    pub(super) fn build(mut self) -> Vec<u8> {
        if self.bytes.starts_with(b"RIFF") {
            let size = (self.bytes.len() - 8) as u32;
            self.bytes[4..8].copy_from_slice(&size.to_le_bytes());
        }
        self.bytes
    }

    /// The file as a recorder leaves it that lost power: no length filled in.
    pub(super) fn unfinished(mut self) -> Vec<u8> {
        self.bytes[4..8].copy_from_slice(&0_u32.to_le_bytes());
        self.bytes
    }
}

/// The 16 bytes of a plain format.
pub(super) fn format(tag: u16, channels: u16, rate_hz: u32, bits: u16) -> Vec<u8> {
    let align = channels.wrapping_mul(bits.div_ceil(8));
    let mut bytes = Vec::new();
    bytes.extend_from_slice(&tag.to_le_bytes());
    bytes.extend_from_slice(&channels.to_le_bytes());
    bytes.extend_from_slice(&rate_hz.to_le_bytes());
    bytes.extend_from_slice(&rate_hz.wrapping_mul(u32::from(align)).to_le_bytes());
    bytes.extend_from_slice(&align.to_le_bytes());
    bytes.extend_from_slice(&bits.to_le_bytes());
    bytes
}

/// The 40 bytes of an extensible format.
pub(super) fn extensible(tag: u16, channels: u16, rate_hz: u32, bits: u16, valid: u16) -> Vec<u8> {
    let mut bytes = format(0xfffe, channels, rate_hz, bits);
    bytes.extend_from_slice(&22_u16.to_le_bytes());
    bytes.extend_from_slice(&valid.to_le_bytes());
    bytes.extend_from_slice(&0_u32.to_le_bytes());
    bytes.extend_from_slice(&tag.to_le_bytes());
    bytes.extend_from_slice(b"\x00\x00\x00\x00\x10\x00\x80\x00\x00\xaa\x00\x38\x9b\x71");
    bytes
}

pub(super) fn pcm16(samples: &[i16]) -> Vec<u8> {
    samples
        .iter()
        .flat_map(|sample| sample.to_le_bytes())
        .collect()
}

/// A `ds64` body without a table.
pub(super) fn ds64(riff: u64, data: u64, frames: u64) -> Vec<u8> {
    let mut bytes: Vec<u8> = [riff, data, frames]
        .iter()
        .flat_map(|n| n.to_le_bytes())
        .collect();
    bytes.extend_from_slice(&0_u32.to_le_bytes());
    bytes
}

/// A `LIST` body of kind `INFO`, padded.
pub(super) fn info(entries: &[(&[u8; 4], &[u8])]) -> Vec<u8> {
    let mut bytes = b"INFO".to_vec();
    for (id, value) in entries {
        bytes.extend_from_slice(*id);
        bytes.extend_from_slice(&(value.len() as u32).to_le_bytes());
        bytes.extend_from_slice(value);
        if value.len() % 2 == 1 {
            bytes.push(0);
        }
    }
    bytes
}

/// A `bext` body with a description, a date and a time.
pub(super) fn bext(description: &str, date: &str, time: &str) -> Vec<u8> {
    let mut bytes = vec![0; 602];
    bytes[..description.len()].copy_from_slice(description.as_bytes());
    bytes[320..320 + date.len()].copy_from_slice(date.as_bytes());
    bytes[330..330 + time.len()].copy_from_slice(time.as_bytes());
    bytes
}
