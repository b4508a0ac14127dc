//! Bytes of samples -> numbers from -1 to 1.

use hound::{Sample, SampleFormat};

use super::format::{Encoding, Format};

/// Appends the samples of one channel from whole frames.
///
/// Integers are divided by the size of the negative rail, so that full scale is
/// -1; valid bits lie at the top of their container, so the container's rail is
/// the sound's rail. Floats are taken as they are, but what is not a finite
/// number becomes silence.
pub(super) fn decode(frames: &[u8], format: &Format, channel: u16, out: &mut Vec<f32>) {
    let width = usize::from(format.sample_bytes);
    if format.channels == 1 {
        return decode_mono(frames, format, out);
    }
    let at = usize::from(channel) * width;
    let mut mono = Vec::with_capacity(frames.len() / usize::from(format.channels));
    for frame in frames.chunks_exact(width * usize::from(format.channels)) {
        mono.extend_from_slice(frame.get(at..at + width).unwrap_or_default());
    }
    decode_mono(&mono, format, out);
}

fn decode_mono(bytes: &[u8], format: &Format, out: &mut Vec<f32>) {
    match (format.encoding, format.sample_bytes) {
        (Encoding::Pcm { .. }, 2) => {
            // Three times as fast as sample by sample through `hound`, and nearly all recorders
            // of bats write this.
            let (samples, _) = bytes.as_chunks::<2>();
            out.extend(
                samples
                    .iter()
                    .map(|&raw| f32::from(i16::from_le_bytes(raw)) / 32_768.0),
            );
        }
        (Encoding::Pcm { .. }, width) => {
            let full_scale = 2f32.powi(i32::from(width) * 8 - 1);
            integers(bytes, width, |sample| out.push(sample as f32 / full_scale));
        }
        (Encoding::Float, 8) => {
            let (samples, _) = bytes.as_chunks::<8>();
            out.extend(
                samples
                    .iter()
                    .map(|&raw| finite(f64::from_le_bytes(raw) as f32)),
            );
        }
        (Encoding::Float, _) => {
            let mut rest = bytes;
            while let Ok(sample) = f32::read(&mut rest, SampleFormat::Float, 4, 32) {
                out.push(finite(sample));
            }
        }
    }
}

/// Reads integers of 1 to 4 bytes until the bytes run out.
fn integers(bytes: &[u8], width: u16, mut take: impl FnMut(i32)) {
    let mut rest = bytes;
    while let Ok(sample) = i32::read(&mut rest, SampleFormat::Int, width, width * 8) {
        take(sample);
    }
}

fn finite(sample: f32) -> f32 {
    if sample.is_finite() { sample } else { 0.0 }
}
