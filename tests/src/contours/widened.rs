//! The project's own contour once more, smoothed over as long a stretch as the pulse bears at
//! each moment.
//!
//! The sound is turned back along the contour and read in a channel 6 kHz wide. What is left of
//! frequency is smoothed by a parabola, whose reach grows as long as all shorter reaches
//! agree with it within what noise explains: the intersection of confidence intervals
//! (Goldenshluger & Nemirovski 1997, Math. Methods Statist. 6:135-170; cited from memory). Nothing
//! is told of the pulse but what was measured.

use std::f64::consts::TAU;

use realfft::num_complex::Complex64;

use super::target::{Target, Track};

/// Time between knots, milliseconds.
const KNOT_MS: f64 = 0.05;
/// Length of the raised cosine that makes the channel, milliseconds, and its noise bandwidth, hertz.
const KERNEL_MS: f64 = 0.25;
const CHANNEL_HZ: f64 = 1.5e3 / KERNEL_MS;
/// How far beyond the pulse noise is read, milliseconds.
const AROUND_MS: f64 = 4.0;
/// Half-widths that are tried, milliseconds.
const REACHES_MS: [f64; 11] = [0.2, 0.28, 0.4, 0.56, 0.8, 1.1, 1.6, 2.2, 3.2, 4.5, 6.4];
/// Half of a confidence interval, standard deviations.
const SURE: f64 = 1.3;

/// Smooths a contour anew.
pub(super) fn trace(target: &Target, own: &Track) -> Track {
    let (Some(first), Some(last)) = (own.points.first(), own.points.last()) else {
        return Track::default();
    };
    let turned = turn_back(
        target,
        own,
        first.0 - AROUND_MS / 1e3,
        last.0 + AROUND_MS / 1e3,
    );
    let inside = |at_s: f64| (first.0..=last.0).contains(&at_s);
    let noise = noise_power(&turned, inside);
    let core: Vec<(f64, Complex64)> = turned.into_iter().filter(|v| inside(v.0)).collect();
    let steps = steps(&core, own);
    let points = core.iter().enumerate().map(|(knot, &(at_s, _))| {
        let hz = widest(&steps, &core, knot, noise);
        (
            at_s,
            hz.map_or_else(|| own.khz(at_s).unwrap_or(0.0), |hz| hz / 1e3),
        )
    });
    Track {
        points: points.collect(),
    }
}

/// The sound around a contour at each knot, as time and what is left of it.
fn turn_back(target: &Target, own: &Track, from_s: f64, to_s: f64) -> Vec<(f64, Complex64)> {
    let rate_hz = target.rate_hz;
    let half = (KERNEL_MS / 2e3 * rate_hz).round() as usize;
    let begin = (from_s * rate_hz).max(0.0) as usize;
    let end = ((to_s * rate_hz).max(0.0) as usize).min(target.samples.len());
    let mut turns = 0.0;
    let turned: Vec<Complex64> = (begin..end)
        .map(|n| {
            turns += own.khz(n as f64 / rate_hz).unwrap_or(0.0) * 1e3 / rate_hz;
            let sample = f64::from(target.samples[n]);
            Complex64::from_polar(sample, -TAU * (turns % 1.0))
        })
        .collect();
    let weights: Vec<f64> = (0..=2 * half)
        .map(|n| 0.5 - 0.5 * (TAU * (n as f64 + 0.5) / (2 * half + 1) as f64).cos())
        .collect();
    let sum: f64 = weights.iter().sum();
    let hop = ((KNOT_MS / 1e3 * rate_hz).round() as usize).max(1);
    let knots = turned.windows(weights.len()).step_by(hop).enumerate();
    knots
        .map(|(knot, around)| {
            let value: Complex64 = around.iter().zip(&weights).map(|(v, w)| v * w).sum();
            let at_s = (begin + knot * hop + half) as f64 / rate_hz;
            (at_s, value * 2.0 / sum)
        })
        .collect()
}

/// Mean power of the noise in the channel, off the median beside the pulse.
fn noise_power(turned: &[(f64, Complex64)], inside: impl Fn(f64) -> bool) -> f64 {
    let beside = turned.iter().filter(|v| !inside(v.0));
    let mut powers: Vec<f64> = beside.map(|v| v.1.norm_sqr()).collect();
    crate::truth::tally::quantile(&mut powers, 0.5) / std::f64::consts::LN_2
}

/// Frequency from knot to knot, hertz, and its weight. It is the contour's own with what is left
/// of it: smoothing what is left alone would keep the contour's own noise.
fn steps(core: &[(f64, Complex64)], own: &Track) -> Vec<(f64, f64)> {
    core.windows(2)
        .map(|pair| {
            let product = pair[1].1 * pair[0].1.conj();
            let step_s = pair[1].0 - pair[0].0;
            let own_hz = own.khz((pair[0].0 + pair[1].0) / 2.0).unwrap_or(0.0) * 1e3;
            (own_hz + product.arg() / (TAU * step_s), product.norm())
        })
        .collect()
}

/// The frequency at a knot, hertz, over the widest reach that agrees with all narrower ones.
fn widest(steps: &[(f64, f64)], core: &[(f64, Complex64)], knot: usize, noise: f64) -> Option<f64> {
    let (mut low, mut high) = (f64::NEG_INFINITY, f64::INFINITY);
    let mut best_hz = None;
    for reach_ms in REACHES_MS {
        let fit = fit(steps, core, knot, reach_ms / KNOT_MS, noise);
        let Some((hz, deviation_hz)) = fit else {
            continue;
        };
        low = low.max(hz - SURE * deviation_hz);
        high = high.min(hz + SURE * deviation_hz);
        if low > high {
            break;
        }
        best_hz = Some(hz);
    }
    best_hz
}

/// The weighted parabola's value at a knot, and its standard deviation from noise. A straight
/// line's value would be off wherever a sweep is bent.
fn fit(
    steps: &[(f64, f64)],
    core: &[(f64, Complex64)],
    knot: usize,
    reach: f64,
    noise: f64,
) -> Option<(f64, f64)> {
    let at = knot as f64 - 0.5;
    let from = (at - reach).ceil().max(0.0) as usize;
    let to = ((at + reach).floor().max(0.0) as usize + 1).min(steps.len());
    let near = steps.get(from..to)?;
    let place = |n: usize| ((from + n) as f64 - at) / reach;
    let weight = |n: usize| {
        let strength = near.get(n).map_or(0.0, |s| s.1);
        strength * (1.0 - (place(n) * reach / (reach + 1.0)).powi(2))
    };
    let moment = |power: i32| {
        (0..near.len())
            .map(|n| weight(n) * place(n).powi(power))
            .sum()
    };
    let [s0, s1, s2, s3, s4]: [f64; 5] = [0, 1, 2, 3, 4].map(moment);
    // The first row of the inverse of the normal equations' matrix.
    let row = [s2 * s4 - s3 * s3, s2 * s3 - s1 * s4, s1 * s3 - s2 * s2];
    let determinant = s0 * row[0] + s1 * row[1] + s2 * row[2];
    if near.len() < 4 || determinant <= 1e-9 * s0 * s0 * s0 {
        return None;
    }
    let share = |n: usize| {
        let x = place(n);
        weight(n) * (row[0] + row[1] * x + row[2] * x * x) / determinant
    };
    let hz = near
        .iter()
        .enumerate()
        .map(|(n, (hz, _))| share(n) * hz)
        .sum();
    // In terms of the knots' phases, each of which is off by noise over amplitude.
    let step_s = KNOT_MS / 1e3;
    let variance: f64 = (0..=near.len())
        .map(|n| {
            let before = n.checked_sub(1).map_or(0.0, share);
            let after = if n < near.len() { share(n) } else { 0.0 };
            let power = core
                .get(from + n)
                .map_or(0.0, |v| v.1.norm_sqr())
                .max(noise);
            (before - after).powi(2) * noise / (2.0 * power)
        })
        .sum();
    // Neighbouring knots share noise, since the channel is narrower than knots are many.
    let shared = 1.0 / (CHANNEL_HZ * step_s);
    Some((hz, (variance * shared).sqrt() / (TAU * step_s)))
}

#[cfg(test)]
mod tests {
    use super::super::target::sweep::{samples, target, worst};
    use super::*;

    #[test]
    fn a_contour_that_is_off_is_put_right() {
        let samples = samples();
        let off = Track {
            points: vec![(5e-3, 70.6), (7e-3, 59.7), (9e-3, 50.2)],
        };
        let track = trace(&target(&samples), &off);
        assert!(worst(&track) < 0.03, "{}", worst(&track));
    }
}
