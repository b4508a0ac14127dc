//! What files say of themselves, and the time expansion that follows from it.

use super::build::{Wav, bext, info, pcm16};
use super::{facts, says};
use crate::recording::{ExpansionOrigin, Facts, Field, OpenOptions, Recording, Stamp, StampOrigin};

/// The facts of a short file with one metadata chunk after its samples.
fn with(rate_hz: u32, id: &[u8; 4], body: &[u8]) -> Facts {
    facts(
        Wav::mono16(rate_hz)
            .chunk(b"data", &pcm16(&[0; 100]))
            .chunk(id, body)
            .build(),
    )
}

fn guano(rate_hz: u32, lines: &str) -> Facts {
    with(
        rate_hz,
        b"guan",
        format!("GUANO|Version: 1.0\n{lines}\n").as_bytes(),
    )
}

#[test]
fn every_known_field_finds_its_place() {
    let facts = guano(
        384_000,
        "Timestamp: 2026-06-14T22:41:05.250+01:00\nMake: Alder Works\nModel: Heron 2\nSerial: 0017\n\
         Firmware Version: 3.1\nLoc Position: 52.61 -1.07\nLoc Elevation: 71.5\nLoc Accuracy: 4\n\
         Temperature Ext: 14.5\nTemperature Int: 17,25\nHumidity: 88\nFilter HP: 8\nFilter LP: 150\n\
         Note: by the sluice\\nsecond night\nSpecies Manual ID: Pippip, Nyclei\n\
         Species Auto ID: Pippyg\nTags: fen, water \nUser|Observer: W. Sedge: warden\nLength: 1.5",
    );
    assert_eq!(
        facts.start,
        Some(Stamp {
            local: "2026-06-14T22:41:05.250".into(),
            utc_offset_min: Some(60),
            origin: StampOrigin::Guano,
        })
    );
    let place = facts.place.unwrap();
    assert_eq!((place.latitude_deg, place.longitude_deg), (52.61, -1.07));
    assert_eq!(
        (place.elevation_m, place.accuracy_m),
        (Some(71.5), Some(4.0))
    );
    assert_eq!(facts.make.as_deref(), Some("Alder Works"));
    assert_eq!(facts.model.as_deref(), Some("Heron 2"));
    assert_eq!(facts.serial.as_deref(), Some("0017"));
    assert_eq!(facts.firmware.as_deref(), Some("3.1"));
    assert_eq!(
        (facts.temperature_c, facts.temperature_inside_c),
        (Some(14.5), Some(17.25))
    );
    assert_eq!(facts.humidity_percent, Some(88.0));
    assert_eq!(
        (facts.high_pass_khz, facts.low_pass_khz),
        (Some(8.0), Some(150.0))
    );
    assert_eq!(facts.note.as_deref(), Some("by the sluice\nsecond night"));
    let names: Vec<_> = facts
        .identifications
        .iter()
        .map(|id| (id.name.as_str(), id.by_person))
        .collect();
    assert_eq!(
        names,
        [("Pippip", true), ("Nyclei", true), ("Pippyg", false)]
    );
    assert_eq!(facts.tags, ["fen", "water"]);
    let other: Vec<_> = facts
        .other
        .iter()
        .map(|field| (field.key.as_str(), field.value.as_str()))
        .collect();
    assert_eq!(
        other,
        [
            ("GUANO|Version", "1.0"),
            ("User|Observer", "W. Sedge: warden"),
            ("Length", "1.5")
        ]
    );
    assert_eq!(facts.notices, []);
}

#[test]
fn faults_become_notices_and_values_stay_among_the_others() {
    let facts = guano(
        384_000,
        "Timestamp: last night\nHumidity: 180\nLoc Position: 0.0 0.0\nno colon here\n\
         Temperature Ext: NaN\nMake: First\nMake: Second",
    );
    assert_eq!(
        (facts.start.as_ref(), facts.place, facts.temperature_c),
        (None, None, None)
    );
    for words in [
        ["Timestamp: last night", "cannot be right"],
        ["Humidity: 180", "cannot be right"],
        ["Loc Position: 0.0 0.0", "cannot be right"],
        ["1 line without", "skipped"],
        ["`Make`", "more than once"],
    ] {
        assert!(says(&facts, &words), "{words:?} in {:?}", facts.notices);
    }
    assert_eq!(facts.make.as_deref(), Some("First"));
    assert!(facts.other.contains(&Field {
        key: "Make".into(),
        value: "Second".into()
    }));
    assert!(facts.other.contains(&Field {
        key: "Humidity".into(),
        value: "180".into()
    }));
}

#[test]
fn absurdly_long_metadata_are_refused_without_being_read() {
    let body = vec![b' '; (16 << 20) + 2];
    let facts = with(384_000, b"guan", &body);
    assert!(says(&facts, &["16 MiB", "not read"]));
    assert_eq!(facts.other, []);
}

#[test]
fn bext_gives_the_start_where_guano_does_not() {
    let body = bext("Larkwater Fen, sluice", "2026-06-14", "22:41:05");
    let facts = with(384_000, b"bext", &body);
    let start = facts.start.unwrap();
    assert_eq!(
        (start.local.as_str(), start.utc_offset_min),
        ("2026-06-14T22:41:05", None)
    );
    assert_eq!(start.origin, StampOrigin::Bext);
    assert_eq!(
        facts.other,
        [Field {
            key: "bext|Description".into(),
            value: "Larkwater Fen, sluice".into()
        }]
    );
}

#[test]
fn guano_wins_over_bext_whichever_comes_first() {
    let file = Wav::mono16(384_000)
        .chunk(b"bext", &bext("", "2026-06-14", "22:00:00"))
        .chunk(
            b"guan",
            b"GUANO|Version: 1.0\nTimestamp: 2026-06-14T22:41:05Z\n",
        )
        .chunk(b"data", &pcm16(&[0; 4]))
        .build();
    let facts = facts(file);
    assert_eq!(facts.start.unwrap().local, "2026-06-14T22:41:05");
    assert!(
        facts
            .other
            .iter()
            .any(|field| field.key == "bext|OriginationTime")
    );
}

#[test]
fn info_gives_note_start_and_the_rest_as_it_stands() {
    let body = info(&[
        (b"ICMT", b"warm, still\0"),
        (b"ICRD", b"2026-06-14 22:41:05"),
        (b"ISFT", b"Heron\0"),
        (b"IART", b"Caf\xe9"),
    ]);
    let facts = with(384_000, b"LIST", &body);
    assert_eq!(facts.note.as_deref(), Some("warm, still"));
    assert_eq!(facts.start.unwrap().origin, StampOrigin::Info);
    assert_eq!(
        facts.other,
        [
            Field {
                key: "INFO|ISFT".into(),
                value: "Heron".into()
            },
            Field {
                key: "INFO|IART".into(),
                value: "Café".into()
            }
        ]
    );
}

fn expansion(facts: &Facts) -> (f64, ExpansionOrigin, f64) {
    (
        facts.expansion.factor,
        facts.expansion.origin,
        facts.rate_hz,
    )
}

#[test]
fn metadata_give_true_rates_and_times() {
    use ExpansionOrigin::{Assumed, Metadata};
    for (stored, lines, wanted) in [
        (50_000, "TE: 10", (10.0, Metadata, 500_000.0)),
        (44_100, "Samplerate: 441000", (10.0, Metadata, 441_000.0)),
        (
            50_000,
            "TE: 10\nSamplerate: 500000",
            (10.0, Metadata, 500_000.0),
        ),
        (
            50_000,
            "TE: 1\nSamplerate: 500000",
            (10.0, Metadata, 500_000.0),
        ),
        (
            50_000,
            "TE: 10\nSamplerate: 50000",
            (10.0, Metadata, 500_000.0),
        ),
        (
            500_000,
            "TE: 10\nSamplerate: 500000",
            (1.0, Metadata, 500_000.0),
        ),
        (384_000, "Samplerate: 384000", (1.0, Metadata, 384_000.0)),
        (384_000, "Samplerate: 192000", (1.0, Assumed, 384_000.0)),
        (384_000, "TE: 10", (1.0, Assumed, 384_000.0)),
        (384_000, "Samplerate: 3840000", (1.0, Assumed, 384_000.0)),
        (384_000, "Make: Alder Works", (1.0, Assumed, 384_000.0)),
    ] {
        let facts = guano(stored, lines);
        assert_eq!(expansion(&facts), wanted, "{stored} Hz, {lines}");
        assert_eq!(facts.duration_s, 100.0 / wanted.2);
        assert_eq!(facts.stored_rate_hz, f64::from(stored));
        assert_eq!(facts.expansion_guess, None);
    }
}

#[test]
fn a_rate_that_no_whole_factor_explains_is_applied_and_mentioned() {
    let facts = guano(44_100, "Samplerate: 384000");
    assert_eq!(facts.rate_hz.round(), 384_000.0);
    assert!(says(
        &facts,
        &["44100 Hz", "384000 Hz", "metadata were believed"]
    ));
}

#[test]
fn what_would_make_an_impossible_rate_is_left_aside_and_mentioned() {
    for (stored, lines, what) in [
        (384_000, "TE: 10", "expansion of 10"),
        (384_000, "Samplerate: 3840000", "3840000 Hz"),
        (500_000, "TE: 10\nSamplerate: 500000", "expansion of 10"),
    ] {
        let facts = guano(stored, lines);
        assert!(says(&facts, &[what, "not applied"]), "{:?}", facts.notices);
    }
}

#[test]
fn the_person_wins_over_the_metadata() {
    let file = Wav::mono16(50_000)
        .chunk(b"guan", b"GUANO|Version: 1.0\nTE: 10\n")
        .chunk(b"data", &pcm16(&[0; 4]))
        .build();
    let recording = Recording::open(
        file,
        &OpenOptions {
            expansion: Some(8.0),
        },
    )
    .unwrap();
    assert_eq!(
        expansion(recording.facts()),
        (8.0, ExpansionOrigin::Person, 400_000.0)
    );
}

#[test]
fn an_audio_rate_without_metadata_is_only_guessed_at() {
    let bare = |rate| facts(Wav::mono16(rate).chunk(b"data", &pcm16(&[0; 4])).build());
    for rate in [22_050, 44_100, 50_000] {
        let facts = bare(rate);
        assert_eq!(
            expansion(&facts),
            (1.0, ExpansionOrigin::Assumed, f64::from(rate))
        );
        let guess = facts.expansion_guess.unwrap();
        assert_eq!(guess.factor, 10.0);
        assert!(
            guess
                .reason
                .contains(&format!("{} kHz", f64::from(rate) / 1e3))
        );
    }
    assert_eq!(bare(96_000).expansion_guess, None);
    assert_eq!(bare(384_000).expansion_guess, None);
}
