//! Where a pixel lies in time or frequency, and the other way round.

use serde::{Deserialize, Serialize};
use std::ops::Range;

/// How a quantity runs along an axis.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(rename_all = "snake_case")]
pub enum Scale {
    /// Equal differences take equal room.
    #[default]
    Linear,
    /// Equal ratios take equal room, so that an octave is as high everywhere.
    Logarithmic,
}

/// A scale between pixels and a quantity, in either direction.
///
/// Pixel positions are continuous: pixel `n` covers `n` up to and without
/// `n + 1`. An axis that runs from a larger value to a smaller one (frequency
/// from the top of a picture to its foot) is an axis like any other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Axis {
    first: f64,
    last: f64,
    pixels: u32,
    scale: Scale,
}

impl Axis {
    /// A straight axis of `pixels` pixels from the value `first` at the outer edge of
    /// pixel 0 to `last` at the outer edge of the last pixel.
    #[must_use]
    pub fn new(first: f64, last: f64, pixels: u32) -> Self {
        Self::on(Scale::Linear, first, last, pixels)
    }

    /// The same on a scale; where that is logarithmic, both ends lie above 0.
    #[must_use]
    pub fn on(scale: Scale, first: f64, last: f64, pixels: u32) -> Self {
        Self {
            first,
            last,
            pixels,
            scale,
        }
    }

    /// The value at a position.
    #[must_use]
    pub fn value_at(&self, position_px: f64) -> f64 {
        let share = position_px / f64::from(self.pixels);
        match self.scale {
            // Both ends come out exactly.
            Scale::Linear => self.first * (1.0 - share) + self.last * share,
            Scale::Logarithmic if share == 1.0 => self.last,
            Scale::Logarithmic => self.first * (self.last / self.first).powf(share),
        }
    }

    /// The position of a value; may lie outside the picture.
    #[must_use]
    pub fn position_px(&self, value: f64) -> f64 {
        let share = match self.scale {
            Scale::Linear => (value - self.first) / (self.last - self.first),
            Scale::Logarithmic => (value / self.first).ln() / (self.last / self.first).ln(),
        };
        share * f64::from(self.pixels)
    }

    /// The values that a pixel covers, the smaller first.
    #[must_use]
    pub fn span(&self, pixel: u32) -> Range<f64> {
        let near = self.value_at(f64::from(pixel));
        let far = self.value_at(f64::from(pixel) + 1.0);
        near.min(far)..near.max(far)
    }

    /// How much of the quantity a pixel covers; on a logarithmic scale, the pixel in the middle.
    #[must_use]
    pub fn step(&self) -> f64 {
        let pixels = f64::from(self.pixels);
        match self.scale {
            Scale::Linear => (self.last - self.first).abs() / pixels,
            Scale::Logarithmic => {
                (self.last / self.first).ln().abs() / pixels * (self.first * self.last).sqrt()
            }
        }
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
        fn octaves_are_equally_high(high in 10f64..500.0, pixels in 16u32..8192) {
            let axis = Axis::on(Scale::Logarithmic, high, high / 64.0, pixels);
            for octave in 0..=6 {
                let value = high / f64::from(1 << octave);
                let position = f64::from(pixels) * f64::from(octave) / 6.0;
                prop_assert!((axis.position_px(value) - position).abs() < 1e-6);
                prop_assert!((axis.value_at(position) / value - 1.0).abs() < 1e-12);
            }
            prop_assert_eq!(axis.value_at(0.0), high);
            prop_assert_eq!(axis.value_at(f64::from(pixels)), high / 64.0);
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
