//! Takes out of a block what lasts and is no bat: rumble, and constant tones.
//!
//! Both would reach into the channels that pulses are followed in: rumble by
//! sheer strength, a tone wherever a sweep crosses it.

use super::order::{median, share_of};
use super::trace::vertex;
use rustfft::num_complex::Complex64;
use std::f64::consts::{PI, SQRT_2, TAU};
use std::ops::Range;

/// Corner of the high-pass, hertz. It takes 0.05 dB of the lowest bats, at 9 kHz.
const RUMBLE_HZ: f64 = 3_000.0;
/// Stretches that are filtered side by side, and the time after which the filter has
/// forgotten what was before, seconds: 27 of its time constants.
const LANES: usize = 4;
const FORGOTTEN_S: f64 = 2e-3;
/// A tone stands so far above what lasts beside it, as a power ratio (17 dB: the lower
/// decile of noise lies 10 dB below its mean), ...
const LINE_RATIO: f32 = 50.0;
/// ... which is read so far from it, in bins: beyond the window's own width.
const BESIDE: Range<usize> = 6..20;
/// Tones nearer to one another are one, hertz; it is followed as far as it drifts.
const SAME_LINE_HZ: f64 = 1_000.0;
/// So many tones are taken out, the strongest ones.
const MOST_LINES: usize = 12;
/// A tone is read in stretches of this length, seconds, which tells frequencies
/// up to half a kilohertz off; it sounds where its amplitude is at least this share
/// of its loud tenth, ...
const STRETCH_S: f64 = 1e-3;
const SOUNDING: f64 = 0.5;
/// ... and by medians over so many of them on either side: longer than nearly any call,
/// so that a call at the tone's frequency stays.
const MEDIAN_REACH: usize = 40;

/// A high-pass of second order (Butterworth, by the bilinear transform:
/// textbook), without a step at its beginning.
///
/// Each value waits for the one before it. So several stretches run side by side, which processors
/// do at once; each begins so early that what was before it is forgotten.
pub(super) fn without_rumble(samples: &[f32], rate_hz: f64) -> Vec<f32> {
    let Some(last) = samples.len().checked_sub(1) else {
        return Vec::new();
    };
    let k = (PI * RUMBLE_HZ / rate_hz).tan();
    let norm = 1.0 / (1.0 + k * SQRT_2 + k * k);
    let a1 = 2.0 * (k * k - 1.0) * norm;
    let a2 = (1.0 - k * SQRT_2 + k * k) * norm;
    let warm_up = (FORGOTTEN_S * rate_hz) as usize;
    let length = samples.len().div_ceil(LANES);
    let mut out = vec![0.0; length * LANES];
    // Before the first sample it stands still, after the last one nothing is asked for.
    let sample = |at: usize| f64::from(samples[at.saturating_sub(warm_up).min(last)]);
    let mut x1: [f64; LANES] = std::array::from_fn(|lane| sample(lane * length));
    let (mut x2, mut y1, mut y2) = (x1, [0.0; LANES], [0.0; LANES]);
    for n in 0..length + warm_up {
        let x: [f64; LANES] = std::array::from_fn(|lane| sample(lane * length + n));
        let y: [f64; LANES] = std::array::from_fn(|lane| {
            norm * (x[lane] - 2.0 * x1[lane] + x2[lane]) - a1 * y1[lane] - a2 * y2[lane]
        });
        (x2, x1, y2, y1) = (x1, x, y1, y);
        if n >= warm_up {
            for (lane, y) in y.into_iter().enumerate() {
                out[lane * length + n - warm_up] = y as f32;
            }
        }
    }
    out.truncate(samples.len());
    out
}

/// What a stretch of sound hardly ever falls below.
pub(super) struct Lasting {
    /// The lower decile of each bin's powers: that of a tone is its power, that of
    /// noise is far below its mean, and that of calls is nothing.
    power: Vec<f32>,
    bin_hz: f64,
}

impl Lasting {
    /// Of frames of `bins` powers each, one after the other.
    pub(super) fn of(powers: &[f32], bins: usize, bin_hz: f64) -> Self {
        let frames = powers.len() / bins.max(1);
        let mut column = vec![0.0; frames];
        let power = (0..bins)
            .map(|bin| {
                for (slot, frame) in column.iter_mut().zip(powers.chunks_exact(bins)) {
                    *slot = frame[bin];
                }
                share_of(&mut column, 0.1, f32::total_cmp).unwrap_or(0.0)
            })
            .collect();
        Self { power, bin_hz }
    }

    /// The tones that show: their power and frequency.
    fn lines(&self) -> Vec<(f32, f64)> {
        let power = &self.power;
        (BESIDE.start..power.len().saturating_sub(BESIDE.start))
            .filter(|&bin| power[bin] > power[bin - 1] && power[bin] >= power[bin + 1])
            .filter(|&bin| power[bin] > LINE_RATIO * beside(power, bin))
            .map(|bin| {
                let exact = bin as f64 + vertex(&power[bin - 1..=bin + 1]);
                (power[bin], exact * self.bin_hz)
            })
            .collect()
    }
}

/// Frequencies of the constant tones that show in any of several stretches,
/// hertz, strongest first.
pub(super) fn lines(pieces: &[Lasting]) -> Vec<f64> {
    let mut found: Vec<(f32, f64)> = pieces.iter().flat_map(Lasting::lines).collect();
    found.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut lines: Vec<f64> = Vec::new();
    for (_, hz) in found {
        let is_new = lines.iter().all(|line| (line - hz).abs() > SAME_LINE_HZ);
        if is_new && lines.len() < MOST_LINES {
            lines.push(hz);
        }
    }
    lines
}

/// The median of the noise on both sides of a bin.
fn beside(power: &[f32], bin: usize) -> f32 {
    let below = bin.saturating_sub(BESIDE.end)..bin - BESIDE.start;
    let above = bin + BESIDE.start..(bin + BESIDE.end).min(power.len());
    let mut near: Vec<f32> = below.chain(above).map(|bin| power[bin]).collect();
    median(&mut near, f32::total_cmp).unwrap_or(0.0)
}

/// Takes a tone near a frequency out of samples.
pub(super) fn remove_line(samples: &mut [f32], rate_hz: f64, hz: f64) {
    let stretch = ((STRETCH_S * rate_hz).round() as usize).max(8);
    if samples.len() < 2 * stretch {
        return;
    }
    let hz = hz + off_by(&standing(samples, stretch, rate_hz, hz)) * rate_hz / stretch as f64;
    let standing = standing(samples, stretch, rate_hz, hz);
    let turned = turning(&standing);
    let tone = steady(&standing, &turned);
    let middle = (stretch as f64 - 1.0) / 2.0;
    let last = tone.len() - 1;
    for (at, part) in samples.chunks_mut(stretch).enumerate() {
        // What is left over at the end belongs to the last whole stretch.
        let own = at.min(last);
        let drift = slope(&turned, own) / stretch as f64;
        let from_middle = ((at - own) * stretch) as f64 - middle;
        let mut phasor = back(at * stretch, hz, rate_hz).conj()
            * tone[own]
            * Complex64::cis(drift * from_middle);
        let onward = Complex64::cis(TAU * hz / rate_hz + drift);
        for sample in part {
            *sample -= phasor.re as f32;
            phasor *= onward;
        }
    }
}

/// A tone near a frequency, turned back to a standing one: its mean amplitude
/// and phase in each whole stretch.
fn standing(samples: &[f32], stretch: usize, rate_hz: f64, hz: f64) -> Vec<Complex64> {
    let step = Complex64::cis(-TAU * hz / rate_hz);
    samples
        .chunks_exact(stretch)
        .enumerate()
        .map(|(at, part)| {
            let mut phasor = back(at * stretch, hz, rate_hz);
            let mut sum = Complex64::default();
            for &sample in part {
                sum += phasor * f64::from(sample);
                phasor *= step;
            }
            sum * 2.0 / stretch as f64
        })
        .collect()
}

/// How far the frequency is off, turns a stretch.
fn off_by(standing: &[Complex64]) -> f64 {
    let mut sounding: Vec<f64> = steps(standing).into_iter().flatten().collect();
    median(&mut sounding, f64::total_cmp).unwrap_or(0.0) / TAU
}

/// What lasts of a standing tone that slowly turns.
fn steady(standing: &[Complex64], turned: &[f64]) -> Vec<Complex64> {
    let still: Vec<Complex64> = standing
        .iter()
        .zip(turned)
        .map(|(value, angle)| value * Complex64::cis(-angle))
        .collect();
    let re = medians(&still.iter().map(|value| value.re).collect::<Vec<_>>());
    let im = medians(&still.iter().map(|value| value.im).collect::<Vec<_>>());
    re.into_iter()
        .zip(im)
        .zip(turned)
        .enumerate()
        .map(|(at, ((re, im), angle))| {
            // A mean over a stretch in which the tone turns is too small.
            let half_turn = slope(turned, at) / 2.0;
            let shrunk = if half_turn.abs() < 1e-6 {
                1.0
            } else {
                half_turn.sin() / half_turn
            };
            Complex64::new(re, im) * Complex64::cis(*angle) / shrunk
        })
        .collect()
}

/// The phasor that turns a tone back, at a sample.
fn back(sample: usize, hz: f64, rate_hz: f64) -> Complex64 {
    Complex64::cis(-TAU * (hz * sample as f64 / rate_hz).fract())
}

/// The phase, radians, that values slowly turn by: the sum of the medians of
/// their steps, where the tone sounds.
fn turning(values: &[Complex64]) -> Vec<f64> {
    let mut phase = 0.0;
    let mut turned = vec![0.0];
    let steps: Vec<f64> = steps(values)
        .into_iter()
        .map(|step| step.unwrap_or(0.0))
        .collect();
    turned.extend(medians(&steps).into_iter().map(|step| {
        phase += step;
        phase
    }));
    turned
}

/// How fast a phase turns at a stretch, radians a stretch.
fn slope(turned: &[f64], at: usize) -> f64 {
    let (before, after) = (at.saturating_sub(1), (at + 1).min(turned.len() - 1));
    (turned[after] - turned[before]) / (after - before).max(1) as f64
}

/// The phase, radians, from each value to the next, while the tone sounds: one
/// that is switched has only noise in between.
fn steps(values: &[Complex64]) -> Vec<Option<f64>> {
    let mut amplitudes: Vec<f64> = values.iter().map(|value| value.norm()).collect();
    let sounds = share_of(&mut amplitudes, 0.9, f64::total_cmp).unwrap_or(0.0) * SOUNDING;
    values
        .windows(2)
        .map(|pair| {
            let both = pair.iter().all(|value| value.norm() > sounds);
            both.then(|| (pair[1] * pair[0].conj()).arg())
        })
        .collect()
}

/// Each value's median with its neighbours on both sides.
fn medians(values: &[f64]) -> Vec<f64> {
    (0..values.len())
        .map(|at| {
            let from = at.saturating_sub(MEDIAN_REACH);
            let to = (at + MEDIAN_REACH + 1).min(values.len());
            median(&mut values[from..to].to_vec(), f64::total_cmp).unwrap_or(0.0)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const RATE_HZ: f64 = 256_000.0;

    fn tone(hz: f64, amplitude: f64, frames: usize) -> Vec<f32> {
        (0..frames)
            .map(|n| (amplitude * (TAU * hz * n as f64 / RATE_HZ + 1.0).sin()) as f32)
            .collect()
    }

    fn rms(samples: &[f32]) -> f64 {
        let sum: f64 = samples.iter().map(|&s| f64::from(s).powi(2)).sum();
        (sum / samples.len() as f64).sqrt()
    }

    #[test]
    fn rumble_goes_and_the_lowest_bats_stay() {
        let passed = |hz: f64| {
            let samples = tone(hz, 1.0, 25_600);
            let out = without_rumble(&samples, RATE_HZ);
            20.0 * (rms(&out[2_560..]) / rms(&samples[2_560..])).log10()
        };
        // Butterworth (textbook): -10 log10(1 + (corner / f)^4).
        assert!((passed(3_000.0) + 3.01).abs() < 0.05);
        assert!((passed(300.0) + 40.0).abs() < 0.1);
        assert!((passed(9_000.0) + 0.053).abs() < 0.02);
        assert!(passed(40_000.0).abs() < 0.001);
    }

    #[test]
    fn stretches_side_by_side_join_without_a_seam() {
        // Long enough that each begins after the filter has forgotten, and one sample more.
        let samples = tone(5_000.0, 0.5, 40_001);
        let all = without_rumble(&samples, RATE_HZ);
        assert_eq!(all.len(), samples.len());
        // The same from other places on, where the seams lie elsewhere.
        for from in [1, 777, 10_003] {
            let part = without_rumble(&samples[from..], RATE_HZ);
            let off = |n: usize| (all[from + n] - part[n]).abs();
            assert!((600..part.len()).all(|n| off(n) < 1e-6), "{from}");
        }
    }

    #[test]
    fn an_offset_makes_no_step() {
        let out = without_rumble(&[0.5; 1000], RATE_HZ);
        assert!(out.iter().all(|s| s.abs() < 1e-6));
        assert!(without_rumble(&[], RATE_HZ).is_empty());
    }

    #[test]
    fn a_tone_goes_even_where_its_frequency_was_guessed() {
        for off in [-300.0, 0.0, 120.0] {
            let mut samples = tone(40_000.0, 0.3, 128_000);
            remove_line(&mut samples, RATE_HZ, 40_000.0 + off);
            let left = 20.0 * (rms(&samples) / (0.3 / 2f64.sqrt())).log10();
            assert!(left < -40.0, "{left} dB at {off} Hz off");
        }
    }

    #[test]
    fn what_sounds_briefly_at_the_tone_s_frequency_stays() {
        let mut samples = tone(40_000.0, 0.1, 128_000);
        let call = tone(40_000.0, 0.2, 5_120);
        for (sample, call) in samples[60_000..].iter_mut().zip(&call) {
            *sample += call;
        }
        remove_line(&mut samples, RATE_HZ, 40_020.0);
        let inside = rms(&samples[60_500..64_500]);
        assert!(
            (inside / (0.2 / 2f64.sqrt()) - 1.0).abs() < 0.05,
            "{inside}"
        );
        assert!(rms(&samples[..50_000]) < 0.001);
    }

    #[test]
    fn few_samples_are_no_trouble() {
        for frames in [0, 1, 7, 255, 256, 257] {
            let mut samples = tone(40_000.0, 0.3, frames);
            remove_line(&mut samples, RATE_HZ, 40_000.0);
            assert!(samples.iter().all(|s| s.is_finite()));
        }
    }
}
