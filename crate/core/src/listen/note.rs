//! What a file says of itself that holds what was heard: that it is not the recording.

use super::settings::{ListeningSettings, Method};
use crate::recording::{chunk, one_line};

/// Where something that was heard comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Origin {
    /// The recording's file name.
    pub file: String,
    /// The channel, counted from 0.
    pub channel: u16,
    /// What made it, such as `Dusklens 0.1.0`.
    pub program: String,
}

impl Method {
    /// In the words of the trade, such as `heterodyne tuned to 45.0 kHz`.
    fn words(self) -> String {
        match self {
            Self::Expansion { factor } => format!("time expansion, {factor} times slower"),
            Self::Heterodyne {
                tuning_khz,
                bandwidth_khz,
            } => {
                format!("heterodyne tuned to {tuning_khz} kHz, {bandwidth_khz} kHz to either side")
            }
            Self::Division { factor } => {
                format!("frequency division by {factor}, of the phase of what is loudest")
            }
        }
    }
}

/// Says in one paragraph what was done to a stretch of a recording.
pub(super) fn processing(settings: &ListeningSettings, end_s: f64, origin: &Origin) -> String {
    let rumble = settings
        .high_pass_khz
        .map(|edge_khz| format!("; all below {edge_khz} kHz taken out"))
        .unwrap_or_default();
    let gain = if settings.automatic_gain {
        "changed by an automatic gain and a limiter"
    } else {
        "kept but for a limiter"
    };
    format!(
        "Not an original recording: made by {} for listening, from {}, channel {}, {:.4} s to {:.4} s. {}{rumble}; \
         levels {gain}; beginning and end faded. Do not measure it.",
        origin.program,
        origin.file,
        origin.channel + 1,
        settings.start_s,
        end_s,
        settings.method.words(),
    )
}

/// The metadata after the samples: a GUANO chunk (GUANO 1.0) and an `INFO` list (RIFF 1991).
pub(super) fn chunks(
    settings: &ListeningSettings,
    end_s: f64,
    origin: &Origin,
    output_hz: u32,
) -> Vec<u8> {
    let note = one_line(&processing(settings, end_s, origin));
    let file = one_line(&origin.file);
    let program = one_line(&origin.program);
    // GUANO's rate is the one at the microphone.
    let rate_hz = (f64::from(output_hz) * settings.method.slowness()).round();
    let mut guano =
        format!("GUANO|Version: 1.0\nOriginal Filename: {file}\nSamplerate: {rate_hz}\n");
    if let Method::Expansion { factor } = settings.method
        && factor.fract() == 0.0
    {
        guano.push_str(&format!("TE: {factor}\n"));
    }
    guano.push_str(&format!("Note: {note}\n"));
    let mut info = b"INFO".to_vec();
    info.extend(chunk(b"ICMT", terminated(&note)));
    info.extend(chunk(b"ISFT", terminated(&program)));
    let mut bytes = chunk(b"guan", guano.into_bytes());
    bytes.extend(chunk(b"LIST", info));
    bytes
}

fn terminated(text: &str) -> Vec<u8> {
    let mut bytes = text.as_bytes().to_vec();
    bytes.push(0);
    bytes
}
