//! Energy that is moved to its own place in time and frequency.

use super::Axis;
use super::decibels::to_db;
use super::grid::Grid;
use crate::spectrum::{LOWEST_DB, Moved, Reassigned, SettingsError};
use std::ops::Range;

/// Gathers moved energy in cells and makes columns of them.
///
/// A cell is as long as frames are apart and as high as a row. What is moved into it adds up, so
/// that a constant tone keeps its level; a column shows the largest of its cells, as any picture
/// does. Only cells that later frames may still reach are kept.
pub(super) struct Sharpener {
    transform: Reassigned,
    grid: Grid,
    axis: Axis,
    /// The axis's rows that are drawn.
    rows: Range<u32>,
    bin_khz: f64,
    /// Frames whose centres lie in the recording; a cell is known by its frame.
    frames: Range<u64>,
    /// How far energy is moved at most, cells.
    reach: u64,
    /// Cells that are being filled, one after the other, each of all rows.
    ring: Vec<f32>,
    /// Scratch: the largest cell of the column in the making, and its levels.
    largest: Vec<f32>,
    levels: Vec<f32>,
}

impl Sharpener {
    /// Transforms that a frame takes.
    pub(super) const TRANSFORMS: f64 = 3.0;

    pub(super) fn new(
        grid: &Grid,
        axis: Axis,
        rows: Range<u32>,
        rate_hz: f64,
        frames: Range<u64>,
    ) -> Result<Self, SettingsError> {
        let transform = Reassigned::new(grid.window, grid.length, grid.padded)?;
        let reach = (grid.length as f64 / 2.0 / grid.hop()).ceil() as u64 + 1;
        let height = (rows.end - rows.start) as usize;
        let bin_khz = rate_hz / 2000.0 / (transform.bins() - 1) as f64;
        Ok(Self {
            transform,
            grid: *grid,
            axis,
            rows,
            bin_khz,
            frames,
            reach,
            ring: vec![0.0; (2 * reach + 1) as usize * height],
            largest: vec![0.0; height],
            levels: vec![LOWEST_DB; height],
        })
    }

    /// Adds a frame. `put` gets the levels of a column, counted from the first that is transformed, once it is full.
    pub(super) fn add(&mut self, frame: u64, samples: &[f32], put: impl FnMut(usize, &[f32])) {
        let hop = self.grid.hop() as f32;
        let (reach, height) = (self.reach as f32, self.height());
        let cells = 2 * self.reach + 1;
        let (ring, axis, rows) = (&mut self.ring, &self.axis, &self.rows);
        let (frames, bin_khz) = (&self.frames, self.bin_khz);
        self.transform
            .moved(samples, |Moved { later, bin, power }| {
                let by = (later / hop).round();
                let row = axis.position_px(f64::from(bin) * bin_khz);
                // Not a number where energy is moved below 0 kHz on a logarithmic axis.
                if by.abs() > reach
                    || row.is_nan()
                    || row < f64::from(rows.start)
                    || row >= f64::from(rows.end)
                {
                    return;
                }
                let Some(cell) = frame
                    .checked_add_signed(by as i64)
                    .filter(|cell| frames.contains(cell))
                else {
                    return;
                };
                let at = (cell % cells) as usize * height + (row as u32 - rows.start) as usize;
                if let Some(sum) = ring.get_mut(at) {
                    *sum += power;
                }
            });
        if let Some(done) = frame
            .checked_sub(self.reach)
            .filter(|&done| done >= self.frames.start)
        {
            self.take(done, put);
        }
    }

    /// Takes the cells that no later frame reached.
    pub(super) fn finish(&mut self, mut put: impl FnMut(usize, &[f32])) {
        let first = self
            .frames
            .end
            .saturating_sub(self.reach)
            .max(self.frames.start);
        for cell in first..self.frames.end {
            self.take(cell, &mut put);
        }
    }

    /// Takes a full cell into its column, and hands the column over with its last cell.
    fn take(&mut self, cell: u64, mut put: impl FnMut(usize, &[f32])) {
        let height = self.height();
        let at = (cell % (2 * self.reach + 1)) as usize * height;
        for (largest, sum) in self.largest.iter_mut().zip(&mut self.ring[at..at + height]) {
            *largest = largest.max(std::mem::take(sum));
        }
        let column = self.grid.column(cell);
        if cell + 1 < self.frames.end && self.grid.column(cell + 1) == column {
            return;
        }
        for (level, largest) in self.levels.iter_mut().zip(&mut self.largest) {
            *level = to_db(std::mem::take(largest));
        }
        put(column, &self.levels);
    }

    fn height(&self) -> usize {
        (self.rows.end - self.rows.start) as usize
    }
}
