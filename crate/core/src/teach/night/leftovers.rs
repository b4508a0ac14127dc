//! What lies on a card besides the night's recordings.

use rand::{Rng, RngExt};

use super::clock::{self, TIMER_END_S, TIMER_START_S, at};
use super::recording::SERIAL;
use super::{Content, Ending, PlannedFile, PlannedRecording, Sound};
use crate::teach::random::{Stream, stream};

/// Recordings of the test on the afternoon before.
const TEST_FILES: i64 = 3;

/// Files that are no recordings, one of them named as if it were.
pub(super) fn foreign(random: &mut impl Rng) -> Vec<PlannedFile> {
    let log = format!(
        "{SERIAL}\n{} timer on\n{} timer off\n",
        clock::stamp(TIMER_START_S),
        clock::stamp(TIMER_END_S)
    );
    let night = clock::night(TIMER_START_S);
    let notes = "Box on the third willow from the sluice. New batteries. Wren Alder (invented)\n";
    let file = |path: String, content| PlannedFile { path, content };
    let picture = Content::Picture {
        seed: random.random(),
        bytes: 40_000,
    };
    vec![
        file(format!("{SERIAL}/recorder.log"), Content::Text(log)),
        file(
            format!("{SERIAL}/NIGHT_{night}/notes.wav"),
            Content::Text(notes.into()),
        ),
        file(format!("{SERIAL}/willow.jpg"), picture),
    ]
}

/// Tests by daylight, the afternoon before, made like a recording of the night.
pub(super) fn other_night(like: &PlannedRecording, random: &mut impl Rng) -> Vec<PlannedFile> {
    let number = |number: i64| {
        let start_s = at(-24 + 15, 0) + 12 + 40 * number;
        let recording = PlannedRecording {
            start_s,
            written_s: start_s,
            temperature_c: 24.5,
            seed: random.random(),
            sound: Sound::Handling,
            ending: Ending::Whole,
            ..like.clone()
        };
        PlannedFile {
            path: recording.path(),
            content: Content::Recording(Box::new(recording)),
        }
    };
    (0..TEST_FILES).map(number).collect()
}

/// A file again, under another name.
pub(super) fn copy(file: &PlannedFile) -> PlannedFile {
    PlannedFile {
        path: format!("{}-copy.wav", file.path.trim_end_matches(".wav")),
        content: file.content.clone(),
    }
}

/// Bytes that begin as a JPEG picture does.
pub(super) fn picture(seed: u64, bytes: usize) -> Vec<u8> {
    // Start of image and the head of a JFIF segment (ITU-T T.871).
    let mut picture = b"\xff\xd8\xff\xe0\x00\x10JFIF\x00".to_vec();
    let mut rest = vec![0; bytes.saturating_sub(picture.len())];
    stream(seed, Stream::Draw).fill_bytes(&mut rest);
    picture.extend(rest);
    picture
}
