//! From what a person marked to its numbers.

use super::band::{Band, HandError, LONGEST_S, check_given};
use super::correct::{forget, put_points};
use super::find::{Found, Sight, Spot, chosen};
use super::{HandMeasurement, HandNote, HandRequest};
use crate::pulse::call::Call;
use crate::pulse::doubt::sift;
use crate::pulse::finish::{Position, course, numbers};
use crate::pulse::measurer::{Heard, Measurer, calls};
use crate::pulse::ridge::Ridge;
use crate::pulse::{Pulse, Settings};
use crate::recording::{Recording, Source};
use crate::spectrum::PowerSpectrum;
use std::ops::Range;

/// Measures what a person marked: give it the samples of [`Self::block`].
///
/// ```
/// use dusklens_core::pulse::Settings;
/// use dusklens_core::pulse::hand::{Band, HandMeasurer, HandNote, HandRequest};
///
/// let band = Band { start_s: 0.2, end_s: 0.21, low_khz: 20.0, high_khz: 90.0 };
/// let request = HandRequest { band, pulse_start_s: None, start_s: None, end_s: None, points: vec![] };
/// let measurer = HandMeasurer::new(256_000.0, 256_000, None, &request, &Settings::default())?;
/// let block = measurer.block();
/// let silence = vec![0.0f32; (block.end - block.start) as usize];
/// let measured = measurer.measure(&silence);
/// assert!(measured.pulse.is_none());
/// assert_eq!(measured.notes, [HandNote::NothingStandsOut]);
/// # Ok::<(), dusklens_core::pulse::hand::HandError>(())
/// ```
pub struct HandMeasurer {
    measurer: Measurer,
    request: HandRequest,
    band: Band,
    cut: bool,
    block: Range<u64>,
    frames: u64,
    rate_hz: f64,
}

impl HandMeasurer {
    /// Prepares for a recording of so many frames at a (true) sampling rate; see [`Measurer::new`].
    ///
    /// # Errors
    /// [`HandError`] where what was given makes no sense.
    pub fn new(
        rate_hz: f64,
        frames: u64,
        clip_level: Option<f32>,
        request: &HandRequest,
        settings: &Settings,
    ) -> Result<Self, HandError> {
        let (band, cut) = request.band.within(frames as f64 / rate_hz, rate_hz)?;
        check_given(request, rate_hz)?;
        let measurer = Measurer::new(rate_hz, frames, clip_level, settings);
        let frame = |second: f64| ((second * rate_hz).max(0.0) as u64).min(frames);
        let start_s = request
            .start_s
            .map_or(band.start_s, |s| s.min(band.start_s));
        let end_s = request.end_s.map_or(band.end_s, |s| s.max(band.end_s));
        let wanted = frame(start_s)..frame(end_s);
        let middle = frame((band.start_s + band.end_s) / 2.0);
        let usual = measurer.block_of(middle);
        // What reaches over the usual border is heard in a block of its own.
        let fits = usual.start <= wanted.start && wanted.end <= usual.end;
        let half = (LONGEST_S * rate_hz) as u64;
        let own = middle.saturating_sub(half)..frames.min(middle + half);
        Ok(Self {
            measurer,
            request: request.clone(),
            band,
            cut,
            block: if fits { usual } else { own },
            frames,
            rate_hz,
        })
    }

    /// The frames of the recording that must be heard.
    #[must_use]
    pub fn block(&self) -> Range<u64> {
        self.block.clone()
    }

    /// Measures; `samples` are those of [`Self::block`].
    #[must_use]
    pub fn measure(mut self, samples: &[f32]) -> HandMeasurement {
        let spot = Spot::of(&self.band, self.block.start, self.rate_hz);
        let position = Position {
            first_frame: self.block.start,
            at_beginning: self.block.start == 0,
            at_end: self.block.end >= self.frames,
        };
        let mut result = HandMeasurement {
            band: self.band,
            pulse: None,
            band_peak_khz: self.band_peak_khz(samples, &spot),
            band_level_db: f64::from(crate::spectrum::LOWEST_DB),
            band_over_noise_db: 0.0,
            notes: Vec::new(),
        };
        if self.cut {
            result.notes.push(HandNote::BandCut);
        }
        let request = &self.request;
        let heard = self.measurer.hear(samples, |heard| {
            measure_heard(heard, &spot, request, &position, &mut result);
        });
        if heard.is_none() {
            result.notes.push(HandNote::NothingFollowed);
        }
        result.notes.sort_unstable();
        result
    }

    fn band_peak_khz(&self, samples: &[f32], spot: &Spot) -> Option<f64> {
        let from = (spot.samples.start.max(0.0) as usize).min(samples.len());
        let to = (spot.samples.end.max(0.0).ceil() as usize).clamp(from, samples.len());
        let spectrum = PowerSpectrum::of(&samples[from..to], self.rate_hz)?;
        spectrum.peak_khz(self.band.low_khz..self.band.high_khz)
    }
}

/// Measures what is heard in a band.
fn measure_heard(
    heard: Heard,
    spot: &Spot,
    request: &HandRequest,
    position: &Position,
    result: &mut HandMeasurement,
) {
    let Some(mut sight) = Sight::of(heard.block, spot) else {
        result.notes.push(HandNote::NothingFollowed);
        return;
    };
    if let Some(peak) = sight.strongest {
        result.band_level_db = f64::from(crate::spectrum::to_db(peak.power));
        result.band_over_noise_db = 10.0 * f64::from(peak.over_noise.max(1e-6)).log10();
    }
    let Heard {
        block,
        rail,
        ridges,
        tools,
    } = heard;
    let begins = request
        .pulse_start_s
        .map(|second| second * block.rate_hz - position.first_frame as f64);
    let near: Vec<Ridge> = ridges
        .iter()
        .filter(|ridge| spot.knots(ridge).is_some())
        .cloned()
        .collect();
    let known = calls(block, sift(block, ridges), rail).into_iter();
    let found = chosen(known.map(|(call, _)| call), spot, begins)
        .or_else(|| chosen(near.into_iter().map(Call::of), spot, begins))
        .or_else(|| {
            // A trace below the automatic thresholds, if chance did not make it.
            let trace = sight.stands_out().then(|| sight.trace(block, spot))??;
            let ridge = Ridge::refine(block, &trace, &mut tools.follower)?;
            Found::of(Call::of(ridge), spot)
        });
    let Some(found) = found else {
        result.notes.push(if sight.stands_out() {
            HandNote::NothingFollowed
        } else {
            HandNote::NothingStandsOut
        });
        return;
    };
    let pulse = course(block, &found.call, tools, rail).and_then(|mut course| {
        let given = Given::of(&found, spot, request, position, block.rate_hz);
        let mut span = course.span();
        span.start = given.start.unwrap_or(span.start);
        span.end = given.end.unwrap_or(span.end).max(span.start + 1.0);
        if given.start.is_some() || given.end.is_some() {
            course.put_edges(span, block);
        }
        let pulse = numbers(block, &found.call, &course, position, tools, rail)?;
        result.notes.extend(given.notes);
        Some(corrected(pulse, &given.start, &given.end, request))
    });
    if pulse.is_none() {
        result.notes.push(HandNote::NothingFollowed);
    }
    if pulse.is_some() && !request.points.is_empty() {
        result.notes.push(HandNote::ContourGiven);
    }
    result.pulse = pulse;
}

fn corrected(
    mut pulse: Pulse,
    start: &Option<f64>,
    end: &Option<f64>,
    request: &HandRequest,
) -> Pulse {
    let has_points = !request.points.is_empty();
    if has_points {
        put_points(&mut pulse, &request.points);
    }
    forget(&mut pulse, start.is_some(), end.is_some(), has_points);
    pulse
}

/// Edges that are not the envelope's, samples of the block, and why.
struct Given {
    start: Option<f64>,
    end: Option<f64>,
    notes: Vec<HandNote>,
}

impl Given {
    fn of(
        found: &Found,
        spot: &Spot,
        request: &HandRequest,
        position: &Position,
        rate_hz: f64,
    ) -> Self {
        let ridge = found.ridge();
        let core = ridge.edges.core();
        let mut notes = Vec::new();
        let sample = |second: f64| second * rate_hz - position.first_frame as f64;
        let mut edge = |given: Option<f64>, cut: bool, at: f64, border: f64, by_band, by_hand| {
            if let Some(second) = given {
                notes.push(by_hand);
                return Some(sample(second));
            }
            if !cut {
                return None;
            }
            // Within a knot of the band's border it is that; else the sound left the band's frequencies.
            let at_border = (at - border).abs() <= ridge.guide.hop as f64;
            notes.push(if at_border {
                by_band
            } else {
                HandNote::LeavesFrequencies
            });
            Some(if at_border { border } else { at })
        };
        // A correction is of the whole pulse, whatever the band cuts off.
        let whole = request.pulse_start_s.is_some();
        let start = edge(
            request.start_s,
            !whole && found.knots.start > core.start,
            ridge.sample(found.knots.start as f64),
            spot.samples.start,
            HandNote::BeginsBeforeBand,
            HandNote::StartGiven,
        );
        let end = edge(
            request.end_s,
            !whole && found.knots.end < core.end,
            ridge.sample(found.knots.end as f64 - 1.0),
            spot.samples.end,
            HandNote::EndsAfterBand,
            HandNote::EndGiven,
        );
        notes.sort_unstable();
        notes.dedup();
        if found.call.members[found.member].0 > 1 {
            notes.push(HandNote::HoldsMultiple);
        }
        Self { start, end, notes }
    }
}

/// Measures what a person marked in one channel (counted from 0) of a recording.
///
/// # Errors
/// [`HandError`] where what was given makes no sense, or the recording cannot be read.
pub fn measure_by_hand<S: Source>(
    recording: &Recording<S>,
    channel: u16,
    request: &HandRequest,
    settings: &Settings,
) -> Result<HandMeasurement, HandError> {
    let measurer = HandMeasurer::new(
        recording.rate_hz(),
        recording.frames(),
        recording.clip_level(),
        request,
        settings,
    )?;
    let mut samples = Vec::new();
    recording.read(channel, measurer.block(), &mut samples)?;
    Ok(measurer.measure(&samples))
}
