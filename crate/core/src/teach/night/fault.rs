//! What can go wrong with a recorder in a night.

use std::str::FromStr;

use serde::{Deserialize, Serialize};

/// Something that went wrong, each with what the plan does to show it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Fault {
    /// Some files end in the middle, some hold not one byte.
    CutOff,
    /// Text named as a recording, a log and a picture lie among the recordings.
    Foreign,
    /// Some files lie there a second time under another name.
    Twice,
    /// At 01:40 the recorder's clock goes back by an hour.
    ClockJump,
    /// Nothing was recorded for 70 minutes from 22:50 on.
    SilentGap,
    /// The card filled up two hours before the timer's end, and the last file is cut off.
    CardFull,
    /// Everything is 28 dB too loud: most passes are clipped.
    GainHigh,
    /// Calls are 42 dB fainter and the noise only 8 dB: bats hardly stand out.
    GainLow,
    /// The noise rises by 10 dB between 01:00 and 02:00, and stays there.
    Moisture,
    /// Above 40 kHz the microphone loses up to 24 dB, steadily through the night.
    Microphone,
    /// A tone at 38.4 kHz in every file.
    Tone,
    /// The trigger never rests: every file has full length and holds nothing, one after the other.
    Stuck,
    /// From 00:20 on the sampling rate is 256 kHz and the high-pass 8 kHz.
    Settings,
    /// The sampling rate is 192 kHz, and sweeps begin above half of it.
    RateLow,
    /// Recordings of a test in daylight, the afternoon before, lie in a folder of their own.
    OtherNight,
    /// Hardly a file holds a bat: wind, rain and insects set the trigger off.
    NoiseTriggers,
}

impl Fault {
    /// All faults.
    pub const ALL: [Fault; 16] = [
        Fault::CutOff,
        Fault::Foreign,
        Fault::Twice,
        Fault::ClockJump,
        Fault::SilentGap,
        Fault::CardFull,
        Fault::GainHigh,
        Fault::GainLow,
        Fault::Moisture,
        Fault::Microphone,
        Fault::Tone,
        Fault::Stuck,
        Fault::Settings,
        Fault::RateLow,
        Fault::OtherNight,
        Fault::NoiseTriggers,
    ];

    /// The most faults that one night can show at once. Left out are a gain that is too low and a
    /// rate that is too low, which contradict a gain that is too high and settings that change, and
    /// the two that leave no bats.
    pub fn together() -> Vec<Fault> {
        let left_out = [
            Fault::GainLow,
            Fault::RateLow,
            Fault::Stuck,
            Fault::NoiseTriggers,
        ];
        let all = Fault::ALL.into_iter();
        all.filter(|fault| !left_out.contains(fault)).collect()
    }

    /// Its name on a command line and in the truth.
    pub fn name(self) -> &'static str {
        match self {
            Fault::CutOff => "cut-off",
            Fault::Foreign => "foreign",
            Fault::Twice => "twice",
            Fault::ClockJump => "clock-jump",
            Fault::SilentGap => "silent-gap",
            Fault::CardFull => "card-full",
            Fault::GainHigh => "gain-high",
            Fault::GainLow => "gain-low",
            Fault::Moisture => "moisture",
            Fault::Microphone => "microphone",
            Fault::Tone => "tone",
            Fault::Stuck => "stuck",
            Fault::Settings => "settings",
            Fault::RateLow => "rate-low",
            Fault::OtherNight => "other-night",
            Fault::NoiseTriggers => "noise-triggers",
        }
    }

    /// The number of its own stream of random numbers.
    pub(super) fn number(self) -> u32 {
        self as u32
    }
}

impl FromStr for Fault {
    type Err = String;

    fn from_str(text: &str) -> Result<Fault, String> {
        let found = Fault::ALL.into_iter().find(|fault| fault.name() == text);
        found.ok_or_else(|| {
            let names: Vec<_> = Fault::ALL.iter().map(|fault| fault.name()).collect();
            format!("No fault is named {text}. There are: {}.", names.join(", "))
        })
    }
}
