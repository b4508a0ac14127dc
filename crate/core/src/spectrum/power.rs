//! The power spectrum of a stretch of samples.

use super::{Stft, StftSettings, Window, to_db, vertex};
use realfft::RealFftPlanner;
use serde::{Deserialize, Serialize};
use std::f64::consts::PI;
use std::ops::Range;

/// Longest stretch that is transformed in one go, samples.
const LONGEST_WHOLE: u64 = 65_536;
/// Share of the stretch that is faded at either end.
const FADED_SHARE: f64 = 0.1;
/// Fewest points of the transform of a whole stretch.
const FEWEST_POINTS: usize = 1024;
/// Samples of a segment where there are several, and from one to the next.
const SEGMENT: usize = 8192;
const SEGMENT_HOP: usize = SEGMENT / 2;
/// Samples that are asked for in one go.
const BLOCK: u64 = 1 << 19;

/// How a power spectrum was made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(rename_all = "snake_case")]
pub enum PowerMethod {
    /// One transform of the whole stretch, a tenth of it faded by half a cosine at either end (Tukey's
    /// window, alpha 0.2), with at least twice as many points as samples.
    Whole,
    /// The mean of the powers of segments of 8192 samples, half overlapping, under Hann's window
    /// (Welch 1967, IEEE Trans. Audio Electroacoust. 15:70-73).
    Averaged,
}

/// Power against frequency. A sine of full scale that fills the stretch has the power 1, 0 dB; of a shorter
/// sound it shows the mean over the stretch, so that only levels within one spectrum should be compared.
#[derive(Debug, Clone, PartialEq)]
pub struct PowerSpectrum {
    /// From one frequency to the next, hertz; the first is 0.
    pub bin_hz: f64,
    /// Power at each frequency, re a full-scale sine.
    pub power: Vec<f32>,
    /// How it was made.
    pub method: PowerMethod,
}

impl PowerSpectrum {
    /// Of all these samples; none of less than two.
    #[must_use]
    pub fn of(samples: &[f32], rate_hz: f64) -> Option<Self> {
        let mut summer = PowerSummer::new(rate_hz, 0..samples.len() as u64)?;
        while let Some(block) = summer.next_block() {
            summer.feed(&samples[block.start as usize..block.end as usize]);
        }
        summer.into_spectrum()
    }

    /// Levels, decibels re full scale.
    #[must_use]
    pub fn levels_db(&self) -> Vec<f32> {
        self.power.iter().map(|&power| to_db(power)).collect()
    }

    /// The frequency of its maximum between two frequencies, kilohertz, interpolated by a parabola through
    /// three levels; none where there is no sound.
    #[must_use]
    pub fn peak_khz(&self, khz: Range<f64>) -> Option<f64> {
        let bin = |khz: f64| khz * 1e3 / self.bin_hz;
        let low = bin(khz.start).ceil().max(0.0) as usize;
        let high = (bin(khz.end).max(0.0) as usize).min(self.power.len() - 1);
        let top = (low..=high).max_by(|&a, &b| self.power[a].total_cmp(&self.power[b]))?;
        if self.power[top] <= 0.0 {
            return None;
        }
        let inside = top > 0 && top + 1 < self.power.len();
        let off = if inside {
            vertex(&self.power[top - 1..=top + 1])
        } else {
            0.0
        };
        Some((top as f64 + off) * self.bin_hz * 1e-3)
    }
}

/// Makes a power spectrum of samples that are fed to it in blocks, so that memory does not follow the stretch.
pub struct PowerSummer {
    rate_hz: f64,
    next: u64,
    end: u64,
    way: Way,
}

enum Way {
    Whole(Option<PowerSpectrum>),
    Averaged {
        stft: Box<Stft>,
        /// Samples that the next segment begins with.
        kept: Vec<f32>,
        power: Vec<f32>,
        sum: Vec<f64>,
        segments: u64,
    },
}

impl PowerSummer {
    /// Prepares for the frames of a stretch; none where these are less than two.
    #[must_use]
    pub fn new(rate_hz: f64, frames: Range<u64>) -> Option<Self> {
        let length = frames.end.saturating_sub(frames.start);
        if length < 2 {
            return None;
        }
        let way = if length <= LONGEST_WHOLE {
            Way::Whole(None)
        } else {
            let settings = StftSettings {
                window: Window::Hann,
                length: SEGMENT,
                hop: SEGMENT_HOP,
                padded: SEGMENT,
            };
            let stft = Stft::new(&settings).ok()?;
            Way::Averaged {
                kept: Vec::new(),
                power: vec![0.0; stft.bins()],
                sum: vec![0.0; stft.bins()],
                segments: 0,
                stft: Box::new(stft),
            }
        };
        Some(Self {
            rate_hz,
            next: frames.start,
            end: frames.end,
            way,
        })
    }

    /// The frames to feed next; none when all were fed.
    #[must_use]
    pub fn next_block(&self) -> Option<Range<u64>> {
        (self.next < self.end).then(|| self.next..self.end.min(self.next + BLOCK))
    }

    /// Takes in the samples of the block that [`Self::next_block`] asked for.
    pub fn feed(&mut self, samples: &[f32]) {
        let Some(block) = self.next_block() else {
            return;
        };
        self.next = block.end;
        match &mut self.way {
            Way::Whole(spectrum) => *spectrum = whole(samples, self.rate_hz),
            Way::Averaged {
                stft,
                kept,
                power,
                sum,
                segments,
            } => {
                kept.extend_from_slice(samples);
                let mut from = 0;
                while let Some(segment) = kept.get(from..from + SEGMENT) {
                    stft.power(segment, power);
                    for (sum, power) in sum.iter_mut().zip(&*power) {
                        *sum += f64::from(*power);
                    }
                    *segments += 1;
                    from += SEGMENT_HOP;
                }
                kept.drain(..from);
            }
        }
    }

    /// The spectrum of what was fed.
    #[must_use]
    pub fn into_spectrum(self) -> Option<PowerSpectrum> {
        match self.way {
            Way::Whole(spectrum) => spectrum,
            Way::Averaged { sum, segments, .. } => Some(PowerSpectrum {
                bin_hz: self.rate_hz / SEGMENT as f64,
                power: sum
                    .iter()
                    .map(|sum| (sum / segments.max(1) as f64) as f32)
                    .collect(),
                method: PowerMethod::Averaged,
            }),
        }
    }
}

/// How much of the stretch around a sound must be taken so that none of the sound itself is faded, as a share of
/// the sound on either side.
#[must_use]
pub fn room_for_fading() -> f64 {
    FADED_SHARE / (1.0 - 2.0 * FADED_SHARE)
}

fn whole(samples: &[f32], rate_hz: f64) -> Option<PowerSpectrum> {
    let points = (samples.len() * 2).next_power_of_two().max(FEWEST_POINTS);
    let transform = RealFftPlanner::<f32>::new().plan_fft_forward(points);
    let mut input = transform.make_input_vec();
    let mut output = transform.make_output_vec();
    let mut gain = 0.0;
    for (n, (slot, sample)) in input.iter_mut().zip(samples).enumerate() {
        let weight = tukey(n, samples.len());
        gain += weight;
        *slot = sample * weight as f32;
    }
    transform.process(&mut input, &mut output).ok()?;
    let scale = (4.0 / (gain * gain)) as f32;
    Some(PowerSpectrum {
        bin_hz: rate_hz / points as f64,
        power: output
            .iter()
            .map(|value| value.norm_sqr() * scale)
            .collect(),
        method: PowerMethod::Whole,
    })
}

/// Tukey's window in its periodic form (Harris 1978, Proc. IEEE 66:51-83).
fn tukey(n: usize, length: usize) -> f64 {
    let place = n as f64 / length as f64;
    let from_end = place.min(1.0 - place);
    if from_end < FADED_SHARE {
        0.5 - 0.5 * (PI * from_end / FADED_SHARE).cos()
    } else {
        1.0
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

    use super::*;

    fn sine(count: usize, hz: f64, rate_hz: f64) -> Vec<f32> {
        let turn = std::f64::consts::TAU * hz / rate_hz;
        (0..count).map(|n| (turn * n as f64).sin() as f32).collect()
    }

    #[test]
    fn full_scale_sine_has_no_decibels_and_its_own_frequency_in_both_ways() {
        for count in [3_000, 200_000] {
            let spectrum = PowerSpectrum::of(&sine(count, 45_123.0, 256_000.0), 256_000.0).unwrap();
            let peak_khz = spectrum.peak_khz(10.0..120.0).unwrap();
            assert!((peak_khz - 45.123).abs() < 0.005, "{peak_khz}");
            let level = spectrum.levels_db().into_iter().fold(f32::MIN, f32::max);
            // Hann's window may lie half a bin off: 1.42 dB (Harris 1978, table 1).
            assert!((-1.43..0.01).contains(&level), "{level}");
            assert_eq!(spectrum.peak_khz(60.0..50.0), None);
        }
    }

    #[test]
    fn silence_has_no_peak_and_nothing_has_no_spectrum() {
        let spectrum = PowerSpectrum::of(&[0.0; 500], 256_000.0).unwrap();
        assert_eq!(spectrum.peak_khz(0.0..128.0), None);
        assert!(PowerSpectrum::of(&[], 256_000.0).is_none());
        assert!(PowerSpectrum::of(&[0.5], 256_000.0).is_none());
    }

    #[test]
    fn a_stretch_widened_by_the_room_for_fading_leaves_the_sound_unfaded() {
        let sound = 1_000usize;
        let room = (sound as f64 * room_for_fading()).ceil() as usize;
        let length = sound + 2 * room;
        assert!(tukey(room, length) > 0.9999 && tukey(room + sound - 1, length) > 0.9999);
        assert!(tukey(room - 10, length) < 1.0);
    }

    #[test]
    fn blocks_leave_the_spectrum_alone() {
        // Longer than one block: segments lie across the border.
        let samples = sine(BLOCK as usize + 50_000, 30_000.0, 256_000.0);
        let spectrum = PowerSpectrum::of(&samples, 256_000.0).unwrap();
        let mut stft = Stft::new(&StftSettings {
            window: Window::Hann,
            length: SEGMENT,
            hop: SEGMENT_HOP,
            padded: SEGMENT,
        })
        .unwrap();
        let mut powers = Vec::new();
        let frames = stft.powers(&samples, &mut powers);
        let bins = stft.bins();
        for bin in [0, 900, 960, 4096] {
            let mean = (0..frames)
                .map(|f| f64::from(powers[f * bins + bin]))
                .sum::<f64>()
                / frames as f64;
            assert!((f64::from(spectrum.power[bin]) - mean).abs() <= 1e-6 * mean + 1e-15);
        }
    }
}
