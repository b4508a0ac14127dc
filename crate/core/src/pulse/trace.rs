//! Finding: spectral peaks, frame by frame, linked into traces.
//!
//! A pulse is a ridge in the spectrogram. Linking peaks by continuity keeps
//! apart what a threshold would melt together: two animals at once, harmonics,
//! a call and its echo, the pulses of a buzz in their own reverberation.

use super::Settings;
use super::calm::Lasting;
pub(super) use crate::spectrum::vertex;
use crate::spectrum::{NoiseFloor, Stft, StftSettings, Window, from_db};
use std::ops::Range;

/// Length of the window, seconds. The four-term Blackman-Harris window has an
/// effective length of half of it: short enough for a sweep of 20 kHz/ms, long
/// enough to lift a quiet constant tone out of the noise.
pub(super) const WINDOW_S: f64 = 0.9e-3;
/// Time between frames, seconds.
const HOP_S: f64 = 0.25e-3;
/// Frames a trace may miss: interference of two paths makes short holes.
const LONGEST_HOLE: usize = 2;
/// A dip between two peaks of a frame that makes them two, as a power ratio (6 dB).
const VALLEY: f32 = 0.25;
/// Farthest jump from one frame to the next while the slope is unknown, hertz.
/// 15 kHz in a quarter millisecond is the 60 kHz/ms of the steepest sweeps.
const FIRST_JUMP_HZ: f64 = 15_000.0;
/// The same upwards: bats sweep down, rarely and then gently up.
const FIRST_JUMP_UP_HZ: f64 = 5_000.0;
/// Deviation from the extrapolated trace that is allowed at any slope, hertz.
const DEVIATION_HZ: f64 = 3_500.0;
/// Length of the pieces of a block that constant tones are looked for in, and the
/// frames of each that are looked at.
const PIECE_S: f64 = 0.5;
const PIECE_FRAMES: usize = 64;
/// Lowest noise power per bin that is believed: where a recorder gates its
/// input to digital silence, rounding would else count as a signal.
const LOWEST_FLOOR: f32 = 1e-12;

/// A spectral peak.
#[derive(Debug, Clone, Copy)]
pub(super) struct Peak {
    /// Time of the frame's middle, seconds from the block's start.
    pub(super) time_s: f64,
    pub(super) hz: f64,
    pub(super) power: f32,
    /// Power over the mean noise of its bin.
    pub(super) over_noise: f32,
}

/// Peaks that continue one another, at least one, in order of time.
#[derive(Debug, Clone)]
pub(super) struct Trace {
    pub(super) peaks: Vec<Peak>,
    last_frame: usize,
    slope_hz_per_frame: f64,
}

impl Trace {
    /// Time from the first to the last peak, seconds.
    pub(super) fn span(&self) -> Range<f64> {
        self.peaks[0].time_s..self.peaks[self.peaks.len() - 1].time_s
    }

    /// A trace along peaks that somebody else chose, at least one, in order of time.
    pub(super) fn along(peaks: Vec<Peak>) -> Self {
        Self {
            peaks,
            last_frame: 0,
            slope_hz_per_frame: 0.0,
        }
    }

    fn begin(peak: Peak, frame: usize) -> Self {
        Self {
            peaks: vec![peak],
            last_frame: frame,
            slope_hz_per_frame: 0.0,
        }
    }

    /// How well a peak continues the trace: 0 perfectly, 1 just so, none if not at all.
    fn misfit(&self, peak: &Peak, frame: usize) -> Option<f64> {
        let frames = (frame - self.last_frame) as f64;
        let last = self.peaks[self.peaks.len() - 1];
        let jump = peak.hz - last.hz;
        let misfit = if self.peaks.len() == 1 {
            let farthest = if jump > 0.0 {
                FIRST_JUMP_UP_HZ
            } else {
                FIRST_JUMP_HZ
            };
            jump.abs() / (farthest * frames)
        } else {
            let expected = self.slope_hz_per_frame * frames;
            (jump - expected).abs() / (DEVIATION_HZ * frames + expected.abs() * 0.5)
        };
        (misfit <= 1.0).then_some(misfit)
    }

    fn extend(&mut self, peak: Peak, frame: usize) {
        let last = self.peaks[self.peaks.len() - 1];
        let slope = (peak.hz - last.hz) / (frame - self.last_frame) as f64;
        // An even mix of old and new: one noisy peak does not throw the trace off.
        self.slope_hz_per_frame = if self.peaks.len() == 1 {
            slope
        } else {
            0.5 * (self.slope_hz_per_frame + slope)
        };
        self.peaks.push(peak);
        self.last_frame = frame;
    }

    fn is_credible(&self, settings: &Settings) -> bool {
        let best = self.peaks.iter().fold(0f32, |a, p| a.max(p.over_noise));
        let evidence: f64 = self
            .peaks
            .iter()
            .map(|peak| 10.0 * f64::from(peak.over_noise).log10() - settings.trace_db)
            .sum();
        let span = self.span();
        self.peaks.len() >= 2
            && best >= from_db(settings.seed_db as f32)
            && evidence >= settings.evidence_db
            && span.end - span.start <= settings.longest_ms * 1e-3
    }
}

/// Finds traces in blocks of samples of one recording.
pub(super) struct Tracer {
    stft: Stft,
    rate_hz: f64,
    bins: Range<usize>,
    /// Powers of two frames, which are transformed at once.
    powers: [Vec<f32>; 2],
    /// Powers of the frames that the noise floor is read from.
    sampled: Vec<f32>,
}

/// What a block holds.
pub(super) struct Traced {
    pub(super) traces: Vec<Trace>,
    pub(super) noise: NoiseDensity,
}

/// The mean noise power per hertz, against frequency.
#[derive(Debug, Clone)]
pub(super) struct NoiseDensity {
    per_hz: Vec<f32>,
    bin_hz: f64,
}

impl NoiseDensity {
    /// The highest frequency that it is known at, hertz.
    pub(super) fn highest_hz(&self) -> f64 {
        self.per_hz.len().saturating_sub(1) as f64 * self.bin_hz
    }

    /// Noise power between two frequencies, re a full-scale sine.
    pub(super) fn power(&self, low_hz: f64, high_hz: f64) -> f64 {
        let last = self.per_hz.len().saturating_sub(1);
        let low = ((low_hz / self.bin_hz).round().max(0.0) as usize).min(last);
        let high = ((high_hz / self.bin_hz).round().max(0.0) as usize).min(last);
        let density = &self.per_hz[low..=high.max(low)];
        let mean = density.iter().map(|&d| f64::from(d)).sum::<f64>() / density.len() as f64;
        mean * (high_hz - low_hz).max(0.0)
    }
}

impl Tracer {
    /// Plans the search; none where the sampling rate leaves nothing to look at.
    pub(super) fn new(rate_hz: f64, settings: &Settings) -> Option<Self> {
        let length = ((WINDOW_S * rate_hz).round() as usize).clamp(64, 8192);
        let padded = length.next_power_of_two();
        let stft = Stft::new(&StftSettings {
            window: Window::BlackmanHarris,
            length,
            hop: ((HOP_S * rate_hz).round() as usize).max(1),
            padded,
        })
        .ok()?;
        let bin_hz = rate_hz / padded as f64;
        let traced = settings.traced_hz(rate_hz / 2.0);
        let low = (traced.start / bin_hz).ceil().max(1.0) as usize;
        let high = ((traced.end / bin_hz) as usize).min(stft.bins() - 1);
        (low < high).then(|| Self {
            powers: [0; 2].map(|_| vec![0.0; stft.bins()]),
            sampled: Vec::new(),
            stft,
            rate_hz,
            bins: low..high,
        })
    }

    /// Finds the credible traces of a block.
    pub(super) fn trace(&mut self, samples: &[f32], settings: &Settings) -> Traced {
        let floor = self.floor(samples);
        let threshold: Vec<f32> = floor
            .power()
            .iter()
            .map(|&noise| noise.max(LOWEST_FLOOR) * from_db(settings.trace_db as f32))
            .collect();
        let mut open: Vec<Trace> = Vec::new();
        let mut closed: Vec<Trace> = Vec::new();
        let mut peaks: Vec<Peak> = Vec::new();
        let frames = self.stft.frames(samples.len());
        for first in (0..frames).step_by(2) {
            self.transform_two(samples, first);
            for (frame, power) in (first..frames).zip(&self.powers) {
                self.peaks(power, &threshold, settings, self.time_s(frame), &mut peaks);
                link(&mut open, &mut peaks, frame);
                open.retain_mut(|trace| {
                    let over = frame - trace.last_frame > LONGEST_HOLE;
                    if over && trace.is_credible(settings) {
                        closed.push(trace.clone());
                    }
                    !over
                });
            }
        }
        closed.extend(open.into_iter().filter(|t| t.is_credible(settings)));
        Traced {
            traces: closed,
            noise: self.density(&floor),
        }
    }

    /// Transforms a frame and the one after it, as far as there is one.
    fn transform_two(&mut self, samples: &[f32], frame: usize) {
        let hop = self.stft.settings().hop;
        let of = |frame: usize| &samples[(frame * hop).min(samples.len())..];
        let [one, other] = &mut self.powers;
        self.stft
            .power_of_two([of(frame), of(frame + 1)], [one, other]);
    }

    /// The middle of a frame, seconds from the block's start.
    fn time_s(&self, frame: usize) -> f64 {
        let StftSettings { hop, length, .. } = *self.stft.settings();
        ((frame * hop) as f64 + length as f64 / 2.0) / self.rate_hz
    }

    /// What lasts in one piece of a block after the other: a tone that was switched on for a while
    /// shows in the pieces that it fills.
    pub(super) fn lasting(&mut self, samples: &[f32]) -> Vec<Lasting> {
        let length = ((PIECE_S * self.rate_hz) as usize).max(1);
        let (bins, bin_hz) = (self.stft.bins(), self.bin_hz());
        samples
            .chunks(length)
            .filter(|piece| piece.len() >= length / 2)
            .map(|piece| {
                self.look_at(piece, PIECE_FRAMES);
                Lasting::of(&self.sampled, bins, bin_hz)
            })
            .collect()
    }

    fn density(&self, floor: &NoiseFloor) -> NoiseDensity {
        let bandwidth_hz = self.stft.noise_bandwidth_hz(self.rate_hz) as f32;
        NoiseDensity {
            per_hz: floor
                .power()
                .iter()
                .map(|&noise| noise.max(LOWEST_FLOOR) / bandwidth_hz)
                .collect(),
            bin_hz: self.bin_hz(),
        }
    }

    fn bin_hz(&self) -> f64 {
        self.rate_hz / self.stft.settings().padded as f64
    }

    /// Reads the noise floor off some of the block's frames.
    fn floor(&mut self, samples: &[f32]) -> NoiseFloor {
        self.look_at(samples, NoiseFloor::ENOUGH_FRAMES);
        NoiseFloor::of(&self.sampled, self.stft.bins())
    }

    /// Transforms some frames of a stretch, at most so many.
    fn look_at(&mut self, samples: &[f32], most: usize) {
        let bins = self.stft.bins();
        let hop = self.stft.settings().hop;
        let frames: Vec<usize> =
            NoiseFloor::sampled_frames(self.stft.frames(samples.len()), most).collect();
        self.sampled.resize(frames.len() * bins, 0.0);
        for (pair, powers) in frames.chunks(2).zip(self.sampled.chunks_mut(2 * bins)) {
            let (one, other) = powers.split_at_mut(bins);
            match *pair {
                [frame, next] => {
                    let of = |frame: usize| &samples[frame * hop..];
                    self.stft.power_of_two([of(frame), of(next)], [one, other]);
                }
                [frame] => self.stft.power(&samples[frame * hop..], one),
                _ => {}
            }
        }
    }

    /// The bins whose power lies above the threshold. Most frames have none:
    /// several bins are looked at in one go, which processors do at once.
    fn bins_above<'a>(
        &self,
        power: &'a [f32],
        threshold: &'a [f32],
    ) -> impl Iterator<Item = usize> + use<'a> {
        const AT_ONCE: usize = 16;
        let above = |(power, threshold): (&f32, &f32)| power > threshold;
        let first_bin = self.bins.start;
        let chunks = power[self.bins.clone()].chunks(AT_ONCE);
        let thresholds = threshold[self.bins.clone()].chunks(AT_ONCE);
        chunks
            .zip(thresholds)
            .enumerate()
            .filter(move |(_, (powers, thresholds))| {
                powers
                    .iter()
                    .zip(*thresholds)
                    .fold(false, |any, pair| any | above(pair))
            })
            .flat_map(move |(chunk, (powers, thresholds))| {
                let first = first_bin + chunk * AT_ONCE;
                let pairs = powers.iter().zip(thresholds).enumerate();
                pairs
                    .filter(move |(_, pair)| above(*pair))
                    .map(move |(n, _)| first + n)
            })
    }

    /// Collects a frame's peaks: local maxima above the threshold, those that
    /// no real dip parts taken as one.
    fn peaks(
        &self,
        power: &[f32],
        threshold: &[f32],
        settings: &Settings,
        time_s: f64,
        out: &mut Vec<Peak>,
    ) {
        out.clear();
        let mut last_bin = 0;
        for bin in self.bins_above(power, threshold) {
            let here = power[bin];
            if here < power[bin - 1] || here <= power[bin + 1] {
                continue;
            }
            let peak = Peak {
                time_s,
                hz: (bin as f64 + vertex(&power[bin - 1..=bin + 1])) * self.bin_hz(),
                power: here,
                over_noise: here / threshold[bin] * from_db(settings.trace_db as f32),
            };
            match out.last_mut() {
                Some(before) if !parted(&power[last_bin..=bin]) => {
                    if here > before.power {
                        *before = peak;
                        last_bin = bin;
                    }
                }
                _ => {
                    out.push(peak);
                    last_bin = bin;
                }
            }
        }
    }
}

/// Whether a real dip lies between the two ends of a stretch of the spectrum.
fn parted(stretch: &[f32]) -> bool {
    let ends = stretch[0].min(stretch[stretch.len() - 1]);
    stretch.iter().any(|&power| power < ends * VALLEY)
}

/// Gives each trace the peak that continues it best, strongest peaks first;
/// what is left begins traces of its own.
fn link(open: &mut Vec<Trace>, peaks: &mut [Peak], frame: usize) {
    peaks.sort_unstable_by(|a, b| b.power.total_cmp(&a.power));
    let known = open.len();
    for peak in peaks {
        let best = open[..known]
            .iter()
            .enumerate()
            .filter(|(_, trace)| trace.last_frame < frame)
            .filter_map(|(at, trace)| Some((at, trace.misfit(peak, frame)?)))
            .min_by(|a, b| a.1.total_cmp(&b.1));
        match best {
            Some((at, _)) => open[at].extend(*peak, frame),
            None => open.push(Trace::begin(*peak, frame)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn vertex_of_a_gaussian_is_found_exactly() {
        // The logarithm of a Gaussian is a parabola.
        for off in [-0.45f64, -0.2, 0.0, 0.1, 0.5] {
            let powers = [-1.0, 0.0, 1.0].map(|x: f64| (-(x - off).powi(2)).exp() as f32);
            assert!((vertex(&powers) - off).abs() < 1e-5, "{off}");
        }
    }

    #[test]
    fn vertex_stays_within_half_a_bin_and_is_none_of_a_plain() {
        assert_eq!(vertex(&[1.0, 1.0, 1.0]), 0.0);
        assert_eq!(vertex(&[0.0, 0.0, 0.0]), 0.0);
        assert_eq!(vertex(&[1.0, 2.0, 100.0]), 0.0);
        for powers in [[0.0, 1.0, 1.0], [1.0, 1.0, 0.0], [0.99, 1.0, 0.0]] {
            assert!(vertex(&powers).abs() <= 0.5, "{powers:?}");
        }
    }

    #[test]
    fn peaks_are_parted_by_a_dip_of_six_decibels_below_the_lower_one() {
        assert!(parted(&[1.0, 0.24, 1.0]));
        assert!(!parted(&[1.0, 0.26, 1.0]));
        // It is the lower peak that counts.
        assert!(!parted(&[1.0, 0.24, 0.5]));
        assert!(parted(&[1.0, 0.12, 0.5]));
        assert!(parted(&[0.5, 0.3, 0.12, 0.4, 1.0]));
        assert!(!parted(&[1.0, 1.0]));
    }

    fn peak(time_s: f64, hz: f64) -> Peak {
        Peak {
            time_s,
            hz,
            power: 1.0,
            over_noise: 100.0,
        }
    }

    #[test]
    fn crossing_sweeps_are_linked_each_to_its_own() {
        let mut open = Vec::new();
        for frame in 0..12 {
            let time_s = frame as f64 * HOP_S;
            let down = peak(time_s, 60_000.0 - 3_000.0 * frame as f64);
            let level = peak(time_s, 46_500.0);
            link(&mut open, &mut [down, level], frame);
        }
        assert_eq!(open.len(), 2);
        for trace in &open {
            assert_eq!(trace.peaks.len(), 12);
            let steps = trace.peaks.windows(2).map(|p| p[1].hz - p[0].hz);
            let steps: Vec<f64> = steps.collect();
            assert!(steps.iter().all(|step| *step == steps[0]), "{steps:?}");
        }
    }

    #[test]
    fn jump_too_far_for_any_sweep_begins_a_trace() {
        let mut open = Vec::new();
        link(&mut open, &mut [peak(0.0, 60_000.0)], 0);
        link(&mut open, &mut [peak(HOP_S, 44_000.0)], 1);
        assert_eq!(open.len(), 2);
        // Upwards less far.
        for (hz, traces) in [(48_000.0, 1), (50_000.0, 2)] {
            let mut open = Vec::new();
            link(&mut open, &mut [peak(0.0, 44_000.0)], 0);
            link(&mut open, &mut [peak(HOP_S, hz)], 1);
            assert_eq!(open.len(), traces);
        }
    }
}
