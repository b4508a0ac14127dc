//! Samples -> bytes of a WAV file, whole or spoilt as field recorders spoil them.

use std::io::Cursor;

use hound::{SampleFormat, WavSpec, WavWriter};

/// Bytes before the first sample in a file of [`encode`].
pub const HEADER_BYTES: usize = 44;

/// What goes into a WAV file besides samples.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct WavSettings {
    /// Time expansion: the header's rate is the true rate divided by it. 0 counts as 1.
    pub expansion: u32,
    /// GUANO fields in order, as key and value; none for a file without metadata.
    pub metadata: Vec<(String, String)>,
}

/// The bytes of a 16-bit mono WAV file.
///
/// # Errors
/// Fails where the samples are too many for a WAV file's 32-bit lengths.
pub fn encode(
    samples: &[f32],
    rate_hz: u32,
    settings: &WavSettings,
) -> Result<Vec<u8>, hound::Error> {
    let spec = WavSpec {
        channels: 1,
        sample_rate: rate_hz / settings.expansion.max(1),
        bits_per_sample: 16,
        sample_format: SampleFormat::Int,
    };
    let mut bytes = Cursor::new(Vec::new());
    let mut writer = WavWriter::new(&mut bytes, spec)?;
    for sample in samples {
        writer.write_sample(to_pcm(*sample))?;
    }
    writer.finalize()?;
    let mut bytes = bytes.into_inner();
    append_guano(&mut bytes, &settings.metadata);
    Ok(bytes)
}

/// A sample as 16-bit PCM; full scale is the largest value that has a negative twin.
fn to_pcm(sample: f32) -> i16 {
    (sample.clamp(-1.0, 1.0) * f32::from(i16::MAX)).round() as i16
}

/// Appends a GUANO chunk and makes the RIFF length tell of it.
fn append_guano(bytes: &mut Vec<u8>, metadata: &[(String, String)]) {
    if metadata.is_empty() {
        return;
    }
    let mut text = String::from("GUANO|Version: 1.0\n");
    for (key, value) in metadata {
        // A line break within a value is the two characters \n.
        text.push_str(&format!("{key}: {}\n", value.replace('\n', "\\n")));
    }
    if text.len() % 2 == 1 {
        text.push(' ');
    }
    bytes.extend_from_slice(b"guan");
    bytes.extend_from_slice(&(text.len() as u32).to_le_bytes());
    bytes.extend_from_slice(text.as_bytes());
    let riff_length = (bytes.len() as u32).saturating_sub(8).to_le_bytes();
    if let Some(field) = bytes.get_mut(4..8) {
        field.copy_from_slice(&riff_length);
    }
}

/// What a recorder leaves behind that loses power while it writes: everything after
/// `keep` bytes is gone, and with it the metadata at the end.
pub fn cut_off(mut bytes: Vec<u8>, keep: usize) -> Vec<u8> {
    bytes.truncate(keep);
    bytes
}

/// What a recorder leaves behind that never came back to write the lengths: those of
/// the file and of its samples are 0, as they were when recording began.
pub fn unfinished(mut bytes: Vec<u8>) -> Vec<u8> {
    let data = bytes.windows(4).position(|id| id == b"data");
    for at in [Some(4), data.map(|d| d + 4)].into_iter().flatten() {
        if let Some(field) = bytes.get_mut(at..at + 4) {
            field.fill(0);
        }
    }
    bytes
}
