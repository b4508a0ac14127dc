//! What holds for every file, however broken.

use proptest::prelude::*;

use super::build::{PCM, Wav, bext, extensible, format, info, pcm16};
use super::{channel, facts, open};

/// Reads everything that can be read; only a panic is a failure.
pub(super) fn exercise(bytes: Vec<u8>) {
    let length = bytes.len() as u64;
    if let Ok(recording) = open(bytes) {
        let mut out = Vec::new();
        let facts = recording.facts();
        assert!(facts.frames <= length && facts.notices.len() < 100);
        assert!(facts.rate_hz.is_finite() && facts.duration_s.is_finite());
        for channel in [0, facts.channels - 1, facts.channels.saturating_add(1)] {
            let _ = recording.read(channel, 0..u64::MAX, &mut out);
            assert!(out.iter().all(|sample| sample.is_finite()));
        }
    }
}

/// One chunk with an id that means something, and any length and body.
fn any_chunk() -> impl Strategy<Value = Vec<u8>> {
    let id = prop::sample::select(vec![
        *b"fmt ", *b"data", *b"guan", *b"bext", *b"LIST", *b"ds64", *b"abcd",
    ]);
    let stated = prop_oneof![
        4 => Just(None),
        1 => any::<u32>().prop_map(Some),
        1 => (0_u32..100).prop_map(Some),
        1 => Just(Some(u32::MAX)),
    ];
    let body = prop_oneof![
        prop::collection::vec(any::<u8>(), 0..80),
        Just(format(PCM, 2, 384_000, 16)),
        Just(extensible(PCM, 1, 500_000, 32, 24)),
        Just(b"GUANO|Version: 1.0\nTE: 10\nLoc Position: 52 -1\n".to_vec()),
        Just(bext("x", "2026-06-14", "22:41:05")),
        Just(info(&[(b"ICMT", b"odd")])),
    ];
    (id, stated, body).prop_map(|(id, stated, body)| {
        let size = stated.unwrap_or(body.len() as u32);
        Wav::riff().lying(&id, size, &body).build().split_off(12)
    })
}

/// A valid file: 16-bit samples among other chunks, in an order given by a shuffle.
fn valid() -> impl Strategy<Value = (Vec<i16>, Vec<u8>)> {
    let others = prop::collection::vec((0..4_usize, 0..40_usize), 0..5);
    (prop::collection::vec(any::<i16>(), 1..300), others).prop_flat_map(|(samples, others)| {
        let mut chunks = vec![
            (*b"fmt ", format(PCM, 1, 384_000, 16)),
            (*b"data", pcm16(&samples)),
        ];
        for (kind, length) in others {
            chunks.push(match kind {
                0 => (
                    *b"guan",
                    format!("GUANO|Version: 1.0\nNote: {}", "x".repeat(length)).into(),
                ),
                1 => (*b"abcd", vec![0xa5; length]),
                2 => (*b"LIST", info(&[(b"ICMT", &vec![b'n'; length])])),
                _ => (*b"JUNK", vec![0; length]),
            });
        }
        Just(chunks).prop_shuffle().prop_map(move |chunks| {
            let file = chunks
                .iter()
                .fold(Wav::riff(), |wav, (id, body)| wav.chunk(id, body));
            (samples.clone(), file.build())
        })
    })
}

fn floats(samples: &[i16]) -> Vec<f32> {
    samples
        .iter()
        .map(|&sample| f32::from(sample) / 32_768.0)
        .collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(512))]

    #[test]
    fn arbitrary_bytes_never_panic(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        exercise(bytes.clone());
        exercise([b"RIFF\0\0\0\0WAVE".to_vec(), bytes].concat());
    }

    #[test]
    fn arbitrary_chunks_never_panic(
        id in prop::sample::select(vec![*b"RIFF", *b"RF64", *b"BW64"]),
        chunks in prop::collection::vec(any_chunk(), 0..8),
    ) {
        exercise(Wav::container(&id).raw(&chunks.concat()).build());
    }

    #[test]
    fn any_order_of_chunks_gives_the_same_samples((samples, file) in valid()) {
        prop_assert_eq!(channel(file.clone(), 0), floats(&samples));
        prop_assert_eq!(facts(file).notices, []);
    }

    #[test]
    fn a_file_cut_anywhere_gives_only_samples_that_were_there(
        (samples, file) in valid(),
        cut in any::<prop::sample::Index>(),
    ) {
        let cut = file[..cut.index(file.len())].to_vec();
        exercise(cut.clone());
        if let Ok(recording) = open(cut) {
            let mut out = Vec::new();
            recording.read(0, 0..u64::MAX, &mut out).unwrap();
            prop_assert!(floats(&samples).starts_with(&out));
        }
    }

    #[test]
    fn any_part_is_a_part_of_the_whole(
        (samples, file) in valid(),
        (from, to) in (0_u64..400, 0_u64..400),
    ) {
        let mut out = Vec::new();
        open(file).unwrap().read(0, from..to, &mut out).unwrap();
        let from = (from as usize).min(samples.len());
        let to = (to as usize).clamp(from, samples.len().max(from));
        prop_assert_eq!(out, floats(&samples[from..to]));
    }
}
