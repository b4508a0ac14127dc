//! The noise of a recording, band by band: what the coefficients are counted in, and what is drawn anew where nothing
//! was sent.

use super::entropy::{Coder, Model, Number};
use std::ops::Range;

/// Bands, evenly from 0 to half the sampling rate.
pub(super) const BANDS: usize = 64;
/// Decibels between two levels that can be written.
const STEP_DB: f32 = 1.5;
/// The level before the first, decibels re full scale: far below what any microphone hands over.
const LOWEST_DB: f32 = -160.0;
/// The highest level: full scale.
const HIGHEST: u32 = 107;
/// Median of the magnitudes of normal noise of unit variance (Abramowitz and Stegun, table 26.1: P = 0.75).
const MEDIAN: f32 = 0.674_49;
/// Blocks that an estimate needs to be one.
const LEAST_BLOCKS: usize = 4;

/// Levels of the noise: 0 stands for silence, each step from there on for 1.5 dB.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Floor {
    levels: [u32; BANDS],
}

impl Floor {
    /// The noise in coefficients of blocks of `hop`, outside of the blocks that hold what is sent. Where hardly any are
    /// outside, silence is half as loud as what the quieter half of all holds at most.
    pub(super) fn of(coefficients: &[f32], hop: usize, sent: &[Range<usize>]) -> Self {
        let blocks = coefficients.len() / hop;
        let is_quiet = |block: &usize| !sent.iter().any(|blocks| blocks.contains(block));
        let mut quiet: Vec<usize> = (0..blocks).filter(is_quiet).collect();
        // The first and the last hold silence from beyond the stretch.
        quiet.retain(|&block| block > 0 && block + 1 < blocks);
        let share = if quiet.len() < LEAST_BLOCKS {
            quiet = (0..blocks).collect();
            0.25
        } else {
            1.0
        };
        let width = hop / BANDS;
        let mut levels = [0; BANDS];
        let mut magnitudes = Vec::new();
        for (band, level) in levels.iter_mut().enumerate() {
            magnitudes.clear();
            for &block in &quiet {
                let from = block * hop + band * width;
                let some = coefficients.get(from..from + width).unwrap_or_default();
                magnitudes.extend(some.iter().map(|value| value.abs()));
            }
            *level = level_of(median(&mut magnitudes) / MEDIAN * share);
        }
        Self { levels }
    }

    /// The standard deviation of the coefficients of a frequency.
    pub(super) fn deviation(&self, frequency: usize, hop: usize) -> f32 {
        let band = frequency * BANDS / hop;
        match self.levels.get(band).copied().unwrap_or(0) {
            0 => 0.0,
            level => 10f32.powf((LOWEST_DB + STEP_DB * level as f32) / 20.0),
        }
    }

    /// Writes or reads the levels: each as its difference from the one below it.
    pub(super) fn code(&mut self, coder: &mut impl Coder) {
        let (mut size, mut sign) = (Number::default(), Model::default());
        let mut before = 0;
        for level in &mut self.levels {
            let difference = level.abs_diff(before);
            let read = size.code(coder, difference + 1) - 1;
            let is_down = read > 0 && coder.bit(&mut sign, *level < before);
            let value = if is_down {
                before.saturating_sub(read)
            } else {
                before + read
            };
            *level = value.min(HIGHEST);
            before = *level;
        }
    }
}

impl Default for Floor {
    fn default() -> Self {
        Self { levels: [0; BANDS] }
    }
}

fn level_of(deviation: f32) -> u32 {
    let level = ((20.0 * deviation.log10() - LOWEST_DB) / STEP_DB).round();
    // No number and minus infinity become 0.
    (level.max(0.0) as u32).min(HIGHEST)
}

fn median(values: &mut [f32]) -> f32 {
    if values.is_empty() {
        return 0.0;
    }
    let middle = values.len() / 2;
    *values.select_nth_unstable_by(middle, f32::total_cmp).1
}

#[cfg(test)]
mod tests {
    use super::super::entropy::{Reader, Writer};
    use super::*;
    use rand::rngs::ChaCha8Rng;
    use rand::{RngExt, SeedableRng};
    use rand_distr::StandardNormal;

    fn hiss(count: usize, deviation: f32) -> Vec<f32> {
        let mut random = ChaCha8Rng::seed_from_u64(7);
        (0..count)
            .map(|_| deviation * random.sample::<f32, _>(StandardNormal))
            .collect()
    }

    #[test]
    fn the_level_of_hiss_is_known_to_a_step() {
        let hop = 128;
        let sent = 50..60;
        let floor = Floor::of(&hiss(hop * 400, 1e-3), hop, std::slice::from_ref(&sent));
        for frequency in 0..hop {
            let error_db = 20.0 * (floor.deviation(frequency, hop) / 1e-3).log10();
            assert!(error_db.abs() < 1.3, "{frequency}: {error_db}");
        }
    }

    #[test]
    fn silence_has_none() {
        let floor = Floor::of(&vec![0.0; 64 * 20], 64, &[]);
        assert_eq!(floor, Floor::default());
        assert_eq!(floor.deviation(3, 64), 0.0);
    }

    #[test]
    fn levels_are_read_as_they_were_written() {
        let mut floor = Floor::of(&hiss(64 * 100, 0.01), 64, &[]);
        let mut writer = Writer::default();
        floor.code(&mut writer);
        let bytes = writer.finish();
        assert!(bytes.len() < 48, "{}", bytes.len());
        let mut read = Floor::default();
        read.code(&mut Reader::new(&bytes));
        assert_eq!(read, floor);
    }
}
