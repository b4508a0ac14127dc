//! Pieces of a pyramid of pictures.

use super::{Axis, Scale, View, ViewError};
use serde::{Deserialize, Serialize};

/// A piece of one level of a pyramid of pictures of a whole recording.
///
/// A level has columns of `2^time_zoom` samples, the first of which begins with the recording, and
/// `rows` rows from half the sampling rate down to `low_khz`. What a pixel holds depends on its
/// level and its place there alone: pieces fit without seams, and are equal to the same part of any
/// larger piece, bit by bit.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Tile {
    /// The channel, counted from 0.
    pub channel: u16,
    /// Binary logarithm of the samples per column; below 0 where columns are finer than samples.
    pub time_zoom: i32,
    /// Rows of the whole level.
    pub rows: u32,
    /// The lower edge of the whole level, kilohertz; above 0 where frequency runs logarithmically.
    pub low_khz: f64,
    /// The piece's first column, counted from the start of the recording.
    pub first_column: i32,
    /// The piece's columns.
    pub width_px: u32,
    /// The piece's first row, counted from the top.
    pub first_row: u32,
    /// The piece's rows.
    pub height_px: u32,
}

impl Tile {
    /// Finest and coarsest columns: a sample on 1024 of them, and 67 million samples on one.
    const TIME_ZOOM: (i32, i32) = (-10, 26);
    /// Most rows of a level: 2 kHz of a recording of 2 MHz fill a large screen.
    const MOST_ROWS: u32 = 1 << 22;

    /// Whether the tile can be drawn for a recording of so many channels and samples per second.
    ///
    /// # Errors
    /// [`ViewError`] naming what is wrong.
    pub fn check(&self, scale: Scale, channels: u16, rate_hz: f64) -> Result<(), ViewError> {
        if !(rate_hz.is_finite() && rate_hz > 0.0) {
            return Err(ViewError::Rate(rate_hz));
        }
        let &Self {
            channel, low_khz, ..
        } = self;
        if channel >= channels {
            return Err(ViewError::Channel { channel, channels });
        }
        let high_khz = rate_hz / 2000.0;
        let low_enough = low_khz >= 0.0 && low_khz < high_khz;
        if !low_enough || (scale == Scale::Logarithmic && low_khz == 0.0) {
            return Err(ViewError::Frequency { low_khz, high_khz });
        }
        let drawable = 1..=View::LARGEST_PX;
        if !(drawable.contains(&self.width_px) && drawable.contains(&self.height_px)) {
            return Err(ViewError::Size {
                width_px: self.width_px,
                height_px: self.height_px,
            });
        }
        if !(Self::TIME_ZOOM.0..=Self::TIME_ZOOM.1).contains(&self.time_zoom) {
            return Err(ViewError::Tile("its columns are too fine or too coarse"));
        }
        let end = self.first_row.checked_add(self.height_px);
        if self.rows > Self::MOST_ROWS || end.is_none_or(|end| end > self.rows) {
            return Err(ViewError::Tile("it has more rows than its level"));
        }
        Ok(())
    }

    /// Samples per column, a power of two.
    #[must_use]
    pub fn samples_per_column(&self) -> f64 {
        2f64.powi(self.time_zoom)
    }

    /// Where the tile lies.
    pub(super) fn view(&self, scale: Scale, rate_hz: f64) -> View {
        let time = |column: f64| column * self.samples_per_column() / rate_hz;
        let first = f64::from(self.first_column);
        let rows = self.frequency_axis(scale, rate_hz);
        let top = f64::from(self.first_row);
        View {
            channel: self.channel,
            start_s: time(first),
            end_s: time(first + f64::from(self.width_px)),
            low_khz: rows.value_at(top + f64::from(self.height_px)),
            high_khz: rows.value_at(top),
            width_px: self.width_px,
            height_px: self.height_px,
        }
    }

    /// Frequency in kilohertz down the rows of the whole level.
    #[must_use]
    pub fn frequency_axis(&self, scale: Scale, rate_hz: f64) -> Axis {
        Axis::on(scale, rate_hz / 2000.0, self.low_khz, self.rows)
    }
}
