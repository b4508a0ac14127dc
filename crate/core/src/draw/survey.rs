//! The noise of a whole recording, from samples of it.

use super::decibels::to_db;
use super::frames::{Block, needed};
use super::grid::Grid;
use super::levels::{FLOOR_QUANTILE, Histogram, LEAST_RANGE_DB, MOST_RANGE_DB, SILENT_FLOOR_DB};
use super::{Rendering, Tile, ViewError};
use crate::spectrum::{LOWEST_DB, Resolution, Stft, StftSettings, Window};
use serde::{Deserialize, Serialize};
use std::ops::Range;

/// How loud a recording is where nothing calls, and where it is loudest.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Noise {
    /// Three quarters of the hiss lie below this in a single frame, decibels re full scale.
    pub hiss_db: f32,
    /// The noise bandwidth of the frames that it was read off, hertz.
    pub bandwidth_hz: f64,
    /// The level of loud calls, decibels re full scale.
    pub loud_db: f32,
}

/// Reads the noise off a recording: stretches at even distances over all of it, each of bounded
/// length, so that an hour takes as long as a minute. Advanced in steps as a
/// [`Drawing`](super::Drawing) is.
pub struct Survey {
    rate_hz: f64,
    total: u64,
    stft: Stft,
    next: u64,
    levels: Histogram,
    /// The loudest level of each stretch.
    peaks: Vec<f32>,
    frame: Vec<f32>,
    power: Vec<f32>,
}

/// Stretches that are looked at.
const STRETCHES: u64 = 96;
/// Samples of a stretch at most: sixteen milliseconds at 500 kHz, so that looking takes less time than the first tile.
const STRETCH_SAMPLES: u64 = 1 << 13;
/// Frames of each that the noise is read off: some fifty thousand levels in all, a fraction of a decibel.
const NOISE_FRAMES: u64 = 2;
/// Length of a frame, milliseconds: what an overview of a recording is drawn with.
const FRAME_MS: f64 = 1.0;
/// The so manieth of the loudest stretches tells how loud calls are, for one click not to dim all of them.
const LOUD_STRETCH: usize = 2;
/// So far below it colours end: the loudest parts of the loudest calls may look alike.
const LOUD_MARGIN_DB: f32 = 6.0;

impl Survey {
    /// Begins with a channel of so many samples.
    ///
    /// # Errors
    /// [`ViewError::Rate`] where the rate is no number above 0.
    pub fn new(rate_hz: f64, frames: u64) -> Result<Self, ViewError> {
        if !(rate_hz.is_finite() && rate_hz > 0.0) {
            return Err(ViewError::Rate(rate_hz));
        }
        let length = super::grid::nearest_length(FRAME_MS, rate_hz);
        let settings = StftSettings {
            window: Window::Hann,
            length,
            hop: length,
            padded: length,
        };
        let stft = Stft::new(&settings).map_err(|_| ViewError::Rate(rate_hz))?;
        Ok(Self {
            rate_hz,
            total: frames,
            next: 0,
            levels: Histogram::default(),
            peaks: vec![],
            frame: vec![0.0; length],
            power: vec![0.0; stft.bins()],
            stft,
        })
    }

    /// The samples that the next step needs; none when all is seen.
    #[must_use]
    pub fn next_block(&self) -> Option<Range<u64>> {
        let (start, end) = (self.start(self.next), self.start(self.next + 1));
        (self.next < STRETCHES && start < end).then(|| start..end.min(start + STRETCH_SAMPLES))
    }

    /// Takes the samples of [`next_block`](Self::next_block).
    pub fn feed(&mut self, samples: &[f32]) {
        let Some(range) = self.next_block() else {
            return;
        };
        let block = Block {
            samples,
            start: range.start,
            total: self.total,
        };
        let length = range.end - range.start;
        for n in 0..NOISE_FRAMES {
            let centre = range.start + (2 * n + 1) * length / (2 * NOISE_FRAMES);
            self.transform(&block, centre);
            for &power in &self.power {
                self.levels.add(to_db(power));
            }
        }
        self.transform(&block, range.start + loudest(samples) as u64);
        let peak = self
            .power
            .iter()
            .fold(0.0, |a, &b| if b > a { b } else { a });
        self.peaks.push(to_db(peak));
        self.next += 1;
    }

    /// What was found so far.
    #[must_use]
    pub fn noise(&self) -> Noise {
        let hiss_db = self.levels.floor_db().unwrap_or(SILENT_FLOOR_DB);
        let mut peaks = self.peaks.clone();
        peaks.sort_by(|a, b| b.total_cmp(a));
        let loud = peaks.get(LOUD_STRETCH.min(peaks.len().saturating_sub(1)));
        Noise {
            hiss_db,
            bandwidth_hz: self.stft.noise_bandwidth_hz(self.rate_hz),
            loud_db: loud.map_or(LOWEST_DB, |loud| loud - LOUD_MARGIN_DB),
        }
    }

    /// Where a stretch begins; frames reach to either side of it only where its neighbours are read with it.
    fn start(&self, stretch: u64) -> u64 {
        let share = u128::from(self.total) * u128::from(stretch) / u128::from(STRETCHES);
        u64::try_from(share).unwrap_or(self.total)
    }

    /// Transforms the frame about a sample, drawn in from the block's ends so that it needs no others.
    fn transform(&mut self, block: &Block<'_>, centre: u64) {
        let half = self.frame.len() as u64 / 2;
        let end = block.start + block.samples.len() as u64;
        let (low, high) = (block.start + half, end.saturating_sub(half));
        let centre = if low < high {
            centre.clamp(low, high)
        } else {
            centre
        };
        let wanted = needed(centre, self.frame.len(), self.total);
        let held = block.start <= wanted.start && wanted.end <= end;
        // Of what is shorter than a frame, all that there is stands in the middle of nothing.
        if held || low >= high {
            let samples = block.frame(centre, &mut self.frame);
            self.stft.power(samples, &mut self.power);
        }
    }
}

/// Where the largest magnitude lies. First the largest of each piece, which the compiler does four at a time.
fn loudest(samples: &[f32]) -> usize {
    const PIECE: usize = 256;
    let largest = |piece: &[f32]| {
        piece
            .iter()
            .fold(0f32, |most, sample| most.max(sample.abs()))
    };
    let pieces = samples.chunks(PIECE).map(largest).enumerate();
    let (piece, most) = pieces.fold(
        (0, 0.0),
        |best, next| if next.1 > best.1 { next } else { best },
    );
    let from = piece * PIECE;
    let within = samples
        .iter()
        .skip(from)
        .position(|sample| sample.abs() == most);
    from + within.unwrap_or(0)
}

/// What there is to say of a level of a pyramid.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct TileFacts {
    /// The level of the first colour, decibels re full scale, where it is chosen from the noise.
    pub floor_db: f32,
    /// The level of the last colour, decibels re full scale, where it is chosen from the loudest sounds.
    pub top_db: f32,
    /// The window that it is transformed with.
    pub window: Window,
    /// Its length, milliseconds.
    pub window_ms: f64,
    /// What it tells apart.
    pub resolution: Resolution,
}

/// What there is to say of the level that a tile belongs to, in a recording with such noise.
///
/// A pixel that shows the largest of many levels of hiss shows more than one that shows a single
/// one; so the floor depends on the level of zoom, but on no place in it.
///
/// # Errors
/// [`ViewError`] where there is no such tile.
pub fn tile_facts(
    tile: &Tile,
    rendering: &Rendering,
    noise: &Noise,
    rate_hz: f64,
) -> Result<TileFacts, ViewError> {
    tile.check(rendering.scale, tile.channel.saturating_add(1), rate_hz)?;
    rendering.check()?;
    let grid = Grid::of_tile(tile, rendering, rate_hz);
    let stft = Stft::new(&grid.settings()).map_err(|_| ViewError::Rate(rate_hz))?;
    let wider = stft.noise_bandwidth_hz(rate_hz) / noise.bandwidth_hz;
    let row_khz = tile.frequency_axis(rendering.scale, rate_hz).step();
    let bins = (row_khz / (rate_hz / 2000.0 / (stft.bins() - 1) as f64)).max(1.0);
    let many = quantile_of_largest(grid.frames_per_column as f64 * bins);
    let more = many / quantile_of_largest(1.0);
    let floor_db = noise.hiss_db + (10.0 * (wider * more).log10()) as f32;
    let range_db = (noise.loud_db - floor_db).clamp(LEAST_RANGE_DB, MOST_RANGE_DB);
    Ok(TileFacts {
        floor_db,
        top_db: floor_db + range_db,
        window: grid.window,
        window_ms: grid.length as f64 / rate_hz * 1000.0,
        resolution: Resolution::of(grid.window, grid.length, rate_hz),
    })
}

/// The power below which the largest of so many powers of hiss lies in three of four cases, re their
/// mean: powers of hiss in a bin are distributed exponentially.
fn quantile_of_largest(many: f64) -> f64 {
    -(1.0 - FLOOR_QUANTILE.powf(1.0 / many)).ln()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed test may panic")]

    use super::*;
    use crate::draw::Scale;
    use std::f64::consts::TAU;

    const RATE_HZ: f64 = 500e3;

    fn hiss(amplitude: f32, count: usize) -> Vec<f32> {
        // Knuth's MMIX congruential sequence.
        let mut state = 1u64;
        (0..count)
            .map(|_| {
                state = state
                    .wrapping_mul(6_364_136_223_846_793_005)
                    .wrapping_add(1_442_695_040_888_963_407);
                amplitude * ((state >> 40) as f32 / (1u64 << 23) as f32 - 1.0)
            })
            .collect()
    }

    fn surveyed(samples: &[f32]) -> Noise {
        let mut survey = Survey::new(RATE_HZ, samples.len() as u64).unwrap();
        while let Some(block) = survey.next_block() {
            survey.feed(&samples[block.start as usize..block.end as usize]);
        }
        survey.noise()
    }

    #[test]
    fn the_noise_of_hiss_is_that_of_theory() {
        let noise = surveyed(&hiss(0.01, 2_000_000));
        // Even noise from -a to a has the power a^2 / 3; a full-scale sine has 1/2. A bin of Hann's
        // window of 512 samples holds 1.5 / 256 of it; three quarters lie below ln 4 times the mean.
        let mean = 0.01f64.powi(2) / 3.0 * 2.0 * 1.5 / 256.0;
        let theory = 10.0 * (mean * 4f64.ln()).log10();
        assert!(
            (f64::from(noise.hiss_db) - theory).abs() < 0.5,
            "{noise:?}, theory {theory}"
        );
        assert!((noise.bandwidth_hz - 1.5 * RATE_HZ / 512.0).abs() < 1.0);
    }

    #[test]
    fn calls_do_not_lift_it_and_tell_how_loud_it_gets() {
        let mut samples = hiss(0.01, 1_000_000);
        let quiet = surveyed(&samples);
        for call in 0..10 {
            for n in 0..2000 {
                let sine = (TAU * 45e3 * f64::from(n) / RATE_HZ).sin();
                samples[call * 100_000 + 30_000 + n as usize] += 0.5 * sine as f32;
            }
        }
        let noise = surveyed(&samples);
        assert!(
            (noise.hiss_db - quiet.hiss_db).abs() < 0.5,
            "{noise:?} beside {quiet:?}"
        );
        // Half of full scale is -6 dB.
        assert!(
            (noise.loud_db + 6.0 + LOUD_MARGIN_DB).abs() < 1.0,
            "{noise:?}"
        );
    }

    #[test]
    fn the_floor_of_a_level_is_what_its_pixels_show() {
        let samples = hiss(0.01, 2_000_000);
        let noise = surveyed(&samples);
        for (time_zoom, rows) in [(12, 256), (11, 512), (9, 512), (7, 1024)] {
            let tile = Tile {
                channel: 0,
                time_zoom,
                rows,
                low_khz: 0.0,
                first_column: 4,
                width_px: 256,
                first_row: 0,
                height_px: rows,
            };
            let rendering = Rendering::default();
            let facts = tile_facts(&tile, &rendering, &noise, RATE_HZ).unwrap();
            let mut drawing =
                super::super::Drawing::tile(&tile, &rendering, 1, RATE_HZ, samples.len() as u64)
                    .unwrap();
            while let Some(block) = drawing.next_block() {
                drawing.feed(&samples[block.start as usize..block.end as usize]);
            }
            let levels = drawing.raster().levels_db();
            let below = levels
                .iter()
                .filter(|&&level| level < facts.floor_db)
                .count();
            let share = below as f64 / levels.len() as f64;
            // Frames overlap by half, and bins run together, so their levels are not all each other's strangers.
            assert!(
                (0.62..0.92).contains(&share),
                "{time_zoom}: {share} below {facts:?}"
            );
        }
    }

    #[test]
    fn silence_and_what_is_shorter_than_a_frame_have_noise_too() {
        for samples in [vec![], vec![0.0; 100_000], hiss(0.1, 3), hiss(0.1, 700)] {
            let noise = surveyed(&samples);
            assert!(noise.hiss_db.is_finite() && noise.loud_db.is_finite());
        }
        assert!(Survey::new(f64::NAN, 10).is_err());
    }

    #[test]
    fn a_step_is_bounded_also_in_an_hour() {
        let mut survey = Survey::new(RATE_HZ, 3600 * 500_000).unwrap();
        let mut steps = 0;
        while let Some(block) = survey.next_block() {
            assert!(block.end - block.start <= STRETCH_SAMPLES);
            survey.feed(&vec![0.0; (block.end - block.start) as usize]);
            steps += 1;
        }
        assert_eq!(steps, STRETCHES);
    }

    #[test]
    fn wrong_tiles_are_refused() {
        let noise = surveyed(&[]);
        let tile = Tile {
            channel: 0,
            time_zoom: 11,
            rows: 512,
            low_khz: 0.0,
            first_column: 0,
            width_px: 512,
            first_row: 0,
            height_px: 512,
        };
        let log = Rendering {
            scale: Scale::Logarithmic,
            ..Rendering::default()
        };
        assert!(tile_facts(&tile, &log, &noise, RATE_HZ).is_err());
        let beyond = Tile {
            first_row: 1,
            ..tile
        };
        assert!(tile_facts(&beyond, &Rendering::default(), &noise, RATE_HZ).is_err());
        let fine = Tile {
            time_zoom: -40,
            ..tile
        };
        assert!(tile_facts(&fine, &Rendering::default(), &noise, RATE_HZ).is_err());
    }
}
