//! How far a sound strays from the guide that it is followed with.

use rustfft::num_complex::Complex32;
use std::f64::consts::TAU;
use std::ops::Range;

/// Each width is so many times the one before it, and there are so many.
const WIDENING: f64 = 2.0;
const WIDTHS: usize = 4;
/// Estimates agree if they lie within so many standard deviations of one another's. Small: the bias that a
/// width brings is to stay below what noise does.
const AGREEING: f64 = 1.5;
/// Estimates are made at one knot in so many of the usual half width, and in between by straight lines.
const STRIDES: usize = 4;

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

    /// The same with a width for each knot: the widest whose estimate agrees with those of all narrower ones
    /// (intersection of confidence intervals: Katkovnik 1999, IEEE Trans. Signal Processing 47:2567-2571, from
    /// memory). So a level tone is averaged long, and a bend is kept.
    ///
    /// What is averaged is the whole frequency, `guide` and deviation: the guide has been put right before, and its
    /// own errors are to be averaged out, too. `noise` is the noise's amplitude in a channel of `bandwidth_hz`.
    pub(super) fn adapted(
        &self,
        guide: &[f64],
        usual: usize,
        noise: f32,
        bandwidth_hz: f64,
    ) -> Vec<Estimate> {
        let whole = Whole {
            frequencies: self.whole(guide),
            steps: self,
            per_energy: f64::from(noise).powi(2) / (bandwidth_hz * self.knot_s),
            usual: usual.max(1) as f64,
        };
        let last = self.steps.len();
        let stride = (usual / STRIDES).max(1);
        let mut estimates: Vec<Estimate> = Vec::with_capacity(last + 1);
        let mut now = whole.widest(0, guide[0]);
        for from in (0..last).step_by(stride) {
            let to = (from + stride).min(last);
            let next = whole.widest(to, guide[to]);
            for knot in from..to {
                let share = (knot - from) as f64 / (to - from) as f64;
                estimates.push(Estimate {
                    hz: now.hz + share * (next.hz - now.hz),
                    sigma_hz: now.sigma_hz + share * (next.sigma_hz - now.sigma_hz),
                });
            }
            now = next;
        }
        estimates.push(now);
        estimates
    }

    /// The frequency of each step with the guide's, and its weight.
    fn whole(&self, guide: &[f64]) -> Vec<(f64, f64)> {
        let between = guide.windows(2).map(|pair| (pair[0] + pair[1]) / 2.0);
        let steps = self.steps.iter().zip(between);
        steps
            .map(|((off, weight), hz)| (hz + off, *weight))
            .collect()
    }

    /// Standard deviation of a tone's frequency that is read from the steps within a half width, hertz, times what a
    /// curve that is told along with it makes of it (Rife and Boorstyn 1974, IEEE Trans. Inform. Theory
    /// 20:591-598, and Peleg and Porat 1991, IEEE Trans. Inform. Theory 37:422-430; from memory).
    fn sigma_hz(&self, at: f64, half_width: f64, per_energy: f64, curve: &Curve) -> f64 {
        let (from, to) = window(at, half_width, self.steps.len());
        let energy: f64 = self.steps[from..to].iter().map(|(_, power)| power).sum();
        let length = (to - from).max(1) as f64;
        let middle = (from as f64 + to as f64 - 1.0) / 2.0;
        let aside = ((at - middle).abs() * 2.0 / length).min(1.0);
        let tone = (6.0 * per_energy / energy.max(1e-30)).sqrt() / (TAU * length * self.knot_s);
        tone * (curve.middle + (curve.end - curve.middle) * aside * aside).sqrt()
    }
}

/// How much larger the variance of a frequency is in the middle and at the end of a window, where a slope, or a
/// slope and a bend, are told along with it.
struct Curve {
    middle: f64,
    end: f64,
}

const LINE: Curve = Curve {
    middle: TAPERED,
    end: 16.0,
};
const PARABOLA: Curve = Curve {
    middle: 6.25,
    end: 100.0,
};

/// Everything that a contour is averaged from.
struct Whole<'a> {
    frequencies: Vec<(f64, f64)>,
    steps: &'a Steps,
    per_energy: f64,
    usual: f64,
}

impl Whole<'_> {
    /// The surest estimate at a knot of those that agree, as the deviation from the guide there.
    fn widest(&self, knot: usize, guide_hz: f64) -> Estimate {
        let at = knot as f64 - 0.5;
        // A straight line through deviations bends as the guide does: it is what the others must agree with.
        let narrow = self.usual / WIDENING;
        let mut best = Estimate {
            hz: guide_hz + local_line(&self.steps.steps, at, narrow),
            sigma_hz: self.steps.sigma_hz(at, narrow, self.per_energy, &LINE),
        };
        let reach = AGREEING * best.sigma_hz;
        let (mut low, mut high) = (best.hz - reach, best.hz + reach);
        for (curve, fit) in [
            (&PARABOLA, local_parabola as Fit),
            (&LINE, local_line as Fit),
        ] {
            let mut width = self.usual;
            for _ in 0..WIDTHS {
                let sigma_hz = self.steps.sigma_hz(at, width, self.per_energy, curve);
                let hz = fit(&self.frequencies, at, width);
                let reach = AGREEING * sigma_hz;
                if hz - reach > high || hz + reach < low {
                    break;
                }
                (low, high) = (low.max(hz - reach), high.min(hz + reach));
                if sigma_hz < best.sigma_hz {
                    best = Estimate { hz, sigma_hz };
                }
                width *= WIDENING;
            }
        }
        Estimate {
            hz: best.hz - guide_hz,
            ..best
        }
    }
}

/// The value of a curve through values with weights, near a place and at it.
type Fit = fn(&[(f64, f64)], f64, f64) -> f64;

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

/// The value at `at` of the weighted parabola through the values near it; of the straight line where there are too few.
fn local_parabola(points: &[(f64, f64)], at: f64, half_width: f64) -> f64 {
    let (from, to) = window(at, half_width, points.len());
    let mut moments = [0.0; 5];
    let mut sums = [0.0; 3];
    for (n, (value, amplitude)) in points.iter().enumerate().take(to).skip(from) {
        // In half widths, so that the powers stay near one.
        let x = (n as f64 - at) / half_width;
        let closeness = 1.0 - ((n as f64 - at) / (half_width + 1.0)).powi(2);
        let weight = amplitude * closeness;
        let mut power = weight;
        for (order, moment) in moments.iter_mut().enumerate() {
            *moment += power;
            if let Some(sum) = sums.get_mut(order) {
                *sum += power * value;
            }
            power *= x;
        }
    }
    let [s0, s1, s2, s3, s4] = moments;
    let [y0, y1, y2] = sums;
    // Cramer's rule for the value at the place itself.
    let (a, b, c) = (s2 * s4 - s3 * s3, s1 * s4 - s2 * s3, s1 * s3 - s2 * s2);
    let determinant = s0 * a - s1 * b + s2 * c;
    if determinant > s0 * s0 * s0 * 1e-5 {
        (y0 * a - y1 * b + y2 * c) / determinant
    } else {
        local_line(points, at, half_width)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn curves_through_curves_are_those_curves() {
        let line: Vec<(f64, f64)> = (0..40).map(|n| (3.0 - 0.5 * f64::from(n), 1.0)).collect();
        let bent: Vec<(f64, f64)> = (0..40)
            .map(|n| (2.0 + 0.1 * f64::from(n * n), 1.0 + f64::from(n % 3)))
            .collect();
        for at in [0.0, 7.5, 20.0, 39.0] {
            assert!(
                (local_line(&line, at, 9.0) - (3.0 - 0.5 * at)).abs() < 1e-9,
                "{at}"
            );
            assert!(
                (local_parabola(&bent, at, 9.0) - (2.0 + 0.1 * at * at)).abs() < 1e-9,
                "{at}"
            );
        }
        // One value has neither slope nor bend.
        assert_eq!(local_parabola(&[(5.0, 2.0)], 0.0, 4.0), 5.0);
        assert_eq!(local_parabola(&[], 0.0, 4.0), 0.0);
    }

    /// Steps of a tone of this frequency off the guide, with a wobble on the guide.
    fn adapted(wobble: impl Fn(usize) -> f64) -> (Vec<f64>, Vec<Estimate>) {
        let knot_s = 0.05e-3;
        let guide: Vec<f64> = (0..200).map(|n| 40_000.0 + wobble(n)).collect();
        let mut phase = 0.0;
        let values: Vec<Complex32> = (0..200)
            .map(|n| {
                let value = Complex32::from_polar(0.1, phase as f32);
                let next = guide.get(n + 1).unwrap_or(&guide[n]);
                phase += TAU * knot_s * (40_000.0 - (guide[n] + next) / 2.0);
                value
            })
            .collect();
        let steps = Steps::of(&values, 0..200, knot_s);
        let estimates = steps.adapted(&guide, 16, 0.001, 6_000.0);
        (guide, estimates)
    }

    #[test]
    fn the_guides_own_errors_are_averaged_out() {
        let (guide, estimates) = adapted(|n| 30.0 * (n as f64 / 9.0).sin());
        for (hz, estimate) in guide.iter().zip(&estimates) {
            assert!(
                (hz + estimate.hz - 40_000.0).abs() < 1.5,
                "{}",
                hz + estimate.hz
            );
        }
        // Long averages are surer than the usual ones.
        assert!(estimates[100].sigma_hz < estimates[0].sigma_hz);
    }
}
