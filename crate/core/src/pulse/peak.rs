//! The frequency of most energy in a whole pulse.

use super::trace::vertex;
use std::ops::Range;

/// Frequency of the maximum of a pulse's power spectrum within bands, hertz.
///
/// `sound` is the pulse with what lies around it; it counts from `span` on, and
/// is faded over `fade` samples outside of that, so that the envelope, which is
/// not quite zero at the edges, makes no step that would spread over the spectrum.
pub(super) fn peak_hz(
    spectrum: &mut PulseSpectrum,
    sound: &[f32],
    rate_hz: f64,
    span: Range<f64>,
    fade: f64,
    bands: &[Range<f64>],
) -> Option<f64> {
    let from = ((span.start - fade).floor().max(0.0) as usize).min(sound.len());
    let to = ((span.end + fade).ceil().max(0.0) as usize + 1).min(sound.len());
    let power = spectrum.power(sound.get(from..to)?, fade);
    let bin_hz = rate_hz / ((power.len() - 1) * 2) as f64;
    let top = bands
        .iter()
        .flat_map(|band| {
            let low = (band.start / bin_hz).ceil().max(1.0) as usize;
            let high = ((band.end / bin_hz) as usize + 1).min(power.len() - 1);
            low..high.max(low)
        })
        .filter(|&bin| bin + 1 < power.len())
        .max_by(|&a, &b| power[a].total_cmp(&power[b]))?;
    Some((top as f64 + crown(power, top)) * bin_hz)
}

/// The crown of a spectrum is what lies within 0.3 dB of its maximum.
const CROWN: f32 = 0.933;

/// Where the vertex of the crown lies, in bins from its largest one: the
/// parabola through all its levels. A tone's crown is a few bins; that of a
/// steep sweep is broad, and noise would else choose a place on it.
fn crown(power: &[f32], top: usize) -> f64 {
    let least = power[top] * CROWN;
    let inside = |bin: usize| power[bin] >= least;
    let low = (1..=top)
        .rev()
        .take_while(|&bin| inside(bin))
        .last()
        .unwrap_or(top);
    let high = (top..power.len() - 1)
        .take_while(|&bin| inside(bin))
        .last()
        .unwrap_or(top);
    if high - low < 4 {
        return vertex(&power[top - 1..=top + 1]);
    }
    let middle = (low + high) as f64 / 2.0;
    let half = (high - low) as f64 / 2.0;
    // Least squares of y = a + b x + c x^2 on evenly spaced x in -1..1.
    let (mut n, mut x2, mut x4, mut y0, mut y1, mut y2) = (0.0, 0.0, 0.0, 0.0, 0.0, 0.0);
    for (bin, level) in (low..=high).zip(&power[low..=high]) {
        let x = (bin as f64 - middle) / half;
        let y = f64::from(*level).ln();
        n += 1.0;
        x2 += x * x;
        x4 += x.powi(4);
        y0 += y;
        y1 += x * y;
        y2 += x * x * y;
    }
    let bend = (n * y2 - x2 * y0) / (n * x4 - x2 * x2);
    let slope = y1 / x2;
    let vertex = if bend < 0.0 {
        (-0.5 * slope / bend).clamp(-1.0, 1.0)
    } else {
        0.0
    };
    middle + vertex * half - top as f64
}

/// The transform of a whole pulse, zero-padded; plans and buffers are kept.
#[derive(Default)]
pub(super) struct PulseSpectrum {
    planner: Option<realfft::RealFftPlanner<f32>>,
    power: Vec<f32>,
}

impl PulseSpectrum {
    /// Powers of samples that are faded over so many at either end.
    fn power(&mut self, samples: &[f32], fade: f64) -> &[f32] {
        // Four times as many points as samples leave the parabola little to do.
        let points = (samples.len() * 4).next_power_of_two().max(1024);
        let transform = self
            .planner
            .get_or_insert_with(realfft::RealFftPlanner::new)
            .plan_fft_forward(points);
        let mut input = transform.make_input_vec();
        let mut output = transform.make_output_vec();
        for (n, (slot, sample)) in input.iter_mut().zip(samples).enumerate() {
            let inside = (n.min(samples.len() - 1 - n) as f64 + 0.5) / fade.max(1.0);
            let weight = 0.5 - 0.5 * (std::f64::consts::PI * inside.min(1.0)).cos();
            *slot = sample * weight as f32;
        }
        let transformed = transform.process(&mut input, &mut output);
        debug_assert!(transformed.is_ok(), "buffers are made by the plan itself");
        self.power.clear();
        self.power
            .extend(output.iter().map(|value| value.norm_sqr()));
        &self.power
    }
}
