//! How far a sound strays from the guide that it is followed with.

use rustfft::num_complex::Complex32;
use std::f64::consts::TAU;
use std::ops::Range;

/// Each width is so many times the one before it, and there are so many.
const WIDENING: f64 = 2.0;
const WIDTHS: usize = 5;
/// Estimates of two widths agree if they lie within so many standard deviations of one another's. Small: the
/// bias that a width brings is to stay below what noise does.
const AGREEING: f64 = 1.5;

/// The steps of the phase from knot to knot.
pub(super) struct Steps {
    /// Each step as a frequency, hertz, and its weight: as much as its two amplitudes.
    steps: Vec<(f64, f64)>,
    knot_s: f64,
}

/// An estimate, and its standard deviation, hertz.
#[derive(Debug, Clone, Copy)]
pub(super) struct Estimate {
    pub(super) hz: f64,
    pub(super) sigma_hz: f64,
}

impl Steps {
    /// Of the knots that a sound covers: nothing outside is read.
    pub(super) fn of(values: &[Complex32], core: Range<usize>, knot_s: f64) -> Self {
        let steps = values[core]
            .windows(2)
            .map(|pair| {
                let product = pair[1] * pair[0].conj();
                let hz = f64::from(product.arg()) / (TAU * knot_s);
                (hz, f64::from(product.norm()))
            })
            .collect();
        Self { steps, knot_s }
    }

    /// Deviation from the guide at each knot, hertz, smoothed by a local straight line. Each phase step
    /// weighs as much as its two amplitudes, and near ones more than far ones (a parabola: the weights that
    /// make a frequency read from phase steps as sure as can be, Kay 1989, IEEE Trans. ASSP 37:1987-1990).
    pub(super) fn smoothed(&self, half_width: usize) -> Vec<f64> {
        (0..=self.steps.len())
            .map(|knot| local_line(&self.steps, knot as f64 - 0.5, half_width as f64))
            .collect()
    }

    /// The same with a width for each knot: the widest whose estimate agrees with those of all narrower ones,
    /// from half of the usual width on (intersection of confidence intervals: Katkovnik 1999, IEEE Trans.
    /// Signal Processing 47:2567-2571, from memory). So a level tone is averaged long, and a bend is kept.
    ///
    /// `noise` is the noise's amplitude in a channel of `bandwidth_hz`.
    pub(super) fn adapted(&self, usual: usize, noise: f32, bandwidth_hz: f64) -> Vec<Estimate> {
        let per_energy = f64::from(noise).powi(2) / (bandwidth_hz * self.knot_s);
        (0..=self.steps.len())
            .map(|knot| self.widest(knot as f64 - 0.5, usual as f64 / WIDENING, per_energy))
            .collect()
    }

    fn widest(&self, at: f64, narrowest: f64, per_energy: f64) -> Estimate {
        let (mut low, mut high) = (f64::NEG_INFINITY, f64::INFINITY);
        let mut best = Estimate {
            hz: 0.0,
            sigma_hz: f64::INFINITY,
        };
        let mut width = narrowest.max(1.0).round();
        for n in 0..WIDTHS {
            let estimate = Estimate {
                hz: local_line(&self.steps, at, width),
                sigma_hz: self.sigma_hz(at, width, per_energy),
            };
            let reach = AGREEING * estimate.sigma_hz;
            low = low.max(estimate.hz - reach);
            high = high.min(estimate.hz + reach);
            if low > high {
                break;
            }
            // Where the window cannot grow any more, nor can it get surer.
            if n == 0 || estimate.sigma_hz < best.sigma_hz {
                best = estimate;
            }
            width *= WIDENING;
        }
        best
    }

    /// Standard deviation of an estimate, hertz: that of a tone's frequency in noise (Rife and Boorstyn 1974, IEEE
    /// Trans. Inform. Theory 20:591-598, from memory), which is four times as large at the end of a window
    /// that also tells a slope, as in its middle.
    fn sigma_hz(&self, at: f64, half_width: f64, per_energy: f64) -> f64 {
        let (from, to) = window(at, half_width, self.steps.len());
        let energy: f64 = self.steps[from..to].iter().map(|(_, power)| power).sum();
        let length = (to - from).max(1) as f64;
        let middle = (from as f64 + to as f64 - 1.0) / 2.0;
        let aside = ((at - middle).abs() * 2.0 / length).min(1.0);
        let tone = (6.0 * per_energy / energy.max(1e-30)).sqrt() / (TAU * length * self.knot_s);
        tone * (TAPERED + (16.0 - TAPERED) * aside * aside).sqrt()
    }
}

/// How much larger the variance is under the parabola than under even weights.
const TAPERED: f64 = 1.3;

/// The steps that lie within a half width of a place: from, and up to without.
fn window(at: f64, half_width: f64, steps: usize) -> (usize, usize) {
    let from = (at - half_width).ceil().max(0.0) as usize;
    let to = ((at + half_width).floor().max(0.0) as usize + 1).min(steps);
    (from.min(to), to)
}

/// The value at `at` of the weighted straight line through the values near it.
fn local_line(points: &[(f64, f64)], at: f64, half_width: f64) -> f64 {
    let (from, to) = window(at, half_width, points.len());
    let (mut w0, mut w1, mut w2, mut y0, mut y1) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for (n, (value, amplitude)) in points.iter().enumerate().take(to).skip(from) {
        let x = n as f64 - at;
        let closeness = 1.0 - (x / (half_width + 1.0)).powi(2);
        let weight = amplitude * closeness;
        w0 += weight;
        w1 += weight * x;
        w2 += weight * x * x;
        y0 += weight * value;
        y1 += weight * x * value;
    }
    let determinant = w0 * w2 - w1 * w1;
    if determinant > w0 * w0 * 1e-3 {
        (y0 * w2 - y1 * w1) / determinant
    } else if w0 > 0.0 {
        y0 / w0
    } else {
        0.0
    }
}
