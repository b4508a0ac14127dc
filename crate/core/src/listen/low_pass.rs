//! What lies near the tone of a heterodyne, and nothing else.

use crate::spectrum::Window;

/// The filter's reach to either side of a sample, seconds: with this window the way from all to nothing
/// takes 1.5 kHz.
const REACH_S: f64 = 128.0 / 48_000.0;

/// A filter with linear phase, at the output's rate. Half the amplitude is left at the edge, all but 0.1 dB
/// 0.75 kHz below it, and less than -80 dB from 0.75 kHz above it.
#[derive(Debug)]
pub(super) struct LowPass {
    taps: Vec<f32>,
    window: Vec<f32>,
}

impl LowPass {
    pub(super) fn new(edge_hz: f64, output_hz: f64) -> Self {
        let reach = (REACH_S * output_hz).round().max(1.0) as usize;
        // Of the periodic window, the first value has no partner and is all but zero.
        let window = Window::BlackmanHarris.coefficients(2 * reach);
        let edge = (edge_hz / output_hz).min(0.45);
        let ideal = |k: f64| {
            let angle = std::f64::consts::TAU * edge * k;
            if k == 0.0 { 1.0 } else { angle.sin() / angle }
        };
        let mut taps: Vec<f32> = (1..2 * reach)
            .map(|n| window[n] * ideal(n as f64 - reach as f64) as f32)
            .collect();
        let sum: f32 = taps.iter().sum();
        taps.iter_mut().for_each(|tap| *tap /= sum);
        Self {
            window: vec![0.0; taps.len() - 1],
            taps,
        }
    }

    /// By how many samples what comes out is late.
    pub(super) fn delay(&self) -> usize {
        self.taps.len() / 2
    }

    /// Filters samples in place.
    pub(super) fn run(&mut self, samples: &mut [f32]) {
        self.window.extend_from_slice(samples);
        for (sample, window) in samples.iter_mut().zip(self.window.windows(self.taps.len())) {
            *sample = window.iter().zip(&self.taps).map(|(a, b)| a * b).sum();
        }
        self.window.drain(..samples.len());
    }
}
