//! The numbers of a pulse that are compared.

use serde::{Deserialize, Serialize};

use crate::pulse::{Flag, Pulse};

/// A number of a pulse that is compared. It is serialised as the field of [`Pulse`] is named.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(rename_all = "snake_case")]
pub enum Measure {
    /// [`Pulse::duration_ms`].
    DurationMs,
    /// [`Pulse::interval_ms`]; intervals that span missed pulses do not count.
    IntervalMs,
    /// [`Pulse::peak_khz`].
    PeakKhz,
    /// [`Pulse::start_khz`].
    StartKhz,
    /// [`Pulse::end_khz`].
    EndKhz,
    /// [`Pulse::high_khz`].
    HighKhz,
    /// [`Pulse::low_khz`].
    LowKhz,
    /// [`Pulse::characteristic_khz`].
    CharacteristicKhz,
    /// [`Pulse::sweep_khz_per_ms`].
    SweepKhzPerMs,
    /// [`Pulse::flattest_khz_per_ms`].
    FlattestKhzPerMs,
    /// [`Pulse::level_db`].
    LevelDb,
    /// [`Pulse::snr_db`].
    SnrDb,
}

impl Measure {
    /// All of them, in the order of the table.
    pub const ALL: [Self; 12] = [
        Self::DurationMs,
        Self::IntervalMs,
        Self::PeakKhz,
        Self::StartKhz,
        Self::EndKhz,
        Self::HighKhz,
        Self::LowKhz,
        Self::CharacteristicKhz,
        Self::SweepKhzPerMs,
        Self::FlattestKhzPerMs,
        Self::LevelDb,
        Self::SnrDb,
    ];

    /// The value for a pulse, in the unit of the name; none where it has none, or none that is finite.
    #[must_use]
    pub fn of(self, pulse: &Pulse) -> Option<f64> {
        let value = match self {
            Self::DurationMs => pulse.duration_ms,
            Self::IntervalMs if pulse.flags.contains(&Flag::MissedBefore) => return None,
            Self::IntervalMs => pulse.interval_ms?,
            Self::PeakKhz => pulse.peak_khz,
            Self::StartKhz => pulse.start_khz,
            Self::EndKhz => pulse.end_khz,
            Self::HighKhz => pulse.high_khz,
            Self::LowKhz => pulse.low_khz,
            Self::CharacteristicKhz => pulse.characteristic_khz,
            Self::SweepKhzPerMs => pulse.sweep_khz_per_ms,
            Self::FlattestKhzPerMs => pulse.flattest_khz_per_ms,
            Self::LevelDb => pulse.level_db,
            Self::SnrDb => pulse.snr_db,
        };
        value.is_finite().then_some(value)
    }

    /// How well the value for a pulse is known: half the width of its 95 % interval, in the same unit; 0 where that is
    /// not known.
    #[must_use]
    pub fn uncertainty_of(self, pulse: &Pulse) -> f64 {
        let known = &pulse.uncertainty;
        match self {
            Self::DurationMs => known.duration_ms,
            Self::IntervalMs => known.interval_ms.unwrap_or(0.0),
            Self::PeakKhz => known.peak_khz,
            Self::StartKhz => known.start_khz,
            Self::EndKhz => known.end_khz,
            Self::HighKhz => known.high_khz,
            Self::LowKhz => known.low_khz,
            Self::CharacteristicKhz => known.characteristic_khz,
            Self::SweepKhzPerMs => known.sweep_khz_per_ms,
            Self::FlattestKhzPerMs => known.flattest_khz_per_ms,
            Self::LevelDb => known.level_db,
            Self::SnrDb => known.snr_db,
        }
    }

    /// The name of the field of [`Pulse`], as it is serialised.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::DurationMs => "duration_ms",
            Self::IntervalMs => "interval_ms",
            Self::PeakKhz => "peak_khz",
            Self::StartKhz => "start_khz",
            Self::EndKhz => "end_khz",
            Self::HighKhz => "high_khz",
            Self::LowKhz => "low_khz",
            Self::CharacteristicKhz => "characteristic_khz",
            Self::SweepKhzPerMs => "sweep_khz_per_ms",
            Self::FlattestKhzPerMs => "flattest_khz_per_ms",
            Self::LevelDb => "level_db",
            Self::SnrDb => "snr_db",
        }
    }

    /// Whether a value far from the others is worth a word. How loud a pulse is says how near the animal was and
    /// not how it called.
    pub(super) fn is_of_the_call(self) -> bool {
        !matches!(self, Self::LevelDb | Self::SnrDb)
    }
}
