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
    Some((top as f64 + vertex(&power[top - 1..=top + 1])) * bin_hz)
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
            let weight = if inside < 1.0 {
                0.5 - 0.5 * (std::f64::consts::PI * inside).cos()
            } else {
                1.0
            };
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
