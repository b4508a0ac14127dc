//! The noise floor of a whole recording, coarse enough to be kept for thousands of them.

use super::trace::NoiseDensity;

/// Width of a band, hertz.
const BAND_HZ: f64 = 10_000.0;

/// The mean noise power in bands of 10 kHz, over the blocks of a recording.
#[derive(Debug, Default)]
pub(super) struct NoiseBands {
    /// Noise power of each band times the frames that it was found in.
    sums: Vec<f64>,
    frames: f64,
}

impl NoiseBands {
    /// Takes in the noise of a block of so many frames. A band that only begins below the highest frequency is left out:
    /// a recorder's filter falls off there.
    pub(super) fn take_in(&mut self, noise: &NoiseDensity, frames: usize) {
        let bands = (noise.highest_hz() / BAND_HZ) as usize;
        self.sums.resize(bands, 0.0);
        for (band, sum) in self.sums.iter_mut().enumerate() {
            let low_hz = band as f64 * BAND_HZ;
            *sum += noise.power(low_hz, low_hz + BAND_HZ) * frames as f64;
        }
        self.frames += frames as f64;
    }

    pub(super) fn levels_db(&self) -> Vec<f32> {
        // -200 dB lies below what 32-bit numbers can hold.
        let level = |&sum: &f64| (10.0 * (sum / self.frames).max(1e-20).log10()) as f32;
        self.sums.iter().map(level).collect()
    }
}
