//! What a person says of a night: where, when, how.

use serde::{Deserialize, Serialize};

use super::clock::ClockError;

/// What a person says of a night. Nothing of it is needed to work through a card, and everything can be changed at any
/// time: files keep what they say themselves.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct NightSettings {
    /// Name of the site.
    pub site: String,
    /// Minutes that local time is ahead of UTC. Times are shown in it, and clocks whose files state no distance from UTC
    /// are taken to run in it.
    pub utc_offset_min: i32,
    /// How wrong the recorder's clock was.
    pub clock: ClockError,
    /// How date and time stand in the names of files; none: as usual.
    pub name_pattern: Option<String>,
    /// Where the recorder stood, where the files do not say so or the person knows better.
    pub position: Option<Position>,
    /// When the recorder was meant to run; none: unknown.
    pub timer: Option<Timer>,
    /// The fewest pulses that make a pass. Default 2; some programmes ask for 3 (Bat Conservation Trust, National Bat
    /// Monitoring Programme: more than two calls).
    pub pass_min_pulses: u32,
    /// Width of the bins of activity, minutes.
    pub bin_min: u32,
    /// Who answers for the survey.
    pub who: String,
    /// The weather, in the person's words.
    pub weather: String,
    /// Anything else.
    pub remarks: String,
}

impl Default for NightSettings {
    fn default() -> Self {
        Self {
            site: String::new(),
            utc_offset_min: 0,
            clock: ClockError::default(),
            name_pattern: None,
            position: None,
            timer: None,
            pass_min_pulses: 2,
            bin_min: 10,
            who: String::new(),
            weather: String::new(),
            remarks: String::new(),
        }
    }
}

/// A position on Earth, WGS84.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Position {
    /// Degrees, north positive.
    pub latitude_deg: f64,
    /// Degrees, east positive.
    pub longitude_deg: f64,
    /// How far off it may be, metres.
    pub accuracy_m: Option<f64>,
}

/// When the recorder was meant to run, every night.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Timer {
    /// When it was meant to begin.
    pub from: TimerEdge,
    /// When it was meant to end.
    pub to: TimerEdge,
}

/// A beginning or an end of a timer.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum TimerEdge {
    /// A time of day.
    Clock {
        /// Minutes after midnight, local time; before noon it belongs to the morning.
        minute: u32,
    },
    /// So many minutes after sunset; before it where negative.
    Sunset {
        /// Minutes.
        offset_min: i32,
    },
    /// So many minutes after sunrise; before it where negative.
    Sunrise {
        /// Minutes.
        offset_min: i32,
    },
}
