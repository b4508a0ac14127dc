//! In a browser's worker: the same results as natively, files read in slices,
//! and failures that arrive as problems.

#![cfg(target_arch = "wasm32")]
#![allow(clippy::unwrap_used, reason = "a failed test may panic")]

mod common;

use common::{Outcome, assert_same, files, outcome};
use dusklens_core::draw::{ColourMap, Look, View};
use dusklens_core::recording::{Facts, Source};
use dusklens_web::{
    BrowserFile, ExaminingJob, NightBook, OpenedFile, Problem, csv_by_hand, legend,
};
use js_sys::{Array, Reflect, Uint8Array};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};
use web_sys::Blob;

wasm_bindgen_test_configure!(run_in_dedicated_worker);

fn blob(bytes: &[u8]) -> Blob {
    let parts = Array::of1(&Uint8Array::from(bytes));
    Blob::new_with_u8_array_sequence(&parts).unwrap()
}

fn file(name: &str) -> Vec<u8> {
    let (_, bytes) = files()
        .into_iter()
        .find(|(file, _)| file.contains(name))
        .unwrap();
    bytes
}

fn js<T: serde::Serialize>(value: &T) -> JsValue {
    serde_wasm_bindgen::to_value(value).unwrap()
}

/// The problem as the page would catch it.
fn caught<T>(result: Result<T, Problem>) -> Problem {
    let thrown = JsValue::from(result.err().unwrap());
    assert!(
        !thrown.is_instance_of::<js_sys::Error>(),
        "an Error would count as a fault of ours"
    );
    serde_wasm_bindgen::from_value(thrown).unwrap()
}

#[wasm_bindgen_test]
fn it_says_its_version() {
    assert_eq!(dusklens_web::version(), env!("CARGO_PKG_VERSION"));
}

#[wasm_bindgen_test]
fn results_are_those_of_the_native_core() {
    let expected: Vec<Outcome> =
        serde_json::from_str(include_str!("expected/native.json")).unwrap();
    let files = files();
    assert_eq!(files.len(), expected.len());
    for ((file, bytes), expected) in files.iter().zip(&expected) {
        let got = outcome(file, BrowserFile::new(blob(bytes)).unwrap());
        assert_same(&got, expected);
    }
}

#[wasm_bindgen_test]
fn a_file_is_read_in_any_slices() {
    let bytes: Vec<u8> = (0..300_000u32)
        .map(|n| (n.wrapping_mul(n) >> 7) as u8)
        .collect();
    let file = BrowserFile::new(blob(&bytes)).unwrap();
    assert_eq!(file.len(), 300_000);
    // Forth and back, within and across what is read ahead, less and more than that.
    for (start, length) in [
        (0, 12),
        (12, 8),
        (65_530, 12),
        (5, 70_000),
        (299_999, 1),
        (40, 4),
        (1, 0),
        (131_072, 65_535),
    ] {
        let mut got = vec![0; length];
        file.read_at(start as u64, &mut got).unwrap();
        assert_eq!(
            got,
            bytes[start..start + length],
            "{length} bytes from {start}"
        );
    }
    assert!(file.read_at(299_999, &mut [0; 2]).is_err());
    assert!(file.read_at(u64::MAX, &mut [0; 2]).is_err());
}

#[wasm_bindgen_test]
fn a_recording_is_opened_drawn_and_measured_through_the_page_s_door() {
    let opened = OpenedFile::new(blob(&file("first-pass")), None).unwrap();
    let facts: Facts = serde_wasm_bindgen::from_value(opened.facts().unwrap()).unwrap();
    let view = View {
        channel: 0,
        start_s: 0.0,
        end_s: facts.duration_s,
        low_khz: 0.0,
        high_khz: facts.rate_hz / 2000.0,
        width_px: 200,
        height_px: 100,
    };
    let mut drawing = opened.draw(js(&view)).unwrap();
    while !drawing.step().unwrap() {}
    assert_eq!(drawing.done_fraction(), 1.0);
    let look = Look {
        map: ColourMap::Night,
        floor_db: None,
        range_db: None,
    };
    drawing.paint(js(&look)).unwrap();
    let pixels = drawing.pixels().to_vec();
    assert_eq!(pixels.len(), 200 * 100 * 4);
    assert!(
        pixels.chunks(4).any(|pixel| pixel[0] > 200),
        "the calls are bright"
    );
    assert!(
        pixels.chunks(4).filter(|pixel| pixel[0] < 60).count() > 15_000,
        "the hiss is dark"
    );

    let mut measuring = opened.measure(0).unwrap();
    while !measuring.step().unwrap() {}
    assert_eq!(measuring.done_s(), measuring.total_s());
    let none = || js_sys::Array::new().into();
    let table = csv_by_hand(
        "larkwater-fen-01-first-pass.wav",
        measuring.findings().unwrap(),
        none(),
        none(),
    )
    .unwrap();
    let expected: Vec<Outcome> =
        serde_json::from_str(include_str!("expected/native.json")).unwrap();
    // There and back across the boundary nothing is lost.
    assert_eq!(table, expected[0].csv);
}

#[wasm_bindgen_test]
fn failures_arrive_as_problems() {
    let problem = caught(OpenedFile::new(blob(b"fLaC and so on"), None));
    assert!(problem.message.contains("not a WAV file"), "{problem:?}");
    assert_eq!(problem.byte, Some(0));
    assert!(!problem.advice.is_empty());
    assert!(
        caught(OpenedFile::new(blob(b""), None))
            .message
            .contains("empty")
    );
    assert!(
        caught(OpenedFile::new(blob(b"RIFF"), Some(f64::NAN)))
            .message
            .contains("NaN")
    );

    let opened = OpenedFile::new(blob(&file("first-pass")), None).unwrap();
    assert!(caught(opened.measure(7)).message.contains("channel 8"));
    let nonsense = caught(opened.draw(js(&"a view")));
    assert!(nonsense.advice.contains("one version"), "{nonsense:?}");
    assert!(
        caught(legend(js(&"rainbow"), 5))
            .message
            .contains("rainbow")
    );
    assert!(
        caught(csv_by_hand(
            "x.wav",
            JsValue::NULL,
            JsValue::NULL,
            JsValue::NULL
        ))
        .message
        .contains("does not understand")
    );
}

#[wasm_bindgen_test]
fn a_legend_is_as_long_as_asked_for_within_reason() {
    assert_eq!(legend(js(&ColourMap::Paper), 64).unwrap().length(), 256);
    assert_eq!(
        legend(js(&ColourMap::Paper), u32::MAX).unwrap().length(),
        4 * View::LARGEST_PX
    );
}

/// What is left of a file, as the page hands it from one worker to the other.
fn examined(bytes: &[u8]) -> (String, String) {
    let options = js(&dusklens_core::night::ExamineOptions::default());
    let mut job = ExaminingJob::new(blob(bytes), options).unwrap();
    assert_eq!(job.sha256(), None);
    while !job.step().unwrap() {}
    let file = job.take().unwrap();
    let text = |name: &str| Reflect::get(&file, &name.into()).unwrap().as_string();
    assert_eq!(text("sha256"), job_hash(bytes));
    (text("examined").unwrap(), text("rows").unwrap())
}

fn job_hash(bytes: &[u8]) -> Option<String> {
    let mut hash = dusklens_core::recording::ContentHash::default();
    while !hash.step(&bytes).unwrap() {}
    Some(hash.hex())
}

#[wasm_bindgen_test]
fn files_of_a_card_become_nights() {
    let bytes = file("feeding-buzz");
    let (left, rows) = examined(&bytes);
    let (broken, none) = examined(&bytes[..30]);
    assert!(rows.lines().count() > 20 && none.is_empty());
    // The same numbers as the table of a single file, behind an empty name.
    let single = outcome("", BrowserFile::new(blob(&bytes)).unwrap()).csv;
    assert!(single.ends_with(&rows));

    let mut book = NightBook::new();
    assert!(book.take("fen/a.wav".to_owned(), None, &left));
    assert!(book.take("fen/b_20260614_230000.wav".to_owned(), None, &broken));
    assert!(!book.take("c.wav".to_owned(), None, "{}"));
    let settings = dusklens_core::night::NightSettings {
        utc_offset_min: 60,
        ..Default::default()
    };
    let overview = book.settle(js(&settings)).unwrap();
    let nights: Array = Reflect::get(&overview, &"nights".into()).unwrap().into();
    assert_eq!(nights.length(), 1);
    let wanted = dusklens_core::night::list::Wanted::default();
    assert_eq!(book.list(js(&wanted)).unwrap(), 2);
    let rows: Vec<dusklens_core::night::list::Row> =
        serde_wasm_bindgen::from_value(book.rows(0, 10).unwrap()).unwrap();
    assert_eq!(rows[0].local, "2026-06-14T22:03:05");
    assert_eq!(rows[0].buzzes, 1);
    assert!(
        rows[1].notes[0].contains("`fmt ` chunk"),
        "{:?}",
        rows[1].notes
    );
    assert_eq!(book.place_of("fen/b_20260614_230000.wav"), Some(1));
}
