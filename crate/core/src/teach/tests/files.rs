use super::*;
use crate::recording::{ExpansionOrigin, OpenOptions, Recording};
use crate::teach::wav::{WavSettings, cut_off, encode, unfinished};
use crate::teach::{Ending, larkwater_fen};

fn open(bytes: Vec<u8>) -> Recording<Vec<u8>> {
    Recording::open(bytes, &OpenOptions::default()).unwrap()
}

fn samples() -> Vec<f32> {
    scene(vec![placed(
        call(segment(60.0, 40.0, 5.0, Bend::Hyperbolic), 1.0, 1.0),
        0.03,
        -6.0,
    )])
    .render()
}

#[test]
fn a_written_file_reads_back_with_its_metadata() {
    let settings = WavSettings {
        expansion: 10,
        metadata: vec![
            ("Timestamp".into(), "2026-06-14T22:41:05+01:00".into()),
            ("TE".into(), "10".into()),
            ("Make".into(), "Reedmace Works".into()),
            ("Note".into(), "two\nlines".into()),
        ],
    };
    let recording = open(encode(&samples(), 384_000, &settings).unwrap());
    let facts = recording.facts();
    assert_eq!(facts.stored_rate_hz, 38_400.0);
    assert_eq!(recording.rate_hz(), 384_000.0);
    assert_eq!(facts.expansion.origin, ExpansionOrigin::Metadata);
    assert_eq!(facts.make.as_deref(), Some("Reedmace Works"));
    assert_eq!(facts.note.as_deref(), Some("two\nlines"));
    assert!(facts.notices.is_empty(), "{:?}", facts.notices);
    let mut read = Vec::new();
    recording.read(0, 0..recording.frames(), &mut read).unwrap();
    let worst = read
        .iter()
        .zip(samples())
        .map(|(a, b)| (a - b).abs())
        .fold(0.0, f32::max);
    // Half a step of 16 bits, and the step between dividing by 32767 and 32768.
    assert!(worst < 1.5 / 32_768.0, "{worst}");
}

#[test]
fn spoilt_files_keep_what_is_there() {
    let whole = encode(&samples(), 384_000, &WavSettings::default()).unwrap();
    let short = open(cut_off(whole.clone(), 44 + 2 * 10_000 + 1));
    assert_eq!(short.frames(), 10_000);
    assert!(!short.facts().notices.is_empty());
    let without_lengths = open(unfinished(whole));
    assert_eq!(without_lengths.frames(), 38_400);
    assert!(!without_lengths.facts().notices.is_empty());
}

#[test]
fn every_sample_opens_with_the_rate_and_length_of_its_truth() {
    for sample in larkwater_fen() {
        let truth = sample.truth();
        let recording = open(sample.wav().unwrap());
        assert_eq!(
            recording.rate_hz(),
            f64::from(truth.rate_hz),
            "{}",
            sample.file
        );
        assert!(
            (recording.facts().duration_s - truth.duration_s).abs() < 1e-9,
            "{}",
            sample.file
        );
        let whole = sample.ending == Ending::Whole;
        assert_eq!(recording.facts().start.is_some(), whole, "{}", sample.file);
        assert_eq!(
            recording.facts().notices.is_empty(),
            whole,
            "{}",
            sample.file
        );
    }
}
