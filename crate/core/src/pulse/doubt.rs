//! What is not a bat: clicks of rain and twigs, strikes and trains of insects.

use super::ridge::{Block, Ridge};
use super::{Pulse, Shape};
use std::ops::Range;

/// Least share of the energy around a pulse's course that lies on it. A click
/// or a rasp spreads over all frequencies at once (one eighth of the wide
/// channel lies in the narrow one), a call does not.
const LEAST_PURITY: f64 = 0.4;
/// Purity is read where the amplitude is at least this share of its maximum (10 dB),
/// and so near to it, in knots.
const LOUD: f32 = 0.32;
const LOUD_KNOTS: usize = 100;
/// So many other ridges at one moment are the spectrum of a click; each of them
/// is short, ms, and no fainter than this ratio (20 dB).
const CROWD: usize = 3;
const CROWD_MS: f64 = 3.0;
const CROWD_RATIO: f32 = 0.1;
/// Frequencies of a crowd lie at least so far apart, hertz, and from multiples
/// of one another by this share.
const CROWD_HZ: f64 = 3_000.0;
const CROWD_SHARE: f64 = 0.06;
/// A pulse shorter than this, ms, that stands alone is a click: the short pulses
/// of bats come in buzzes. A longer one that stands alone must be sure, dB above
/// the noise, where it is as short as clicks and rasps can be.
const ALONE_MS: f64 = 1.0;
const ALONE_SNR_DB: f64 = 12.0;
/// A lone constant tone is more likely electronics unless it stands out, dB.
const ALONE_CF_SNR_DB: f64 = 20.0;
/// Shorter sounds than this, ms, sweep downwards if a bat made them, ...
const SHORT_MS: f64 = 2.0;
/// ... and over so many kilohertz, the more the shorter: their product with the
/// duration is at least this. A strike that rings at a resonance stays below.
const LEAST_KHZ_MS: f64 = 4.0;
/// Below this duration, ms, a contour goes down without wandering: this share of
/// all its movement is its way from start to end. A contour that keeps within
/// so many kilohertz is level and may tremble.
const STRAIGHT_MS: f64 = 4.0;
const STRAIGHT_SHARE: f64 = 0.6;
const TREMBLE_HZ: f64 = 3_000.0;
/// Movement is read at every so many knots: what is closer trembles with noise.
const MOVEMENT_KNOTS: usize = 3;
/// A short ridge is one of an insect's many if so many doubtful ones lie so near
/// to it in time, seconds, and frequency, hertz, and are no fainter than this ratio.
const MANY: usize = 4;
const MANY_S: f64 = 0.06;
const MANY_HZ: f64 = 12_000.0;
const MANY_RATIO: f32 = 0.4;

/// Keeps the ridges that may be a bat's, loudest first. What spreads over all
/// frequencies takes with it all that is fainter and sounds in the same moment.
pub(super) fn sift(block: &Block, mut ridges: Vec<Ridge>) -> Vec<Ridge> {
    ridges.sort_by(|a, b| b.amplitude().total_cmp(&a.amplitude()));
    let crowded: Vec<bool> = ridges
        .iter()
        .map(|ridge| is_crowded(block, ridge, &ridges))
        .collect();
    let mut kept: Vec<Ridge> = Vec::with_capacity(ridges.len());
    let mut doubtful: Vec<Ridge> = Vec::new();
    let mut broadband: Vec<Range<f64>> = Vec::new();
    for (ridge, crowded) in ridges.into_iter().zip(crowded) {
        let span = ridge.span();
        if !in_range(block, &ridge) || broadband.iter().any(|event| covers(event, &span)) {
            continue;
        }
        if crowded || purity(block, &ridge, &kept) < LEAST_PURITY {
            broadband.push(span);
            doubtful.push(ridge);
        } else if is_strike(block, &ridge) || is_wandering(block, &ridge) {
            doubtful.push(ridge);
        } else {
            kept.push(ridge);
        }
    }
    kept.retain(|ridge| !is_one_of_many(block, ridge, &doubtful));
    kept
}

/// Length of a ridge, ms.
fn duration_ms(block: &Block, ridge: &Ridge) -> f64 {
    let span = ridge.span();
    (span.end - span.start) / block.rate_hz * 1e3
}

/// Whether a short ridge is one of many at the same moment, which are no
/// harmonics of one another: the ridges that chance draws into a click.
fn is_crowded(block: &Block, ridge: &Ridge, all: &[Ridge]) -> bool {
    let span = ridge.span();
    let middle = (span.start + span.end) / 2.0;
    let Some(hz) = ridge
        .hz_at(middle)
        .filter(|_| duration_ms(block, ridge) < CROWD_MS)
    else {
        return false;
    };
    let unlike = |theirs: f64| {
        let ratio = theirs.max(hz) / theirs.min(hz);
        (theirs - hz).abs() > CROWD_HZ && (ratio - ratio.round()).abs() > CROWD_SHARE
    };
    let crowd = all.iter().filter(|other| {
        other.amplitude() > ridge.amplitude() * CROWD_RATIO
            && duration_ms(block, other) < CROWD_MS
            && other.hz_at(middle).is_some_and(unlike)
    });
    crowd.count() >= CROWD
}

/// Whether a ridge runs where calls are looked for.
fn in_range(block: &Block, ridge: &Ridge) -> bool {
    let wanted = block.settings.lowest_khz * 0.9e3..block.settings.highest_khz * 1e3;
    ridge.guide.hz[ridge.edges.core()]
        .iter()
        .all(|hz| wanted.contains(hz))
}

/// Whether an event covers half of a span or more.
fn covers(event: &Range<f64>, span: &Range<f64>) -> bool {
    let common = event.end.min(span.end) - event.start.max(span.start);
    common >= 0.5 * (span.end - span.start)
}

/// Share of the energy around a ridge, in its loudest part, that lies on its
/// course, once the steady noise and what louder calls bring are taken off.
fn purity(block: &Block, ridge: &Ridge, louder: &[Ridge]) -> f64 {
    let top = ridge.edges.top;
    let span = ridge.span();
    let near: Vec<&Ridge> = louder
        .iter()
        .filter(|other| other.span().start < span.end && other.span().end > span.start)
        .collect();
    let half = ridge.wide_hz / 2.0;
    let loud = ridge.envelope[top] * LOUD;
    let (mut on_course, mut around) = (0.0, 0.0);
    for knot in ridge.edges.core() {
        let amplitude = ridge.envelope[knot];
        if amplitude < loud || knot.abs_diff(top) > LOUD_KNOTS {
            continue;
        }
        let hz = ridge.guide.hz[knot];
        let sample = ridge.sample(knot as f64);
        let explained: f64 = near
            .iter()
            .filter(|other| {
                other
                    .hz_at(sample)
                    .is_some_and(|theirs| (theirs - hz).abs() < ridge.wide_hz)
            })
            .map(|other| f64::from(other.amplitude_at(sample)).powi(2))
            .sum();
        let noise = block.noise.power((hz - half).max(0.0), hz + half);
        on_course += f64::from(amplitude).powi(2);
        around += f64::from(ridge.wide[knot]) - noise - explained;
    }
    (on_course / around.max(on_course)).min(1.0)
}

/// Whether a ridge is a short ringing, or sweeps upwards in so short a time.
fn is_strike(block: &Block, ridge: &Ridge) -> bool {
    let ms = duration_ms(block, ridge);
    let hz = &ridge.guide.hz[ridge.edges.core()];
    let (low, high) = hz
        .iter()
        .fold((f64::MAX, 0f64), |(l, h), &hz| (l.min(hz), h.max(hz)));
    let upwards = hz.first() <= hz.last();
    ms < SHORT_MS && (upwards || (high - low) * 1e-3 * ms < LEAST_KHZ_MS)
}

/// Whether the loud part of a short ridge goes to and fro.
fn is_wandering(block: &Block, ridge: &Ridge) -> bool {
    let loud = ridge.amplitude() * LOUD;
    let hz: Vec<f64> = ridge
        .edges
        .core()
        .filter(|&knot| ridge.envelope[knot] >= loud)
        .step_by(MOVEMENT_KNOTS)
        .map(|knot| ridge.guide.hz[knot])
        .collect();
    let (Some(start), Some(end)) = (hz.first(), hz.last()) else {
        return true;
    };
    let movement: f64 = hz.windows(2).map(|pair| (pair[1] - pair[0]).abs()).sum();
    duration_ms(block, ridge) < STRAIGHT_MS
        && movement > TREMBLE_HZ
        && start - end < STRAIGHT_SHARE * movement
}

/// Whether a short ridge lies among many doubtful ones of its kind.
fn is_one_of_many(block: &Block, ridge: &Ridge, doubtful: &[Ridge]) -> bool {
    let reach = MANY_S * block.rate_hz;
    let top = ridge.edges.top;
    let near = doubtful.iter().filter(|other| {
        let theirs = other.edges.top;
        let apart = other.sample(theirs as f64) - ridge.sample(top as f64);
        apart.abs() < reach
            && (other.guide.hz[theirs] - ridge.guide.hz[top]).abs() < MANY_HZ
            && other.amplitude() > ridge.amplitude() * MANY_RATIO
    });
    duration_ms(block, ridge) < STRAIGHT_MS && near.count() >= MANY
}

/// Removes what only shows once sequences are known: lone clicks and tones.
pub(super) fn reconsider(pulses: &mut Vec<Pulse>) {
    pulses.retain(|pulse| pulse.sequence.is_some() || !is_doubtful_alone(pulse));
}

fn is_doubtful_alone(pulse: &Pulse) -> bool {
    pulse.duration_ms < ALONE_MS
        || (pulse.duration_ms < STRAIGHT_MS && pulse.snr_db < ALONE_SNR_DB)
        || (pulse.shape == Shape::Cf && pulse.snr_db < ALONE_CF_SNR_DB)
}
