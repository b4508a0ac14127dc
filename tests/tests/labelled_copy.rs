//! A copy with labels is what other people's readers were shown.
//!
//! `tests/data/wav_labelled.wav` was made by the writer that is tested here, and `tests/data/check_labelled_copy.py` has had
//! the `guano` reference package, libsndfile and scipy read it: fields, samples, chunks. As long as the writer makes the
//! same bytes, what they said still holds.

use std::error::Error;
use std::fs;
use std::path::Path;

use dusklens_core::recording::{Certainty, Label, OpenOptions, Recording, Span};

fn labels() -> Vec<Label> {
    let label = |id: &str, text: &str, certainty, about| Label {
        id: id.to_owned(),
        when: "2026-06-14T23:05:00+01:00".to_owned(),
        about,
        text: text.to_owned(),
        certainty,
        note: "steep | then level:\n\"like a hook\", 蝙蝠".to_owned(),
        who: "Ann of Larkwater Fen".to_owned(),
    };
    let pulse = Span {
        name: "1".to_owned(),
        channel: 0,
        start_s: 0.000_1,
        end_s: 0.000_512_345_678_9,
        expansion: 1.0,
    };
    vec![
        label("a1", "Fen bat, small", Certainty::Sure, Vec::new()),
        label("b2", "Fen bat? low", Certainty::Possible, vec![pulse]),
    ]
}

#[test]
fn the_writer_makes_what_other_readers_have_read() -> Result<(), Box<dyn Error>> {
    let data = Path::new(env!("CARGO_MANIFEST_DIR")).join("data");
    let original = fs::read(data.join("wav_guano_384k_x1.wav"))?;
    let recording = Recording::open(original, &OpenOptions::default())?;
    let mut written = Vec::new();
    let copy = recording.labelled_copy(&labels(), "0.1.0")?;
    copy.write_to(recording.source(), &mut written)?;
    // For who changes the writer: look at it with the script, then put it into the data.
    let beside = Path::new(env!("CARGO_TARGET_TMPDIR")).join("wav_labelled.wav");
    fs::write(&beside, &written)?;
    let checked = fs::read(data.join("wav_labelled.wav"))?;
    assert!(written == checked, "{} is another", beside.display());
    let read = Recording::open(written, &OpenOptions::default())?;
    assert_eq!(read.facts().labels, labels());
    Ok(())
}
