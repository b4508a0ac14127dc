//! Copies with labels: what is written is read, and nothing else changes.

use proptest::prelude::*;

use super::build::{PCM, Wav, bext, ds64, format, info, pcm16};
use super::{facts, open};
use crate::recording::{Certainty, CopyError, Label, OpenOptions, Recording, Span};

const GUANO: &str = "GUANO|Version: 1.0\nLoc Position: 52.4 -1.2\nUser|Odd | key:  a: b\nnot a field\nNote: fen\\nwater";

fn label(text: &str) -> Label {
    Label {
        id: "a1".to_owned(),
        when: "2026-06-14T22:41:05+01:00".to_owned(),
        about: Vec::new(),
        text: text.to_owned(),
        certainty: Certainty::Probable,
        note: "two | three\nlines: of \"note\"".to_owned(),
        who: "Ann".to_owned(),
    }
}

fn copied(original: &[u8], labels: &[Label]) -> Result<Vec<u8>, CopyError> {
    let recording = open(original.to_vec()).unwrap();
    let copy = recording.labelled_copy(labels, "0.1.0")?;
    let mut bytes = Vec::new();
    copy.write_to(recording.source(), &mut bytes).unwrap();
    Ok(bytes)
}

/// Every chunk as the standard has it: id, length, body, pad byte (Microsoft/IBM 1991; EBU Tech 3306 for `ds64`). Strict,
/// and no code of the reader's.
fn strict_chunks(bytes: &[u8]) -> Vec<([u8; 4], Vec<u8>)> {
    let word = |at: usize| u32::from_le_bytes(bytes[at..at + 4].try_into().unwrap());
    let long = |at: usize| u64::from_le_bytes(bytes[at..at + 8].try_into().unwrap());
    let wide = bytes.starts_with(b"RF64") || bytes.starts_with(b"BW64");
    let whole = if wide {
        assert_eq!((word(4), &bytes[12..16]), (u32::MAX, b"ds64".as_slice()));
        long(20)
    } else {
        u64::from(word(4))
    };
    assert_eq!(whole, bytes.len() as u64 - 8, "the container's length");
    let mut chunks = Vec::new();
    let mut at = 12;
    while at < bytes.len() {
        let id: [u8; 4] = bytes[at..at + 4].try_into().unwrap();
        let mut size = word(at + 4) as usize;
        if wide && &id == b"data" && word(at + 4) == u32::MAX {
            size = long(28) as usize;
        }
        chunks.push((id, bytes[at + 8..at + 8 + size].to_vec()));
        if size % 2 == 1 && at + 8 + size < bytes.len() {
            assert_eq!(bytes[at + 8 + size], 0, "the pad byte");
        }
        at += 8 + size + size % 2;
    }
    chunks
}

fn others(chunks: &[([u8; 4], Vec<u8>)]) -> Vec<&([u8; 4], Vec<u8>)> {
    chunks
        .iter()
        .filter(|(id, _)| !matches!(id, b"guan" | b"ds64"))
        .collect()
}

/// What holds of every copy of a file whose structure is as the standard has it.
fn check(original: &[u8], labels: &[Label]) {
    let copy = copied(original, labels).unwrap();
    let (was, is) = (facts(original.to_vec()), facts(copy.clone()));
    assert_eq!(is.labels, labels);
    assert_eq!(
        others(&strict_chunks(original)),
        others(&strict_chunks(&copy))
    );
    assert_eq!(
        (was.place, &was.note, &was.tags),
        (is.place, &is.note, &is.tags)
    );
    // A copy of a copy: the same again, and without labels what was there before.
    assert_eq!(copied(&copy, labels).unwrap(), copy);
    let bare = facts(copied(&copy, &[]).unwrap());
    let other = |facts: &crate::recording::Facts| {
        let version = |key: &str| key == "GUANO|Version";
        facts
            .other
            .iter()
            .filter(|field| !version(&field.key))
            .cloned()
            .collect::<Vec<_>>()
    };
    assert_eq!((&bare.labels, other(&bare)), (&Vec::new(), other(&was)));
    let by_person = |facts: &crate::recording::Facts| -> Vec<String> {
        let names = facts.identifications.iter().filter(|one| one.by_person);
        names.map(|one| one.name.clone()).collect()
    };
    assert_eq!(by_person(&bare), distinct(by_person(&was)));
    assert!(by_person(&is).starts_with(&by_person(&bare)));
}

fn distinct(names: Vec<String>) -> Vec<String> {
    let mut seen = std::collections::HashSet::new();
    names
        .into_iter()
        .filter(|name| seen.insert(name.clone()))
        .collect()
}

#[test]
fn the_standards_field_holds_the_words_and_other_lines_stay() {
    let original = Wav::mono16(384_000)
        .chunk(
            b"guan",
            format!("{GUANO}\nSpecies Manual ID: low one, owl\r\nTE: 1\0\0").as_bytes(),
        )
        .chunk(b"data", &pcm16(&[1, 2, 3]))
        .build();
    let labels = [label("Fen bat, small"), label("owl")];
    let copy = copied(&original, &labels).unwrap();
    let guan = strict_chunks(&copy)
        .into_iter()
        .find(|(id, _)| id == b"guan")
        .unwrap()
        .1;
    let text = String::from_utf8(guan).unwrap();
    let (before, ours) = text.split_once("Dusklens|Version: 0.1.0\n").unwrap();
    assert_eq!(
        before,
        format!("{GUANO}\nSpecies Manual ID: low one, owl, Fen bat; small\nTE: 1\n")
    );
    let (others, ours) = ours.split_once('\n').unwrap();
    assert_eq!(others, "Dusklens|Manual ID Before: low one, owl");
    assert_eq!(ours.lines().count(), 1);
    assert!(ours.starts_with("Dusklens|Labels: [{\"id\":\"a1\""));
    check(&original, &labels);
}

#[test]
fn a_file_without_metadata_gets_a_chunk_of_its_own_at_the_end() {
    // Three bytes of samples in 8 bits, whose pad byte a careless writer left out.
    let original = Wav::riff()
        .chunk(b"fmt ", &format(PCM, 1, 384_000, 8))
        .lying(b"data", 3, &[1, 2, 3])
        .build();
    let copy = copied(&original, &[label("Fen bat")]).unwrap();
    let chunks = strict_chunks(&copy);
    assert_eq!(
        chunks.iter().map(|(id, _)| id).collect::<Vec<_>>(),
        [b"fmt ", b"data", b"guan"]
    );
    assert_eq!(chunks[1].1, [1, 2, 3]);
    assert!(
        chunks[2]
            .1
            .starts_with(b"GUANO|Version: 1.0\nSpecies Manual ID: Fen bat\n")
    );
}

#[test]
fn a_cut_off_file_is_copied_with_the_length_that_is_there() {
    let samples = pcm16(&[5, -6, 7, -8, 9]);
    for stated in [0, 1000, u32::MAX] {
        let original = Wav::mono16(384_000)
            .lying(b"data", stated, &samples)
            .unfinished();
        let recording = open(original.clone()).unwrap();
        let copy = recording.labelled_copy(&[label("x")], "0.1.0").unwrap();
        assert!(
            copy.notices[0].contains("states the 10 bytes that are there"),
            "{stated}"
        );
        let chunks = strict_chunks(&copied(&original, &[label("x")]).unwrap());
        assert_eq!(chunks[1], (*b"data", samples.clone()), "{stated}");
    }
}

#[test]
fn an_unfinished_rf64_file_gets_its_lengths() {
    let samples = pcm16(&[5, -6, 7, -8, 9]);
    let original = Wav::container(b"RF64")
        .chunk(b"ds64", &ds64(0, 0, 0))
        .chunk(b"fmt ", &format(PCM, 1, 384_000, 16))
        .lying(b"data", u32::MAX, &samples)
        .build();
    let copy = copied(&original, &[label("x")]).unwrap();
    assert_eq!(strict_chunks(&copy)[2], (*b"data", samples));
    assert_eq!(facts(copy).labels, [label("x")]);
}

#[test]
fn a_file_whose_structure_is_wrong_is_refused_in_words() {
    let original = Wav::mono16(384_000)
        .chunk(b"data", &pcm16(&[1, 2]))
        .lying(b"LIST", 500, b"INFO")
        .build();
    let error = copied(&original, &[label("x")]).unwrap_err();
    assert!(
        error.to_string().contains("`LIST` states a wrong length"),
        "{error}"
    );
    assert!(error.advice().contains("CSV"));
    let bare = Wav::container(b"RF64")
        .chunk(b"fmt ", &format(PCM, 1, 384_000, 16))
        .chunk(b"data", &pcm16(&[1, 2]))
        .build();
    assert!(
        copied(&bare, &[label("x")])
            .unwrap_err()
            .to_string()
            .contains("`ds64`")
    );
}

/// Of a file that is 4 GiB long, as a source: no byte of it is in memory.
struct Vast {
    head: Vec<u8>,
    length: u64,
}

impl crate::recording::Source for Vast {
    fn len(&self) -> u64 {
        self.length
    }

    fn read_at(&self, offset: u64, buffer: &mut [u8]) -> std::io::Result<()> {
        for (at, byte) in (offset..).zip(buffer.iter_mut()) {
            *byte = self.head.get(at as usize).copied().unwrap_or(0);
        }
        Ok(())
    }
}

#[test]
fn a_vast_file_is_planned_without_being_read_and_one_that_would_not_fit_is_refused() {
    let vast = |room: u64| {
        let length = (1 << 32) - room;
        let data = (length - 44) as u32;
        let head = Wav::mono16(384_000).lying(b"data", data, &[]).build();
        let mut head = head;
        head[4..8].copy_from_slice(&((length - 8) as u32).to_le_bytes());
        Recording::open(Vast { head, length }, &OpenOptions::default()).unwrap()
    };
    let copy = vast(100_000).labelled_copy(&[label("x")], "0.1.0").unwrap();
    assert_eq!(copy.pieces.len(), 4);
    let error = vast(100).labelled_copy(&[label("x")], "0.1.0").unwrap_err();
    assert!(matches!(error, CopyError::TooLong), "{error}");
}

#[test]
fn labels_that_are_none_of_ours_stay_a_field_with_a_notice() {
    let file = Wav::mono16(384_000)
        .chunk(
            b"guan",
            b"GUANO|Version: 1.0\nDusklens|Labels: [{\"id\":7}]",
        )
        .chunk(b"data", &pcm16(&[1]))
        .build();
    let facts = facts(file);
    assert!(facts.labels.is_empty());
    assert_eq!(facts.other[1].value, "[{\"id\":7}]");
    assert!(super::says(&facts, &["Dusklens|Labels", "cannot be right"]));
}

fn any_text() -> impl Strategy<Value = String> {
    prop_oneof![
        any::<String>(),
        "[a-z ,:|\\n\\r\\t\"\\\\\u{feff}\u{0}é蝙🦇-]{0,40}",
    ]
}

prop_compose! {
    fn any_span()(name in "D?[0-9]{1,4}", channel: u16, start_s in 0.0..1e5_f64, long_s in 0.0..1.0_f64, expansion in 1.0..1000.0_f64) -> Span {
        Span { name, channel, start_s, end_s: start_s + long_s, expansion }
    }
}

prop_compose! {
    fn any_label()(
        id in "[0-9a-f]{24}",
        text in any_text(),
        note in any_text(),
        who in any_text(),
        about in prop::collection::vec(any_span(), 0..4),
        certainty in prop::sample::select(vec![Certainty::Sure, Certainty::Probable, Certainty::Possible]),
    ) -> Label {
        Label { id, when: "2026-06-14T22:41:05+01:00".to_owned(), about, text, certainty, note, who }
    }
}

/// A file as the standard has it, of any container and with any chunks in any order.
fn any_file() -> impl Strategy<Value = Vec<u8>> {
    let body = prop::collection::vec(any::<u8>(), 0..60);
    let fields = prop::collection::vec("[A-Za-z|]{1,9}: ?[a-z:é]{0,12}", 0..4);
    let chunk = (0..6_usize, body, fields).prop_map(|(kind, body, fields)| match kind {
        0 => (*b"JUNK", body),
        1 => (*b"abcd", body),
        2 => (*b"bext", bext("x", "2026-06-14", "22:41:05")),
        3 => (*b"LIST", info(&[(b"ICMT", b"odd")])),
        4 => (
            *b"guan",
            format!("{GUANO}\n{}", fields.join("\n")).into_bytes(),
        ),
        _ => (
            *b"guan",
            format!(
                "GUANO|Version: 1.0\nSpecies Manual ID: a, b\n{}\n\0",
                fields.join("\r\n")
            )
            .into_bytes(),
        ),
    });
    let samples = prop::collection::vec(any::<u8>(), 1..200);
    let container = prop::sample::select(vec![*b"RIFF", *b"RF64", *b"BW64"]);
    (
        container,
        samples,
        prop::collection::vec(chunk, 0..6),
        any::<bool>(),
    )
        .prop_flat_map(|(container, samples, mut chunks, elsewhere)| {
            chunks.push((*b"data", samples));
            chunks.push((*b"fmt ", format(PCM, 1, 384_000, 8)));
            Just(chunks).prop_shuffle().prop_map(move |chunks| {
                let wide = &container != b"RIFF";
                let data = chunks
                    .iter()
                    .find(|(id, _)| id == b"data")
                    .map_or(0, |(_, body)| body.len());
                let mut wav = Wav::container(&container);
                if wide {
                    let bodies: usize = chunks
                        .iter()
                        .map(|(_, body)| 8 + body.len().next_multiple_of(2))
                        .sum();
                    wav = wav.chunk(
                        b"ds64",
                        &ds64(4 + 36 + bodies as u64, data as u64, data as u64),
                    );
                }
                let file = chunks.iter().fold(wav, |wav, (id, body)| {
                    if wide && elsewhere && id == b"data" {
                        let wav = wav.lying(id, u32::MAX, body);
                        if body.len() % 2 == 1 {
                            wav.raw(&[0])
                        } else {
                            wav
                        }
                    } else {
                        wav.chunk(id, body)
                    }
                });
                file.build()
            })
        })
}

proptest! {
    #[test]
    fn what_is_written_is_read_and_nothing_else_changes(
        file in any_file(),
        labels in prop::collection::vec(any_label(), 1..4),
    ) {
        check(&file, &labels);
    }

    /// Of broken files there is a copy that reads as the original does, or a refusal in words.
    #[test]
    fn a_broken_file_gives_a_good_copy_or_a_refusal(
        file in any_file(),
        cut in 0..600_usize,
        at in 12..600_usize,
        byte: u8,
        label in any_label(),
    ) {
        let mut file = file;
        file.truncate(file.len().saturating_sub(cut));
        if let Some(place) = file.get_mut(at) {
            *place = byte;
        }
        if let Ok(recording) = open(file)
            && let Ok(copy) = recording.labelled_copy(std::slice::from_ref(&label), "0.1.0")
        {
            let mut bytes = Vec::new();
            copy.write_to(recording.source(), &mut bytes).unwrap();
            prop_assert_eq!(super::facts(bytes.clone()).labels, vec![label]);
            let (mut was, mut is) = (Vec::new(), Vec::new());
            recording.read(0, 0..u64::MAX, &mut was).unwrap();
            open(bytes).unwrap().read(0, 0..u64::MAX, &mut is).unwrap();
            prop_assert_eq!(was, is);
        }
    }
}
