//! A picture in the making.

use super::frames::{Block, needed};
use super::grid::Grid;
use super::rows::Rows;
use super::{Raster, View, ViewError};
use crate::spectrum::{Stft, Window};
use std::ops::Range;

/// A picture in the making, advanced in steps of bounded work.
///
/// Give it the samples of [`next_block`](Self::next_block) through
/// [`feed`](Self::feed) until there is no next block:
///
/// ```
/// use dusklens_core::draw::{Drawing, View};
///
/// let samples: Vec<f32> = (0..50_000).map(|n| (n as f32 * 0.5).sin()).collect();
/// let view = View {
///     channel: 0,
///     start_s: 0.0,
///     end_s: 0.1,
///     low_khz: 0.0,
///     high_khz: 250.0,
///     width_px: 300,
///     height_px: 200,
/// };
/// let mut drawing = Drawing::new(&view, 1, 500e3, samples.len() as u64).unwrap();
/// while let Some(block) = drawing.next_block() {
///     drawing.feed(&samples[block.start as usize..block.end as usize]);
/// }
/// // Half a radian per sample is 39.8 kHz: row 168 of 200, counted from the top.
/// assert!(drawing.raster().level_db(150, 168).unwrap() > -3.0);
/// ```
pub struct Drawing {
    view: View,
    rate_hz: f64,
    total: u64,
    grid: Grid,
    rows: Rows,
    stft: Stft,
    raster: Raster,
    /// Where columns are finer than samples: a column per sample.
    coarse: Option<Raster>,
    /// The next frame, and the first one past the recording.
    next: u64,
    end: u64,
    /// The first frame that lies in the recording.
    begin: u64,
    /// Scratch: a frame's samples, its powers, and the largest of a column's.
    samples: Vec<f32>,
    power: Vec<f32>,
    largest: Vec<f32>,
}

/// Work of a step, in the unit of [`Grid::work`]: some ten milliseconds in a
/// browser on a laptop, so that slow tablets stay below thirty or so.
const STEP_WORK: f64 = 16e6;
/// Samples of a step: a second at 500 kHz, two megabytes.
const STEP_SAMPLES: u64 = 1 << 19;

impl Drawing {
    /// Begins a picture of a recording of so many channels, samples per second
    /// (at the microphone), and frames.
    ///
    /// # Errors
    /// [`ViewError`] where the view cannot be drawn.
    pub fn new(view: &View, channels: u16, rate_hz: f64, frames: u64) -> Result<Self, ViewError> {
        view.check(channels)?;
        if !(rate_hz.is_finite() && rate_hz > 0.0) {
            return Err(ViewError::Rate(rate_hz));
        }
        let grid = Grid::choose(view, rate_hz);
        let stft = Stft::new(&grid.settings()).map_err(|_| ViewError::Rate(rate_hz))?;
        let bins = stft.bins();
        let begin = grid.first_frame_at(0);
        let coarse = grid.samples_per_column < 1.0 + f64::EPSILON;
        Ok(Self {
            view: *view,
            rate_hz,
            total: frames,
            rows: Rows::new(&view.frequency_axis(), view.height_px, bins, rate_hz),
            raster: Raster::new(view.width_px, view.height_px),
            coarse: coarse.then(|| Raster::new(grid.columns, view.height_px)),
            next: begin,
            end: grid.first_frame_at(frames),
            begin,
            samples: vec![0.0; grid.length],
            power: vec![0.0; bins],
            largest: vec![0.0; bins],
            stft,
            grid,
        })
    }

    /// The samples of the view's channel that the next step needs; none when
    /// the picture is done.
    #[must_use]
    pub fn next_block(&self) -> Option<Range<u64>> {
        let frames = self.next_frames();
        let first = self.needed(frames.start);
        let last = self.needed(frames.end.checked_sub(1)?);
        (!frames.is_empty()).then_some(first.start..last.end)
    }

    /// Takes the samples of [`next_block`](Self::next_block) and draws them.
    /// Samples that are missing at its end count as zeros.
    pub fn feed(&mut self, samples: &[f32]) {
        let Some(range) = self.next_block() else {
            return;
        };
        let block = Block {
            samples,
            start: range.start,
            total: self.total,
        };
        for frame in self.next_frames() {
            self.add(frame, &block);
        }
        if self.next >= self.end {
            self.stretch();
        }
    }

    /// How much of the picture is done, 0 to 1.
    #[must_use]
    pub fn done_fraction(&self) -> f64 {
        if self.next >= self.end {
            return 1.0;
        }
        (self.next - self.begin) as f64 / (self.end - self.begin) as f64
    }

    /// The picture as far as it is drawn.
    #[must_use]
    pub fn raster(&self) -> &Raster {
        &self.raster
    }

    /// The view that it shows.
    #[must_use]
    pub fn view(&self) -> &View {
        &self.view
    }

    /// The window that it is transformed with.
    #[must_use]
    pub fn window(&self) -> Window {
        self.stft.settings().window
    }

    /// The window's length, milliseconds.
    #[must_use]
    pub fn window_ms(&self) -> f64 {
        self.grid.length as f64 / self.rate_hz * 1000.0
    }

    /// The window's length, samples.
    #[must_use]
    pub fn window_samples(&self) -> usize {
        self.grid.length
    }

    /// From the middle of one window to that of the next, milliseconds.
    #[must_use]
    pub fn frames_apart_ms(&self) -> f64 {
        self.grid.samples_per_column / self.grid.frames_per_column as f64 / self.rate_hz * 1000.0
    }

    /// The frames of the next step.
    fn next_frames(&self) -> Range<u64> {
        let apart = self.grid.samples_per_column / self.grid.frames_per_column as f64;
        let by_work = (STEP_WORK / self.grid.work()) as u64;
        let by_samples = (STEP_SAMPLES as f64 / apart) as u64;
        let count = by_work.min(by_samples).max(1);
        self.next..self.next.saturating_add(count).min(self.end).max(self.next)
    }

    fn needed(&self, frame: u64) -> Range<u64> {
        let centre = u64::try_from(self.grid.centre(frame)).unwrap_or(0);
        if self.total <= self.grid.length as u64 {
            return 0..self.total;
        }
        needed(centre, self.grid.length, self.total)
    }

    /// Adds a frame to its column, and finishes the column with its last frame.
    fn add(&mut self, frame: u64, block: &Block<'_>) {
        let centre = u64::try_from(self.grid.centre(frame)).unwrap_or(0);
        let samples = block.frame(centre, &mut self.samples);
        self.stft.power(samples, &mut self.power);
        for (largest, &power) in self.largest.iter_mut().zip(&self.power) {
            *largest = if power > *largest { power } else { *largest };
        }
        self.next = frame + 1;
        let column = self.grid.column(frame);
        if self.next < self.end && self.grid.column(self.next) == column {
            return;
        }
        let raster = self.coarse.as_mut().unwrap_or(&mut self.raster);
        if let Some(levels) = raster.column_mut(column) {
            self.rows.read(&self.largest, levels);
        }
        self.largest.fill(0.0);
    }

    /// Fills the picture from the columns per sample, where there are such.
    fn stretch(&mut self) {
        let Some(coarse) = &self.coarse else {
            return;
        };
        let time = self.view.time_axis();
        self.raster.stretch(coarse, |column| {
            time.value_at(column as f64 + 0.5) * self.rate_hz - self.grid.first
        });
    }
}
