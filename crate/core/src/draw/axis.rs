//! Where a pixel lies in time or frequency, and the other way round.

use std::ops::Range;

/// A straight scale between pixels and a quantity, in either direction.
///
/// Pixel positions are continuous: pixel `n` covers `n` up to and without
/// `n + 1`. An axis that runs from a larger value to a smaller one (frequency
/// from the top of a picture to its foot) is an axis like any other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Axis {
    first: f64,
    last: f64,
    pixels: u32,
}

impl Axis {
    /// An axis of `pixels` pixels from the value `first` at the outer edge of
    /// pixel 0 to `last` at the outer edge of the last pixel.
    #[must_use]
    pub fn new(first: f64, last: f64, pixels: u32) -> Self {
        Self {
            first,
            last,
            pixels,
        }
    }

    /// The value at a position.
    #[must_use]
    pub fn value_at(&self, position_px: f64) -> f64 {
        let share = position_px / f64::from(self.pixels);
        // Both ends come out exactly.
        self.first * (1.0 - share) + self.last * share
    }

    /// The position of a value; may lie outside the picture.
    #[must_use]
    pub fn position_px(&self, value: f64) -> f64 {
        (value - self.first) / (self.last - self.first) * f64::from(self.pixels)
    }

    /// The values that a pixel covers, the smaller first.
    #[must_use]
    pub fn span(&self, pixel: u32) -> Range<f64> {
        let near = self.value_at(f64::from(pixel));
        let far = self.value_at(f64::from(pixel) + 1.0);
        near.min(far)..near.max(far)
    }

    /// How much of the quantity a pixel covers.
    #[must_use]
    pub fn step(&self) -> f64 {
        (self.last - self.first).abs() / f64::from(self.pixels)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn ends_are_exact() {
        let rows = Axis::new(250.0, 0.0, 400);
        assert_eq!(rows.value_at(0.0), 250.0);
        assert_eq!(rows.value_at(400.0), 0.0);
        assert_eq!(rows.span(0).end, 250.0);
        assert_eq!(rows.step(), 0.625);
    }

    proptest! {
        #[test]
        fn there_and_back(
            low in 0f64..1e5,
            size in 1e-3f64..1e5,
            share in -0.5f64..1.5,
            pixels in 1u32..8192,
            downward: bool,
        ) {
            let (first, last) = if downward { (low + size, low) } else { (low, low + size) };
            let axis = Axis::new(first, last, pixels);
            let position = share * f64::from(pixels);
            let back = axis.position_px(axis.value_at(position));
            // Cancellation costs digits where the span is small beside its place.
            let tolerance = f64::from(pixels) * 1e-12 * (1.0 + low / size);
            prop_assert!((back - position).abs() <= tolerance, "{position} -> {back}");
        }

        #[test]
        fn a_value_lies_in_the_span_of_its_pixel(share in 0f64..1.0, pixels in 1u32..8192, downward: bool) {
            let axis = if downward { Axis::new(250.0, 10.0, pixels) } else { Axis::new(10.0, 250.0, pixels) };
            let value = axis.value_at(share * f64::from(pixels));
            let span = axis.span(axis.position_px(value).clamp(0.0, f64::from(pixels) - 1.0) as u32);
            prop_assert!(span.start - 1e-9 <= value && value <= span.end + 1e-9);
        }
    }
}
