//! Reassignment: the energy of each frame and bin is moved to its own centre of gravity,
//! which windows h, t h and dh/dt tell (Auger & Flandrin 1995).

use std::f64::consts::TAU;
use std::ops::Range;
use std::sync::Arc;

use realfft::num_complex::Complex32;
use realfft::{RealFftPlanner, RealToComplex};

use super::frames::HOP_MS;
use super::target::{Target, Track};

/// Cells in which reassigned energy is gathered before the ridge is sought, kilohertz.
const CELL_KHZ: f64 = 0.25;
/// How far from the fullest cell's middle energy still counts for the ridge, kilohertz.
const RIDGE_KHZ: f64 = 0.5;
/// Energy so far below a frame's largest is left where it is: it is noise, decibels.
const FAINT_DB: f64 = 15.0;
/// A cell of time with so much less than the fullest one holds nothing but noise, decibels.
const EMPTY_DB: f64 = 23.0;
/// How far a time may be moved, as a share of the window.
const FARTHEST: f64 = 0.5;

/// One bit of energy after it was moved.
#[derive(Debug, Clone, Copy)]
struct Bit {
    at_s: f64,
    khz: f64,
    power: f64,
}

/// Traces a pulse by energy that is moved in time and frequency.
pub(super) fn reassigned(target: &Target, window_ms: f64) -> Track {
    trace(target, window_ms, true)
}

/// Traces a pulse by energy that is moved in frequency alone.
pub(super) fn squeezed(target: &Target, window_ms: f64) -> Track {
    trace(target, window_ms, false)
}

fn trace(target: &Target, window_ms: f64, moved_in_time: bool) -> Track {
    let mut windows = Windows::new(window_ms, target.rate_hz);
    let hop = (HOP_MS / 1e3 * target.rate_hz).round() as usize;
    let middles = target.middles(hop);
    let first = middles.first().copied().unwrap_or(0);
    let mut cells: Vec<Vec<Bit>> = vec![vec![]; middles.len()];
    for (frame, &middle) in middles.iter().enumerate() {
        for bit in windows.bits(target, middle) {
            let off = (bit.at_s * target.rate_hz - first as f64) / hop as f64;
            let cell = if moved_in_time {
                off.round().max(0.0) as usize
            } else {
                frame
            };
            if let Some(cell) = cells.get_mut(cell) {
                cell.push(bit);
            }
        }
    }
    let middle_s = |cell: usize| middles[cell] as f64 / target.rate_hz;
    let energies: Vec<f64> = cells
        .iter()
        .map(|c| c.iter().map(|b| b.power).sum())
        .collect();
    let empty = energies.iter().copied().fold(0.0, f64::max) * 10f64.powf(-EMPTY_DB / 10.0);
    let points = cells
        .iter()
        .zip(&energies)
        .enumerate()
        .filter_map(|(cell, (bits, energy))| {
            let (at_s, khz) = ridge(bits, &target.band_khz).filter(|_| *energy > empty)?;
            Some((if moved_in_time { at_s } else { middle_s(cell) }, khz))
        });
    Track {
        points: points.collect(),
    }
}

/// Time and frequency of the ridge of one cell of time: the mean, weighted by energy, around
/// the fullest cell of frequency.
fn ridge(bits: &[Bit], band_khz: &Range<f64>) -> Option<(f64, f64)> {
    let count = ((band_khz.end - band_khz.start) / CELL_KHZ).ceil() as usize + 1;
    let mut sums = vec![0.0; count];
    for bit in bits {
        let cell = ((bit.khz - band_khz.start) / CELL_KHZ) as usize;
        if let Some(sum) = sums.get_mut(cell) {
            *sum += bit.power;
        }
    }
    let (fullest, sum) = sums.iter().enumerate().max_by(|a, b| a.1.total_cmp(b.1))?;
    if *sum <= 0.0 {
        return None;
    }
    let middle_khz = band_khz.start + (fullest as f64 + 0.5) * CELL_KHZ;
    let near = bits
        .iter()
        .filter(|b| (b.khz - middle_khz).abs() <= RIDGE_KHZ);
    let (mut weight, mut at_s, mut khz) = (0.0, 0.0, 0.0);
    for bit in near {
        weight += bit.power;
        at_s += bit.power * bit.at_s;
        khz += bit.power * bit.khz;
    }
    (weight > 0.0).then(|| (at_s / weight, khz / weight))
}

/// The three windows and their transforms.
struct Windows {
    rate_hz: f64,
    /// h, t h (t in samples) and dh/dt (per sample).
    weights: [Vec<f32>; 3],
    transform: Arc<dyn RealToComplex<f32>>,
    input: Vec<f32>,
    frame: Vec<f32>,
    spectra: [Vec<Complex32>; 3],
}

impl Windows {
    fn new(window_ms: f64, rate_hz: f64) -> Windows {
        let length = (window_ms / 1e3 * rate_hz).round() as usize | 1;
        let padded = (2 * length).next_power_of_two();
        let transform = RealFftPlanner::new().plan_fft_forward(padded);
        let turn = TAU / (length as f64 + 1.0);
        let lag = |n: usize| n as f64 - (length / 2) as f64;
        let each = |f: &dyn Fn(f64) -> f64| (0..length).map(|n| f(lag(n)) as f32).collect();
        let hann = |t: f64| 0.5 + 0.5 * (turn * t).cos();
        Windows {
            rate_hz,
            weights: [
                each(&hann),
                each(&|t| t * hann(t)),
                each(&|t| -0.5 * turn * (turn * t).sin()),
            ],
            input: transform.make_input_vec(),
            frame: vec![0.0; length],
            spectra: [(); 3].map(|()| transform.make_output_vec()),
            transform,
        }
    }

    /// The energy of one frame within the band, each bit at its own place.
    fn bits(&mut self, target: &Target, middle: i64) -> Vec<Bit> {
        target.around(middle, &mut self.frame);
        for (weights, spectrum) in self.weights.iter().zip(&mut self.spectra) {
            self.input.fill(0.0);
            for ((slot, sample), weight) in self.input.iter_mut().zip(&self.frame).zip(weights) {
                *slot = sample * weight;
            }
            if self.transform.process(&mut self.input, spectrum).is_err() {
                return vec![];
            }
        }
        let bin_khz = self.rate_hz / self.input.len() as f64 / 1e3;
        let first = (target.band_khz.start / bin_khz).floor().max(1.0) as usize;
        let last = (target.band_khz.end / bin_khz).ceil() as usize;
        let last = last.min(self.spectra[0].len().saturating_sub(1));
        let powers = self.spectra[0].get(first..last).unwrap_or_default();
        let largest = powers
            .iter()
            .map(|v| f64::from(v.norm_sqr()))
            .fold(0.0, f64::max);
        let faint = largest * 10f64.powf(-FAINT_DB / 10.0);
        let band = target.band_khz.clone();
        (first..last)
            .filter_map(|bin| self.bit(middle, bin, bin_khz))
            .filter(|bit| bit.power >= faint && band.contains(&bit.khz))
            .collect()
    }

    fn bit(&self, middle: i64, bin: usize, bin_khz: f64) -> Option<Bit> {
        let [plain, timed, sloped] = [0, 1, 2].map(|n| self.spectra[n][bin]);
        let power = plain.norm_sqr();
        if power <= 0.0 {
            return None;
        }
        let later = f64::from((timed * plain.conj()).re / power);
        let higher = -f64::from((sloped * plain.conj()).im / power);
        let length = self.frame.len() as f64;
        (later.abs() <= FARTHEST * length).then(|| Bit {
            at_s: (middle as f64 + later) / self.rate_hz,
            khz: bin as f64 * bin_khz + higher / TAU * self.rate_hz / 1e3,
            power: f64::from(power),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::super::target::sweep::{samples, target, worst};
    use super::*;

    #[test]
    fn a_loud_sweep_is_traced_by_moved_energy() {
        let samples = samples();
        // Both moves are exact for a straight sweep.
        let track = reassigned(&target(&samples), 0.8);
        assert!(worst(&track) < 0.03, "{}", worst(&track));
        let track = squeezed(&target(&samples), 0.6);
        assert!(worst(&track) < 0.25, "{}", worst(&track));
    }

    #[test]
    fn every_bit_of_a_sweep_lands_on_its_law() {
        let samples = samples();
        let target = target(&samples);
        let mut windows = Windows::new(0.8, target.rate_hz);
        for bit in windows.bits(&target, 2700) {
            let law = 70.0 - 5.0 * (bit.at_s - 5e-3) * 1e3;
            assert!((bit.khz - law).abs() < 0.05, "{bit:?}: {law}");
        }
    }
}
