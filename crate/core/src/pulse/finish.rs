//! From a call to the numbers of a pulse, by the trade's definitions.

use super::along::extrapolate;
use super::call::Call;
use super::channels::Channels;
use super::edges::{Edges, edges};
use super::follow::{Follower, Guide};
use super::peak::PulseSpectrum;
use super::rail::Rail;
use super::ridge::{Block, KERNEL_S, Ridge};
use super::shape::{Flattest, flattest, shape, stretch};
use super::uncertainty::{Evidence, uncertainty};
use super::{Contour, Flag, Pulse, Settings};
use std::ops::Range;

/// Narrowest band that noise is compared in, hertz: that of a constant
/// frequency would else hold none.
const NARROWEST_HZ: f64 = 2_000.0;
/// A member that is not so far below the loudest counts into the envelope (20 dB).
const COUNTED: f32 = 0.1;
/// Edges of an overloaded pulse are taken at least so far below what its envelope shows, dB.
const LEAST_EDGE_DB: f64 = 3.0;
/// A pulse that begins or ends so near to the file's edge is cut off by it, seconds.
const AT_EDGE_S: f64 = 0.2e-3;

/// Slopes that differ by so many standard deviations of what noise makes of them are the same, and so are
/// those that differ by this share: contours are not traced straighter than that.
const LEEWAY: f64 = 2.0;
const SAME_SLOPE: f64 = 0.05;

/// What finishing needs besides the block.
pub(super) struct Tools {
    pub(super) follower: Follower,
    pub(super) spectrum: PulseSpectrum,
}

/// Where a block lies in its recording.
pub(super) struct Position {
    /// Frame of the recording that the block begins at.
    pub(super) first_frame: u64,
    /// The block begins where the recording begins.
    pub(super) at_beginning: bool,
    /// The block ends where the recording ends.
    pub(super) at_end: bool,
}

/// The course of a call's fundamental, and the edges of all that counts.
pub(super) struct Course {
    pub(super) guide: Guide,
    pub(super) edges: Edges,
    /// Amplitude of all that counts at each knot, full scale 1.
    pub(super) envelope: Vec<f32>,
    /// The multiples of the guide that count.
    pub(super) multiples: Vec<u32>,
    /// The noise's amplitude in all that counts, full scale 1.
    pub(super) noise: f32,
    /// Standard deviation of the guide at each knot, hertz.
    pub(super) sigma_hz: Vec<f32>,
}

impl Course {
    /// The samples of the block from start to end.
    pub(super) fn span(&self) -> Range<f64> {
        self.sample(self.edges.start)..self.sample(self.edges.end)
    }

    /// The sample of the block at a knot.
    fn sample(&self, knot: f64) -> f64 {
        self.guide.first as f64 + knot * self.guide.hop as f64
    }
}

/// Measures a call; none where nothing of a pulse's length is left.
pub(super) fn finish(
    block: &Block,
    call: &Call,
    position: &Position,
    tools: &mut Tools,
    rail: &Rail,
) -> Option<Pulse> {
    let course = course(block, call, tools, rail)?;
    let span = course.span();
    let duration_ms = (span.end - span.start) / block.rate_hz * 1e3;
    if duration_ms < block.settings.shortest_ms || duration_ms > block.settings.longest_ms {
        return None;
    }
    numbers(block, call, &course, position, tools, rail)
}

/// The numbers of a call whose course is known.
pub(super) fn numbers(
    block: &Block,
    call: &Call,
    course: &Course,
    position: &Position,
    tools: &mut Tools,
    rail: &Rail,
) -> Option<Pulse> {
    let span = course.span();
    let second = |sample: f64| (position.first_frame as f64 + sample) / block.rate_hz;
    let (start_s, end_s) = (second(span.start), second(span.end));
    let duration_ms = (end_s - start_s) * 1e3;
    let contour = contour(course, start_s, end_s, block.rate_hz);
    let (low, high) = contour
        .khz
        .iter()
        .fold((f32::MAX, f32::MIN), |(l, h), &k| (l.min(k), h.max(k)));
    let own = f64::from(low) * 1e3..f64::from(high) * 1e3;
    let channels = Channels::along(block, course, tools);
    let peak = channels.peak(block, course, span.clone(), own.clone(), tools)?;
    let amplitude = f64::from(course.edges.amplitude);
    let widened = ((NARROWEST_HZ - (own.end - own.start)) / 2.0).max(0.0);
    let in_band = block.noise.power(own.start - widened, own.end + widened);
    let knot_ms = course.guide.hop as f64 / block.rate_hz * 1e3;
    let evidence = Evidence {
        course,
        knot_ms,
        contour: &contour,
    };
    let flat = flattest_stretch(&evidence);
    let (start_khz, end_khz) = (first(&contour.khz), first_of_reversed(&contour.khz));
    let flags = flags(
        course,
        call,
        block,
        position,
        span.clone(),
        rail.is_touched(&span),
    );
    let uncertainty = uncertainty(&evidence, &flat, &peak, &block.settings.calibration);
    Some(Pulse {
        start_s,
        end_s,
        peak_s: second(course.sample(course.edges.top as f64))
            .max(start_s)
            .min(end_s),
        characteristic_s: start_s + flat.values.end.saturating_sub(1) as f64 * contour.step_s,
        duration_ms,
        peak_khz: peak.hz * 1e-3,
        start_khz,
        end_khz,
        high_khz: f64::from(high),
        low_khz: f64::from(low),
        characteristic_khz: flat.end_khz,
        sweep_khz_per_ms: (end_khz - start_khz) / duration_ms,
        flattest_khz_per_ms: flat.khz_per_ms,
        interval_ms: None,
        level_db: 20.0 * amplitude.log10(),
        snr_db: 10.0 * (amplitude * amplitude / in_band).log10(),
        edge_db: course.edges.below_db,
        shape: shape(&contour.khz, contour.step_s * 1e3),
        flags,
        sequence: None,
        buzz: None,
        doubt: None,
        harmonics: channels.harmonics(block),
        uncertainty,
        contour,
    })
}

/// The flattest stretch, as far as noise lets it be told.
fn flattest_stretch(evidence: &Evidence) -> Flattest {
    let (khz, step_ms) = (&evidence.contour.khz, evidence.contour.step_s * 1e3);
    let middle = khz.len() / 2;
    let half = stretch(khz.len(), step_ms) / 2;
    let noise = evidence.slope(&(middle.saturating_sub(half)..middle + half + 1));
    flattest(khz, step_ms, LEEWAY * noise, SAME_SLOPE)
}

fn first(khz: &[f32]) -> f64 {
    khz.first().map_or(0.0, |&k| f64::from(k))
}

fn first_of_reversed(khz: &[f32]) -> f64 {
    khz.last().map_or(0.0, |&k| f64::from(k))
}

/// One ridge is its own course. Several are laid over one another: the
/// fundamental is read from whichever member shows it best at each moment, and
/// their powers are added up, so that a call whose energy moves from one
/// harmonic to the next keeps its true length.
pub(super) fn course(block: &Block, call: &Call, tools: &mut Tools, rail: &Rail) -> Option<Course> {
    let loudest = call.loudest().1.amplitude();
    let counted: Vec<&(u32, Ridge)> = call
        .members
        .iter()
        .filter(|(multiple, ridge)| *multiple == 1 || ridge.amplitude() > loudest * COUNTED)
        .collect();
    if let [(multiple, ridge)] = counted[..] {
        let mut guide = ridge.guide.clone();
        guide
            .hz
            .iter_mut()
            .for_each(|hz| *hz /= f64::from(*multiple));
        let near = ridge.edges.core();
        let edges = match rail.amplitude(&ridge.span()) {
            None => ridge.edges,
            Some(amplitude) => {
                overloaded_edges(block, amplitude, &ridge.envelope, near, ridge.noise)?
            }
        };
        return Some(Course {
            guide,
            edges,
            envelope: ridge.envelope.clone(),
            multiples: vec![*multiple],
            noise: ridge.noise,
            sigma_hz: ridge
                .sigma_hz
                .iter()
                .map(|hz| hz / *multiple as f32)
                .collect(),
        });
    }
    let (guide, sigma_hz) = joint_guide(block, &counted);
    let kernel = tools.follower.kernel(KERNEL_S, block.rate_hz);
    let mut power = vec![0f32; guide.hz.len()];
    let mut noise = 0f32;
    for (multiple, ridge) in &counted {
        let multiple = f64::from(*multiple);
        let values = tools
            .follower
            .follow(block.samples, block.rate_hz, &guide, multiple, &kernel);
        for (sum, value) in power.iter_mut().zip(values) {
            *sum += value.norm_sqr();
        }
        noise += ridge.noise * ridge.noise;
    }
    let envelope: Vec<f32> = power.iter().map(|p| p.sqrt()).collect();
    let near = call.span();
    let near = guide.knot(near.start)..guide.knot(near.end) + 1;
    let noise = noise.sqrt();
    let edges = match rail.amplitude(&call.span()) {
        None => edges(&envelope, near, noise, knot_s(block), block.settings)?,
        Some(amplitude) => overloaded_edges(block, amplitude, &envelope, near, noise)?,
    };
    Some(Course {
        guide,
        edges,
        envelope,
        multiples: counted.iter().map(|(multiple, _)| *multiple).collect(),
        noise,
        sigma_hz,
    })
}

fn knot_s(block: &Block) -> f64 {
    Guide::hop(block.rate_hz) as f64 / block.rate_hz
}

/// The edges of a sound that was cut off at the rail and must have had a larger amplitude than its envelope
/// shows: they lie as far below that.
fn overloaded_edges(
    block: &Block,
    amplitude: f64,
    envelope: &[f32],
    near: Range<usize>,
    noise: f32,
) -> Option<Edges> {
    let shown = edges(envelope, near.clone(), noise, knot_s(block), block.settings)?;
    let above_db = 20.0 * (amplitude / f64::from(shown.amplitude)).log10();
    let gain_db = above_db.min(block.settings.edge_db - LEAST_EDGE_DB);
    if gain_db <= 0.0 {
        return Some(shown);
    }
    let settings = Settings {
        edge_db: block.settings.edge_db - gain_db,
        ..block.settings.clone()
    };
    let found = edges(envelope, near, noise, knot_s(block), &settings)?;
    Some(Edges {
        amplitude: shown.amplitude * 10f64.powf(gain_db / 20.0) as f32,
        below_db: found.below_db + gain_db,
        overload_db: gain_db,
        ..found
    })
}

/// The fundamental as all members together show it: at each knot the mean of
/// what those that cover it say, by signal-to-noise power and by multiple
/// (a harmonic shows the fundamental magnified). Beyond all of them it goes on
/// with its own slopes.
fn joint_guide(block: &Block, members: &[&(u32, Ridge)]) -> (Guide, Vec<f32>) {
    let witnesses: Vec<Witness> = members
        .iter()
        .map(|(multiple, ridge)| Witness {
            multiple: f64::from(*multiple),
            ridge,
        })
        .collect();
    let guides = || witnesses.iter().map(|witness| &witness.ridge.guide);
    let first = guides().map(|guide| guide.first).min().unwrap_or(0);
    let hop = Guide::hop(block.rate_hz);
    let offset = |guide: &Guide| (guide.first - first) / hop;
    let knots = guides()
        .map(|guide| offset(guide) + guide.hz.len())
        .max()
        .unwrap_or(0);
    let mut hz = vec![0.0; knots];
    let mut sigma_hz = vec![0f32; knots];
    let mut covered = knots..0;
    for (knot, slot) in hz.iter_mut().enumerate() {
        let (mut sum, mut weights, mut variance) = (0.0, 0.0, 0.0);
        for witness in &witnesses {
            let own = knot.checked_sub(offset(&witness.ridge.guide));
            let Some((hz, weight)) = own.and_then(|own| witness.says(own)) else {
                continue;
            };
            sum += weight * hz;
            weights += weight;
            variance += (weight * witness.sigma_hz(own.unwrap_or(0))).powi(2);
            if own.is_some_and(|own| witness.ridge.believed.contains(&own)) {
                covered = covered.start.min(knot)..knot + 1;
            }
        }
        *slot = sum / weights;
        sigma_hz[knot] = (variance.sqrt() / weights) as f32;
    }
    if !covered.is_empty() {
        let knot_s = hop as f64 / block.rate_hz;
        extrapolate(&mut hz, covered, knot_s, block.nyquist_hz());
    }
    (Guide { first, hop, hz }, sigma_hz)
}

/// A member that tells of the fundamental.
struct Witness<'a> {
    multiple: f64,
    ridge: &'a Ridge,
}

impl Witness<'_> {
    /// Standard deviation of what it says at a knot, hertz.
    fn sigma_hz(&self, knot: usize) -> f64 {
        let own = self.ridge.sigma_hz.get(knot).copied().unwrap_or(0.0);
        f64::from(own) / self.multiple
    }

    /// The fundamental at one of its knots, hertz, and its weight.
    fn says(&self, knot: usize) -> Option<(f64, f64)> {
        let hz = self.ridge.guide.hz.get(knot)?;
        let snr = f64::from(self.ridge.envelope[knot] / self.ridge.noise.max(1e-12));
        // Elsewhere it only knows where it was heading.
        let believed = if self.ridge.believed.contains(&knot) {
            1.0
        } else {
            1e-6
        };
        let weight = (snr * self.multiple).powi(2) * believed + 1e-12;
        Some((hz / self.multiple, weight))
    }
}

/// The contour on an even grid from start to end.
fn contour(course: &Course, start_s: f64, end_s: f64, rate_hz: f64) -> Contour {
    let Edges { start, end, .. } = course.edges;
    let steps = ((end - start).ceil() as usize).max(1);
    let step_knots = (end - start) / steps as f64;
    Contour {
        start_s,
        step_s: ((end_s - start_s) / steps as f64).max(1.0 / rate_hz),
        khz: (0..=steps)
            .map(|step| (course.guide.at(start + step as f64 * step_knots) * 1e-3) as f32)
            .collect(),
    }
}

fn flags(
    course: &Course,
    call: &Call,
    block: &Block,
    position: &Position,
    span: Range<f64>,
    clipped: bool,
) -> Vec<Flag> {
    let edge = AT_EDGE_S * block.rate_hz;
    let cut_off = (position.at_beginning && span.start < edge)
        || (position.at_end && span.end > block.samples.len() as f64 - edge);
    let floor_limited = course.edges.below_db < block.settings.edge_db - 0.1;
    [
        (clipped, Flag::Clipped),
        (floor_limited, Flag::FloorLimited),
        (cut_off, Flag::CutOff),
        (
            // Near the noise, dips are the noise's own.
            call.overlapped || (course.edges.in_dip && !floor_limited),
            Flag::Overlapped,
        ),
    ]
    .into_iter()
    .filter_map(|(set, flag)| set.then_some(flag))
    .collect()
}
