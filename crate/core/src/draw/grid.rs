//! Which transform suits a view, and where its frames lie.

use super::{Rendering, Tile, View};
use crate::spectrum::{StftSettings, Window};

/// The window's length for a picture of [`REFERENCE_RATIO`]: a compromise
/// between sweeps of some kilohertz per millisecond, which short windows show
/// sharply, and nearly constant tones, which long ones do.
const REFERENCE_MS: f64 = 1.0;
/// Seconds per column over hertz per row of an overview: 5 s by 250 kHz on 1200
/// by 400 pixels.
const REFERENCE_RATIO: f64 = (5.0 / 1200.0) / (250e3 / 400.0);
/// Columns longer than this hold whole pulses, and a longer window would show
/// nothing more of them.
const COARSEST_COLUMN_S: f64 = 5.0 / 1200.0;
/// Shortest and longest window.
const WINDOW_MS: (f64, f64) = (0.125, 4.0);
/// Lengths that can be transformed.
const LENGTHS: (usize, usize) = (64, 8192);
/// Zero padding beyond this shows nothing that interpolation does not.
const MOST_PADDING: usize = 8;
/// Padding is worth while only where the whole picture stays quick; in the unit
/// of [`Grid::work`].
const PADDED_WORK: f64 = 50e6;
/// The same for each column of a tile, whose padding must not depend on what else is drawn.
const PADDED_COLUMN_WORK: f64 = 50e3;

/// The transform of a view, and where its frames lie.
///
/// Every column gets the same number of frames, evenly spaced and at most half
/// a window apart. So no sample is skipped, and the noise has the same texture
/// everywhere, which a fixed hop would beat against the columns.
///
/// Where columns are finer than samples, the grid has a column per sample and
/// the picture is stretched from those.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Grid {
    /// The window.
    pub(super) window: Window,
    /// Samples per window.
    pub(super) length: usize,
    /// Points of the transform.
    pub(super) padded: usize,
    /// Columns that are transformed.
    pub(super) columns: u32,
    /// Sample position of the left edge of column 0.
    pub(super) first: f64,
    /// Samples per column, at least 1.
    pub(super) samples_per_column: f64,
    /// Frames per column, at least 1.
    pub(super) frames_per_column: u64,
    /// Columns on either side that are transformed and not shown, since energy may be moved from there.
    pub(super) margin: u32,
}

impl Grid {
    /// Chooses for a view that has been checked.
    pub(super) fn choose(view: &View, rendering: &Rendering, rate_hz: f64) -> Self {
        let column_s = view.time_axis().step();
        let row_hz = view.frequency_axis_on(rendering.scale).step() * 1000.0;
        let columns = Columns {
            first: view.start_s * rate_hz,
            last: view.end_s * rate_hz,
            count: view.width_px,
            samples: column_s * rate_hz,
        };
        let mut grid = Self::over(&columns, row_hz, rendering, rate_hz);
        let count = grid.frame_count() as f64;
        grid.pad(row_hz, rate_hz, |work| work * count <= PADDED_WORK);
        grid
    }

    /// Chooses for a tile that has been checked; equal for all tiles of a pyramid's level but for their place.
    pub(super) fn of_tile(tile: &Tile, rendering: &Rendering, rate_hz: f64) -> Self {
        let row_hz = tile.frequency_axis(rendering.scale, rate_hz).step() * 1000.0;
        // Powers of two, so that all places are exact.
        let samples = tile.samples_per_column();
        let first = tile.first_column as f64 * samples;
        let columns = Columns {
            first,
            last: first + f64::from(tile.width_px) * samples,
            count: tile.width_px,
            samples,
        };
        let mut grid = Self::over(&columns, row_hz, rendering, rate_hz);
        let frames = grid.frames_per_column as f64;
        grid.pad(row_hz, rate_hz, |work| work * frames <= PADDED_COLUMN_WORK);
        grid
    }

    fn over(columns: &Columns, row_hz: f64, rendering: &Rendering, rate_hz: f64) -> Self {
        let length = match rendering.window_ms {
            Some(window_ms) => nearest_length(window_ms, rate_hz),
            None => window_length(columns.samples / rate_hz, row_hz, rate_hz),
        };
        let (first, count, samples_per_column) = if columns.samples < 1.0 {
            // Samples are the columns' centres, from the one before the view to the one after it.
            let first = columns.first.floor() - 0.5;
            let last = columns.last.ceil() + 0.5;
            (first, (last - first).round() as u32, 1.0)
        } else {
            (columns.first, columns.count, columns.samples)
        };
        let reach = length as f64 / 2.0 / samples_per_column;
        let margin = if rendering.sharpened {
            reach.ceil() as u32 + 1
        } else {
            0
        };
        Self {
            window: rendering.window,
            length,
            padded: length,
            columns: count + 2 * margin,
            first: first - f64::from(margin) * samples_per_column,
            samples_per_column,
            frames_per_column: (samples_per_column / (length / 2) as f64).ceil() as u64,
            margin,
        }
    }

    /// Lengthens the transform until its bins are as fine as rows, where the work of a frame is cheap enough.
    fn pad(&mut self, row_hz: f64, rate_hz: f64, is_cheap: impl Fn(f64) -> bool) {
        while self.padded < self.length * MOST_PADDING && rate_hz / self.padded as f64 > row_hz {
            let finer = Self {
                padded: self.padded * 2,
                ..*self
            };
            if !is_cheap(finer.work()) {
                break;
            }
            *self = finer;
        }
    }

    /// The effort of a frame: points times their binary logarithm. A million
    /// takes about half a millisecond in a browser on a laptop.
    pub(super) fn work(&self) -> f64 {
        self.padded as f64 * (self.padded as f64).log2()
    }

    /// Frames of the whole view.
    pub(super) fn frame_count(&self) -> u64 {
        u64::from(self.columns) * self.frames_per_column
    }

    /// The sample that a frame is centred on; negative before the recording.
    pub(super) fn centre(&self, frame: u64) -> i64 {
        let columns = (frame as f64 + 0.5) / self.frames_per_column as f64;
        (self.first + columns * self.samples_per_column + 0.5).floor() as i64
    }

    /// The column that a frame belongs to, counted from the first that is transformed.
    pub(super) fn column(&self, frame: u64) -> usize {
        (frame / self.frames_per_column) as usize
    }

    /// From one frame to the next, samples.
    pub(super) fn hop(&self) -> f64 {
        self.samples_per_column / self.frames_per_column as f64
    }

    /// The first frame that is centred on `sample` or later.
    pub(super) fn first_frame_at(&self, sample: u64) -> u64 {
        let sample = i64::try_from(sample).unwrap_or(i64::MAX);
        let (mut low, mut high) = (0, self.frame_count());
        while low < high {
            let middle = low + (high - low) / 2;
            if self.centre(middle) < sample {
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        low
    }

    /// The settings of the transform.
    pub(super) fn settings(&self) -> StftSettings {
        StftSettings {
            window: self.window,
            length: self.length,
            // Frames are placed one by one.
            hop: 1,
            padded: self.padded,
        }
    }
}

/// A power of two near the length that suits the shape of the view's pixels. It
/// follows that shape with its fourth root: zooming by ten changes it by less
/// than two, so that a picture stays comparable with the one before.
fn window_length(column_s: f64, row_hz: f64, rate_hz: f64) -> usize {
    let ratio = column_s.min(COARSEST_COLUMN_S) / row_hz;
    let wanted_ms = REFERENCE_MS * (ratio / REFERENCE_RATIO).powf(0.25);
    nearest_length(wanted_ms.clamp(WINDOW_MS.0, WINDOW_MS.1), rate_hz)
}

/// The power of two that comes nearest to a length, samples.
pub(super) fn nearest_length(window_ms: f64, rate_hz: f64) -> usize {
    let samples = window_ms / 1000.0 * rate_hz;
    let samples = samples.clamp(LENGTHS.0 as f64, LENGTHS.1 as f64);
    1 << samples.log2().round() as u32
}

/// The columns of a picture on the axis of samples.
struct Columns {
    first: f64,
    last: f64,
    count: u32,
    /// Samples per column.
    samples: f64,
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn choose(view: &View, rate_hz: f64) -> Grid {
        Grid::choose(view, &Rendering::default(), rate_hz)
    }

    fn view(start_s: f64, span_s: f64) -> View {
        View {
            channel: 0,
            start_s,
            end_s: start_s + span_s,
            low_khz: 0.0,
            high_khz: 250.0,
            width_px: 1200,
            height_px: 400,
        }
    }

    #[test]
    fn window_follows_the_view_moderately() {
        let at = |span_s: f64, high_khz: f64, rate_hz: f64| {
            let view = View {
                high_khz,
                ..view(0.0, span_s)
            };
            choose(&view, rate_hz).length
        };
        assert_eq!(at(5.0, 250.0, 500e3), 512);
        assert_eq!(at(3600.0, 250.0, 500e3), 512);
        assert_eq!(at(0.05, 250.0, 500e3), 128);
        assert_eq!(at(5.0, 20.0, 500e3), 1024);
        assert_eq!(at(5.0, 128.0, 256e3), 256);
        assert_eq!(at(5.0, 4.0, 8e3), 64);
        assert_eq!(at(1e-6, 1.0, 2e6), 256);
    }

    #[test]
    fn close_views_get_a_finer_transform_and_long_ones_stay_quick() {
        assert_eq!(choose(&view(0.0, 5.0), 500e3).padded, 512);
        let close = choose(&view(0.0, 0.05), 500e3);
        assert_eq!(close.padded, 1024);
        assert_eq!(close.frames_per_column, 1);
    }

    proptest! {
        #[test]
        fn no_sample_is_skipped(start_s in -10f64..4000.0, span_log in -6f64..4.0, rate_hz in 8e3f64..2e6, frame in 0u64..1000) {
            let grid = choose(&view(start_s, 10f64.powf(span_log)), rate_hz);
            let frame = frame.min(grid.frame_count() - 2);
            let hop = grid.centre(frame + 1) - grid.centre(frame);
            prop_assert!(hop >= 1 && hop <= grid.length as i64 / 2 + 1, "hop {hop}");
        }

        #[test]
        fn frames_lie_in_their_columns(start_s in -10f64..4000.0, span_log in -4f64..4.0, frame in 0u64..100_000) {
            let grid = choose(&view(start_s, 10f64.powf(span_log)), 500e3);
            let frame = frame.min(grid.frame_count() - 1);
            let left = grid.first + grid.column(frame) as f64 * grid.samples_per_column;
            let centre = grid.centre(frame) as f64;
            prop_assert!(left - 1e-3 <= centre && centre <= left + grid.samples_per_column + 1e-3);
        }

        #[test]
        fn first_frame_is_the_first(start_s in -1f64..10.0, sample in 0u64..2_000_000) {
            let grid = choose(&view(start_s, 1.0), 500e3);
            let frame = grid.first_frame_at(sample);
            prop_assert!(frame == grid.frame_count() || grid.centre(frame) >= sample as i64);
            prop_assert!(frame == 0 || grid.centre(frame - 1) < sample as i64);
        }
    }
}
