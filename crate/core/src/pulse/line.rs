//! Straight lines.

/// The straight line through evenly spaced values: its first value, and how
/// much it rises from each to the next (nothing, for a single value).
pub(super) fn line(values: impl ExactSizeIterator<Item = f64>) -> (f64, f64) {
    let n = values.len() as f64;
    let middle = (n - 1.0) / 2.0;
    let (mut sum, mut xy, mut xx) = (0.0, 0.0, 0.0);
    for (x, y) in values.enumerate() {
        let x = x as f64 - middle;
        sum += y;
        xy += x * y;
        xx += x * x;
    }
    let slope = if xx > 0.0 { xy / xx } else { 0.0 };
    (sum / n - middle * slope, slope)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_through_a_line_is_that_line() {
        let (first, slope) = line([5.0, 3.0, 1.0, -1.0].into_iter());
        assert!((first - 5.0).abs() < 1e-12 && (slope + 2.0).abs() < 1e-12);
        assert_eq!(line([7.0].into_iter()), (7.0, 0.0));
    }

    #[test]
    fn a_line_through_scattered_values_is_that_of_least_squares() {
        // Anscombe (1973), The American Statistician 27:17-21: the first of his
        // sets in order of x has the line y = 3.00 + 0.500 x from x = 4 on.
        let y = [
            4.26, 5.68, 7.24, 4.82, 6.95, 8.81, 8.04, 8.33, 10.84, 7.58, 9.96,
        ];
        let (first, slope) = line(y.into_iter());
        assert!((first - (3.0 + 4.0 * 0.5)).abs() < 0.01, "{first}");
        assert!((slope - 0.5).abs() < 0.001, "{slope}");
    }
}
