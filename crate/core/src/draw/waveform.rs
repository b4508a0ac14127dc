//! The samples of a view as a line or as an envelope.

use std::ops::Range;

/// Samples that are asked for in one go.
const BLOCK: u64 = 1 << 19;
/// With fewer samples than this to a column they are drawn one by one, joined by lines.
const SAMPLES_PER_COLUMN: f64 = 2.0;
/// Most columns of a waveform: more than any screen has.
const MOST_COLUMNS: u32 = 8192;

/// Where a waveform lies in its recording.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize, serde::Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct WaveformView {
    /// Counted from 0.
    pub channel: u16,
    /// Its beginning, seconds.
    pub start_s: f64,
    /// Its end, seconds.
    pub end_s: f64,
    /// Columns of the picture, 1 to 8192.
    pub width_px: u32,
}

/// What cannot be drawn.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum WaveformError {
    /// No stretch of time.
    #[error("a waveform needs a stretch of time: {start_s} to {end_s} s is none")]
    Time {
        /// Its beginning.
        start_s: f64,
        /// Its end.
        end_s: f64,
    },
    /// No columns, or too many.
    #[error("a waveform has 1 to 8192 columns, not {0}")]
    Width(u32),
}

/// A waveform in the making: the smallest and the largest sample of every column. No sample is skipped: each
/// falls into one column, so that a click of one sample is seen in a view of an hour. Close by, there is one
/// value for each sample, which lines then join.
pub struct Waveform {
    /// Frames of the recording that are looked at.
    frames: Range<u64>,
    next: u64,
    start_frame: f64,
    frames_per_column: f64,
    way: Way,
}

enum Way {
    /// Lowest and highest of each column.
    Columns(Vec<[f32; 2]>),
    Samples(Vec<f32>),
}

impl Waveform {
    /// Prepares for a view of a recording of so many frames.
    ///
    /// # Errors
    /// [`WaveformError`] where the view cannot be drawn.
    pub fn new(view: &WaveformView, rate_hz: f64, frames: u64) -> Result<Self, WaveformError> {
        let WaveformView {
            start_s,
            end_s,
            width_px,
            ..
        } = *view;
        let length_s = end_s - start_s;
        if !(length_s > 0.0 && start_s.is_finite() && end_s.is_finite()) {
            return Err(WaveformError::Time { start_s, end_s });
        }
        if !(1..=MOST_COLUMNS).contains(&width_px) {
            return Err(WaveformError::Width(width_px));
        }
        let start_frame = start_s * rate_hz;
        let frames_per_column = length_s * rate_hz / f64::from(width_px);
        let single = frames_per_column < SAMPLES_PER_COLUMN;
        // One more on either side, so that lines run to the picture's edges.
        let aside = f64::from(u8::from(single));
        let clip = |frame: f64| (frame.max(0.0) as u64).min(frames);
        let looked_at = clip((start_frame - aside).floor())..clip((end_s * rate_hz + aside).ceil());
        Ok(Self {
            next: looked_at.start,
            frames: looked_at,
            start_frame,
            frames_per_column,
            way: if single {
                Way::Samples(Vec::new())
            } else {
                Way::Columns(vec![[f32::INFINITY, f32::NEG_INFINITY]; width_px as usize])
            },
        })
    }

    /// The frames to feed next; none when all were fed.
    #[must_use]
    pub fn next_block(&self) -> Option<Range<u64>> {
        (self.next < self.frames.end).then(|| self.next..self.frames.end.min(self.next + BLOCK))
    }

    /// Takes in the samples of the block that [`Self::next_block`] asked for.
    pub fn feed(&mut self, samples: &[f32]) {
        let Some(block) = self.next_block() else {
            return;
        };
        match &mut self.way {
            Way::Samples(values) => values.extend_from_slice(samples),
            Way::Columns(columns) => {
                let last = columns.len() - 1;
                for (n, &sample) in (0u64..).zip(samples) {
                    let off = (block.start + n) as f64 - self.start_frame;
                    let column = ((off / self.frames_per_column).max(0.0) as usize).min(last);
                    let [low, high] = &mut columns[column];
                    *low = low.min(sample);
                    *high = high.max(sample);
                }
            }
        }
        self.next = block.end;
    }

    /// How much is done, 0 to 1.
    #[must_use]
    pub fn done_fraction(&self) -> f64 {
        let all = (self.frames.end - self.frames.start).max(1);
        (self.next - self.frames.start) as f64 / all as f64
    }

    /// Whether there is one value for each sample, and not two for each column.
    #[must_use]
    pub fn is_single(&self) -> bool {
        matches!(self.way, Way::Samples(_))
    }

    /// The frame of the recording that the first single value is of.
    #[must_use]
    pub fn first_frame(&self) -> u64 {
        self.frames.start
    }

    /// The largest magnitude so far, full scale 1.
    #[must_use]
    pub fn largest(&self) -> f32 {
        self.values()
            .iter()
            .fold(0f32, |largest, value| largest.max(value.abs()))
    }

    /// The values so far: the lowest and the highest of one column after the other (0 and 0 where there is no
    /// sample), or all samples one by one.
    #[must_use]
    pub fn values(&self) -> Vec<f32> {
        match &self.way {
            Way::Samples(values) => values.clone(),
            Way::Columns(columns) => columns
                .iter()
                .flat_map(|&[low, high]| if low <= high { [low, high] } else { [0.0, 0.0] })
                .collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

    use super::*;
    use proptest::prelude::*;

    fn waveform(
        samples: &[f32],
        rate_hz: f64,
        start_s: f64,
        end_s: f64,
        width_px: u32,
    ) -> Waveform {
        let view = WaveformView {
            channel: 0,
            start_s,
            end_s,
            width_px,
        };
        let mut waveform = Waveform::new(&view, rate_hz, samples.len() as u64).unwrap();
        while let Some(block) = waveform.next_block() {
            waveform.feed(&samples[block.start as usize..block.end as usize]);
        }
        waveform
    }

    #[test]
    fn one_sample_among_a_million_is_seen_in_its_column() {
        let mut samples = vec![0.0f32; 1_000_000];
        samples[123_456] = 0.7;
        samples[123_457] = -0.4;
        let values = waveform(&samples, 250_000.0, 0.0, 4.0, 800).values();
        assert_eq!(values.len(), 1_600);
        // 1250 samples a column: the 98th.
        assert_eq!(values[2 * 98..2 * 98 + 2], [-0.4, 0.7]);
        assert!(values.iter().filter(|&&v| v != 0.0).count() == 2);
    }

    #[test]
    fn close_by_there_are_the_samples_themselves_and_one_more_on_either_side() {
        let samples: Vec<f32> = (0..1000).map(|n| n as f32 / 1000.0).collect();
        let close = waveform(&samples, 1_000.0, 0.1, 0.11, 100);
        assert!(close.is_single());
        assert_eq!(close.first_frame(), 99);
        assert_eq!(close.values(), samples[99..111]);
        let start = waveform(&samples, 1_000.0, 0.0, 0.01, 100);
        assert_eq!(start.first_frame(), 0);
    }

    #[test]
    fn views_that_are_none_are_refused() {
        for (start_s, end_s, width_px) in [
            (0.0, 0.0, 10),
            (1.0, 0.5, 10),
            (f64::NAN, 1.0, 10),
            (0.0, f64::INFINITY, 10),
            (0.0, 1.0, 0),
            (0.0, 1.0, 9000),
        ] {
            let view = WaveformView {
                channel: 0,
                start_s,
                end_s,
                width_px,
            };
            assert!(Waveform::new(&view, 1_000.0, 500).is_err(), "{view:?}");
        }
        // Beside the recording there is simply nothing.
        let beside = WaveformView {
            channel: 0,
            start_s: 5.0,
            end_s: 6.0,
            width_px: 10,
        };
        assert_eq!(
            Waveform::new(&beside, 1_000.0, 500).unwrap().next_block(),
            None
        );
    }

    proptest! {
        #[test]
        fn extremes_of_the_columns_are_those_of_the_stretch(
            samples in prop::collection::vec(-1.0f32..1.0, 50..400),
            width_px in 1u32..20,
        ) {
            let rate_hz = 1_000.0;
            let end_s = samples.len() as f64 / rate_hz;
            let values = waveform(&samples, rate_hz, 0.0, end_s, width_px).values();
            let extreme = |values: &[f32]| {
                values.iter().fold((0f32, 0f32), |(l, h), &v| (l.min(v), h.max(v)))
            };
            prop_assert_eq!(extreme(&values), extreme(&samples));
        }
    }
}
