//! Decibels by the hundred thousand.

use crate::spectrum::LOWEST_DB;
use std::f32::consts::{LN_2, LN_10, SQRT_2};

/// A power as decibels, at least [`LOWEST_DB`]: [`crate::spectrum::to_db`]
/// within a ten-thousandth of a decibel, written so that the compiler does four
/// at a time, which the library's logarithm in wasm is far from.
#[inline]
pub(super) fn to_db(power: f32) -> f32 {
    // NaN reads as silence, too.
    if power.is_nan() || power <= 1e-24 {
        return LOWEST_DB;
    }
    // power = mantissa * 2^exponent with a mantissa from 1 to 2, halved where that brings it nearer to 1.
    let bits = power.to_bits();
    let upper = f32::from_bits((bits & 0x007f_ffff) | 0x3f80_0000);
    let halve = upper > SQRT_2;
    let mantissa = if halve { 0.5 * upper } else { upper };
    let exponent = (bits >> 23) as i32 - 127 + i32::from(halve);
    // ln m = 2 artanh((m - 1) / (m + 1)); the terms left out come to less than 1e-7.
    let s = (mantissa - 1.0) / (mantissa + 1.0);
    let square = s * s;
    let series = 2.0 * s * (1.0 + square * (1.0 / 3.0 + square * (1.0 / 5.0 + square / 7.0)));
    (10.0 / LN_10) * (series + exponent as f32 * LN_2)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn ends_are_held() {
        assert_eq!(to_db(1.0), 0.0);
        for nothing in [0.0, -1.0, f32::NAN, 1e-24, f32::MIN_POSITIVE / 2.0] {
            assert_eq!(to_db(nothing), LOWEST_DB);
        }
        assert!(to_db(f32::INFINITY).is_finite());
    }

    proptest! {
        #[test]
        fn agrees_with_the_library(exponent in -23.9f32..20.0) {
            let power = 10f32.powf(exponent);
            let exact = 10.0 * f64::from(power).log10();
            prop_assert!((f64::from(to_db(power)) - exact).abs() < 1e-4, "{power}");
        }
    }
}
