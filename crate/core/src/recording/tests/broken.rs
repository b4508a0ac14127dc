//! Files that give no samples, and what is said about them.

use super::build::{FLOAT, PCM, Wav, format, pcm16};
use super::{error, open};
use crate::recording::{OpenOptions, ReadError, Recording};

#[test]
fn other_kinds_of_file_are_named() {
    let ftyp = b"\0\0\0\x20ftypM4A \0\0\0\0";
    for (bytes, name) in [
        (&b"fLaC\0\0\0\x22\x10\x00\x10\x00"[..], "FLAC"),
        (b"riff\x2e\x91\xcf\x11\xa5\xd6\x28\xdb\x04\xc1\0\0", "W64"),
        (b"RIFX\0\0\0\x24WAVEfmt ", "big-endian"),
        (b"FORM\0\0\0\x24AIFFCOMM", "AIFF"),
        (b"ID3\x04\0\0\0\0\0\0\0\0\0", "MP3"),
        (b"\xff\xfb\x90\x64\0\0\0\0\0\0\0\0", "MP3"),
        (b"OggS\0\x02\0\0\0\0\0\0", "Ogg"),
        (ftyp, "MP4"),
        (b"RIFF\x24\0\0\0AVI LIST", "AVI"),
        (b"PK\x03\x04\0\0\0\0\0\0\0\0", "ZIP"),
        (b"\x89PNG\r\n\x1a\n\0\0\0\0", "PNG"),
        (
            b"date,site,species\n2026-06-14,Larkwater Fen,\xc3\xa9",
            "text",
        ),
        (b"<script>alert(1)</script>", "text"),
        (&[0; 600], "zeros"),
        (
            &[0x80, 0x81, 0x82, 0x83, 0x84, 0x85, 1, 2, 3, 4, 5, 6, 7, 8],
            "nothing that is known",
        ),
    ] {
        let error = error(bytes.to_vec());
        assert!(error.to_string().contains(name), "{error}");
        assert!(error.to_string().contains("byte 0"), "{error}");
        assert!(!error.advice().is_empty());
    }
}

#[test]
fn files_of_no_or_few_bytes_say_so() {
    assert!(matches!(error(Vec::new()), ReadError::Empty));
    for length in 1..12 {
        let bytes = b"RIFF\x24\0\0\0WAVE"[..length].to_vec();
        let error = error(bytes);
        assert_eq!(error.byte(), Some(length as u64), "{error}");
        assert!(
            error.to_string().contains(&format!("{length} bytes")),
            "{error}"
        );
    }
}

#[test]
fn a_file_without_format_or_samples_says_where_it_looked() {
    let no_format = Wav::riff().chunk(b"data", &pcm16(&[1])).build();
    let end = no_format.len() as u64;
    let fault = error(no_format);
    assert!(
        matches!(fault, ReadError::NoFormat { byte } if byte == end),
        "{fault}"
    );
    let no_data = Wav::mono16(384_000).build();
    let end = no_data.len() as u64;
    let fault = error(no_data);
    assert!(
        matches!(fault, ReadError::NoData { byte } if byte == end),
        "{fault}"
    );
}

#[test]
fn codings_are_named_with_their_byte() {
    for (tag, name) in [
        (2, "ADPCM"),
        (0x11, "IMA ADPCM"),
        (7, "mu-law"),
        (0x1234, "0x1234"),
    ] {
        let file = Wav::riff()
            .chunk(b"fmt ", &format(tag, 1, 384_000, 16))
            .chunk(b"data", &[0; 8]);
        let error = error(file.build());
        assert!(error.to_string().contains(name), "{error}");
        assert_eq!(error.byte(), Some(20));
    }
}

#[test]
fn formats_that_contradict_themselves_are_refused() {
    for (tag, channels, bits, word) in [
        (PCM, 0, 16, "0 channels"),
        (PCM, 1, 0, "0 bits"),
        (PCM, 1, 64, "64 bits"),
        (PCM, 1, u16::MAX, "65535 bits"),
        (FLOAT, 1, 16, "16 bits"),
    ] {
        let file = Wav::riff()
            .chunk(b"fmt ", &format(tag, channels, 384_000, bits))
            .chunk(b"data", &[0; 8]);
        let error = error(file.build());
        assert!(matches!(error, ReadError::Format { .. }), "{error}");
        assert!(error.to_string().contains(word), "{error}");
    }
}

#[test]
fn rates_that_no_recorder_has_are_refused() {
    for rate in [0, 7_999, 2_000_001, u32::MAX] {
        let error = error(Wav::mono16(rate).chunk(b"data", &[0; 8]).build());
        assert!(matches!(error, ReadError::Rate { .. }), "{error}");
        assert_eq!(error.byte(), Some(24));
    }
}

#[test]
fn a_choice_that_cannot_be_is_refused() {
    let file = Wav::mono16(384_000).chunk(b"data", &pcm16(&[1, 2])).build();
    for factor in [0.0, -1.0, 0.5, 1001.0, f64::NAN, f64::INFINITY] {
        let options = OpenOptions {
            expansion: Some(factor),
        };
        let error = Recording::open(file.clone(), &options).expect_err("refused");
        assert!(matches!(error, ReadError::Expansion { .. }), "{error}");
    }
    let options = OpenOptions {
        expansion: Some(10.0),
    };
    let error = Recording::open(file.clone(), &options).expect_err("3.84 MHz");
    assert!(matches!(error, ReadError::Rate { .. }), "{error}");
    let error = open(file)
        .unwrap()
        .read(1, 0..1, &mut Vec::new())
        .expect_err("one channel");
    assert_eq!(error.to_string(), "there is no channel 2: the file has 1");
}

/// A card that fails after some bytes.
struct Failing(Vec<u8>);

impl crate::recording::Source for Failing {
    fn len(&self) -> u64 {
        self.0.len() as u64 + 1_000
    }

    fn read_at(&self, offset: u64, buffer: &mut [u8]) -> std::io::Result<()> {
        self.0.as_slice().read_at(offset, buffer)
    }
}

#[test]
fn a_card_that_fails_is_reported_with_the_byte() {
    let file = Wav::mono16(384_000).lying(b"data", 1_000, &[]).build();
    let fault = Recording::open(Failing(file.clone()), &OpenOptions::default());
    assert!(matches!(fault, Err(ReadError::Io { byte: 0, .. })));
    let long = Wav::mono16(384_000)
        .lying(b"data", 2_000, &[0; 1_000])
        .build();
    let recording = Recording::open(Failing(long), &OpenOptions::default()).unwrap();
    let error = recording
        .read(0, 0..1_000, &mut Vec::new())
        .expect_err("half is missing");
    assert!(matches!(error, ReadError::Io { byte: 44, .. }), "{error}");
}
