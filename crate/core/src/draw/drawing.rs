//! A picture in the making.

use super::frames::{Block, needed};
use super::grid::Grid;
use super::rows::Rows;
use super::sharpener::Sharpener;
use super::{Axis, Raster, Rendering, Tile, View, ViewError};
use crate::spectrum::{Resolution, Stft, Window};
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
    method: Method,
    raster: Raster,
    /// Where columns are finer than samples: a column per sample, and where the picture's lie.
    coarse: Option<(Raster, Place)>,
    /// The next frame, and the first one past the recording.
    next: u64,
    end: u64,
    /// The first frame that lies in the recording.
    begin: u64,
    /// Scratch: a frame's samples.
    samples: Vec<f32>,
}

/// How frames become columns.
enum Method {
    /// The largest power of each bin over a column's frames.
    Largest {
        stft: Stft,
        rows: Rows,
        /// Scratch: a frame's powers, and the largest of a column's.
        power: Vec<f32>,
        largest: Vec<f32>,
    },
    /// Energy that is moved to its centre of gravity.
    Sharpened(Sharpener),
}

/// Where columns that are finer than samples lie: the sample position of the first one's left edge, and
/// samples per column.
#[derive(Debug, Clone, Copy)]
struct Place {
    first: f64,
    step: f64,
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
        Self::rendered(view, &Rendering::default(), channels, rate_hz, frames)
    }

    /// Begins a picture in a rendering of choice.
    ///
    /// # Errors
    /// [`ViewError`] where the view cannot be drawn.
    pub fn rendered(
        view: &View,
        rendering: &Rendering,
        channels: u16,
        rate_hz: f64,
        frames: u64,
    ) -> Result<Self, ViewError> {
        view.check(channels)?;
        rendering.check()?;
        if !(rate_hz.is_finite() && rate_hz > 0.0) {
            return Err(ViewError::Rate(rate_hz));
        }
        let &View {
            low_khz, high_khz, ..
        } = view;
        if rendering.scale == super::Scale::Logarithmic && low_khz <= 0.0 {
            return Err(ViewError::Frequency { low_khz, high_khz });
        }
        let piece = Piece {
            view: *view,
            rows: 0..view.height_px,
            axis: view.frequency_axis_on(rendering.scale),
            place: Place {
                first: view.start_s * rate_hz,
                step: view.time_axis().step() * rate_hz,
            },
        };
        let grid = Grid::choose(view, rendering, rate_hz);
        Self::begin(piece, grid, rendering, rate_hz, frames)
    }

    /// Begins a piece of a pyramid of pictures.
    ///
    /// # Errors
    /// [`ViewError`] where there is no such piece.
    pub fn tile(
        tile: &Tile,
        rendering: &Rendering,
        channels: u16,
        rate_hz: f64,
        frames: u64,
    ) -> Result<Self, ViewError> {
        tile.check(rendering.scale, channels, rate_hz)?;
        rendering.check()?;
        let step = tile.samples_per_column();
        let piece = Piece {
            view: tile.view(rendering.scale, rate_hz),
            rows: tile.first_row..tile.first_row + tile.height_px,
            axis: tile.frequency_axis(rendering.scale, rate_hz),
            place: Place {
                first: f64::from(tile.first_column) * step,
                step,
            },
        };
        let grid = Grid::of_tile(tile, rendering, rate_hz);
        Self::begin(piece, grid, rendering, rate_hz, frames)
    }

    fn begin(
        piece: Piece,
        grid: Grid,
        rendering: &Rendering,
        rate_hz: f64,
        frames: u64,
    ) -> Result<Self, ViewError> {
        let Piece {
            view,
            rows,
            axis,
            place,
        } = piece;
        let (width, height) = (view.width_px, view.height_px);
        let refused = |_| ViewError::Rate(rate_hz);
        let (begin, end) = (grid.first_frame_at(0), grid.first_frame_at(frames));
        let method = if rendering.sharpened {
            let sharpener = Sharpener::new(&grid, axis, rows, rate_hz, begin..end);
            Method::Sharpened(sharpener.map_err(refused)?)
        } else {
            let stft = Stft::new(&grid.settings()).map_err(refused)?;
            let bins = stft.bins();
            Method::Largest {
                rows: Rows::new(&axis, rows, bins, rate_hz),
                stft,
                power: vec![0.0; bins],
                largest: vec![0.0; bins],
            }
        };
        let is_coarse = place.step < 1.0 - f64::EPSILON;
        let shown = grid.columns - 2 * grid.margin;
        Ok(Self {
            view,
            rate_hz,
            total: frames,
            raster: Raster::new(width, height),
            coarse: is_coarse.then(|| (Raster::new(shown, height), place)),
            next: begin,
            end,
            begin,
            samples: vec![0.0; grid.length],
            method,
            grid,
        })
    }

    /// The samples of the channel that the next step needs; none when
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
            self.finish();
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

    /// The view that it shows; of a tile, where that lies.
    #[must_use]
    pub fn view(&self) -> &View {
        &self.view
    }

    /// The window that it is transformed with.
    #[must_use]
    pub fn window(&self) -> Window {
        self.grid.window
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

    /// What the window tells apart.
    #[must_use]
    pub fn resolution(&self) -> Resolution {
        Resolution::of(self.grid.window, self.grid.length, self.rate_hz)
    }

    /// The frames of the next step.
    fn next_frames(&self) -> Range<u64> {
        let transforms = match self.method {
            Method::Largest { .. } => 1.0,
            Method::Sharpened(_) => Sharpener::TRANSFORMS,
        };
        let by_work = (STEP_WORK / self.grid.work() / transforms) as u64;
        let by_samples = (STEP_SAMPLES as f64 / self.grid.hop()) as u64;
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
        self.next = frame + 1;
        let column = self.grid.column(frame);
        let goes_on = self.next < self.end && self.grid.column(self.next) == column;
        let margin = self.grid.margin as usize;
        let raster = match &mut self.coarse {
            Some((coarse, _)) => coarse,
            None => &mut self.raster,
        };
        match &mut self.method {
            Method::Largest {
                stft,
                rows,
                power,
                largest,
            } => {
                stft.power(samples, power);
                for (largest, &power) in largest.iter_mut().zip(&*power) {
                    *largest = if power > *largest { power } else { *largest };
                }
                if goes_on {
                    return;
                }
                if let Some(levels) = raster.column_mut(column) {
                    rows.read(largest, levels);
                }
                largest.fill(0.0);
            }
            Method::Sharpened(sharpener) => sharpener.add(frame, samples, |column, levels| {
                put(raster, column, margin, levels);
            }),
        }
    }

    /// Takes what is still on its way, and fills the picture from the columns per sample, where there are such.
    fn finish(&mut self) {
        let margin = self.grid.margin as usize;
        if let Method::Sharpened(sharpener) = &mut self.method {
            let raster = match &mut self.coarse {
                Some((coarse, _)) => coarse,
                None => &mut self.raster,
            };
            sharpener.finish(|column, levels| put(raster, column, margin, levels));
        }
        let Some((coarse, place)) = &self.coarse else {
            return;
        };
        let shown = self.grid.first + f64::from(self.grid.margin) * self.grid.samples_per_column;
        self.raster.stretch(coarse, |column| {
            place.first + (column as f64 + 0.5) * place.step - shown
        });
    }
}

/// What a picture shows.
struct Piece {
    view: View,
    /// The rows of the axis that are drawn.
    rows: Range<u32>,
    axis: Axis,
    place: Place,
}

/// Puts the levels of a column, counted from the first that is transformed, into the picture.
fn put(raster: &mut Raster, column: usize, margin: usize, levels: &[f32]) {
    let shown = column.checked_sub(margin);
    if let Some(column) = shown.and_then(|column| raster.column_mut(column)) {
        column.copy_from_slice(levels);
    }
}
