//! Bytes of samples -> numbers from -1 to 1.
//!
//! Own code rather than `hound`'s sample iterator, which stands beside it in the
//! tests as a reference: 2.5 million 16-bit samples take 0.8 ms here and 37 ms there.

use super::format::{Encoding, Format};

/// Appends the samples of one channel from whole frames.
///
/// Integers are divided by the size of the negative rail, so that full scale is
/// -1; valid bits lie at the top of their container, so the container's rail is
/// the sound's rail. Floats are taken as they are, but what is not a finite
/// number becomes silence: one such value would spoil a whole spectrum.
pub(super) fn decode(frames: &[u8], format: &Format, channel: u16, out: &mut Vec<f32>) {
    let frame = usize::from(format.channels) * usize::from(format.sample_bytes);
    let at = usize::from(channel) * usize::from(format.sample_bytes);
    match (format.encoding, format.sample_bytes) {
        // 8-bit samples alone are unsigned.
        (Encoding::Pcm { .. }, 1) => {
            each(frames, frame, at, out, |[raw]: [u8; 1]| {
                (f32::from(raw) - 128.0) / 128.0
            });
        }
        (Encoding::Pcm { .. }, 2) => {
            each(frames, frame, at, out, |raw| {
                f32::from(i16::from_le_bytes(raw)) / 32_768.0
            });
        }
        // Three bytes become the upper ones of four, and keep their sign that way.
        (Encoding::Pcm { .. }, 3) => {
            each(frames, frame, at, out, |[low, middle, high]: [u8; 3]| {
                from_i32([0, low, middle, high])
            });
        }
        (Encoding::Pcm { .. }, _) => each(frames, frame, at, out, from_i32),
        (Encoding::Float, 8) => {
            each(frames, frame, at, out, |raw| {
                finite(f64::from_le_bytes(raw) as f32)
            });
        }
        (Encoding::Float, _) => each(frames, frame, at, out, |raw| {
            finite(f32::from_le_bytes(raw))
        }),
    }
}

/// Converts the `WIDTH` bytes that lie at `at` in every frame.
fn each<const WIDTH: usize>(
    frames: &[u8],
    frame: usize,
    at: usize,
    out: &mut Vec<f32>,
    convert: impl Fn([u8; WIDTH]) -> f32,
) {
    if frame == WIDTH {
        let (samples, _) = frames.as_chunks::<WIDTH>();
        out.extend(samples.iter().map(|&raw| convert(raw)));
    } else {
        let samples = frames
            .chunks_exact(frame)
            .filter_map(|frame| frame.get(at..)?.first_chunk());
        out.extend(samples.map(|&raw| convert(raw)));
    }
}

fn from_i32(raw: [u8; 4]) -> f32 {
    i32::from_le_bytes(raw) as f32 / 2_147_483_648.0
}

fn finite(sample: f32) -> f32 {
    if sample.is_finite() { sample } else { 0.0 }
}
