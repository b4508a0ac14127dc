//! The sound that a band holds.

use super::Band;
use crate::pulse::call::Call;
use crate::pulse::ridge::{Block, Ridge};
use crate::pulse::trace::{Peak, Trace, WINDOW_S, vertex};
use crate::spectrum::{Stft, StftSettings, Window};
use std::ops::Range;

/// Time between the frames that a band is looked at in, seconds.
const HOP_S: f64 = 0.125e-3;
/// A faint sound is followed as long as it stands this far above the mean noise, as a power ratio (4 dB) ...
const FOLLOWED: f32 = 2.5;
/// ... over holes of so many frames.
const LONGEST_HOLE: usize = 4;
/// How far its frequency may lie from where its slope leads, hertz, and by which share of the way.
const DEVIATION_HZ: f64 = 1_750.0;
const DEVIATION_SHARE: f64 = 0.5;
/// The same while no slope is known, hertz.
const FIRST_JUMP_HZ: f64 = 7_500.0;
/// Fewest peaks of a trace.
const FEWEST: usize = 3;
/// Share of a call, or else of the band's time, for which it lies in the band.
const INSIDE_SHARE: f64 = 0.5;
/// Chance lifts noise to `ln n + 3` times its mean in one of twenty bands of n independent spots (the largest of n
/// exponentially distributed powers). Frames that overlap and bins that are interpolated find such maxima about
/// four times as often, hence ln 4 more.
const CHANCE: f64 = 4.4;

/// A band in a block: samples and hertz.
#[derive(Debug, Clone)]
pub(super) struct Spot {
    pub(super) samples: Range<f64>,
    pub(super) hz: Range<f64>,
}

impl Spot {
    pub(super) fn of(band: &Band, first_frame: u64, rate_hz: f64) -> Self {
        let sample = |second: f64| second * rate_hz - first_frame as f64;
        Self {
            samples: sample(band.start_s)..sample(band.end_s),
            hz: band.low_khz * 1e3..band.high_khz * 1e3,
        }
    }

    fn holds(&self, ridge: &Ridge, knot: usize) -> bool {
        let hz = ridge.guide.hz[knot];
        self.samples.contains(&ridge.sample(knot as f64))
            && (self.hz.start..=self.hz.end).contains(&hz)
    }

    /// The knots of a ridge that lie in the band and hang together with the loudest of them; none where the
    /// ridge only brushes the band.
    pub(super) fn knots(&self, ridge: &Ridge) -> Option<Range<usize>> {
        let core = ridge.edges.core();
        let inside = core.clone().filter(|&knot| self.holds(ridge, knot));
        let count = inside.clone().count();
        let band_knots = (self.samples.end - self.samples.start) / ridge.guide.hop as f64;
        let enough = INSIDE_SHARE * band_knots.min(core.len() as f64);
        if count == 0 || (count as f64) < enough {
            return None;
        }
        let loudest = inside.max_by(|&a, &b| ridge.envelope[a].total_cmp(&ridge.envelope[b]))?;
        let outside = |knot: &usize| !self.holds(ridge, *knot);
        let start = (core.start..loudest).rev().find(outside);
        let end = (loudest..core.end).find(outside);
        Some(start.map_or(core.start, |knot| knot + 1)..end.unwrap_or(core.end))
    }
}

/// A call with the member that lies in a band.
pub(super) struct Found {
    pub(super) call: Call,
    /// The member's place among the call's.
    pub(super) member: usize,
    /// Its knots in the band.
    pub(super) knots: Range<usize>,
}

impl Found {
    /// How a call lies in a band; none where it does not.
    pub(super) fn of(call: Call, spot: &Spot) -> Option<Self> {
        let (member, knots, _) = call
            .members
            .iter()
            .enumerate()
            .filter_map(|(member, (_, ridge))| {
                let knots = spot.knots(ridge)?;
                let loudest = ridge.envelope[knots.clone()]
                    .iter()
                    .fold(0f32, |a, &b| a.max(b));
                Some((member, knots, loudest))
            })
            .max_by(|a, b| a.2.total_cmp(&b.2))?;
        Some(Self {
            call,
            member,
            knots,
        })
    }

    pub(super) fn ridge(&self) -> &Ridge {
        &self.call.members[self.member].1
    }

    fn loudest(&self) -> f32 {
        let within = &self.ridge().envelope[self.knots.clone()];
        within.iter().fold(0f32, |a, &b| a.max(b))
    }
}

/// Of calls in a band, the one that begins nearest to a sample of the block, else the loudest.
pub(super) fn chosen(
    calls: impl IntoIterator<Item = Call>,
    spot: &Spot,
    begins: Option<f64>,
) -> Option<Found> {
    let found = calls.into_iter().filter_map(|call| Found::of(call, spot));
    match begins {
        Some(sample) => found.min_by(|a, b| {
            let off = |found: &Found| (found.call.span().start - sample).abs();
            off(a).total_cmp(&off(b))
        }),
        None => found.max_by(|a, b| a.loudest().total_cmp(&b.loudest())),
    }
}

/// What a band looks like, frame by frame.
pub(super) struct Sight {
    frames: Frames,
    /// Its strongest spot.
    pub(super) strongest: Option<Peak>,
    /// Independent spots: frames that do not overlap, times bins that do not.
    spots: f64,
}

/// Frames over a band.
struct Frames {
    stft: Stft,
    hop: usize,
    rate_hz: f64,
    /// The middle of the first one, samples of the block.
    first: f64,
    count: usize,
    power: Vec<f32>,
}

impl Sight {
    /// Looks at a band; none where the sampling rate leaves nothing to look at.
    pub(super) fn of(block: &Block, spot: &Spot) -> Option<Self> {
        let mut frames = Frames::over(block, spot)?;
        let mut strongest: Option<Peak> = None;
        for frame in 0..frames.count {
            let peak = frames.peak(block, frame, &spot.hz);
            let over = |peak: &Option<Peak>| peak.as_ref().map_or(0.0, |p| p.over_noise);
            if over(&peak) > over(&strongest) {
                strongest = peak;
            }
        }
        let bandwidth_hz = frames.stft.noise_bandwidth_hz(block.rate_hz);
        let wide = ((spot.hz.end - spot.hz.start) / bandwidth_hz).max(1.0);
        let long = (frames.count as f64 * HOP_S / (WINDOW_S / 2.0)).max(1.0);
        Some(Self {
            frames,
            strongest,
            spots: wide * long,
        })
    }

    /// Whether something stands out of the noise more than chance lets it.
    pub(super) fn stands_out(&self) -> bool {
        let least = self.spots.ln() + CHANCE;
        self.strongest
            .is_some_and(|peak| f64::from(peak.over_noise) > least)
    }

    /// The trace through the strongest spot, as far as it stands above the noise.
    pub(super) fn trace(&mut self, block: &Block, spot: &Spot) -> Option<Trace> {
        let seed = self.strongest?;
        let at =
            ((seed.time_s * block.rate_hz - self.frames.first) / self.frames.hop as f64).round();
        let at = at.max(0.0) as usize;
        let mut peaks = self.frames.walk(block, seed, (0..at).rev(), spot);
        peaks.reverse();
        peaks.push(seed);
        peaks.extend(
            self.frames
                .walk(block, seed, at + 1..self.frames.count, spot),
        );
        let span_s = peaks[peaks.len() - 1].time_s - peaks[0].time_s;
        let short = span_s <= block.settings.longest_ms * 1e-3;
        (peaks.len() >= FEWEST && short).then(|| Trace::along(peaks))
    }
}

impl Frames {
    fn over(block: &Block, spot: &Spot) -> Option<Self> {
        let rate_hz = block.rate_hz;
        let length = ((WINDOW_S * rate_hz).round() as usize).clamp(64, 8192);
        let hop = ((HOP_S * rate_hz).round() as usize).max(1);
        let settings = StftSettings {
            window: Window::BlackmanHarris,
            length,
            hop,
            padded: length.next_power_of_two(),
        };
        let stft = Stft::new(&settings).ok()?;
        let long = (spot.samples.end - spot.samples.start).max(0.0);
        Some(Self {
            power: vec![0.0; stft.bins()],
            stft,
            hop,
            rate_hz,
            first: spot.samples.start,
            count: (long / hop as f64) as usize + 1,
        })
    }

    /// The strongest bin, re the noise, of a frame between two frequencies.
    fn peak(&mut self, block: &Block, frame: usize, hz: &Range<f64>) -> Option<Peak> {
        let settings = *self.stft.settings();
        let middle = self.first + (frame * self.hop) as f64;
        let from = (middle - settings.length as f64 / 2.0).round().max(0.0) as usize;
        let to = (from + settings.length).min(block.samples.len());
        self.stft
            .power(block.samples.get(from..to)?, &mut self.power);
        let bin_hz = self.rate_hz / settings.padded as f64;
        let half = self.stft.noise_bandwidth_hz(self.rate_hz) / 2.0;
        let low = (hz.start / bin_hz).ceil().max(1.0) as usize;
        let high = ((hz.end / bin_hz) as usize).min(self.power.len() - 2);
        let over = |bin: usize| {
            let at = bin as f64 * bin_hz;
            f64::from(self.power[bin]) / block.noise.power(at - half, at + half).max(1e-30)
        };
        let (bin, over_noise) = (low..=high)
            .map(|bin| (bin, over(bin)))
            .max_by(|a, b| a.1.total_cmp(&b.1))?;
        Some(Peak {
            time_s: middle / self.rate_hz,
            hz: (bin as f64 + vertex(&self.power[bin - 1..=bin + 1])) * bin_hz,
            power: self.power[bin],
            over_noise: over_noise as f32,
        })
    }

    /// Peaks that continue one another from a seed on, through frames in the order of the walk.
    fn walk(
        &mut self,
        block: &Block,
        seed: Peak,
        frames: impl Iterator<Item = usize>,
        spot: &Spot,
    ) -> Vec<Peak> {
        let mut peaks: Vec<Peak> = Vec::new();
        let (mut last, mut slope, mut hole) = (seed, None, 0usize);
        for frame in frames {
            let steps = (hole + 1) as f64;
            let way = slope.unwrap_or(0.0) * steps;
            let reach = match slope {
                None => FIRST_JUMP_HZ * steps,
                Some(_) => DEVIATION_HZ * steps + DEVIATION_SHARE * f64::abs(way),
            };
            let low = (last.hz + way - reach).max(spot.hz.start);
            let high = (last.hz + way + reach).min(spot.hz.end);
            let peak = self.peak(block, frame, &(low..high));
            match peak.filter(|peak| peak.over_noise >= FOLLOWED) {
                Some(peak) => {
                    let new = (peak.hz - last.hz) / steps;
                    slope = Some(slope.map_or(new, |old| 0.5 * (old + new)));
                    hole = 0;
                    last = peak;
                    peaks.push(peak);
                }
                None if hole == LONGEST_HOLE => break,
                None => hole += 1,
            }
        }
        peaks
    }
}
