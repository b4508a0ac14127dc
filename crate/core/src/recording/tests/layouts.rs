//! Kinds of samples and orders of chunks.

use super::build::{FLOAT, PCM, Wav, ds64, extensible, format, pcm16};
use super::{channel, facts, open, samples, says};

/// Samples as bytes in a file with a plain format.
fn plain(tag: u16, bits: u16, data: &[u8]) -> Vec<u8> {
    Wav::riff()
        .chunk(b"fmt ", &format(tag, 1, 384_000, bits))
        .chunk(b"data", data)
        .build()
}

#[test]
fn integers_of_every_width_have_full_scale_at_minus_one() {
    assert_eq!(
        samples(plain(PCM, 8, &[0, 64, 128, 192])),
        [-1.0, -0.5, 0.0, 0.5]
    );
    assert_eq!(
        samples(plain(PCM, 16, &pcm16(&[-32_768, -1, 0, 16_384]))),
        [-1.0, -1.0 / 32_768.0, 0.0, 0.5]
    );
    assert_eq!(
        samples(plain(PCM, 24, &[0, 0, 0x80, 0xff, 0xff, 0xff, 0, 0, 0x40])),
        [-1.0, -1.0 / 8_388_608.0, 0.5]
    );
    assert_eq!(
        samples(plain(PCM, 32, &[0, 0, 0, 0x80, 0, 0, 0, 0x40])),
        [-1.0, 0.5]
    );
}

#[test]
fn floats_of_both_widths_are_taken_as_they_are() {
    let single: Vec<u8> = [0.25_f32, -1.5]
        .iter()
        .flat_map(|s| s.to_le_bytes())
        .collect();
    let double: Vec<u8> = [0.25_f64, -1.5]
        .iter()
        .flat_map(|s| s.to_le_bytes())
        .collect();
    assert_eq!(samples(plain(FLOAT, 32, &single)), [0.25, -1.5]);
    assert_eq!(samples(plain(FLOAT, 64, &double)), [0.25, -1.5]);
}

#[test]
fn floats_that_are_no_numbers_become_silence() {
    let bad = [f32::NAN, f32::INFINITY, f32::NEG_INFINITY, 0.5];
    let bytes: Vec<u8> = bad.iter().flat_map(|sample| sample.to_le_bytes()).collect();
    assert_eq!(samples(plain(FLOAT, 32, &bytes)), [0.0, 0.0, 0.0, 0.5]);
    let huge: Vec<u8> = [1e300_f64, -1e300]
        .iter()
        .flat_map(|s| s.to_le_bytes())
        .collect();
    assert_eq!(samples(plain(FLOAT, 64, &huge)), [0.0, 0.0]);
}

/// hound decodes the same bytes as another reader would.
#[test]
fn hound_reads_the_same_samples() {
    let noise = |count: usize| -> Vec<u8> {
        (0..count as u32)
            .map(|i| (i.wrapping_mul(2_654_435_761) >> 24) as u8)
            .collect()
    };
    for bits in [8, 16, 24, 32] {
        let file = plain(PCM, bits, &noise(240));
        let mut reader = hound::WavReader::new(file.as_slice()).unwrap();
        let scale = 2_f32.powi(i32::from(bits) - 1);
        let theirs: Vec<f32> = reader
            .samples::<i32>()
            .map(|s| s.unwrap() as f32 / scale)
            .collect();
        assert_eq!(samples(file), theirs, "{bits} bits");
    }
}

#[test]
fn valid_bits_lie_at_the_top_of_their_container() {
    let file = Wav::riff()
        .chunk(b"fmt ", &extensible(PCM, 1, 500_000, 32, 24))
        .chunk(b"data", &[0, 0, 0, 0x40, 0, 0xff, 0xff, 0x7f])
        .build();
    assert_eq!(facts(file.clone()).encoding, "24-bit PCM in 32 bits");
    let level = open(file.clone()).unwrap().clip_level().unwrap();
    assert_eq!(level, 8_388_607.0 / 8_388_608.0);
    assert_eq!(samples(file), [0.5, level]);
}

#[test]
fn extensible_float_and_a_plain_tag_with_forty_bytes_are_read() {
    let data = 0.25_f32.to_le_bytes();
    let float = Wav::riff()
        .chunk(b"fmt ", &extensible(FLOAT, 1, 384_000, 32, 32))
        .chunk(b"data", &data);
    assert_eq!(samples(float.build()), [0.25]);
    let mut plain_tag = extensible(PCM, 1, 384_000, 16, 16);
    plain_tag[..2].copy_from_slice(&PCM.to_le_bytes());
    let plain_tag = Wav::riff()
        .chunk(b"fmt ", &plain_tag)
        .chunk(b"data", &pcm16(&[8_192]));
    assert_eq!(samples(plain_tag.build()), [0.25]);
}

#[test]
fn the_rail_is_the_largest_integer() {
    let level = |tag, bits| open(plain(tag, bits, &[0; 16])).unwrap().clip_level();
    assert_eq!(level(PCM, 8), Some(127.0 / 128.0));
    assert_eq!(level(PCM, 16), Some(32_767.0 / 32_768.0));
    assert_eq!(level(FLOAT, 32), None);
}

#[test]
fn any_channel_of_many_can_be_read() {
    let interleaved: Vec<i16> = (0..35).map(|i| i * 100).collect();
    let file = Wav::riff()
        .chunk(b"fmt ", &format(PCM, 7, 256_000, 16))
        .chunk(b"data", &pcm16(&interleaved))
        .build();
    assert_eq!(facts(file.clone()).frames, 5);
    let sixth: Vec<f32> = (0..5_u8)
        .map(|i| f32::from(i) * 700.0 + 600.0)
        .map(|s| s / 32_768.0)
        .collect();
    assert_eq!(channel(file, 6), sixth);
}

#[test]
fn every_width_can_be_read_from_the_second_of_two_channels() {
    for (tag, bits, half) in [
        (PCM, 8, vec![192]),
        (PCM, 16, 0x4000_u16.to_le_bytes().to_vec()),
        (PCM, 24, vec![0, 0, 0x40]),
        (PCM, 32, vec![0, 0, 0, 0x40]),
        (FLOAT, 32, 0.5_f32.to_le_bytes().to_vec()),
        (FLOAT, 64, 0.5_f64.to_le_bytes().to_vec()),
    ] {
        let frame = [vec![0; half.len()], half].concat();
        let file = Wav::riff()
            .chunk(b"fmt ", &format(tag, 2, 256_000, bits))
            .chunk(b"data", &[frame.clone(), frame].concat())
            .build();
        assert_eq!(channel(file, 1), [0.5, 0.5], "{bits} bits");
    }
}

#[test]
fn rates_from_8_khz_to_2_mhz_are_read() {
    for rate in [8_000, 44_100, 384_000, 500_000, 2_000_000] {
        let file = Wav::mono16(rate).chunk(b"data", &pcm16(&[0; 100])).build();
        assert_eq!(facts(file.clone()).rate_hz, f64::from(rate));
        assert_eq!(facts(file).duration_s, 100.0 / f64::from(rate));
    }
}

#[test]
fn a_range_is_cut_to_what_the_file_has() {
    let file = Wav::mono16(384_000)
        .chunk(b"data", &pcm16(&[1, 2, 3, 4]))
        .build();
    let recording = open(file).unwrap();
    let mut out = vec![9.0];
    recording.read(0, 2..100, &mut out).unwrap();
    assert_eq!(out, [3.0 / 32_768.0, 4.0 / 32_768.0]);
    recording.read(0, 50..100, &mut out).unwrap();
    assert!(out.is_empty());
}

#[test]
fn a_range_across_blocks_is_seamless() {
    let all: Vec<i16> = (0..1_200_000).map(|i| (i % 30_011) as i16).collect();
    let file = Wav::mono16(384_000).chunk(b"data", &pcm16(&all)).build();
    let recording = open(file).unwrap();
    let mut out = Vec::new();
    recording.read(0, 100_000..1_150_000, &mut out).unwrap();
    let wanted: Vec<f32> = all[100_000..1_150_000]
        .iter()
        .map(|&s| f32::from(s) / 32_768.0)
        .collect();
    assert!(out == wanted);
}

#[test]
fn chunks_may_come_in_any_order_and_be_unknown() {
    let file = Wav::riff()
        .chunk(b"JUNK", &[0; 28])
        .chunk(b"xyz ", b"odd")
        .chunk(b"data", &pcm16(&[8_192]))
        .chunk(b"abcd", &[])
        .chunk(b"fmt ", &format(PCM, 1, 384_000, 16))
        .build();
    assert_eq!(samples(file.clone()), [0.25]);
    assert_eq!(facts(file).notices, []);
}

#[test]
fn a_missing_pad_byte_is_noticed_and_bridged() {
    let file = Wav::mono16(384_000)
        .lying(b"xyz ", 3, b"odd")
        .chunk(b"data", &pcm16(&[8_192]))
        .build();
    assert_eq!(samples(file.clone()), [0.25]);
    assert!(says(&facts(file), &["`xyz `", "pad byte is missing"]));
}

#[test]
fn odd_samples_are_followed_by_a_pad_byte_that_is_no_sample() {
    let file = Wav::riff()
        .chunk(b"fmt ", &format(PCM, 1, 384_000, 8))
        .chunk(b"data", &[192, 192, 192])
        .chunk(
            b"guan",
            b"GUANO|Version: 1.0\nTimestamp: 2026-06-14T22:41:05\n",
        )
        .build();
    assert_eq!(samples(file.clone()), [0.5; 3]);
    assert!(facts(file).start.is_some());
}

#[test]
fn rf64_and_bw64_take_their_lengths_from_ds64() {
    for (id, name) in [(b"RF64", "RF64"), (b"BW64", "BW64")] {
        let file = Wav::container(id)
            .chunk(b"ds64", &ds64(88, 4, 2))
            .chunk(b"fmt ", &format(PCM, 1, 384_000, 16))
            .lying(b"data", u32::MAX, &pcm16(&[8_192, -8_192]))
            .chunk(b"guan", b"GUANO|Version: 1.0\nMake: Alder Works\n ")
            .build();
        assert_eq!(samples(file.clone()), [0.25, -0.25]);
        assert_eq!(facts(file.clone()).container, name);
        assert_eq!(facts(file).make.as_deref(), Some("Alder Works"));
    }
}

#[test]
fn a_frame_size_that_makes_no_sense_gives_way_to_the_bits() {
    let mut fmt = format(PCM, 1, 384_000, 16);
    fmt[12..14].copy_from_slice(&0_u16.to_le_bytes());
    let file = Wav::riff()
        .chunk(b"fmt ", &fmt)
        .chunk(b"data", &pcm16(&[8_192]))
        .build();
    assert_eq!(samples(file.clone()), [0.25]);
    assert!(says(&facts(file), &["the bits were believed"]));
}
