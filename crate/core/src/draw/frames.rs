//! Samples of one frame, also where it reaches past the recording's ends.

use std::ops::Range;

/// Where a block of samples lies in its recording.
#[derive(Debug, Clone, Copy)]
pub(super) struct Block<'a> {
    /// The samples.
    pub(super) samples: &'a [f32],
    /// Index of the first of them in the recording.
    pub(super) start: u64,
    /// Samples of the whole recording.
    pub(super) total: u64,
}

/// The samples of a recording that a frame of `length` about `centre` needs, those
/// among them that are mirrored past an end.
pub(super) fn needed(centre: u64, length: usize, total: u64) -> Range<u64> {
    let half = length as u64 / 2;
    let last = total.saturating_sub(1);
    let highest = centre.saturating_add(half).saturating_sub(1);
    let mirrored_from_the_end = (2 * last).saturating_sub(highest);
    let mirrored_to_the_start = half.saturating_sub(centre) + 1;
    let start = centre.saturating_sub(half).min(mirrored_from_the_end);
    let end = centre.saturating_add(half).max(mirrored_to_the_start);
    start.min(total)..end.min(total)
}

impl<'a> Block<'a> {
    /// The samples from `length / 2` before `centre` to as many after it.
    ///
    /// Past either end the recording is mirrored about its last sample: zeros
    /// there would look like a click. `spare` (of `length` samples) is filled
    /// and used where the frame does not lie whole in the block.
    pub(super) fn frame<'b>(&self, centre: u64, spare: &'b mut [f32]) -> &'b [f32]
    where
        'a: 'b,
    {
        let length = spare.len();
        let first = i128::from(centre) - i128::from(self.start) - length as i128 / 2;
        let whole = usize::try_from(first)
            .ok()
            .and_then(|from| self.samples.get(from..from + length));
        if let Some(samples) = whole {
            return samples;
        }
        let first = i128::from(centre) - length as i128 / 2;
        for (offset, slot) in spare.iter_mut().enumerate() {
            *slot = self.mirrored(first + offset as i128);
        }
        spare
    }

    /// The sample at an index that may lie outside the recording.
    fn mirrored(&self, index: i128) -> f32 {
        let last = i128::from(self.total) - 1;
        if last < 0 {
            return 0.0;
        }
        // Mirrored at both ends, a recording repeats itself after there and back.
        let turn = (2 * last).max(1);
        let index = index.rem_euclid(turn);
        let index = index.min(turn - index).min(last);
        usize::try_from(index - i128::from(self.start))
            .ok()
            .and_then(|at| self.samples.get(at))
            .copied()
            .unwrap_or(0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn both_ends_are_mirrored() {
        let samples = [1.0, 2.0, 3.0, 4.0, 5.0];
        let block = Block {
            samples: &samples,
            start: 0,
            total: 5,
        };
        assert_eq!(block.frame(0, &mut [0.0; 4]), [3.0, 2.0, 1.0, 2.0]);
        assert_eq!(block.frame(4, &mut [0.0; 4]), [3.0, 4.0, 5.0, 4.0]);
        assert_eq!(block.frame(2, &mut [0.0; 4]), [1.0, 2.0, 3.0, 4.0]);
    }

    #[test]
    fn a_recording_shorter_than_a_frame_is_mirrored_again_and_again() {
        let block = Block {
            samples: &[1.0, 2.0],
            start: 0,
            total: 2,
        };
        assert_eq!(
            block.frame(0, &mut [0.0; 6]),
            [2.0, 1.0, 2.0, 1.0, 2.0, 1.0]
        );
        let one = Block {
            samples: &[7.0],
            start: 0,
            total: 1,
        };
        assert_eq!(one.frame(0, &mut [0.0; 4]), [7.0; 4]);
        let none = Block {
            samples: &[],
            start: 0,
            total: 0,
        };
        assert_eq!(none.frame(0, &mut [1.0; 4]), [0.0; 4]);
    }

    proptest! {
        #[test]
        fn what_is_needed_is_enough(total in 1u64..3000, share in 0f64..1.0, half in 1usize..300) {
            let recording: Vec<f32> = (0..total).map(|n| n as f32).collect();
            let centre = ((total as f64 * share) as u64).min(total - 1);
            let part = needed(centre, 2 * half, total);
            let samples = &recording[part.start as usize..part.end as usize];
            let whole = Block { samples: &recording, start: 0, total };
            // A recording shorter than a frame is needed whole; that is how blocks are cut.
            prop_assume!(total > 2 * half as u64);
            let cut = Block { samples, start: part.start, total };
            let (mut a, mut b) = (vec![0.0; 2 * half], vec![0.0; 2 * half]);
            prop_assert_eq!(whole.frame(centre, &mut a), cut.frame(centre, &mut b));
        }
    }
}
