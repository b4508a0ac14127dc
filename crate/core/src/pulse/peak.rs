//! The frequency of most energy in a whole pulse.

use super::follow::unit;
use super::trace::vertex;
use std::ops::Range;

/// The maximum of a pulse's power spectrum.
#[derive(Debug, Clone, Copy)]
pub(super) struct Peak {
    /// Its frequency.
    pub(super) hz: f64,
    /// Half the width of the frequencies whose power noise may have lifted to the maximum.
    pub(super) width_hz: f64,
}

/// Noise may lift a power by so many of its standard deviations, in decibels.
const LIFTED: f64 = 2.0;

/// The maximum of a pulse's power spectrum within bands; `noise` is what noise alone has in it.
///
/// `sound` is the pulse with what lies around it; it counts from `span` on, and
/// is faded over `fade` samples outside of that, so that the envelope, which is
/// not quite zero at the edges, makes no step that would spread over the spectrum.
pub(super) fn peak(
    spectrum: &mut PulseSpectrum,
    sound: &[f32],
    rate_hz: f64,
    span: Range<f64>,
    fade: f64,
    bands: &[Range<f64>],
    noise: f64,
) -> Option<Peak> {
    let from = ((span.start - fade).floor().max(0.0) as usize).min(sound.len());
    let to = ((span.end + fade).ceil().max(0.0) as usize + 1).min(sound.len());
    let power = spectrum.power(sound.get(from..to)?, fade);
    let bin_hz = rate_hz / ((power.len() - 1) * 2) as f64;
    let bins = || {
        bands.iter().flat_map(|band| {
            let low = (band.start / bin_hz).ceil().max(1.0) as usize;
            let high = ((band.end / bin_hz) as usize + 1).min(power.len() - 1);
            low..high.max(low)
        })
    };
    let top = bins()
        .filter(|&bin| bin + 1 < power.len())
        .max_by(|&a, &b| power[a].total_cmp(&power[b]))?;
    let highest = f64::from(power[top]);
    // The relative standard deviation of a power with noise in it (textbook).
    let deviation = (2.0 * noise / highest.max(1e-30)).sqrt();
    let least = highest / (1.0 + LIFTED * deviation);
    let (low, high) = bins()
        .filter(|&bin| f64::from(power[bin]) >= least)
        .fold((top, top), |(low, high), bin| (low.min(bin), high.max(bin)));
    Some(Peak {
        hz: (top as f64 + vertex(&power[top - 1..=top + 1])) * bin_hz,
        width_hz: (high - low + 1) as f64 / 2.0 * bin_hz,
    })
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
        // At least twice as many points as samples leave the parabola little to do.
        let points = (samples.len() * 2).next_power_of_two().max(1024);
        let transform = self
            .planner
            .get_or_insert_with(realfft::RealFftPlanner::new)
            .plan_fft_forward(points);
        let mut input = transform.make_input_vec();
        let mut output = transform.make_output_vec();
        for (n, (slot, sample)) in input.iter_mut().zip(samples).enumerate() {
            let inside = (n.min(samples.len() - 1 - n) as f64 + 0.5) / fade.max(1.0);
            let weight = if inside < 1.0 {
                0.5 - 0.5 * unit(inside as f32 / 2.0).0
            } else {
                1.0
            };
            *slot = sample * weight;
        }
        let transformed = transform.process(&mut input, &mut output);
        debug_assert!(transformed.is_ok(), "buffers are made by the plan itself");
        self.power.clear();
        self.power
            .extend(output.iter().map(|value| value.norm_sqr()));
        &self.power
    }
}
