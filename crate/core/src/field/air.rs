//! Sound in air: how fast it is, and how much of it the air takes away.

use serde::{Deserialize, Serialize};

/// Temperatures of the triple point of water, and that of 20 °C, kelvin.
const TRIPLE_POINT_K: f64 = 273.16;
const REFERENCE_K: f64 = 293.15;
const REFERENCE_KPA: f64 = 101.325;
const ZERO_CELSIUS_K: f64 = 273.15;

/// Still air.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Air {
    /// Temperature, degrees Celsius.
    pub temperature_c: f64,
    /// Relative humidity, percent.
    pub humidity_percent: f64,
    /// Pressure, kilopascals; 101.325 at sea level.
    pub pressure_kpa: f64,
}

impl Air {
    /// Air at sea level.
    #[must_use]
    pub fn new(temperature_c: f64, humidity_percent: f64) -> Self {
        Self {
            temperature_c,
            humidity_percent,
            pressure_kpa: REFERENCE_KPA,
        }
    }

    fn kelvin(&self) -> f64 {
        self.temperature_c + ZERO_CELSIUS_K
    }

    /// Speed of sound, metres per second: that of dry air, from which moist
    /// air differs by 0.4 % at most.
    #[must_use]
    pub fn speed_of_sound_m_s(&self) -> f64 {
        343.2 * (self.kelvin() / REFERENCE_K).sqrt()
    }

    /// How much a pure tone loses on its way, decibels per metre, besides what
    /// it loses by spreading (ISO 9613-1:1993, equations 3 to 5 and B.3).
    ///
    /// The standard states 10 % for sound up to about 1 MHz, -20 to 50 °C and
    /// 0.05 to 5 % of water; its printed table ends at 10 kHz. It rises with
    /// frequency, but neither with temperature nor with humidity alone.
    #[must_use]
    pub fn absorption_db_per_m(&self, hz: f64) -> f64 {
        let warmth = self.kelvin() / REFERENCE_K;
        let pressure = self.pressure_kpa / REFERENCE_KPA;
        let saturation =
            libm::exp10(-6.8346 * libm::pow(TRIPLE_POINT_K / self.kelvin(), 1.261) + 4.6151);
        // Molar concentration of water vapour, percent.
        let water = self.humidity_percent * saturation / pressure;
        // Relaxation frequencies of oxygen and nitrogen, hertz.
        let oxygen = pressure * (24.0 + 4.04e4 * water * (0.02 + water) / (0.391 + water));
        let slowing = libm::exp(-4.170 * (libm::cbrt(1.0 / warmth) - 1.0));
        let nitrogen = pressure / warmth.sqrt() * (9.0 + 280.0 * water * slowing);
        let square = hz * hz;
        let classical = 1.84e-11 / pressure * warmth.sqrt();
        let relaxing = |strength: f64, kelvin: f64, relaxation: f64| {
            strength * libm::exp(-kelvin / self.kelvin()) / (relaxation + square / relaxation)
        };
        let vibrations = relaxing(0.012_75, 2239.1, oxygen) + relaxing(0.1068, 3352.0, nitrogen);
        8.686 * square * (classical + libm::pow(warmth, -2.5) * vibrations)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn absorption_is_that_of_the_standard_s_table() {
        // ISO 9613-1:1993, table 1, at exact midband frequencies: read second-hand,
        // and within 0.4 % of the formula, which is as near as the table is rounded.
        for (temperature_c, humidity_percent, hz, db_per_m) in [
            (10.0, 50.0, 125.893, 0.000_486),
            (10.0, 50.0, 251.189, 0.001_05),
            (10.0, 50.0, 501.187, 0.0019),
            (10.0, 50.0, 1000.0, 0.004_26),
        ] {
            let air = Air::new(temperature_c, humidity_percent);
            let got = air.absorption_db_per_m(hz);
            assert!((got / db_per_m - 1.0).abs() < 0.005, "{hz} Hz: {got}");
        }
    }

    #[test]
    fn sound_goes_at_the_speed_of_textbooks() {
        // 331.3 m/s at 0 °C and 343.2 m/s at 20 °C (handbook values, from memory).
        assert!((Air::new(0.0, 50.0).speed_of_sound_m_s() - 331.3).abs() < 0.1);
        assert!((Air::new(20.0, 50.0).speed_of_sound_m_s() - 343.2).abs() < 0.1);
    }
}
