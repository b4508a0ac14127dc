//! What is known of every call of a scene, from its laws and not by measuring.

use realfft::RealFftPlanner;
use serde::{Deserialize, Serialize};

use super::{Call, Placed, Scene};
use crate::pulse::{Flag, Harmonic, Shape};

/// How far below the maximum the edges of a pulse lie, decibels.
const EDGE_DB: f64 = 20.0;
/// Largest step of the spectrum in which the peak frequency is sought, hertz.
const GRID_HZ: f64 = 20.0;
/// How far a pulse's own band, in which it is compared with noise, reaches beyond its
/// lowest and highest frequency, kilohertz.
const BAND_KHZ: f64 = 1.0;
/// Share of a pulse that a flattest stretch covers, and its shortest length.
const STRETCH_SHARE: f64 = 0.2;
const STRETCH_MS: f64 = 0.4;

/// One pulse as it was made. Names and units are those of [`crate::pulse::Pulse`].
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TruePulse {
    /// Where the envelope rises to 20 dB below its maximum, seconds.
    pub start_s: f64,
    /// Where the envelope falls to 20 dB below its maximum, seconds.
    pub end_s: f64,
    /// End minus start, milliseconds.
    pub duration_ms: f64,
    /// Maximum of the power spectrum of the noise-free pulse, kilohertz.
    pub peak_khz: f64,
    /// The law at the start, kilohertz.
    pub start_khz: f64,
    /// The law at the end, kilohertz.
    pub end_khz: f64,
    /// The law's largest value between start and end, kilohertz.
    pub high_khz: f64,
    /// The law's smallest value between start and end, kilohertz.
    pub low_khz: f64,
    /// The law at the end of its flattest stretch, kilohertz.
    pub characteristic_khz: f64,
    /// Slope over the whole pulse, kilohertz per millisecond.
    pub sweep_khz_per_ms: f64,
    /// Slope over the flattest stretch, kilohertz per millisecond.
    pub flattest_khz_per_ms: f64,
    /// Start minus the start of the same animal's pulse before it, milliseconds.
    pub interval_ms: Option<f64>,
    /// Amplitude of all harmonics together (root of the sum of squares) at the envelope's
    /// maximum, decibels re full scale.
    pub level_db: f64,
    /// Power at the envelope's maximum over that of the steady noise within the pulse's
    /// own band (1 kHz wider than its contour on either side), decibels; none where there
    /// is no steady noise.
    pub snr_db: Option<f64>,
    /// The shape it was built with.
    pub shape: Shape,
    /// The animal that made it, counted from 1.
    pub animal: u32,
    /// Whether it was clipped, cut off by the recording's edge, or overlapped by another pulse.
    pub flags: Vec<Flag>,
    /// Its harmonics, the fundamental first.
    pub harmonics: Vec<Harmonic>,
}

/// What the law says between two edges of a call.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Edges {
    /// First edge, milliseconds from the law's beginning.
    pub start_ms: f64,
    /// Last edge, milliseconds from the law's beginning.
    pub end_ms: f64,
    /// The law at the first edge, kilohertz.
    pub start_khz: f64,
    /// The law at the last edge, kilohertz.
    pub end_khz: f64,
    /// Smallest value between them, kilohertz.
    pub low_khz: f64,
    /// Largest value between them, kilohertz.
    pub high_khz: f64,
}

impl Call {
    /// The law at and between the moments where the envelope is `below_db` under its maximum.
    pub fn edges(&self, below_db: f64) -> Edges {
        let (start_ms, end_ms) = self.edges_ms(below_db);
        let (low_khz, high_khz) = self.law.range_khz(start_ms, end_ms);
        Edges {
            start_ms,
            end_ms,
            start_khz: self.law.khz(start_ms),
            end_khz: self.law.khz(end_ms),
            low_khz,
            high_khz,
        }
    }

    /// Frequency of most energy of the whole noise-free call with its harmonics, kilohertz.
    pub fn peak_khz(&self, rate_hz: f64) -> f64 {
        let frames = (self.duration_ms() / 1e3 * rate_hz).ceil() as usize + 1;
        let points = frames
            .max((rate_hz / GRID_HZ).ceil() as usize)
            .next_power_of_two();
        let mut samples = vec![0.0_f32; frames];
        self.add_to(&mut samples, rate_hz, 0.0, 1.0, None);
        let mut padded: Vec<f64> = samples.iter().map(|&s| f64::from(s)).collect();
        padded.resize(points, 0.0);
        let transform = RealFftPlanner::<f64>::new().plan_fft_forward(points);
        let mut spectrum = transform.make_output_vec();
        // Lengths match by construction; a failure would leave zeros and a peak of 0 kHz.
        if transform.process(&mut padded, &mut spectrum).is_err() {
            return 0.0;
        }
        let powers = spectrum.iter().map(|value| value.norm_sqr()).enumerate();
        let (bin, _) = powers.fold(
            (0, 0.0),
            |best, next| if next.1 > best.1 { next } else { best },
        );
        bin as f64 * rate_hz / points as f64 / 1e3
    }

    /// Law at the end of the flattest stretch between two moments, and the slope over it.
    ///
    /// A stretch is a fifth of the time between them, and at least 0.4 ms; of equally flat
    /// ones the last counts.
    pub fn flattest(&self, from_ms: f64, to_ms: f64) -> (f64, f64) {
        let whole_ms = to_ms - from_ms;
        let stretch_ms = (whole_ms * STRETCH_SHARE).max(STRETCH_MS).min(whole_ms);
        let steps = 400_u32;
        let step_ms = (whole_ms - stretch_ms) / f64::from(steps);
        let travel = |t_ms: f64| {
            let part_ms = stretch_ms / 8.0;
            let at = |i: u32| self.law.khz(t_ms + f64::from(i) * part_ms);
            (0..8).map(|i| (at(i + 1) - at(i)).abs()).sum::<f64>()
        };
        let mut best = (from_ms, f64::INFINITY);
        for step in 0..=steps {
            let t_ms = from_ms + f64::from(step) * step_ms;
            if travel(t_ms) <= best.1 * 1.001 + 1e-6 {
                best = (t_ms, travel(t_ms).min(best.1));
            }
        }
        let end_khz = self.law.khz(best.0 + stretch_ms);
        (end_khz, (end_khz - self.law.khz(best.0)) / stretch_ms)
    }
}

impl Scene {
    /// The truth of every call, in the order of the calls; `samples` are the rendered ones.
    pub fn truth(&self, samples: &[f32]) -> Vec<TruePulse> {
        let mut pulses: Vec<TruePulse> =
            self.calls.iter().map(|c| self.pulse(c, samples)).collect();
        self.mark_overlaps(&mut pulses);
        for index in 0..pulses.len() {
            let (before, rest) = pulses.split_at_mut(index);
            if let Some(pulse) = rest.first_mut() {
                let last = before.iter().rev().find(|p| p.animal == pulse.animal);
                pulse.interval_ms = last.map(|l| (pulse.start_s - l.start_s) * 1e3);
            }
        }
        pulses
    }

    fn pulse(&self, placed: &Placed, samples: &[f32]) -> TruePulse {
        let call = &placed.call;
        let edges = call.edges(EDGE_DB);
        let (characteristic_khz, flattest_khz_per_ms) = call.flattest(edges.start_ms, edges.end_ms);
        let start_s = placed.onset_s + edges.start_ms / 1e3;
        let end_s = placed.onset_s + edges.end_ms / 1e3;
        let duration_ms = edges.end_ms - edges.start_ms;
        let level_db = placed.level_db + self.joint_db(call);
        let fundamental = Harmonic {
            multiple: 1,
            relative_db: 0.0,
        };
        TruePulse {
            start_s,
            end_s,
            duration_ms,
            peak_khz: call.peak_khz(f64::from(self.rate_hz)),
            start_khz: edges.start_khz,
            end_khz: edges.end_khz,
            high_khz: edges.high_khz,
            low_khz: edges.low_khz,
            characteristic_khz,
            sweep_khz_per_ms: (edges.end_khz - edges.start_khz) / duration_ms,
            flattest_khz_per_ms,
            interval_ms: None,
            level_db,
            snr_db: self.snr_db(&edges, level_db),
            shape: call.shape,
            animal: placed.animal,
            flags: self.flags(start_s, end_s, samples),
            harmonics: std::iter::once(fundamental)
                .chain(call.harmonics.iter().copied())
                .collect(),
        }
    }

    /// How much louder a call is with its harmonics than its fundamental alone, decibels.
    fn joint_db(&self, call: &Call) -> f64 {
        let (top_ms, _) = call.maximum();
        20.0 * libm::log10(call.joint_amplitude(top_ms, f64::from(self.rate_hz)))
    }

    fn snr_db(&self, edges: &Edges, level_db: f64) -> Option<f64> {
        let noise = self.noise_between(edges.low_khz - BAND_KHZ, edges.high_khz + BAND_KHZ);
        // A sine of amplitude 1 has a mean power of one half.
        (noise > 0.0).then(|| level_db - 10.0 * libm::log10(2.0 * noise))
    }

    fn flags(&self, start_s: f64, end_s: f64, samples: &[f32]) -> Vec<Flag> {
        let rate_hz = f64::from(self.rate_hz);
        let frame = |s: f64| ((s * rate_hz).max(0.0) as usize).min(samples.len());
        let own = samples
            .get(frame(start_s)..frame(end_s))
            .unwrap_or_default();
        let clipped = own.iter().any(|s| s.abs() >= 1.0);
        let cut_off = start_s < 0.0 || end_s > self.duration_s;
        [(clipped, Flag::Clipped), (cut_off, Flag::CutOff)]
            .into_iter()
            .filter_map(|(holds, flag)| holds.then_some(flag))
            .collect()
    }

    fn mark_overlaps(&self, pulses: &mut [TruePulse]) {
        let spans: Vec<_> = pulses
            .iter()
            .map(|p| (p.start_s, p.end_s, p.low_khz, p.high_khz))
            .collect();
        for (index, pulse) in pulses.iter_mut().enumerate() {
            let meets = spans.iter().enumerate().any(|(other, span)| {
                other != index
                    && span.0 < pulse.end_s
                    && span.1 > pulse.start_s
                    && span.2 < pulse.high_khz
                    && span.3 > pulse.low_khz
            });
            if meets {
                pulse.flags.push(Flag::Overlapped);
            }
        }
    }
}
