//! Fisher information of a known waveform with unknown parameters in white Gaussian noise,
//! and the bound that it sets.
//!
//! I_ij = (1/sigma^2) sum over n of ds\[n\]/dtheta_i ds\[n\]/dtheta_j (Kay 1993, section 3.9, from
//! memory). The standard deviation of an unbiased estimate of g(theta) is at least
//! sqrt(grad g^T I^-1 grad g).

/// Derivatives of a vector of values by each parameter, by central differences.
pub fn derivatives(
    values: impl Fn(&[f64]) -> Vec<f64>,
    theta: &[f64],
    steps: &[f64],
) -> Vec<Vec<f64>> {
    let moved = |index: usize, by: f64| {
        let mut theta = theta.to_vec();
        if let Some(value) = theta.get_mut(index) {
            *value += by;
        }
        values(&theta)
    };
    steps
        .iter()
        .enumerate()
        .map(|(index, &step)| {
            let (above, below) = (moved(index, step), moved(index, -step));
            let differences = above.iter().zip(&below);
            differences.map(|(a, b)| (a - b) / (2.0 * step)).collect()
        })
        .collect()
}

/// The information that samples hold of parameters, ready to be inverted.
#[derive(Debug, Clone)]
pub struct Information {
    /// Root of each diagonal element: parameters differ in size by many powers of ten.
    scales: Vec<f64>,
    /// Lower triangle of the scaled matrix's Cholesky factor, row by row.
    factor: Vec<Vec<f64>>,
}

impl Information {
    /// From the derivatives of the samples by each parameter; none where the samples do not
    /// tell the parameters apart.
    pub fn of(derivatives: &[Vec<f64>], noise_power: f64) -> Option<Information> {
        let product = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(x, y)| x * y).sum::<f64>();
        let scales: Vec<f64> = derivatives
            .iter()
            .map(|d| (product(d, d) / noise_power).sqrt())
            .collect();
        let element = |i: usize, j: usize| {
            product(&derivatives[i], &derivatives[j]) / noise_power / (scales[i] * scales[j])
        };
        let factor = cholesky(derivatives.len(), element)?;
        Some(Information { scales, factor })
    }

    /// The least standard deviation of an unbiased estimate of a quantity with this gradient.
    pub fn bound(&self, gradient: &[f64]) -> f64 {
        // With I = S L L^T S, the variance is the squared length of L^-1 S^-1 grad g.
        let mut solved: Vec<f64> = Vec::with_capacity(gradient.len());
        for ((row, scale), slope) in self.factor.iter().zip(&self.scales).zip(gradient) {
            let known: f64 = row.iter().zip(&solved).map(|(l, x)| l * x).sum();
            let diagonal = row.last().copied().unwrap_or(1.0);
            solved.push((slope / scale - known) / diagonal);
        }
        solved.iter().map(|x| x * x).sum::<f64>().sqrt()
    }
}

/// The Cholesky factor of a symmetric matrix; none where it is not positive definite.
fn cholesky(size: usize, element: impl Fn(usize, usize) -> f64) -> Option<Vec<Vec<f64>>> {
    let mut rows: Vec<Vec<f64>> = Vec::with_capacity(size);
    for i in 0..size {
        let mut row: Vec<f64> = Vec::with_capacity(i + 1);
        for (j, above) in rows.iter().enumerate() {
            let known: f64 = row.iter().zip(above).map(|(a, b)| a * b).sum();
            row.push((element(i, j) - known) / above.last()?);
        }
        let left = element(i, i) - row.iter().map(|a| a * a).sum::<f64>();
        // Below this the difference is rounding, and the parameters cannot be told apart.
        if left <= 1e-12 {
            return None;
        }
        row.push(left.sqrt());
        rows.push(row);
    }
    Some(rows)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed test may panic")]

    use std::f64::consts::{PI, TAU};

    use super::*;

    const COUNT: f64 = 400.0;
    const NOISE: f64 = 0.01;

    /// A tone or chirp of amplitude, phase, cycles a sample at the middle, and change of them.
    fn chirp(theta: &[f64]) -> Vec<f64> {
        let sweep = theta.get(3).copied().unwrap_or(0.0);
        (0..COUNT as usize)
            .map(|n| {
                let n = n as f64 - (COUNT - 1.0) / 2.0;
                theta[0] * (theta[1] + TAU * (theta[2] * n + sweep * n * n / 2.0)).cos()
            })
            .collect()
    }

    fn information(theta: &[f64], steps: &[f64]) -> Information {
        Information::of(&derivatives(chirp, theta, steps), NOISE).unwrap()
    }

    #[test]
    fn a_tone_is_bounded_as_the_closed_form_says() {
        let (amplitude, theta) = (0.7, [0.7, 0.4, 0.13]);
        let info = information(&theta, &[1e-5, 1e-5, 1e-8]);
        // Kay 1993, example 3.14 (from memory), with eta the ratio of powers.
        let eta = amplitude * amplitude / (2.0 * NOISE);
        let frequency = (12.0 / (TAU * TAU * eta * COUNT * (COUNT * COUNT - 1.0))).sqrt();
        assert!((info.bound(&[0.0, 0.0, 1.0]) / frequency - 1.0).abs() < 0.01);
        let level = (2.0 * NOISE / COUNT).sqrt();
        assert!((info.bound(&[1.0, 0.0, 0.0]) / level - 1.0).abs() < 0.01);
    }

    #[test]
    fn a_straight_chirp_is_bounded_as_the_closed_form_says() {
        let theta = [0.7, 0.4, 0.2, 4e-4];
        let info = information(&theta, &[1e-5, 1e-5, 1e-8, 1e-10]);
        let eta = 0.49 / (2.0 * NOISE);
        let square = COUNT * COUNT;
        // The middle frequency is as sure as a tone's: odd and even terms do not meet.
        let middle = (12.0 / (TAU * TAU * eta * COUNT * (square - 1.0))).sqrt();
        assert!((info.bound(&[0.0, 0.0, 1.0, 0.0]) / middle - 1.0).abs() < 0.01);
        // The sweep rate: phase pi k n^2, less its mean, summed over n.
        let rate = (180.0 / (PI * PI * eta * COUNT * (square - 1.0) * (square - 4.0))).sqrt();
        assert!((info.bound(&[0.0, 0.0, 0.0, 1.0]) / rate - 1.0).abs() < 0.01);
    }

    #[test]
    fn a_derived_quantity_counts_what_its_parameters_share() {
        let theta = [0.7, 0.4, 0.2, 4e-4];
        let info = information(&theta, &[1e-5, 1e-5, 1e-8, 1e-10]);
        let (middle, rate) = (
            info.bound(&[0.0, 0.0, 1.0, 0.0]),
            info.bound(&[0.0, 0.0, 0.0, 1.0]),
        );
        // At the end: middle and half the sweep, which are independent.
        let reach = (COUNT - 1.0) / 2.0;
        let end = info.bound(&[0.0, 0.0, 1.0, reach]);
        assert!((end / middle.hypot(rate * reach) - 1.0).abs() < 0.01);
    }

    #[test]
    fn parameters_that_cannot_be_told_apart_have_no_bound() {
        let twice = |theta: &[f64]| vec![theta[0] + theta[1]; 5];
        let slopes = derivatives(twice, &[1.0, 2.0], &[1e-4, 1e-4]);
        assert!(Information::of(&slopes, 1.0).is_none());
    }
}
