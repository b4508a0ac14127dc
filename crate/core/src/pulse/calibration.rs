//! How uncertainties follow from what a pulse shows.

use serde::{Deserialize, Serialize};

/// Turns a standard deviation that theory gives into half the width of a 95 % interval:
/// `floor` and `factor` times `sigma` to the `power`, added as squares.
///
/// The factor holds the coverage factor of two and what theory leaves out; a power below one, that
/// large deviations are cut off; the floor, what even a clean pulse is measured wrong by.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Scale {
    /// What the powered standard deviation is multiplied with.
    pub factor: f64,
    /// What it is raised to.
    pub power: f64,
    /// The least half width, in the quantity's own unit.
    pub floor: f64,
}

impl Scale {
    /// A scale that leaves standard deviations as they are.
    pub const NONE: Self = Self::new(1.0, 1.0, 0.0);

    /// A scale of a factor, a power and a floor.
    #[must_use]
    pub const fn new(factor: f64, power: f64, floor: f64) -> Self {
        Self {
            factor,
            power,
            floor,
        }
    }

    /// Half the width of the interval for a standard deviation.
    #[must_use]
    pub fn apply(&self, sigma: f64) -> f64 {
        (self.factor * sigma.max(0.0).powf(self.power)).hypot(self.floor)
    }
}

/// A scale for each kind of number.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(default)]
pub struct Calibration {
    /// For the start, milliseconds.
    pub start_ms: Scale,
    /// For the end, milliseconds.
    pub end_ms: Scale,
    /// For the duration, milliseconds.
    pub duration_ms: Scale,
    /// For the peak frequency, kilohertz.
    pub peak_khz: Scale,
    /// For the start frequency, kilohertz.
    pub start_khz: Scale,
    /// For the end frequency, kilohertz.
    pub end_khz: Scale,
    /// For the high frequency, kilohertz.
    pub high_khz: Scale,
    /// For the low frequency, kilohertz.
    pub low_khz: Scale,
    /// For the characteristic frequency, kilohertz.
    pub characteristic_khz: Scale,
    /// For the whole sweep rate, kilohertz per millisecond.
    pub sweep_khz_per_ms: Scale,
    /// For the flattest sweep rate, kilohertz per millisecond.
    pub flattest_khz_per_ms: Scale,
    /// For the interval, milliseconds.
    pub interval_ms: Scale,
    /// For the level, decibels.
    pub level_db: Scale,
    /// For the signal-to-noise ratio, decibels.
    pub snr_db: Scale,
}

impl Calibration {
    /// Leaves all standard deviations as they are: to fit anew.
    pub const NONE: Self = Self {
        start_ms: Scale::NONE,
        end_ms: Scale::NONE,
        duration_ms: Scale::NONE,
        peak_khz: Scale::NONE,
        start_khz: Scale::NONE,
        end_khz: Scale::NONE,
        high_khz: Scale::NONE,
        low_khz: Scale::NONE,
        characteristic_khz: Scale::NONE,
        sweep_khz_per_ms: Scale::NONE,
        flattest_khz_per_ms: Scale::NONE,
        interval_ms: Scale::NONE,
        level_db: Scale::NONE,
        snr_db: Scale::NONE,
    };
}

impl Default for Calibration {
    /// As fitted on synthetic pulses.
    fn default() -> Self {
        Self {
            start_ms: Scale::new(0.6310, 0.8, 0.0345),
            end_ms: Scale::new(0.7316, 0.8, 0.0046),
            duration_ms: Scale::new(0.7414, 0.8, 0.0084),
            peak_khz: Scale::new(2.5446, 1.0, 0.0039),
            start_khz: Scale::new(1.5901, 0.6, 0.0328),
            end_khz: Scale::new(1.0778, 0.6, 0.0153),
            high_khz: Scale::new(1.5658, 0.6, 0.0211),
            low_khz: Scale::new(0.9414, 0.6, 0.0149),
            characteristic_khz: Scale::new(2.2299, 1.0, 0.4871),
            sweep_khz_per_ms: Scale::new(1.5745, 1.4, 0.0039),
            flattest_khz_per_ms: Scale::new(9.0920, 0.8, 0.0012),
            interval_ms: Scale::new(0.9949, 1.0, 0.0062),
            level_db: Scale::new(1.5597, 1.0, 0.1340),
            snr_db: Scale::new(8.7228, 1.4, 2.3716),
        }
    }
}
