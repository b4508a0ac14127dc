//! WAV files by other people's writers: libsndfile 1.2.2, SoX 14.4.2 and the reference
//! package for GUANO 1.0.16. `tests/data/make_wav_fixtures.py` made them, and the expected
//! samples are what libsndfile reads back from each.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test may stop at the first surprise"
)]

use std::path::{Path, PathBuf};

use dusklens_core::recording::{
    ExpansionOrigin, Field, OpenOptions, ReadError, Recording, StampOrigin,
};

fn data(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("data")
        .join(name)
}

fn open(name: &str) -> Recording<Vec<u8>> {
    let bytes = std::fs::read(data(&format!("wav_{name}.wav"))).expect("the fixture is there");
    Recording::open(bytes, &OpenOptions::default()).expect("the fixture opens")
}

/// What libsndfile reads from a file, a row a frame.
fn expected(name: &str) -> Vec<Vec<f64>> {
    let text = std::fs::read_to_string(data(&format!("wav_{name}.txt"))).expect("samples");
    text.lines()
        .map(|line| {
            line.split(' ')
                .map(|value| value.parse().unwrap())
                .collect()
        })
        .collect()
}

/// Compares every sample of every channel, exactly: both scale by a power of two.
fn compare(name: &str) -> Recording<Vec<u8>> {
    let recording = open(name);
    let expected = expected(name);
    assert_eq!(recording.frames(), expected.len() as u64, "{name}");
    let mut samples = Vec::new();
    for channel in 0..recording.facts().channels {
        recording
            .read(channel, 0..recording.frames(), &mut samples)
            .expect("samples");
        let wanted: Vec<f32> = expected
            .iter()
            .map(|frame| frame[usize::from(channel)] as f32)
            .collect();
        assert_eq!(samples, wanted, "{name}, channel {channel}");
    }
    assert_eq!(recording.facts().notices, [], "{name}");
    recording
}

#[test]
fn libsndfile_and_sox_files_give_their_samples_and_their_format() {
    for (name, container, encoding, channels, rate_hz) in [
        ("sndfile_pcm_u8", "WAV", "8-bit PCM", 1, 384_000.0),
        ("sndfile_pcm_16", "WAV", "16-bit PCM", 1, 384_000.0),
        ("sndfile_pcm_24", "WAV", "24-bit PCM", 2, 500_000.0),
        ("sndfile_pcm_32", "WAV", "32-bit PCM", 1, 384_000.0),
        ("sndfile_float", "WAV", "32-bit float", 1, 384_000.0),
        ("sndfile_double", "WAV", "64-bit float", 2, 384_000.0),
        ("sndfile_wavex_16", "WAV", "16-bit PCM", 2, 256_000.0),
        ("sndfile_wavex_24", "WAV", "24-bit PCM", 1, 384_000.0),
        ("sndfile_rf64_16", "RF64", "16-bit PCM", 1, 500_000.0),
        ("sox_24_stereo", "WAV", "24-bit PCM", 2, 384_000.0),
    ] {
        let recording = compare(name);
        let facts = recording.facts();
        assert_eq!(facts.container, container, "{name}");
        assert_eq!(facts.encoding, encoding, "{name}");
        assert_eq!(facts.channels, channels, "{name}");
        assert_eq!(facts.rate_hz, rate_hz, "{name}");
        assert_eq!(facts.expansion.origin, ExpansionOrigin::Assumed, "{name}");
    }
}

#[test]
fn guano_as_its_reference_package_writes_it_is_understood() {
    for (name, factor, rate_hz) in [
        ("guano_384k_x1", 1.0, 384_000.0),
        ("guano_384k_x10", 10.0, 384_000.0),
        ("guano_500k_x1", 1.0, 500_000.0),
        ("guano_500k_x10", 10.0, 500_000.0),
    ] {
        let recording = compare(name);
        let facts = recording.facts();
        assert_eq!(facts.expansion.factor, factor, "{name}");
        assert_eq!(facts.expansion.origin, ExpansionOrigin::Metadata, "{name}");
        assert_eq!(facts.rate_hz, rate_hz, "{name}");
        assert_eq!(facts.stored_rate_hz, rate_hz / factor, "{name}");
        assert_eq!(facts.duration_s, 240.0 / rate_hz, "{name}");
        let start = facts.start.as_ref().expect("a time");
        assert_eq!(start.local, "2026-06-14T22:41:05");
        assert_eq!(start.utc_offset_min, Some(60));
        assert_eq!(start.origin, StampOrigin::Guano);
        let place = facts.place.expect("a place");
        assert_eq!((place.latitude_deg, place.longitude_deg), (52.61, -1.07));
        assert_eq!(place.elevation_m, Some(71.5));
        assert_eq!(facts.make.as_deref(), Some("Alder Works"));
        assert_eq!(facts.model.as_deref(), Some("Heron 2"));
        assert_eq!(facts.temperature_c, Some(14.5));
        assert_eq!(facts.humidity_percent, Some(88.0));
        assert_eq!(
            facts.note.as_deref(),
            Some("by the sluice\nsecond night, gärde")
        );
        let names: Vec<_> = facts
            .identifications
            .iter()
            .map(|id| id.name.as_str())
            .collect();
        assert_eq!(names, ["Pippip", "Nyclei"]);
        assert_eq!(facts.tags, ["fen", "water"]);
        let observer = Field {
            key: "User|Observer".into(),
            value: "W. Sedge: warden".into(),
        };
        assert!(facts.other.contains(&observer), "{:?}", facts.other);
    }
}

#[test]
fn other_kinds_by_libsndfile_are_refused_by_their_name() {
    for (name, word) in [("w64", "W64"), ("flac", "FLAC"), ("aiff", "AIFF")] {
        let bytes =
            std::fs::read(data(&format!("other_{name}.bin"))).expect("the fixture is there");
        let error = Recording::open(bytes, &OpenOptions::default()).expect_err("refused");
        assert!(matches!(error, ReadError::NotWav { .. }), "{error}");
        assert!(error.to_string().contains(word), "{error}");
    }
}
