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

    /// The values and how they are written.
    pub(super) fn written(self) -> Vec<(f64, String)> {
        self.values()
            .map(|value| (value, self.label(value)))
            .collect()
    }

    /// A value in so many decimals as tell neighbours apart.
    pub(super) fn label(self, value: f64) -> String {
        let decimals = usize::try_from(-self.exponent).unwrap_or(0);
        // Rounding can leave a minus before nothing.
        let text = format!("{:.decimals$}", value + 0.0);
        text.replace('-', "\u{2212}")
    }
}

/// Round values of a decade, the most first.
const OF_A_DECADE: [&[f64]; 6] = [
    &[1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0],
    &[1.0, 1.5, 2.0, 3.0, 5.0, 7.0],
    &[1.0, 2.0, 3.0, 5.0],
    &[1.0, 2.0, 5.0],
    &[1.0, 3.0],
    &[1.0],
];

/// Values for an axis of equal ratios, as they are written: their steps grow with them, and as many are taken as stand
/// apart by half of what `count` evenly spread ones would. The ends lie above 0.
pub(super) fn by_ratio(from: f64, to: f64, count: f64) -> Vec<(f64, String)> {
    if !(from > 0.0 && to > from && to.is_finite()) {
        return Vec::new();
    }
    let room = (to / from).ln() / count / 2.0;
    let decades = from.log10().floor() as i32..=to.log10().ceil() as i32;
    let within = |steps: &[f64]| -> Vec<f64> {
        let all = decades
            .clone()
            .flat_map(|decade| steps.iter().map(move |step| step * 10f64.powi(decade)));
        // What is left of rounding, such as 0.30000000000000004, neither counts nor is written.
        let clean = all.map(|value| format!("{value:.2e}").parse().unwrap_or(value));
        clean.filter(|value| (from..=to).contains(value)).collect()
    };
    let is_roomy = |values: &Vec<f64>| {
        let mut pairs = values.iter().zip(values.iter().skip(1));
        values.len() > 1 && pairs.all(|(near, far)| (far / near).ln() >= room)
    };
    let values = OF_A_DECADE.iter().map(|steps| within(steps)).find(is_roomy);
    // From so close by that hardly any of them lies in between, equal differences do.
    values.map_or_else(
        || Ticks::new(from, to, count).written(),
        |values| {
            values
                .iter()
                .map(|&value| (value, format!("{value}")))
                .collect()
        },
    )
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

    fn ratios(from: f64, to: f64, count: f64) -> Vec<String> {
        let ticks = by_ratio(from, to, count);
        ticks.into_iter().map(|(_, label)| label).collect()
    }

    #[test]
    fn ticks_of_equal_ratios_grow_with_their_values() {
        assert_eq!(
            ratios(3.9, 250.0, 6.0),
            ["5", "10", "20", "30", "50", "100", "200"]
        );
        assert_eq!(
            ratios(20.0, 80.0, 6.0),
            ["20", "30", "40", "50", "60", "80"]
        );
        assert_eq!(ratios(0.1, 1000.0, 4.0), ["0.1", "1", "10", "100", "1000"]);
        // From close by they are those of a straight axis.
        assert_eq!(ratios(41.0, 47.0, 4.0), ["42", "44", "46"]);
        assert_eq!(ratios(0.0, 47.0, 4.0), [""; 0]);
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
