//! Round values along an axis.

/// Round values: whole multiples of 1, 2 or 5 times a power of ten.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Ticks {
    /// The first and the last multiple.
    first: i64,
    last: i64,
    /// 1, 2 or 5.
    digit: i32,
    /// The power of ten.
    exponent: i32,
}

/// A value within this share of a step of an end counts as lying there: what is left of rounding.
const SLACK: f64 = 1e-9;

impl Ticks {
    /// About `count` values from `from` to `to`, both included; none where these are no span.
    pub(super) fn new(from: f64, to: f64, count: f64) -> Self {
        let is_span = from.is_finite() && to.is_finite() && from < to;
        let (from, to) = if is_span { (from, to) } else { (0.25, 0.75) };
        let count = if is_span { count.max(1.0) } else { 0.5 };
        let (digit, exponent) = round_step((to - from) / count);
        let step = f64::from(digit) * 10f64.powi(exponent);
        Self {
            first: (from / step - SLACK).ceil() as i64,
            last: (to / step + SLACK).floor() as i64,
            digit,
            exponent,
        }
    }

    /// The values in their order.
    pub(super) fn values(self) -> impl Iterator<Item = f64> {
        // Dividing by a whole power of ten is exact to the last bit, multiplying by 0.1 is not.
        let value = move |multiple: i64| {
            let whole = multiple as f64 * f64::from(self.digit);
            let power = 10f64.powi(self.exponent.abs());
            if self.exponent < 0 {
                whole / power
            } else {
                whole * power
            }
        };
        (self.first..=self.last).map(value)
    }

    /// A value in so many decimals as tell neighbours apart.
    pub(super) fn label(self, value: f64) -> String {
        let decimals = usize::try_from(-self.exponent).unwrap_or(0);
        // Rounding can leave a minus before nothing.
        let text = format!("{:.decimals$}", value + 0.0);
        text.replace('-', "\u{2212}")
    }
}

/// 1, 2 or 5 times a power of ten, the nearest by ratio to a step.
pub(super) fn round_step(step: f64) -> (i32, i32) {
    // A step that is not above 0 has no logarithm.
    let step = step.max(1e-12);
    let exponent = step.log10().floor();
    let share = step / 10f64.powf(exponent);
    let exponent = exponent as i32;
    if share >= 50f64.sqrt() {
        (1, exponent + 1)
    } else if share >= 10f64.sqrt() {
        (5, exponent)
    } else if share >= 2f64.sqrt() {
        (2, exponent)
    } else {
        (1, exponent)
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed test may panic")]

    use super::*;
    use serde::Deserialize;

    #[derive(Deserialize)]
    struct Case {
        from: f64,
        to: f64,
        count: f64,
        ticks: Vec<f64>,
        labels: Vec<String>,
    }

    /// Made with d3-scale by `tests/data/make_ticks_reference.mjs`.
    #[test]
    fn values_and_labels_are_those_of_d3() {
        let text = include_str!("../../../../../tests/data/ticks_reference.json");
        let cases: Vec<Case> = serde_json::from_str(text).unwrap();
        assert!(cases.len() > 100);
        for case in cases {
            let ticks = Ticks::new(case.from, case.to, case.count);
            let values: Vec<f64> = ticks.values().collect();
            assert_eq!(values, case.ticks, "{} to {}", case.from, case.to);
            let labels: Vec<String> = values.iter().map(|&value| ticks.label(value)).collect();
            assert_eq!(labels, case.labels, "{} to {}", case.from, case.to);
        }
    }

    #[test]
    fn what_is_no_span_has_no_ticks() {
        for (from, to) in [
            (1.0, 1.0),
            (2.0, 1.0),
            (f64::NAN, 1.0),
            (0.0, f64::INFINITY),
        ] {
            assert_eq!(
                Ticks::new(from, to, 5.0).values().next(),
                None,
                "{from} to {to}"
            );
        }
    }
}
