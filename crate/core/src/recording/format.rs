//! The `fmt ` chunk: how samples are stored.

use super::chunks::Chunk;
use super::facts::Notice;
use super::{ReadError, Source, counted, read};

/// How one sample is stored.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Encoding {
    /// Integers in containers of 1 to 4 bytes; the valid bits lie at the top.
    Pcm {
        /// Bits that carry sound.
        valid_bits: u16,
    },
    /// IEEE 754 of 4 or 8 bytes.
    Float,
}

/// How samples are stored.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Format {
    pub(super) encoding: Encoding,
    pub(super) channels: u16,
    /// Rate in the header, hertz.
    pub(super) stored_rate_hz: u32,
    /// Bytes of one sample.
    pub(super) sample_bytes: u16,
    /// Byte of the file where the rate is stated.
    pub(super) rate_byte: u64,
}

impl Format {
    /// Bytes of one frame: a sample of every channel.
    pub(super) fn frame_bytes(&self) -> u64 {
        u64::from(self.channels) * u64::from(self.sample_bytes)
    }

    /// What people see, such as `16-bit PCM`.
    pub(super) fn name(&self) -> String {
        let bits = self.sample_bytes * 8;
        match self.encoding {
            Encoding::Float => format!("{bits}-bit float"),
            Encoding::Pcm { valid_bits } if valid_bits == bits => format!("{bits}-bit PCM"),
            Encoding::Pcm { valid_bits } => format!("{valid_bits}-bit PCM in {bits} bits"),
        }
    }

    /// Absolute value at and above which a sample is at the rail; none for float,
    /// which has no rail.
    pub(super) fn clip_level(&self) -> Option<f32> {
        match self.encoding {
            Encoding::Float => None,
            Encoding::Pcm { valid_bits } => {
                let full = 2f64.powi(i32::from(valid_bits) - 1);
                Some(((full - 1.0) / full) as f32)
            }
        }
    }
}

const PCM: u16 = 1;
const FLOAT: u16 = 3;
const EXTENSIBLE: u16 = 0xfffe;

/// Reads the chunk. What contradicts itself but can be settled becomes a notice.
pub(super) fn read_format(
    source: &impl Source,
    chunk: Chunk,
    notices: &mut Vec<Notice>,
) -> Result<Format, ReadError> {
    let mut bytes = vec![0; chunk.present.min(40) as usize];
    read(source, chunk.body, &mut bytes)?;
    let field = |at: usize| {
        bytes
            .get(at..at + 2)
            .and_then(|bytes| bytes.try_into().ok())
            .map(u16::from_le_bytes)
    };
    let (Some(tag), Some(channels), Some(rate_low), Some(rate_high), Some(align), Some(bits)) =
        (field(0), field(2), field(4), field(6), field(12), field(14))
    else {
        return Err(ReadError::NoFormat {
            byte: chunk.body + chunk.present,
        });
    };
    let coding = if tag == EXTENSIBLE {
        field(24).unwrap_or(tag)
    } else {
        tag
    };
    if coding != PCM && coding != FLOAT {
        return Err(ReadError::Codec {
            codec: codec_name(coding),
            byte: chunk.body,
        });
    }
    if channels == 0 {
        return Err(fault("it states 0 channels", chunk.body + 2));
    }
    let sample_bytes = sample_bytes(channels, align, bits, coding, chunk, notices)?;
    let container_bits = sample_bytes * 8;
    let valid_bits = match field(18).filter(|_| tag == EXTENSIBLE) {
        Some(valid) if (1..=container_bits).contains(&valid) => valid,
        _ if (1..=container_bits).contains(&bits) => bits,
        _ => container_bits,
    };
    Ok(Format {
        encoding: if coding == FLOAT {
            Encoding::Float
        } else {
            Encoding::Pcm { valid_bits }
        },
        channels,
        stored_rate_hz: u32::from(rate_high) << 16 | u32::from(rate_low),
        sample_bytes,
        rate_byte: chunk.body + 4,
    })
}

fn fault(fault: impl Into<String>, byte: u64) -> ReadError {
    ReadError::Format {
        fault: fault.into(),
        byte,
    }
}

/// Bytes of one sample, from the two fields that state it.
fn sample_bytes(
    channels: u16,
    align: u16,
    bits: u16,
    coding: u16,
    chunk: Chunk,
    notices: &mut Vec<Notice>,
) -> Result<u16, ReadError> {
    let allowed = |bytes: u16| match coding {
        FLOAT => bytes == 4 || bytes == 8,
        _ => (1..=4).contains(&bytes),
    };
    let by_bits = bits.div_ceil(8);
    let by_align = align.is_multiple_of(channels).then_some(align / channels);
    if let Some(bytes) = by_align
        && allowed(bytes)
        && bytes >= by_bits
    {
        return Ok(bytes);
    }
    if !allowed(by_bits) {
        let kind = if coding == FLOAT { "float" } else { "PCM" };
        return Err(fault(
            format!("it states {kind} samples of {bits} bits"),
            chunk.body + 14,
        ));
    }
    notices.push(Notice {
        text: format!(
            "The header states frames of {align} bytes, which {} of {bits} bits \
             do not make; the bits were believed.",
            counted(channels.into(), "channel"),
        ),
        byte: Some(chunk.body + 12),
    });
    Ok(by_bits)
}

/// Names of codings that turn up in WAV files.
fn codec_name(tag: u16) -> String {
    let name = match tag {
        0x0002 => "Microsoft ADPCM",
        0x0006 => "A-law",
        0x0007 => "mu-law",
        0x0011 => "IMA ADPCM",
        0x0050 => "MPEG audio",
        0x0055 => "MP3",
        0x00ff => "AAC",
        0xf1ac => "FLAC",
        _ => return format!("an unknown coding (tag 0x{tag:04x})"),
    };
    name.to_owned()
}
