//! The file of what is heard: as our own reader and hound read it.

use std::io::Cursor;

use super::super::{ListeningError, Origin, WaveFile};
use super::*;
use crate::recording::{ExpansionOrigin, OpenOptions, Recording};

fn origin() -> Origin {
    Origin {
        file: "larkwater\nfen.wav".to_owned(),
        channel: 1,
        program: "Dusklens 9.9.9".to_owned(),
    }
}

fn written(samples: &[f32], settings: &ListeningSettings) -> Vec<u8> {
    let frames = samples.len() as u64;
    let mut file = WaveFile::new(settings, RATE_HZ, frames, OUTPUT_HZ, &origin()).unwrap();
    let mut body = Vec::new();
    let mut before = -1.0;
    loop {
        let Ok(done) = file.step(reader(samples));
        assert!(file.done_fraction() > before || done);
        before = file.done_fraction();
        body.extend(file.take_bytes());
        if done {
            break;
        }
    }
    [file.header(), body].concat()
}

#[test]
fn the_file_holds_what_is_heard() {
    let samples = tone(45.0, 0.3, 0.1);
    for method in [expansion(10.0), heterodyne(43.0), division(8.0)] {
        let settings = settings(method, 0.1);
        let bytes = written(&samples, &settings);
        let mut reader = hound::WavReader::new(Cursor::new(&bytes)).unwrap();
        assert_eq!(reader.spec().sample_rate, OUTPUT_HZ);
        let read: Vec<i16> = reader.samples::<i16>().map(Result::unwrap).collect();
        let sound = heard_in(&samples, &settings, 4800);
        assert_eq!(read.len(), sound.len());
        for (got, wanted) in read.iter().zip(&sound) {
            assert!((f32::from(*got) - wanted * 32767.0).abs() <= 0.5);
        }
    }
}

#[test]
fn the_file_says_that_it_is_not_the_recording() {
    let samples = tone(45.0, 0.3, 0.1);
    let settings = ListeningSettings {
        high_pass_khz: Some(8.0),
        ..settings(heterodyne(43.5), 0.1)
    };
    let bytes = written(&samples, &settings);
    let recording = Recording::open(bytes, &OpenOptions::default()).unwrap();
    let facts = recording.facts();
    assert_eq!(facts.notices, [], "a file without a fault");
    assert_eq!(facts.rate_hz, f64::from(OUTPUT_HZ));
    let told = format!("{facts:?}");
    for words in [
        "Not an original recording",
        "heterodyne tuned to 43.5 kHz",
        "channel 2",
        "larkwater fen.wav",
        "below 8 kHz",
        "Dusklens 9.9.9",
    ] {
        assert!(told.contains(words), "{words} in {told}");
    }
}

#[test]
fn time_expansion_is_stated_so_that_it_can_be_undone() {
    let samples = tone(45.0, 0.3, 0.1);
    for factor in [10.0, 7.5] {
        let bytes = written(&samples, &settings(expansion(factor), 0.1));
        let recording = Recording::open(bytes, &OpenOptions::default()).unwrap();
        let facts = recording.facts();
        assert_eq!(facts.expansion.origin, ExpansionOrigin::Metadata);
        assert!(
            (facts.expansion.factor - factor).abs() < 1e-3,
            "{}",
            facts.expansion.factor
        );
        assert!((facts.duration_s - 0.1).abs() < 1e-4);
    }
}

#[test]
fn what_a_file_cannot_hold_is_refused() {
    let refused = |settings: &ListeningSettings| {
        WaveFile::new(settings, RATE_HZ, 384_000 * 3600 * 4, OUTPUT_HZ, &origin()).unwrap_err()
    };
    let hours = settings(expansion(32.0), 4.0 * 3600.0);
    assert!(matches!(refused(&hours), ListeningError::TooLong { .. }));
    let endless = ListeningSettings {
        looped: true,
        ..settings(expansion(10.0), 1.0)
    };
    assert_eq!(refused(&endless), ListeningError::Endless);
}
