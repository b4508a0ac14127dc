//! Lengths that lie, and files that end early.

use std::io;

use super::build::{PCM, Wav, ds64, format, pcm16};
use super::{facts, samples, says};
use crate::recording::{OpenOptions, Recording, Source};

#[test]
fn a_cut_off_file_keeps_what_is_there_and_says_how_much_is_missing() {
    let data = pcm16(&[8_192; 38_400]);
    let mut file = Wav::mono16(384_000).chunk(b"data", &data).build();
    file.truncate(file.len() - data.len() / 4);
    let facts = facts(file.clone());
    assert_eq!(facts.frames, 28_800);
    assert!(says(&facts, &["0.075 s of 0.100 s", "0.025 s are missing"]));
    assert_eq!(facts.notices[0].byte, Some(file.len() as u64));
    assert_eq!(samples(file), [0.25; 28_800]);
}

#[test]
fn missing_time_is_real_time_where_a_recording_is_expanded() {
    let data = pcm16(&[0; 38_400]);
    let mut file = Wav::mono16(38_400)
        .chunk(b"guan", b"GUANO|Version: 1.0\nTE: 10\n")
        .chunk(b"data", &data)
        .build();
    file.truncate(file.len() - data.len() / 4);
    assert!(says(&facts(file), &["0.025 s are missing"]));
}

#[test]
fn a_length_of_zero_or_all_ones_means_up_to_the_end() {
    for stated in [0, u32::MAX] {
        let file = Wav::mono16(384_000)
            .lying(b"data", stated, &pcm16(&[8_192; 96]))
            .unfinished();
        assert_eq!(samples(file.clone()), [0.25; 96]);
        assert!(says(&facts(file), &["never filled in", "0.000 s"]));
    }
}

#[test]
fn a_length_of_zero_before_another_chunk_is_an_empty_recording() {
    let file = Wav::mono16(384_000)
        .chunk(b"data", &[])
        .chunk(
            b"guan",
            b"GUANO|Version: 1.0\nTimestamp: 2026-06-14T22:41:05\n",
        )
        .build();
    let facts = facts(file);
    assert_eq!(facts.frames, 0);
    assert!(facts.start.is_some());
    assert!(says(&facts, &["recording is empty"]));
}

#[test]
fn a_last_partial_frame_is_left_out() {
    let file = Wav::riff()
        .chunk(b"fmt ", &format(PCM, 2, 384_000, 16))
        .chunk(b"data", &pcm16(&[1, 2, 3]))
        .build();
    let facts = facts(file);
    assert_eq!(facts.frames, 1);
    assert!(says(&facts, &["2 bytes that make no whole frame"]));
}

#[test]
fn trailing_garbage_is_no_sound_and_is_mentioned() {
    let file = Wav::mono16(384_000)
        .chunk(b"data", &pcm16(&[8_192; 4]))
        .build();
    let length = file.len() as u64;
    let file = [file, vec![0xff; 768]].concat();
    let facts = facts(file.clone());
    assert_eq!(samples(file), [0.25; 4]);
    assert!(says(&facts, &["768 bytes", "ignored", "0.001 s"]));
    assert_eq!(facts.notices[0].byte, Some(length));
}

#[test]
fn too_small_a_length_gives_way_to_the_container() {
    let file = Wav::mono16(384_000)
        .lying(b"data", 2, &pcm16(&[-8_192; 8]))
        .build();
    assert_eq!(samples(file.clone()), [-0.25; 8]);
    assert!(says(&facts(file), &["length in the header is wrong"]));
}

#[test]
fn a_ds64_that_was_never_filled_in_means_up_to_the_end() {
    for unknown in [0, u64::MAX] {
        let file = Wav::container(b"RF64")
            .chunk(b"ds64", &ds64(unknown, unknown, unknown))
            .chunk(b"fmt ", &format(PCM, 1, 384_000, 16))
            .lying(b"data", u32::MAX, &pcm16(&[8_192; 6]))
            .build();
        assert_eq!(samples(file.clone()), [0.25; 6]);
        assert!(says(&facts(file), &["never filled in"]));
    }
}

#[test]
fn a_wrong_length_before_the_samples_does_not_hide_them() {
    for stated in [5, 60, 5_000, 0x7fff_ffff] {
        let file = Wav::mono16(384_000)
            .lying(b"LIST", stated, b"INFOISFT\x06\0\0\0Alder\0")
            .chunk(b"data", &pcm16(&[8_192; 40]))
            .build();
        assert_eq!(samples(file.clone()), [0.25; 40], "stated {stated}");
        assert!(says(&facts(file), &["wrong length", "reading went on"]));
    }
}

#[test]
fn the_word_data_in_a_text_is_not_taken_for_samples() {
    let text = b"INFOICMT\x40\0\0\0the data    and data\x04\0\0\0 of the fen";
    let file = Wav::mono16(384_000).lying(b"LIST", 5_000, text).build();
    assert!(matches!(
        super::error(file),
        super::ReadError::NoData { .. }
    ));
}

/// A file of any size of which only the beginning and the end are not silence.
struct Sparse {
    head: Vec<u8>,
    length: u64,
    tail: Vec<u8>,
}

impl Source for Sparse {
    fn len(&self) -> u64 {
        self.length
    }

    fn read_at(&self, offset: u64, buffer: &mut [u8]) -> io::Result<()> {
        assert!(
            buffer.len() <= 1 << 20,
            "reading follows the view and not the file"
        );
        let tail_at = self.length - self.tail.len() as u64;
        for (byte, at) in buffer.iter_mut().zip(offset..) {
            let inside = at
                .checked_sub(tail_at)
                .and_then(|at| self.tail.get(at as usize));
            *byte = *self.head.get(at as usize).or(inside).unwrap_or(&0);
        }
        (offset + buffer.len() as u64 <= self.length)
            .then_some(())
            .ok_or(io::ErrorKind::UnexpectedEof.into())
    }
}

#[test]
fn an_rf64_beyond_four_gibibytes_is_read_to_its_last_sample() {
    let data = 5 << 30;
    let head = Wav::container(b"RF64")
        .chunk(b"ds64", &ds64(data + 72, data, data / 2))
        .chunk(b"fmt ", &format(PCM, 1, 500_000, 16))
        .lying(b"data", u32::MAX, &[])
        .build();
    let length = head.len() as u64 + data;
    let source = Sparse {
        head,
        length,
        tail: pcm16(&[16_384]),
    };
    let recording = Recording::open(source, &OpenOptions::default()).unwrap();
    assert_eq!(recording.frames(), data / 2);
    assert_eq!(recording.facts().notices, []);
    let mut out = Vec::new();
    recording.read(0, data / 2 - 2..data / 2, &mut out).unwrap();
    assert_eq!(out, [0.0, 0.5]);
}

#[test]
fn a_riff_whose_length_wrapped_at_four_gibibytes_is_read_to_its_last_sample() {
    let data: u64 = (4 << 30) + 1_000;
    let mut head = Wav::mono16(500_000)
        .lying(b"data", data as u32, &[])
        .build();
    let length = head.len() as u64 + data;
    head[4..8].copy_from_slice(&((length - 8) as u32).to_le_bytes());
    let source = Sparse {
        head,
        length,
        tail: pcm16(&[16_384]),
    };
    let recording = Recording::open(source, &OpenOptions::default()).unwrap();
    assert_eq!(recording.frames(), data / 2);
    assert!(says(recording.facts(), &["length in the header is wrong"]));
}
