#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a failed test may panic"
)]

use super::message::Message;
use super::sound::{MOST_FRAMES, Sound};
use super::*;
use crate::pulse::{self, Settings};
use crate::recording::{Certainty, Label, OpenOptions, Place, Recording, Span};
use crate::teach::larkwater_fen;
use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use proptest::prelude::*;
use std::sync::OnceLock;

/// Pulses of the first sample and a recording to take them from.
struct Fen {
    recording: Recording<Vec<u8>>,
    pulses: Vec<NamedPulse>,
}

fn fen() -> &'static Fen {
    static FEN: OnceLock<Fen> = OnceLock::new();
    FEN.get_or_init(|| {
        let bytes = larkwater_fen()[0].wav().unwrap();
        let recording = Recording::open(bytes, &OpenOptions { expansion: None }).unwrap();
        let findings = pulse::measure(&recording, 0, &Settings::default()).unwrap();
        let named = (1..)
            .zip(findings.pulses)
            .map(|(number, pulse)| NamedPulse {
                name: number.to_string(),
                pulse,
            });
        Fen {
            pulses: named.collect(),
            recording,
        }
    })
}

fn order(pulses: &[NamedPulse]) -> CallOrder {
    CallOrder {
        pulses: pulses.to_vec(),
        numbers: true,
        content: CallContent::default(),
        most_chars: 2000,
    }
}

fn made(order: CallOrder) -> MadeLink {
    let recording = &fen().recording;
    let mut making = Making::new(order, recording.rate_hz(), recording.frames()).unwrap();
    let mut samples = Vec::new();
    while let Some(block) = making.next_block() {
        recording.read(0, block, &mut samples).unwrap();
        making.feed(&samples);
    }
    while !making.step() {}
    making.made().unwrap()
}

/// Made once: most tests only want some link.
fn link() -> &'static MadeLink {
    static LINK: OnceLock<MadeLink> = OnceLock::new();
    LINK.get_or_init(|| made(order(&fen().pulses[3..4])))
}

fn message() -> Message {
    Message::from_text(&link().fragment).unwrap()
}

fn refusal(text: &str) -> LinkError {
    ReceivedCall::read(text).unwrap_err()
}

#[test]
fn a_call_arrives_as_it_was_measured() {
    let made = link();
    assert!(made.cost.is_small(), "{:?}", made.cost);
    assert!(made.fragment.len() < 1000, "{}", made.fragment.len());
    let (call, wav) = ReceivedCall::read(&made.fragment).unwrap();
    let recording = Recording::open(wav, &OpenOptions { expansion: None }).unwrap();
    assert_eq!(recording.rate_hz(), fen().recording.rate_hz());
    let findings = pulse::measure(&recording, 0, &Settings::default()).unwrap();
    assert_eq!(findings.pulses.len(), 1);
    let found = &findings.pulses[0];
    let sent = &fen().pulses[3].pulse;
    assert!((found.peak_khz - sent.peak_khz).abs() <= 0.1);
    assert!((found.duration_ms - sent.duration_ms).abs() <= 0.1);
    assert!((found.start_s + call.from_s - sent.start_s).abs() < 5e-5);
    assert!((found.level_db - sent.level_db).abs() < 0.3);
    // The noise has the level that it had, so that the ratio is right as well.
    assert!(
        (found.snr_db - sent.snr_db).abs() < 1.5,
        "{} {}",
        found.snr_db,
        sent.snr_db
    );
    assert_eq!(call.pulses[0].name, "4");
    assert!((f64::from(call.pulses[0].peak_khz) - sent.peak_khz).abs() < 1e-3);
    assert!(call.carried_s[0].0 < f64::from(call.pulses[0].start_s));
}

#[test]
fn a_sequence_keeps_its_intervals() {
    let pulses = &fen().pulses[2..12];
    let made = made(CallOrder {
        most_chars: 16_000,
        ..order(pulses)
    });
    assert!(made.cost.is_small(), "{:?}", made.cost);
    assert!(made.fragment.len() < 16_000, "{}", made.fragment.len());
    let (_, wav) = ReceivedCall::read(&made.fragment).unwrap();
    let recording = Recording::open(wav, &OpenOptions { expansion: None }).unwrap();
    let findings = pulse::measure(&recording, 0, &Settings::default()).unwrap();
    assert_eq!(findings.pulses.len(), pulses.len());
    for (found, sent) in findings.pulses.iter().zip(pulses).skip(1) {
        let (found, sent) = (found.interval_ms.unwrap(), sent.pulse.interval_ms.unwrap());
        assert!((found - sent).abs() < 0.1, "{found} {sent}");
    }
}

#[test]
fn what_was_not_ticked_is_not_in_it() {
    let place = Place {
        latitude_deg: 52.612_34,
        longitude_deg: -1.512_34,
        elevation_m: None,
        accuracy_m: None,
    };
    let with = made(CallOrder {
        content: CallContent {
            file: Some("../fen/<b>7</b>.wav".to_owned()),
            place: Some(place),
            note: Some("What do you\nmake of it?".to_owned()),
            ..CallContent::default()
        },
        ..order(&fen().pulses[3..4])
    });
    let (call, wav) = ReceivedCall::read(&with.fragment).unwrap();
    assert_eq!(call.content.place, Some(place));
    assert_eq!(
        call.content.note.as_deref(),
        Some("What do you\nmake of it?")
    );
    assert_eq!(call.file, "b (call).wav");
    let facts = Recording::open(wav, &OpenOptions { expansion: None })
        .unwrap()
        .facts()
        .clone();
    assert_eq!(facts.place, Some(place));
    assert!(facts.note.unwrap().starts_with("Not an original recording"));
    let bare = made(CallOrder {
        numbers: false,
        ..order(&fen().pulses[3..4])
    });
    let (call, wav) = ReceivedCall::read(&bare.fragment).unwrap();
    assert_eq!(call.content, CallContent::default());
    assert_eq!(call.pulses, []);
    let facts = Recording::open(wav, &OpenOptions { expansion: None })
        .unwrap()
        .facts()
        .clone();
    assert_eq!((facts.place, facts.start, facts.model), (None, None, None));
}

#[test]
fn labels_come_along_on_the_time_of_what_is_sent() {
    let pulse = &fen().pulses[3].pulse;
    let span = |start_s: f64, end_s: f64| Span {
        name: "4".to_owned(),
        channel: 1,
        start_s,
        end_s,
        expansion: 10.0,
    };
    let label = |about: Vec<Span>| Label {
        id: "one".to_owned(),
        when: "2026-06-15T09:30:00+01:00".to_owned(),
        about,
        text: "fen bat".to_owned(),
        certainty: Certainty::Probable,
        note: String::new(),
        who: "A. Recorder".to_owned(),
    };
    let made = made(CallOrder {
        content: CallContent {
            labels: vec![
                label(vec![span(pulse.start_s, pulse.end_s)]),
                label(Vec::new()),
                // Of a pulse that is not sent: it would be one of the whole recording.
                label(vec![span(900.0, 900.1)]),
            ],
            ..CallContent::default()
        },
        ..order(&fen().pulses[3..4])
    });
    let (call, wav) = ReceivedCall::read(&made.fragment).unwrap();
    assert_eq!(call.content.labels.len(), 2);
    let about = &call.content.labels[0].about[0];
    assert!((about.start_s - (pulse.start_s - call.from_s)).abs() < 1e-9);
    assert_eq!((about.channel, about.expansion), (0, 1.0));
    let recording = Recording::open(wav, &OpenOptions { expansion: None }).unwrap();
    assert_eq!(recording.facts().labels, call.content.labels);
}

#[test]
fn it_is_read_from_an_address_and_across_line_breaks() {
    let text = &link().fragment;
    let expected = ReceivedCall::read(text).unwrap();
    let address = format!("https://dusklens.example/fen/#theme=hut&{text}&t=0-1");
    let wrapped: String = address
        .as_bytes()
        .chunks(70)
        .map(|line| format!("{}\r\n", std::str::from_utf8(line).unwrap()))
        .collect();
    for text in [text.trim_start_matches("call="), &address, &wrapped] {
        assert_eq!(ReceivedCall::read(text).unwrap(), expected);
    }
}

#[test]
fn a_link_that_was_cut_says_so() {
    let text = &link().fragment;
    assert_eq!(refusal(""), LinkError::NoCall);
    assert_eq!(refusal("call="), LinkError::NoCall);
    for length in "call=".len() + 1..text.len() {
        assert_eq!(refusal(&text[..length]), LinkError::Damaged, "{length}");
    }
    assert!(matches!(
        refusal(&"A".repeat(500_000)),
        LinkError::TooLong { .. }
    ));
    assert_eq!(refusal("good evening, what is this?"), LinkError::Damaged);
}

/// A link that was given out in form 1. It is never made anew: links lie in people's messages for years.
const FORM_1: &str = include_str!("../../../../tests/data/call_links/form_1.txt");

#[test]
fn a_link_of_the_first_form_stays_readable() {
    let (call, wav) = ReceivedCall::read(FORM_1).unwrap();
    assert_eq!(call.file, "larkwater-fen-01-first-pass (call).wav");
    assert_eq!(call.version, "0.1.0");
    let CallContent {
        start,
        place,
        recorder,
        temperature_c,
        note,
        labels,
        view,
        ..
    } = call.content;
    assert_eq!(start.unwrap().local, "2026-06-14T22:01:05");
    assert!(place.is_some() && view.is_some());
    assert_eq!(recorder.unwrap(), "Reedmace Works (invented) Sedge 1");
    assert_eq!(temperature_c, Some(14.5));
    assert_eq!(note.unwrap(), "What do you make of this one?");
    assert_eq!(
        (labels[0].text.as_str(), labels[0].certainty),
        ("fen bat", Certainty::Possible)
    );
    let recording = Recording::open(wav, &OpenOptions { expansion: None }).unwrap();
    let findings = pulse::measure(&recording, 0, &Settings::default()).unwrap();
    assert_eq!(findings.pulses.len(), 3);
    for (found, sent) in findings.pulses.iter().zip(&call.pulses) {
        assert!((found.peak_khz - f64::from(sent.peak_khz)).abs() <= 0.1);
        assert!((found.duration_ms - f64::from(sent.duration_ms)).abs() <= 0.1);
    }
}

/// A text with a valid checksum around any bytes, as a hostile sender makes it.
fn forged(bytes: &[u8]) -> String {
    let mut bytes = bytes.to_vec();
    bytes.extend(crc32fast::hash(&bytes).to_le_bytes());
    URL_SAFE_NO_PAD.encode(bytes)
}

#[test]
fn a_later_form_is_named() {
    assert_eq!(refusal(&forged(&[2, 1, 2, 3])), LinkError::Version(2));
    assert!(LinkError::Version(2).to_string().contains("number 2"));
}

#[test]
fn what_it_states_is_bounded() {
    let stating = |change: &dyn Fn(&mut Message)| {
        let mut message = message();
        change(&mut message);
        refusal(&message.to_text().unwrap())
    };
    let changes: [&dyn Fn(&mut Message); 7] = [
        // A hundred bytes that claim to be hours.
        &|message| message.sound.frames = u32::MAX,
        &|message| message.sound.frames = MOST_FRAMES + 1,
        &|message| message.sound.frames = 0,
        &|message| message.sound.rate_hz = f64::NAN,
        &|message| message.sound.rate_hz = 1e12,
        &|message| message.from_s = f64::INFINITY,
        &|message| message.pulses[0].peak_khz = f32::NAN,
    ];
    for (number, change) in changes.iter().enumerate() {
        assert!(matches!(stating(change), LinkError::Bounds(_)), "{number}");
    }
}

#[test]
fn the_largest_that_is_read_takes_bounded_memory() {
    let mut message = message();
    message.sound.frames = MOST_FRAMES;
    let (_, wav) = ReceivedCall::read(&message.to_text().unwrap()).unwrap();
    // Three bytes a sample, and some metadata.
    assert!(wav.len() < 3 * MOST_FRAMES as usize + 4000);
}

#[test]
fn too_much_is_refused_before_it_is_read() {
    let mut pulses = fen().pulses[..2].to_vec();
    pulses[1].pulse.end_s = 1000.0;
    let error = Making::new(order(&pulses), 500e3, 600_000_000).unwrap_err();
    assert!(error.to_string().contains("up to 16.8 s"), "{error}");
    assert_eq!(
        Making::new(order(&[]), 500e3, 1000).unwrap_err(),
        LinkError::Nothing
    );
}

proptest! {
    #[test]
    fn no_bytes_do_harm(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        let mut whole = vec![1];
        whole.extend(&bytes);
        // Reading must end with a call or a sentence; a forged checksum opens the way to the inner parts.
        let _ = ReceivedCall::read(&forged(&whole));
        let _ = ReceivedCall::read(&URL_SAFE_NO_PAD.encode(&bytes));
    }

    #[test]
    fn a_whole_message_with_other_bytes_does_no_harm(changes in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..6)) {
        let text = link().fragment.trim_start_matches("call=");
        let mut bytes = URL_SAFE_NO_PAD.decode(text).unwrap();
        bytes.truncate(bytes.len() - 4);
        for (at, byte) in changes {
            let length = bytes.len();
            bytes[at.index(length)] = byte;
        }
        // Its checksum is right, as a hostile sender makes it.
        if let Ok((call, wav)) = ReceivedCall::read(&forged(&bytes)) {
            prop_assert!(wav.len() < 3 * MOST_FRAMES as usize + 100_000);
            prop_assert!(call.pulses.iter().all(|pulse| pulse.peak_khz.is_finite()));
            let opened = Recording::open(wav, &OpenOptions { expansion: None });
            prop_assert!(opened.is_ok());
        }
    }

    #[test]
    fn altered_sound_is_some_sound(bytes in prop::collection::vec(any::<u8>(), 0..200), pieces in prop::collection::vec((0u32..50, 0u32..5000), 0..5)) {
        let mut message = message();
        message.sound = forged_sound(&message.sound, &bytes, &pieces);
        if let Ok(samples) = message.sound.samples() {
            prop_assert_eq!(samples.len(), message.sound.frames as usize);
            prop_assert!(samples.iter().all(|sample| sample.is_finite()));
        }
    }
}

/// A sound with other bytes: written and read as its fields lie in a message.
fn forged_sound(sound: &Sound, bytes: &[u8], pieces: &[(u32, u32)]) -> Sound {
    let mut value = serde_json::to_value(sound).unwrap();
    value["bytes"] = serde_json::to_value(bytes).unwrap();
    value["pieces"] = serde_json::to_value(pieces).unwrap();
    serde_json::from_value(value).unwrap()
}
