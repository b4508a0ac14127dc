//! Files that are made up for the tests of this room: what is left of recordings, without any recording.

#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use super::*;
use crate::pulse::Verdict;
use crate::recording::{Stamp, StampOrigin};

/// A recording of 5 s of recorder FEN-07 at a local time of an hour ahead of UTC, with nothing in it.
pub(super) fn content(local: &str) -> Content {
    Content {
        start: Some(Stamp {
            local: local.to_owned(),
            utc_offset_min: Some(60),
            origin: StampOrigin::Guano,
        }),
        duration_s: 5.0,
        rate_hz: 384_000.0,
        expansion: 1.0,
        channels: 1,
        encoding: "16-bit PCM".to_owned(),
        serial: Some("FEN-07".to_owned()),
        level_db: Some(-40.0),
        noise_db: vec![-75.0; 19],
        ..Content::default()
    }
}

/// The same with a pass of ten pulses at 45 kHz.
pub(super) fn with_pass(local: &str) -> Content {
    Content {
        verdict: Verdict::HoldsPulses,
        pulses: 10,
        best_snr_db: Some(30.0),
        highest_khz: Some(72.0),
        passes: vec![PassFacts {
            start_s: 1.0,
            end_s: 1.9,
            pulses: 10,
            interval_ms: Some(95.0),
            peak_khz: 45.0,
            characteristic_khz: 45.0,
            end_khz: 45.0,
            duration_ms: 5.5,
            snr_db: 30.0,
            buzzes: 0,
        }],
        level_db: Some(-12.0),
        ..content(local)
    }
}

/// A file of such content. What it is known by follows from its path.
pub(super) fn file(path: &str, content: Content) -> CardFile {
    let mut hash = crate::recording::ContentHash::default();
    while !hash.step(&path.as_bytes()).unwrap() {}
    CardFile {
        path: path.to_owned(),
        modified_ms: None,
        examined: Examined {
            form: FORM,
            sha256: hash.hex(),
            bytes: 3_840_044,
            outcome: Outcome::Read(Box::new(content)),
        },
    }
}

/// A night of recorder FEN-07, of so many contents.
pub(super) fn night(
    contents: impl IntoIterator<Item = Content>,
    settings: &NightSettings,
) -> Night {
    let mut card = Card::default();
    for (number, content) in contents.into_iter().enumerate() {
        card.take(file(&format!("FEN-07/{number:05}.wav"), content));
    }
    card.nights(settings).0.swap_remove(0)
}

fn local() -> NightSettings {
    NightSettings {
        utc_offset_min: 60,
        ..NightSettings::default()
    }
}

#[test]
fn files_part_into_nights_of_recorders_in_order_of_time() {
    let mut card = Card::default();
    card.take(file("b/2.wav", content("2026-06-15T03:00:00")));
    card.take(file("b/1.wav", content("2026-06-14T22:00:00")));
    let other = Content {
        serial: Some("FEN-02".to_owned()),
        ..content("2026-06-14T23:00:00")
    };
    card.take(file("a/1.wav", other));
    card.take(file("b/3.wav", content("2026-06-13T15:00:00")));
    let (nights, unplaced) = card.nights(&local());
    let keys: Vec<_> = nights
        .iter()
        .map(|night| (night.key.evening.as_str(), night.key.recorder.as_str()))
        .collect();
    assert_eq!(
        keys,
        [
            ("2026-06-13", "FEN-07"),
            ("2026-06-14", "FEN-02"),
            ("2026-06-14", "FEN-07")
        ]
    );
    let paths: Vec<_> = nights[2]
        .files
        .iter()
        .map(|own| own.file.path.as_str())
        .collect();
    assert_eq!(paths, ["b/1.wav", "b/2.wav"]);
    assert!(unplaced.is_empty());
}

#[test]
fn a_broken_file_is_placed_by_its_name_with_the_recorder_of_its_folder() {
    let mut card = Card::default();
    card.take(file(
        "x/20260614_220000.wav",
        content("2026-06-14T22:00:00"),
    ));
    card.take(CardFile::unreadable(
        "x/20260614_221000.wav".to_owned(),
        0,
        Some(0.0),
        "the file is empty".to_owned(),
        String::new(),
    ));
    let (nights, _) = card.nights(&local());
    assert_eq!(nights.len(), 1);
    let broken = &nights[0].files[1];
    assert_eq!(broken.time.origin, TimeOrigin::FileName);
    assert_eq!(broken.time.start.local(60), "2026-06-14T22:10:00");
    assert!(broken.counted().is_none());
}

#[test]
fn a_broken_file_belongs_to_the_recorder_of_the_nearest_folder() {
    let of = |serial: &str| Content {
        serial: Some(serial.to_owned()),
        ..content("2026-06-14T22:00:00")
    };
    let mut card = Card::default();
    card.take(file("x/a/1.wav", of("A")));
    card.take(file("x/a/2.wav", of("A")));
    card.take(file("x/b/1.wav", of("B")));
    for path in [
        "x/b/20260614_221000.wav",
        "x/b/more/20260614_222000.wav",
        "x/20260614_223000.wav",
    ] {
        let (message, advice) = ("the file is empty".to_owned(), String::new());
        card.take(CardFile::unreadable(
            path.to_owned(),
            0,
            None,
            message,
            advice,
        ));
    }
    let (nights, unplaced) = card.nights(&local());
    let of = |recorder: &str| {
        let night = nights.iter().find(|night| night.key.recorder == recorder);
        let files = night.unwrap().files.iter();
        let broken = files.filter(|own| own.counted().is_none());
        broken.map(|own| own.file.path.clone()).collect::<Vec<_>>()
    };
    assert_eq!(of("A"), ["x/20260614_223000.wav"]);
    assert_eq!(
        of("B"),
        ["x/b/20260614_221000.wav", "x/b/more/20260614_222000.wav"]
    );
    assert_eq!((nights.len(), unplaced.len()), (2, 0));
}

#[test]
fn the_clocks_error_is_taken_off_and_the_original_kept() {
    let wrong = NightSettings {
        clock: ClockError {
            at_setup_s: 3600.0,
            at_collection_s: Some(3660.0),
        },
        ..local()
    };
    let contents = ["2026-06-14T22:00:00", "2026-06-15T04:00:00"].map(content);
    let night = night(contents, &wrong);
    let starts: Vec<_> = night
        .files
        .iter()
        .map(|own| own.time.start.local(60))
        .collect();
    assert_eq!(starts, ["2026-06-14T21:00:00", "2026-06-15T02:59:00"]);
    assert_eq!(night.files[1].time.original, "2026-06-15T04:00:00+01:00");
}

#[test]
fn a_clock_without_a_zone_runs_in_the_nights_own() {
    let unzoned = |mut content: Content| {
        content.start.as_mut().unwrap().utc_offset_min = None;
        content
    };
    let night = night([unzoned(content("2026-06-14T22:00:00"))], &local());
    assert_eq!(
        night.files[0].time.start.iso(0),
        "2026-06-14T21:00:00+00:00"
    );
}

#[test]
fn a_date_of_a_file_is_the_last_resort_and_weak() {
    let mut card = Card::default();
    let silent = Content {
        start: None,
        ..content("")
    };
    let written = Moment::from_local("2026-06-14T22:00:05", 60).unwrap();
    card.take(CardFile {
        modified_ms: Some(written.utc_s() * 1e3),
        ..file("x/a.wav", silent.clone())
    });
    card.take(file("x/b.wav", silent));
    let (nights, unplaced) = card.nights(&local());
    let dated = &nights[0].files[0].time;
    assert!(dated.origin.is_weak());
    assert_eq!(dated.start.local(60), "2026-06-14T22:00:00");
    assert_eq!(unplaced.len(), 1);
}

#[test]
fn the_same_content_counts_once() {
    let mut card = Card::default();
    let one = file("b/1.wav", with_pass("2026-06-14T22:00:00"));
    card.take(one.clone());
    card.take(CardFile {
        path: "a/copy.wav".to_owned(),
        ..one
    });
    let (nights, _) = card.nights(&local());
    let counted: Vec<_> = nights[0]
        .files
        .iter()
        .map(|own| own.counted().is_some())
        .collect();
    assert_eq!(counted, [true, false]);
    assert_eq!(nights[0].files[1].copy_of.as_deref(), Some("a/copy.wav"));
}

/// A whole file through all steps.
#[test]
fn an_examination_tells_what_is_in_a_file_and_what_is_broken() {
    let sample = &crate::teach::larkwater_fen()[0];
    let finished = examined(sample.wav().unwrap());
    let content = finished.examined.content().unwrap().clone();
    assert_eq!(content.verdict, Verdict::HoldsPulses);
    assert_eq!(content.pulses as usize, finished.findings.pulses.len());
    assert_eq!(
        content.passes.len(),
        finished.findings.summary.sequences.len()
    );
    assert!((content.passes[0].peak_khz - 46.0).abs() < 3.0);
    // The hiss of the samples has -62 dB in all 128 kHz (with its slope, within 3 dB), a tenth of it in a band.
    assert_eq!(content.noise_db.len(), 12);
    assert!(
        (content.noise_db[3] + 73.0).abs() < 3.0,
        "{:?}",
        content.noise_db
    );
    assert!(content.level_db.unwrap() < -5.0);

    let empty = examined(Vec::new());
    assert!(matches!(empty.examined.outcome, Outcome::Broken { .. }));
    assert_eq!(empty.examined.sha256.len(), 64);
}

#[test]
fn a_hash_that_is_told_is_taken_and_what_is_none_is_not() {
    let bytes = crate::teach::larkwater_fen()[0].wav().unwrap();
    let own = examined(bytes.clone()).examined;
    let told = |sha256: &str| {
        let mut examination = Examination::new(bytes.clone(), ExamineOptions::default());
        examination.tell_hash(sha256);
        while !examination.step().unwrap() {}
        examination.into_finished().unwrap().examined
    };
    assert_eq!(told(&own.sha256), own);
    assert_eq!(told(&own.sha256.to_uppercase()), own);
    let other = "0".repeat(64);
    assert_eq!(told(&other).sha256, other);
}

fn examined(bytes: Vec<u8>) -> Finished {
    let mut examination = Examination::new(bytes, ExamineOptions::default());
    while !examination.step().unwrap() {}
    examination.into_finished().unwrap()
}

#[test]
fn what_is_kept_as_text_comes_back_the_same() {
    let examined = file("a.wav", with_pass("2026-06-14T22:00:00")).examined;
    let text = examined.to_text().unwrap();
    assert_eq!(Examined::from_text(&text), Some(examined.clone()));
    let older = Examined {
        form: FORM - 1,
        ..examined
    };
    assert_eq!(Examined::from_text(&older.to_text().unwrap()), None);
    assert_eq!(Examined::from_text("{"), None);
}

mod listed {
    use super::*;
    use crate::night::list::{Group, Order, Wanted, row, wanted};

    fn some() -> (Vec<Night>, Decisions) {
        let low = |local| {
            let mut content = with_pass(local);
            content.passes[0].characteristic_khz = 25.0;
            content.buzzes = 1;
            content
        };
        let contents = [
            content("2026-06-14T22:00:00"),
            with_pass("2026-06-14T22:10:00"),
            low("2026-06-14T22:20:00"),
            with_pass("2026-06-14T22:30:00"),
        ];
        let night = night(contents, &local());
        let sha256 = night.files[3].file.examined.sha256.clone();
        let review = Review {
            verdict: ReviewVerdict::Bat,
            who: String::new(),
            when: "2026-06-15T09:00:00+01:00".to_owned(),
        };
        let decisions = Decisions {
            reviews: [(sha256, review)].into(),
            ..Decisions::default()
        };
        (vec![night], decisions)
    }

    /// The numbers of the files that are wanted.
    fn asked(narrowed: Wanted) -> Vec<usize> {
        let (nights, decisions) = some();
        let places = wanted(&nights, &decisions, &narrowed);
        places.iter().map(|place| place.file).collect()
    }

    #[test]
    fn it_is_narrowed_by_group_time_frequency_buzz_and_review() {
        let all = Wanted::default;
        assert_eq!(asked(all()), [0, 1, 2, 3]);
        assert_eq!(
            asked(Wanted {
                groups: vec![Group::ProbablyNone],
                ..all()
            }),
            [0]
        );
        let at = |text| Moment::from_local(text, 60);
        let quarter = Wanted {
            from: at("2026-06-14T22:10:00"),
            to: at("2026-06-14T22:30:00"),
            ..all()
        };
        assert_eq!(asked(quarter), [1, 2]);
        assert_eq!(
            asked(Wanted {
                low_khz: Some(40.0),
                ..all()
            }),
            [1, 3]
        );
        assert_eq!(
            asked(Wanted {
                high_khz: Some(30.0),
                ..all()
            }),
            [2]
        );
        assert_eq!(
            asked(Wanted {
                buzzes: true,
                ..all()
            }),
            [2]
        );
        assert_eq!(
            asked(Wanted {
                reviewed: Some(false),
                ..all()
            }),
            [0, 1, 2]
        );
        assert_eq!(
            asked(Wanted {
                path: "0002.WAV".to_owned(),
                ..all()
            }),
            [2]
        );
        assert_eq!(
            asked(Wanted {
                label: Some(String::new()),
                ..all()
            }),
            [0, 1, 2, 3]
        );
    }

    #[test]
    fn it_is_put_in_order_and_turned_round() {
        let by = |order, descending| {
            asked(Wanted {
                order,
                descending,
                ..Wanted::default()
            })
        };
        assert_eq!(by(Order::Frequency, false), [0, 2, 1, 3]);
        assert_eq!(by(Order::Frequency, true), [3, 1, 2, 0]);
        let (nights, _) = some();
        let sha256 = |at: usize| nights[0].files[at].file.examined.sha256.clone();
        let drawn = Wanted {
            contents: Some(vec![sha256(2), sha256(0)]),
            order: Order::Asked,
            ..Wanted::default()
        };
        assert_eq!(asked(drawn), [2, 0]);
    }

    #[test]
    fn a_row_says_what_there_is_to_know() {
        let (nights, decisions) = some();
        let row = row(&nights[0], &nights[0].files[3], &decisions);
        assert_eq!(
            (row.passes, row.khz, row.snr_db),
            (1, Some(45.0), Some(30.0))
        );
        assert_eq!(row.local, "2026-06-14T22:30:00");
        assert_eq!(row.review, Some(ReviewVerdict::Bat));
    }
}

/// Sunset and sunrise are those of the reference table (skyfield 1.55 with DE421), London: 20:21:38 UTC on the evening, 03:43:12 on
/// the morning of 21 June 2024, and hardly another on the next.
#[test]
fn a_timer_goes_by_the_sun_of_the_place() {
    let settings = NightSettings {
        position: Some(Position {
            latitude_deg: 51.5074,
            longitude_deg: -0.1278,
            accuracy_m: None,
        }),
        timer: Some(Timer {
            from: TimerEdge::Sunset { offset_min: -30 },
            to: TimerEdge::Clock { minute: 300 },
        }),
        ..local()
    };
    let night = night([content("2024-06-21T23:00:00")], &settings);
    let frame = night.frame();
    let twilight = frame.twilight.unwrap();
    assert_eq!(twilight.sunset.unwrap().clock(0), "20:21");
    assert_eq!(twilight.sunrise.unwrap().clock(0), "03:43");
    let planned = frame.planned.unwrap();
    assert_eq!(planned.from.clock(60), "20:51");
    assert_eq!(planned.to.local(60), "2024-06-22T05:00:00");
    assert_eq!(frame.recorded.unwrap().hours(), 5.0 / 3600.0);
}
