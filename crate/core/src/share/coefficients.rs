//! Counted coefficients as bits, each foretold by its neighbours.

use super::entropy::{Coder, Model, Number};

/// Classes of how much sounds around a coefficient.
const CLASSES: usize = 9;

/// What is learnt while coefficients go by.
#[derive(Debug, Default)]
pub(super) struct Coefficients {
    /// Whether a block is empty, by whether the one before it was.
    empty: [Model; 2],
    /// Whether a coefficient is 0, by class.
    zero: [Model; CLASSES],
    /// Its magnitude, likewise.
    magnitude: [Number; CLASSES],
    /// The two blocks before, the last one first.
    before: [Vec<i32>; 2],
}

impl Coefficients {
    /// Forgets what came before, as another stretch begins; what was learnt stays.
    pub(super) fn begin(&mut self) {
        self.before = Default::default();
    }

    /// Writes or reads a block. A reader's block is filled in.
    pub(super) fn code(&mut self, coder: &mut impl Coder, block: &mut [i32]) {
        let [last, earlier] = &self.before;
        let was_empty = usize::from(last.iter().all(|&value| value == 0));
        let is_empty = block.iter().all(|&value| value == 0);
        let is_empty = match self.empty.get_mut(was_empty) {
            Some(model) => coder.bit(model, is_empty),
            None => is_empty,
        };
        if !is_empty {
            for at in 0..block.len() {
                let class = class_of(weight(block, last, earlier, at));
                let value = block.get(at).copied().unwrap_or(0);
                let coded = one(
                    coder,
                    &mut self.zero[class],
                    &mut self.magnitude[class],
                    value,
                );
                if let Some(place) = block.get_mut(at) {
                    *place = coded;
                }
            }
        }
        self.before.rotate_right(1);
        let [last, _] = &mut self.before;
        last.clear();
        last.extend_from_slice(block);
    }
}

fn one(coder: &mut impl Coder, zero: &mut Model, magnitude: &mut Number, value: i32) -> i32 {
    if !coder.bit(zero, value != 0) {
        return 0;
    }
    let size = magnitude.code(coder, value.unsigned_abs());
    let is_negative = coder.even(u32::from(value < 0), 1) == 1;
    // No number of this kind is larger than what an i32 holds.
    let size = i32::try_from(size).unwrap_or(i32::MAX);
    if is_negative { -size } else { size }
}

/// How much sounds around a coefficient, as far as is known by then.
fn weight(block: &[i32], last: &[i32], earlier: &[i32], at: usize) -> u32 {
    let of = |values: &[i32], at: Option<usize>| {
        at.and_then(|at| values.get(at))
            .map_or(0, |value| value.unsigned_abs().min(1 << 20))
    };
    let below = at.checked_sub(1);
    2 * (of(block, below) + of(last, Some(at)))
        + of(block, at.checked_sub(2))
        + of(last, below)
        + of(last, Some(at + 1))
        + of(earlier, Some(at))
}

fn class_of(weight: u32) -> usize {
    match weight {
        0..=2 => weight as usize,
        3..=4 => 3,
        5..=7 => 4,
        8..=12 => 5,
        13..=24 => 6,
        25..=60 => 7,
        _ => 8,
    }
}

#[cfg(test)]
mod tests {
    use super::super::entropy::{Reader, Writer};
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn blocks_are_read_as_they_were_written(
            blocks in prop::collection::vec(prop::collection::vec(prop_oneof![3 => Just(0), 1 => -70_000i32..70_000], 32), 0..12),
        ) {
            let mut writer = Writer::default();
            let mut coefficients = Coefficients::default();
            for block in &blocks {
                coefficients.code(&mut writer, &mut block.clone());
            }
            let bytes = writer.finish();
            let mut reader = Reader::new(&bytes);
            let mut coefficients = Coefficients::default();
            for block in &blocks {
                let mut read = vec![0; block.len()];
                coefficients.code(&mut reader, &mut read);
                prop_assert_eq!(&read, block);
            }
        }
    }
}
