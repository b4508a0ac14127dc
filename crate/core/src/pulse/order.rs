//! Values by their order.

use std::cmp::Ordering;

/// The middle one of several values; none of none.
pub(crate) fn median<T: Copy>(values: &mut [T], order: impl Fn(&T, &T) -> Ordering) -> Option<T> {
    share_of(values, 0.5, order)
}

/// The value that a share of all values, below 1, lies below; none of none.
pub(crate) fn share_of<T: Copy>(
    values: &mut [T],
    share: f64,
    order: impl Fn(&T, &T) -> Ordering,
) -> Option<T> {
    let at = (values.len() as f64 * share) as usize;
    (at < values.len()).then(|| *values.select_nth_unstable_by(at, order).1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_are_found_by_their_place_in_order() {
        let mut values = [9, 1, 7, 3, 5, 2, 8, 0, 6, 4];
        assert_eq!(share_of(&mut values, 0.0, i32::cmp), Some(0));
        assert_eq!(share_of(&mut values, 0.25, i32::cmp), Some(2));
        assert_eq!(share_of(&mut values, 0.9, i32::cmp), Some(9));
        assert_eq!(median(&mut values, i32::cmp), Some(5));
        assert_eq!(median(&mut [3], i32::cmp), Some(3));
        assert_eq!(median(&mut [], i32::cmp), None);
    }
}
