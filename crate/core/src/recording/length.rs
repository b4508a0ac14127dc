//! What a person should know about the length of a recording.

use super::chunks::{Chunk, Extent, Walk};
use super::counted;
use super::facts::Notice;
use super::format::Format;

/// How the samples differ from what the header promised, in seconds of real time.
pub(super) fn notices(walk: &Walk, data: Chunk, format: &Format, rate_hz: f64) -> Vec<Notice> {
    let mut notices = Vec::new();
    let frame_bytes = format.frame_bytes();
    let seconds = |bytes: u64| (bytes / frame_bytes) as f64 / rate_hz;
    let end = data.body + data.present;
    let mut say = |byte: u64, text: String| {
        notices.push(Notice {
            text,
            byte: Some(byte),
        })
    };
    match walk.extent {
        Extent::Whole if data.present == 0 => {
            say(
                data.body,
                "The recording is empty: its header is there, but no sound.".to_owned(),
            );
        }
        Extent::Whole => {}
        Extent::CutOff => say(
            end,
            format!(
                "The file ends early: {:.3} s of {:.3} s are there, {:.3} s are missing. The recorder \
             may have lost power, or the copy was not finished.",
                seconds(data.present),
                seconds(data.stated),
                seconds(data.stated - data.present),
            ),
        ),
        Extent::Unfilled => say(
            data.body - 4,
            format!(
                "The recorder never filled in the length, as when power is lost: the {:.3} s up to the \
             end of the file were kept. Whether more was recorded cannot be known.",
                seconds(data.present),
            ),
        ),
        Extent::Corrected => say(
            data.body - 4,
            format!(
                "The length in the header is wrong: it states {:.3} s, but {:.3} s are there and were \
             kept.",
                seconds(data.stated),
                seconds(data.present),
            ),
        ),
    }
    let partial = data.present % frame_bytes;
    if partial > 0 {
        say(
            end - partial,
            format!(
                "The samples end in {} that make no whole frame and were left out.",
                counted(partial, "byte"),
            ),
        );
    }
    if walk.stray > 0 {
        say(
            walk.end,
            format!(
                "There are {} after the last chunk that belong to nothing and were ignored; as \
             samples they would last {:.3} s.",
                counted(walk.stray, "byte"),
                seconds(walk.stray),
            ),
        );
    }
    notices
}
