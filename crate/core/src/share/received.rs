//! A call that came in a link.

use super::message::Message;
use super::{CallContent, LinkError, SentPulse};
use crate::recording::guano_chunk;
use hound::{SampleFormat, WavSpec, WavWriter};
use serde::{Deserialize, Serialize};
use std::io::Cursor;

/// A call out of a link: what its sender said, and the sound as a WAV file that is opened like any other.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct ReceivedCall {
    /// A name for the file, without a folder: of letters, digits and a few signs that every system takes.
    pub file: String,
    /// What the sender says.
    pub content: CallContent,
    /// What the sender measured; none where that was not sent.
    pub pulses: Vec<SentPulse>,
    /// Where the stretch begins in the sender's recording, seconds.
    pub from_s: f64,
    /// The frequencies that were carried, kilohertz; all else is noise drawn anew.
    pub low_khz: f64,
    /// The highest of them.
    pub high_khz: f64,
    /// The stretches that were carried, start and end, seconds.
    pub carried_s: Vec<(f64, f64)>,
    /// The version that made the link.
    pub version: String,
}

/// The largest 24-bit sample.
const LARGEST: f32 = 8_388_607.0;
const MOST_NAME: usize = 80;

impl ReceivedCall {
    /// Reads a link, an address with one, or its text alone. Returns the call and the bytes of its WAV file.
    ///
    /// # Errors
    /// [`LinkError`] naming what is wrong with it.
    pub fn read(text: &str) -> Result<(Self, Vec<u8>), LinkError> {
        let message = Message::from_text(text)?;
        let samples = message.sound.samples()?;
        let rate_hz = message.sound.rate_hz;
        let carried = message.sound.carried();
        let (low_khz, high_khz) = message.sound.band_khz();
        let call = Self {
            file: file_name(message.content.file.as_deref()),
            pulses: message.pulses,
            from_s: message.from_s,
            low_khz,
            high_khz,
            carried_s: carried
                .iter()
                .map(|samples| (samples.start as f64 / rate_hz, samples.end as f64 / rate_hz))
                .collect(),
            version: message.version,
            content: message.content,
        };
        let bytes = call.wav(&samples, rate_hz)?;
        Ok((call, bytes))
    }

    fn wav(&self, samples: &[f32], rate_hz: f64) -> Result<Vec<u8>, LinkError> {
        let unwritable = |_| LinkError::Bounds("a sound that cannot be written");
        let spec = WavSpec {
            channels: 1,
            // Bounded when it was read.
            sample_rate: rate_hz.round() as u32,
            bits_per_sample: 24,
            sample_format: SampleFormat::Int,
        };
        let mut bytes = Cursor::new(Vec::new());
        let mut writer = WavWriter::new(&mut bytes, spec).map_err(unwritable)?;
        for sample in samples {
            let value = (sample * LARGEST).round().clamp(-LARGEST, LARGEST) as i32;
            writer.write_sample(value).map_err(unwritable)?;
        }
        writer.finalize().map_err(unwritable)?;
        let mut bytes = bytes.into_inner();
        bytes.extend(guano_chunk(
            &self.fields(),
            &self.content.labels,
            env!("CARGO_PKG_VERSION"),
        ));
        let length = u32::try_from(bytes.len() - 8).unwrap_or(u32::MAX);
        if let Some(field) = bytes.get_mut(4..8) {
            field.copy_from_slice(&length.to_le_bytes());
        }
        Ok(bytes)
    }

    /// What the file says of itself, by the names of GUANO 1.0.
    fn fields(&self) -> Vec<(&'static str, String)> {
        let content = &self.content;
        let mut fields = Vec::new();
        let mut say = |key, value: Option<String>| fields.extend(value.map(|value| (key, value)));
        say("Timestamp", content.start.as_ref().map(stamp));
        say(
            "Loc Position",
            content
                .place
                .map(|place| format!("{} {}", place.latitude_deg, place.longitude_deg)),
        );
        say(
            "Loc Elevation",
            content
                .place
                .and_then(|place| place.elevation_m)
                .map(|metres| metres.to_string()),
        );
        say("Model", content.recorder.clone());
        say(
            "Temperature Ext",
            content.temperature_c.map(|celsius| celsius.to_string()),
        );
        say("Original Filename", content.file.clone());
        say("Note", Some(self.note()));
        fields
    }

    fn note(&self) -> String {
        format!(
            "Not an original recording: from a call link, made by Dusklens {} from what begins {:.3} s into a recording. \
             Carried are {:.0} to {:.0} kHz around the calls; all else is noise drawn anew at the level that it had.",
            self.version, self.from_s, self.low_khz, self.high_khz,
        )
    }
}

/// A moment as GUANO 1.0 has it: ISO 8601.
fn stamp(stamp: &crate::recording::Stamp) -> String {
    let Some(minutes) = stamp.utc_offset_min else {
        return stamp.local.clone();
    };
    let sign = if minutes < 0 { '-' } else { '+' };
    let minutes = minutes.unsigned_abs();
    format!(
        "{}{sign}{:02}:{:02}",
        stamp.local,
        minutes / 60,
        minutes % 60
    )
}

/// A file name made of a sender's: no folder, nothing that a system takes for a command.
fn file_name(sent: Option<&str>) -> String {
    let name = sent
        .unwrap_or_default()
        .rsplit(['/', '\\'])
        .next()
        .unwrap_or_default();
    let name = name.rsplit_once('.').map_or(name, |(stem, _)| stem);
    let kept = |c: &char| c.is_alphanumeric() || matches!(c, '-' | '_' | ' ');
    let name: String = name.chars().filter(kept).take(MOST_NAME).collect();
    match name.trim() {
        "" => "call.wav".to_owned(),
        name => format!("{name} (call).wav"),
    }
}
