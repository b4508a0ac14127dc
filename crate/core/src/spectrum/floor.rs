//! The noise floor: what each frequency holds when nothing calls.

/// The noise power of every bin, robust against what calls in it.
///
/// It is read off the lower quartile over time, scaled to the mean. Calls fill a
/// part of a bin's time and are left out, while a constant tone fills all of it
/// and becomes part of the floor, as it should.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct NoiseFloor {
    /// Mean noise power of each bin.
    power: Vec<f32>,
}

/// The lower quartile of exponentially distributed powers (what Gaussian noise
/// has in a bin) as a share of their mean: -ln(3/4).
pub(crate) const QUARTILE_OF_MEAN: f32 = 0.287_682_07;

/// Powers above this multiple of the first guess are a call's ...
const CALL_OVER_MEAN: f32 = 3.0;
/// ... and the lower quartile of the rest is this share of the mean:
/// -ln(1 - (1 - e^-3) / 4).
const CENSORED_QUARTILE_OF_MEAN: f32 = 0.271_318_8;

/// Bins on either side that a bin's floor is averaged with, so that one bin's
/// chance does not become its threshold.
const SMOOTHED_BINS: usize = 1;

impl NoiseFloor {
    /// Frames that are looked at: enough for a quartile within about a decibel,
    /// few enough to take no time.
    pub const ENOUGH_FRAMES: usize = 512;

    /// Which of so many frames a floor is read from, `most` of them: one out of every so many,
    /// at a place within each that follows the golden ratio, so that a regular
    /// train of calls is not met in step.
    pub fn sampled_frames(frames: usize, most: usize) -> impl Iterator<Item = usize> {
        const GOLDEN: f64 = 0.618_033_988_749_895;
        let step = frames.div_ceil(most.max(1)).max(1);
        (0..frames.div_ceil(step))
            .map(move |k| {
                let place = (k as f64 * GOLDEN).fract();
                k * step + (place * step as f64) as usize
            })
            .filter(move |&frame| frame < frames)
    }

    /// Reads the floor off frames of `bins` powers each, best chosen by
    /// [`NoiseFloor::sampled_frames`].
    ///
    /// Frames that hold digital silence (a recorder's padding, a gap) are left
    /// out; where all do, the floor is zero.
    #[must_use]
    pub fn of(powers: &[f32], bins: usize) -> Self {
        if bins == 0 {
            return Self::default();
        }
        let sampled: Vec<&[f32]> = powers
            .chunks_exact(bins)
            .filter(|frame| frame.iter().any(|&power| power > 0.0))
            .collect();
        if sampled.is_empty() {
            return Self {
                power: vec![0.0; bins],
            };
        }
        let mut column = vec![0.0; sampled.len()];
        let means: Vec<f32> = (0..bins)
            .map(|bin| {
                for (slot, frame) in column.iter_mut().zip(&sampled) {
                    *slot = frame[bin];
                }
                mean_of_noise(&mut column)
            })
            .collect();
        Self {
            power: smooth(&means),
        }
    }

    /// Mean noise power of each bin, re full scale as in [`super::Stft`].
    #[must_use]
    pub fn power(&self) -> &[f32] {
        &self.power
    }
}

/// The mean of exponentially distributed powers that calls are mixed with:
/// read off the lower quartile, and once more without what is then seen to be
/// calls, which even a quartile feels where they fill much of the time.
fn mean_of_noise(powers: &mut [f32]) -> f32 {
    let quartile = |powers: &mut [f32]| {
        let at = powers.len() / 4;
        *powers.select_nth_unstable_by(at, f32::total_cmp).1
    };
    let limit = quartile(powers) / QUARTILE_OF_MEAN * CALL_OVER_MEAN;
    let mut noise = 0;
    for at in 0..powers.len() {
        if powers[at] <= limit {
            powers.swap(at, noise);
            noise += 1;
        }
    }
    quartile(&mut powers[..noise.max(1)]) / CENSORED_QUARTILE_OF_MEAN
}

/// The larger of a bin's own value and its neighbourhood's mean: a constant
/// tone keeps its height, a chance dip is filled.
fn smooth(values: &[f32]) -> Vec<f32> {
    (0..values.len())
        .map(|bin| {
            let low = bin.saturating_sub(SMOOTHED_BINS);
            let high = (bin + SMOOTHED_BINS).min(values.len() - 1);
            let near = &values[low..=high];
            values[bin].max(near.iter().sum::<f32>() / near.len() as f32)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Exponentially distributed powers with a mean of `mean`, from a fixed
    /// congruential sequence (Knuth's MMIX constants).
    fn exponential(count: usize, mean: f32) -> Vec<f32> {
        let mut state = 1u64;
        (0..count)
            .map(|_| {
                state = state
                    .wrapping_mul(6_364_136_223_846_793_005)
                    .wrapping_add(1_442_695_040_888_963_407);
                let uniform = ((state >> 40) as f32 + 0.5) / (1u64 << 24) as f32;
                -mean * uniform.ln()
            })
            .collect()
    }

    #[test]
    fn finds_the_mean_of_noise() {
        let floor = NoiseFloor::of(&exponential(4000 * 8, 0.02), 8);
        for &power in floor.power() {
            assert!((power / 0.02 - 1.0).abs() < 0.25, "{power}");
        }
    }

    #[test]
    fn calls_in_a_third_of_the_frames_do_not_lift_it() {
        let mut powers = exponential(3000 * 4, 1.0);
        for frame in powers.chunks_exact_mut(4).step_by(3) {
            frame.fill(1e6);
        }
        let powers: Vec<f32> = NoiseFloor::sampled_frames(3000, NoiseFloor::ENOUGH_FRAMES)
            .flat_map(|frame| &powers[frame * 4..(frame + 1) * 4])
            .copied()
            .collect();
        for &power in NoiseFloor::of(&powers, 4).power() {
            assert!((0.75..1.35).contains(&power), "{power}");
        }
    }

    #[test]
    fn silence_and_nothing_have_a_floor_too() {
        assert_eq!(NoiseFloor::of(&[], 3).power(), [0.0; 3]);
        assert_eq!(NoiseFloor::of(&[0.0; 12], 3).power(), [0.0; 3]);
        assert!(NoiseFloor::of(&[], 0).power().is_empty());
    }
}
