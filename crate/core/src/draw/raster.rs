//! Levels of a picture, and their colours.

use super::levels::Shades;
use super::{Look, ViewError};
use crate::spectrum::LOWEST_DB;
use std::ops::Range;

/// One level per pixel, decibels re full scale. Row 0 is the highest frequency.
///
/// Pixels without a sound to show (before and after the recording, above half
/// its sampling rate, not drawn yet) hold [`LOWEST_DB`].
#[derive(Debug, Clone, PartialEq)]
pub struct Raster {
    width: u32,
    height: u32,
    /// Column after column: a drawing finishes one at a time.
    levels: Vec<f32>,
}

/// How finely [`Raster::encode`] tells levels apart: far more finely than colours do.
pub const CODES_PER_DB: f32 = 128.0;

/// Columns that are painted side by side: reads run down columns and writes
/// along rows, so a band of both stays in the nearest cache.
const BAND: usize = 16;

impl Raster {
    pub(super) fn new(width: u32, height: u32) -> Self {
        Self {
            width,
            height,
            levels: vec![LOWEST_DB; width as usize * height as usize],
        }
    }

    /// Columns.
    #[must_use]
    pub fn width(&self) -> u32 {
        self.width
    }

    /// Rows.
    #[must_use]
    pub fn height(&self) -> u32 {
        self.height
    }

    /// The level of a pixel; none outside the picture.
    #[must_use]
    pub fn level_db(&self, column: u32, row: u32) -> Option<f32> {
        if column >= self.width || row >= self.height {
            return None;
        }
        let at = column as usize * self.height as usize + row as usize;
        self.levels.get(at).copied()
    }

    /// All levels, column after column, each from the highest frequency down.
    #[must_use]
    pub fn levels_db(&self) -> &[f32] {
        &self.levels
    }

    /// The levels of a column.
    pub(super) fn column_mut(&mut self, column: usize) -> Option<&mut [f32]> {
        let height = self.height as usize;
        self.levels.get_mut(column * height..(column + 1) * height)
    }

    /// Fills the raster from a coarser one of the same height, straight between
    /// the middles of its columns. `position` gives the place of a column's
    /// middle among the coarse ones.
    pub(super) fn stretch(&mut self, coarse: &Self, position: impl Fn(usize) -> f64) {
        let height = self.height as usize;
        let last = coarse.width.saturating_sub(1) as usize;
        for (column, levels) in self.levels.chunks_exact_mut(height.max(1)).enumerate() {
            let place = (position(column) - 0.5).clamp(0.0, last as f64);
            let near = place as usize;
            let far = (near + 1).min(last);
            let part = (place - near as f64) as f32;
            let coarse = |column: usize| coarse.levels.iter().skip(column * height);
            for ((level, near), far) in levels.iter_mut().zip(coarse(near)).zip(coarse(far)) {
                *level = near + part * (far - near);
            }
        }
    }

    /// The levels of some rows as whole numbers, row after row: how far a level lies above
    /// [`LOWEST_DB`], [`CODES_PER_DB`] to a decibel. 0 where there is no sound to show. `codes` is
    /// resized and overwritten.
    pub fn encode(&self, rows: Range<u32>, codes: &mut Vec<u16>) {
        let (width, height) = (self.width as usize, self.height as usize);
        let rows = rows.start.min(self.height) as usize..rows.end.min(self.height) as usize;
        codes.resize(rows.len() * width, 0);
        for (band, columns) in self.levels.chunks(BAND * height.max(1)).enumerate() {
            for (line, row) in codes.chunks_exact_mut(width.max(1)).zip(rows.clone()) {
                let line = line.iter_mut().skip(band * BAND);
                let levels = columns.iter().skip(row).step_by(height);
                for (code, &level) in line.zip(levels) {
                    // The conversion rounds down and holds the ends; half a step makes that rounding.
                    *code = ((level - LOWEST_DB) * CODES_PER_DB + 0.5) as u16;
                }
            }
        }
    }

    /// Paints the levels: red, green, blue, opacity, row after row. `pixels` is
    /// resized and overwritten. Returns the levels that the colours stretch over.
    ///
    /// # Errors
    /// [`ViewError::Levels`] where the look's levels are not numbers or its
    /// range is not above 0.
    pub fn paint(&self, look: &Look, pixels: &mut Vec<u8>) -> Result<Shades, ViewError> {
        look.check()?;
        let shades = Shades::choose(&self.levels, look);
        let (colours, shade) = (look.map.shades(), shades.scale());
        let (width, height) = (self.width as usize, self.height as usize);
        pixels.resize(self.levels.len() * 4, 0);
        for (band, columns) in self.levels.chunks(BAND * height.max(1)).enumerate() {
            for (row, line) in pixels.chunks_exact_mut(width.max(1) * 4).enumerate() {
                let (line, _) = line.as_chunks_mut::<4>();
                let line = line.iter_mut().skip(band * BAND);
                let levels = columns.iter().skip(row).step_by(height);
                for (pixel, &level) in line.zip(levels) {
                    *pixel = colours[shade(level)];
                }
            }
        }
        Ok(shades)
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed test may panic")]

    use super::*;
    use crate::draw::ColourMap;

    fn look(floor_db: Option<f32>, range_db: Option<f32>) -> Look {
        Look {
            map: ColourMap::Grey,
            floor_db,
            range_db,
        }
    }

    #[test]
    fn pixels_run_along_rows_while_levels_run_down_columns() {
        let mut raster = Raster::new(19, 3);
        raster.column_mut(17).unwrap()[1] = 0.0;
        let mut pixels = vec![9; 5];
        let shades = raster
            .paint(&look(Some(-60.0), Some(60.0)), &mut pixels)
            .unwrap();
        assert_eq!((shades.floor_db, shades.top_db), (-60.0, 0.0));
        assert_eq!(pixels.len(), 19 * 3 * 4);
        for (at, pixel) in pixels.chunks_exact(4).enumerate() {
            let value = if at == 19 + 17 { 255 } else { 0 };
            assert_eq!(pixel, [value, value, value, 255], "pixel {at}");
        }
    }

    #[test]
    fn levels_are_where_they_were_put() {
        let mut raster = Raster::new(4, 3);
        raster.column_mut(2).unwrap()[1] = -7.0;
        assert_eq!(raster.level_db(2, 1), Some(-7.0));
        assert_eq!(raster.level_db(1, 2), Some(LOWEST_DB));
        assert_eq!(raster.level_db(4, 0), None);
        assert_eq!(raster.level_db(0, 3), None);
        assert!(raster.column_mut(4).is_none());
    }

    #[test]
    fn a_stretched_raster_is_smooth() {
        let mut coarse = Raster::new(3, 2);
        for column in 0..3 {
            coarse
                .column_mut(column)
                .unwrap()
                .fill(column as f32 * -10.0);
        }
        let mut fine = Raster::new(30, 2);
        fine.stretch(&coarse, |column| (column as f64 + 0.5) / 10.0);
        assert_eq!(fine.level_db(0, 0), Some(0.0));
        assert_eq!(fine.level_db(29, 1), Some(-20.0));
        let middle = fine.level_db(14, 0).unwrap();
        assert!((middle + 9.5).abs() < 1e-4, "{middle}");
    }

    #[test]
    fn codes_keep_levels_row_by_row() {
        let mut raster = Raster::new(37, 5);
        for column in 0..37u8 {
            for (row, level) in raster
                .column_mut(column.into())
                .unwrap()
                .iter_mut()
                .enumerate()
            {
                *level = -3.0 * f32::from(column) - 0.3 * row as f32;
            }
        }
        raster.column_mut(4).unwrap()[3] = LOWEST_DB;
        let mut codes = vec![7; 3];
        raster.encode(2..5, &mut codes);
        assert_eq!(codes.len(), 3 * 37);
        assert_eq!(codes[37 + 4], 0);
        let level = |code: u16| f32::from(code) / CODES_PER_DB + LOWEST_DB;
        for column in [0, 17, 36] {
            let kept = level(codes[2 * 37 + column as usize]);
            let put = raster.level_db(column, 4).unwrap();
            assert!(
                (kept - put).abs() <= 0.5 / CODES_PER_DB + 1e-4,
                "{kept} for {put}"
            );
        }
    }

    #[test]
    fn a_wrong_look_is_refused() {
        assert!(
            Raster::new(1, 1)
                .paint(&look(None, Some(-1.0)), &mut Vec::new())
                .is_err()
        );
    }
}
