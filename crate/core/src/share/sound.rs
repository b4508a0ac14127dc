//! Samples <-> few bytes.

use super::LinkError;
use super::coefficients::Coefficients;
use super::entropy::{Reader, Writer};
use super::floor::{BANDS, Floor};
use super::lapped::Lapped;
use rand::rngs::ChaCha8Rng;
use rand::{RngExt, SeedableRng};
use rand_distr::StandardNormal;
use serde::{Deserialize, Serialize};
use std::ops::Range;

/// Sound in few bytes: what stands out of the noise as counted coefficients of a lapped transform, and the level of the
/// noise band by band, from which it is drawn anew.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(super) struct Sound {
    /// Samples a second, at the microphone.
    pub(super) rate_hz: f64,
    /// Samples in all.
    pub(super) frames: u32,
    /// Frequencies of the transform, as a power of two.
    hop_exponent: u8,
    detail: Detail,
    /// The frequencies of the transform that are sent: from the first to without the last.
    band: (u16, u16),
    /// The blocks that are sent: how many are left out before, and how many there are.
    pieces: Vec<(u32, u32)>,
    bytes: Vec<u8>,
}

/// How finely coefficients are counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct Detail {
    /// The step as a multiple of the noise's standard deviation: half of it, times the square root of two so many times.
    over_noise: u8,
    /// No step is smaller than this, decibels below full scale.
    least_db: u8,
}

/// Samples at most: sixteen seconds at 500 kHz. A link of a hundred bytes could else fill a computer's memory.
pub(super) const MOST_FRAMES: u32 = 1 << 23;
/// Sampling rates that any recorder may have, hertz.
pub(super) const RATES_HZ: (f64, f64) = (1e3, 4e6);
/// Transforms: from quick to fine in frequency.
const HOP_EXPONENTS: Range<u8> = 6..11;
const MOST_OVER_NOISE: u8 = 20;
/// A coefficient counts as 0 up to this share of a step: noise then costs next to nothing.
const DEAD: f32 = 0.6;
/// The noise that is drawn anew is the same each time.
const SEED: u64 = 1;

impl Detail {
    /// The last rung: steps of sixteen deviations, at most 36 dB below the loudest coefficient.
    pub(super) const COARSEST: u8 = 10;

    /// From fine (0) to coarse, for a sound whose largest coefficient is so large.
    pub(super) fn rung(rung: u8, largest: f32) -> Self {
        let peak_db = 20.0 * largest.max(1e-9).log10();
        Self {
            over_noise: rung,
            least_db: (76.0 - 4.0 * f32::from(rung) - peak_db).clamp(0.0, 200.0) as u8,
        }
    }

    fn step(self, deviation: f32) -> f32 {
        let over_noise = 0.5 * 2f32.powf(f32::from(self.over_noise) / 2.0) * deviation;
        over_noise.max(10f32.powf(-f32::from(self.least_db) / 20.0))
    }
}

/// A stretch of sound in the transform of one length, ready to be written in any detail.
#[derive(Debug)]
pub(super) struct Spectrum {
    hop_exponent: u8,
    frames: u32,
    rate_hz: f64,
    coefficients: Vec<f32>,
    floor: Floor,
    band: Range<usize>,
    pieces: Vec<Range<usize>>,
}

/// What of a stretch must be carried.
#[derive(Debug, Clone, Default)]
pub(super) struct Wanted {
    /// Samples, in order.
    pub(super) samples: Vec<Range<usize>>,
    /// Kilohertz.
    pub(super) band_khz: Range<f64>,
}

impl Spectrum {
    /// All transforms that a stretch may be sent in, quick ones first.
    pub(super) fn all<'a>(
        samples: &'a [f32],
        rate_hz: f64,
        wanted: &'a Wanted,
    ) -> impl Iterator<Item = Self> + 'a {
        // From an eighth of a millisecond to a half.
        let shortest = (rate_hz * 1.1e-4).max(64.0).log2().floor() as u8;
        let first = shortest.clamp(HOP_EXPONENTS.start, HOP_EXPONENTS.end - 1);
        (first..(first + 3).min(HOP_EXPONENTS.end))
            .map(move |exponent| Self::new(samples, rate_hz, wanted, exponent))
    }

    fn new(samples: &[f32], rate_hz: f64, wanted: &Wanted, hop_exponent: u8) -> Self {
        let hop = 1usize << hop_exponent;
        let coefficients = Lapped::new(hop).forward(samples);
        let blocks = coefficients.len() / hop;
        let mut pieces: Vec<Range<usize>> = Vec::new();
        for samples in &wanted.samples {
            // A sample lies in the block of its hop and in the next one.
            let (from, to) = (samples.start / hop, (samples.end / hop + 2).min(blocks));
            match pieces.last_mut() {
                Some(last) if last.end >= from => last.end = last.end.max(to),
                _ => pieces.push(from..to),
            }
        }
        Self {
            hop_exponent,
            frames: u32::try_from(samples.len()).unwrap_or(u32::MAX),
            rate_hz,
            floor: Floor::of(&coefficients, hop, &pieces),
            coefficients,
            band: band_of(&wanted.band_khz, rate_hz, hop),
            pieces,
        }
    }

    /// The largest coefficient of what is sent.
    pub(super) fn largest(&self) -> f32 {
        let values = self
            .pieces
            .iter()
            .flat_map(|blocks| self.block(blocks.clone()));
        values.fold(0.0, |most, value| most.max(value.abs()))
    }

    fn block(&self, blocks: Range<usize>) -> &[f32] {
        let hop = 1 << self.hop_exponent;
        self.coefficients
            .get(blocks.start * hop..blocks.end * hop)
            .unwrap_or_default()
    }

    /// The sound in few bytes.
    pub(super) fn write(&self, detail: Detail) -> Sound {
        let hop = 1usize << self.hop_exponent;
        let mut writer = Writer::default();
        self.floor.clone().code(&mut writer);
        let steps = steps(&self.floor, detail, hop, self.band.clone());
        let mut coder = Coefficients::default();
        for blocks in &self.pieces {
            coder.begin();
            let mut counted: Vec<Vec<i32>> = self
                .block(blocks.clone())
                .chunks_exact(hop)
                .map(|block| count(block.get(self.band.clone()).unwrap_or_default(), &steps))
                .collect();
            drop_lonely(&mut counted);
            for block in &mut counted {
                coder.code(&mut writer, block);
            }
        }
        let mut end = 0;
        let pieces = self.pieces.iter().map(|blocks| {
            let before = blocks.start - end;
            end = blocks.end;
            // Blocks are fewer than samples, whose number fits.
            (before as u32, blocks.len() as u32)
        });
        Sound {
            rate_hz: self.rate_hz,
            frames: self.frames,
            hop_exponent: self.hop_exponent,
            detail,
            // A transform has at most a thousand frequencies.
            band: (self.band.start as u16, self.band.end as u16),
            pieces: pieces.collect(),
            bytes: writer.finish(),
        }
    }
}

impl Sound {
    /// How many bytes its coefficients take.
    pub(super) fn bytes(&self) -> usize {
        self.bytes.len()
    }

    /// The frequencies that were carried, kilohertz.
    pub(super) fn band_khz(&self) -> (f64, f64) {
        let per_frequency =
            self.rate_hz / 2000.0 / f64::from(1u32 << self.hop_exponent.min(HOP_EXPONENTS.end));
        (
            f64::from(self.band.0) * per_frequency,
            f64::from(self.band.1) * per_frequency,
        )
    }

    /// The samples that were carried, as far as they lie within the stretch.
    pub(super) fn carried(&self) -> Vec<Range<u64>> {
        let hop = 1u64 << self.hop_exponent.min(HOP_EXPONENTS.end);
        let mut at = 0u64;
        let pieces = self.pieces.iter().map(|&(before, count)| {
            let from = at + u64::from(before);
            at = from + u64::from(count);
            // The blocks at both ends carry half of what they span.
            from * hop..(at * hop).saturating_sub(hop).min(u64::from(self.frames))
        });
        pieces.filter(|samples| !samples.is_empty()).collect()
    }

    /// The samples.
    ///
    /// # Errors
    /// [`LinkError::Bounds`] where it says of itself what no sound has.
    pub(super) fn samples(&self) -> Result<Vec<f32>, LinkError> {
        self.check()?;
        let hop = 1usize << self.hop_exponent;
        let frames = self.frames as usize;
        let mut lapped = Lapped::new(hop);
        let blocks = lapped.blocks(frames);
        let mut reader = Reader::new(&self.bytes);
        let mut floor = Floor::default();
        floor.code(&mut reader);
        let mut values = hiss(&floor, hop, blocks);
        let band = usize::from(self.band.0)..usize::from(self.band.1);
        let steps = steps(&floor, self.detail, hop, band.clone());
        let mut coder = Coefficients::default();
        let mut block = vec![0; band.len()];
        let mut at = 0usize;
        for &(before, count) in &self.pieces {
            at += before as usize;
            coder.begin();
            for _ in 0..count {
                if at >= blocks {
                    return Err(LinkError::Bounds("more sound than fits into its length"));
                }
                block.fill(0);
                coder.code(&mut reader, &mut block);
                let place = values
                    .get_mut(at * hop + band.start..at * hop + band.end)
                    .unwrap_or_default();
                lay(place, &block, &steps);
                at += 1;
            }
        }
        Ok(lapped.inverse(&values, frames))
    }

    fn check(&self) -> Result<(), LinkError> {
        let (lowest, highest) = RATES_HZ;
        if !(self.rate_hz >= lowest && self.rate_hz <= highest) {
            return Err(LinkError::Bounds("a sampling rate that no recorder has"));
        }
        if self.frames == 0 || self.frames > MOST_FRAMES {
            return Err(LinkError::Bounds("a length that no call has"));
        }
        let is_known = HOP_EXPONENTS.contains(&self.hop_exponent)
            && self.detail.over_noise <= MOST_OVER_NOISE
            && self.detail.least_db <= 200
            && self.band.0 < self.band.1
            && self.band.1 <= 1 << self.hop_exponent;
        if !is_known {
            return Err(LinkError::Bounds(
                "a coding that this version does not know",
            ));
        }
        Ok(())
    }
}

/// The frequencies of a transform that a band takes.
fn band_of(khz: &Range<f64>, rate_hz: f64, hop: usize) -> Range<usize> {
    let per_khz = hop as f64 / (rate_hz / 2000.0);
    let from = (khz.start * per_khz).floor().clamp(0.0, (hop - 1) as f64) as usize;
    let to = (khz.end * per_khz).ceil().clamp(0.0, hop as f64) as usize;
    from..to.max(from + 1)
}

/// The step of each frequency of a band.
fn steps(floor: &Floor, detail: Detail, hop: usize, band: Range<usize>) -> Vec<f32> {
    band.map(|frequency| detail.step(floor.deviation(frequency, hop)))
        .collect()
}

fn count(block: &[f32], steps: &[f32]) -> Vec<i32> {
    let one = |(&value, &step): (&f32, &f32)| {
        // A float that is too large for it becomes the largest number.
        let size = (value.abs() / step + 1.0 - DEAD).floor() as i32;
        if value < 0.0 { -size } else { size }
    };
    block.iter().zip(steps).map(one).collect()
}

/// Ones with nothing around them are noise: they cost much and say nothing.
fn drop_lonely(blocks: &mut [Vec<i32>]) {
    let original = blocks.to_vec();
    let at = |block: Option<usize>, frequency: Option<usize>| {
        let values = block.and_then(|block| original.get(block));
        let value = values.and_then(|values| values.get(frequency?));
        value.is_some_and(|&value| value != 0)
    };
    for (number, block) in blocks.iter_mut().enumerate() {
        for (frequency, value) in block.iter_mut().enumerate() {
            let near = [number.checked_sub(1), Some(number), Some(number + 1)];
            let beside = [
                frequency.checked_sub(1),
                Some(frequency),
                Some(frequency + 1),
            ];
            let company = near
                .iter()
                .flat_map(|&block| beside.map(|frequency| at(block, frequency)))
                .filter(|&sounds| sounds)
                .count();
            // It is in its own company.
            if value.abs() == 1 && company == 1 {
                *value = 0;
            }
        }
    }
}

/// Noise of the floor's levels in all blocks.
fn hiss(floor: &Floor, hop: usize, blocks: usize) -> Vec<f32> {
    let mut random = ChaCha8Rng::seed_from_u64(SEED);
    let deviations: Vec<f32> = (0..hop)
        .map(|frequency| floor.deviation(frequency, hop))
        .collect();
    let mut values = Vec::with_capacity(hop * blocks);
    for _ in 0..blocks {
        let block = deviations
            .iter()
            .map(|deviation| deviation * random.sample::<f32, _>(StandardNormal));
        values.extend(block);
    }
    values
}

/// Lays counted coefficients over noise; where the count is 0, noise stays as far as it would have been counted as 0.
fn lay(values: &mut [f32], counted: &[i32], steps: &[f32]) {
    for ((value, &count), &step) in values.iter_mut().zip(counted).zip(steps) {
        *value = if count == 0 {
            value.clamp(-DEAD * step, DEAD * step)
        } else {
            count as f32 * step
        };
    }
}

const _: () = assert!(BANDS <= 1 << HOP_EXPONENTS.start);
