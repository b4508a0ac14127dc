//! Doubt that a ridge shows by itself and beside its neighbours.

use crate::pulse::Doubt;
use crate::pulse::call::Call;
use crate::pulse::ridge::{Block, Ridge};
use std::ops::Range;

/// Least share of the energy around a pulse's course that lies on it. A click
/// or a rasp spreads over all frequencies at once (one eighth of the wide
/// channel lies in the narrow one), a call does not.
const LEAST_PURITY: f64 = 0.4;
/// Purity is read where the amplitude is at least this share of its maximum (10 dB),
/// and so near to it, in knots.
const LOUD: f32 = 0.32;
const LOUD_KNOTS: usize = 100;
/// What is left of a constant tone stays so near to it, hertz.
const REMNANT_HZ: f64 = 1_500.0;
/// Ratios of the first harmonics to one another, how far a ratio may be off, and
/// for how many knots it must hold.
const HARMONIC_RATIOS: [f64; 4] = [1.5, 2.0, 3.0, 4.0];
const HARMONIC_SHARE: f64 = 0.04;
const HARMONIC_KNOTS: usize = 8;
/// So many other ridges at one moment are the spectrum of a click; each of them
/// is short, ms, and no fainter than this ratio (20 dB).
const CROWD: usize = 3;
const CROWD_MS: f64 = 3.0;
const CROWD_RATIO: f32 = 0.1;
/// Frequencies of a crowd lie at least so far apart, hertz, and from multiples
/// of one another by this share.
const CROWD_HZ: f64 = 3_000.0;
const CROWD_SHARE: f64 = 0.06;
/// What is purer than this is no part of a click, whatever sounds beside it.
const CROWD_PURITY: f64 = 0.8;
/// Shorter sounds than this, ms, sweep downwards if a bat made them, ...
const SHORT_MS: f64 = 2.0;
/// ... and over so many kilohertz, the more the shorter: their product with the
/// duration is at least this. A strike that rings at a resonance stays below.
const LEAST_KHZ_MS: f64 = 4.0;
/// A strike's sweep is all in its faint ends; that of a call also in its loud
/// part, hertz.
const LEAST_LOUD_HZ: f64 = 1_500.0;
/// Below this duration, ms, a contour goes down without wandering: this share of
/// all its movement is its way from start to end. A contour that keeps within
/// so many kilohertz is level and may tremble.
pub(super) const STRAIGHT_MS: f64 = 6.0;
const STRAIGHT_SHARE: f64 = 0.6;
const TREMBLE_HZ: f64 = 3_000.0;
/// Movement is read from knot to knot at least so far apart, and in about so many
/// steps: what is closer trembles with noise.
const MOVEMENT_KNOTS: usize = 3;
const MOVEMENTS: usize = 6;
/// A short ridge is one of an insect's many if so many doubtful ones lie so near
/// to it in time, seconds, and frequency, hertz, and are no fainter than this ratio.
const MANY: usize = 4;
const MANY_S: f64 = 0.06;
const MANY_HZ: f64 = 12_000.0;
const MANY_RATIO: f32 = 0.4;

/// What becomes of a ridge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Verdict {
    Kept,
    /// No bat makes it, or not by itself.
    Doubtful(Doubt),
    /// It is a part of a louder sound, or lies beyond all range.
    Dropped,
}

/// Ridges, loudest first.
pub(in crate::pulse) struct Sifted {
    /// Those that may be a bat's.
    pub(in crate::pulse) kept: Vec<Ridge>,
    /// The others: one ridge for each sound, with the reason.
    pub(in crate::pulse) doubtful: Vec<(Ridge, Doubt)>,
}

/// Tells the ridges that may be a bat's from the others. What spreads over all
/// frequencies takes with it all that is fainter and sounds in the same moment.
pub(in crate::pulse) fn sift(block: &Block, mut ridges: Vec<Ridge>) -> Sifted {
    ridges.sort_by(|a, b| b.amplitude().total_cmp(&a.amplitude()));
    let ridges = distinct(ridges);
    let verdicts = verdicts(block, &ridges);
    let (mut kept, mut doubtful) = (Vec::new(), Vec::new());
    for (ridge, verdict) in ridges.into_iter().zip(verdicts) {
        match verdict {
            Verdict::Kept => kept.push(ridge),
            Verdict::Doubtful(doubt) => doubtful.push((ridge, doubt)),
            Verdict::Dropped => {}
        }
    }
    let many = |ridge: &Ridge| is_one_of_many(block, ridge, &doubtful);
    let (insects, kept): (Vec<Ridge>, Vec<Ridge>) = kept.into_iter().partition(many);
    let in_trains: Vec<bool> = doubtful.iter().map(|(ridge, _)| many(ridge)).collect();
    for ((_, doubt), in_train) in doubtful.iter_mut().zip(in_trains) {
        if in_train {
            *doubt = Doubt::InsectLike;
        }
    }
    doubtful.extend(insects.into_iter().map(|ridge| (ridge, Doubt::InsectLike)));
    doubtful.sort_by(|a, b| b.0.amplitude().total_cmp(&a.0.amplitude()));
    let doubtful = sounds(doubtful, &kept);
    Sifted { kept, doubtful }
}

fn verdicts(block: &Block, ridges: &[Ridge]) -> Vec<Verdict> {
    let mut verdicts: Vec<Verdict> = Vec::with_capacity(ridges.len());
    let mut broadband: Vec<Range<f64>> = Vec::new();
    for (at, ridge) in ridges.iter().enumerate() {
        let span = ridge.span();
        let hidden = broadband.iter().any(|event| covers(event, &span));
        if reaches_beyond(block, ridge) || is_remnant(block, ridge) || hidden {
            verdicts.push(Verdict::Dropped);
            continue;
        }
        let purity = purity(block, at, ridges, &verdicts);
        let crowded = purity < CROWD_PURITY && is_crowded(block, ridge, ridges);
        verdicts.push(if crowded || purity < LEAST_PURITY {
            broadband.push(span);
            let lasts = duration_ms(block, ridge) >= CROWD_MS;
            Verdict::Doubtful(if lasts { Doubt::Wind } else { Doubt::Click })
        } else if is_strike(block, ridge) {
            Verdict::Doubtful(Doubt::Click)
        } else if is_wandering(block, ridge) {
            Verdict::Doubtful(Doubt::Wandering)
        } else {
            Verdict::Kept
        });
    }
    verdicts
}

/// One ridge for each doubtful sound: the loudest one of those that sound together. What sounds
/// within a louder call is left out: chance draws such ridges into its own skirts.
fn sounds(doubtful: Vec<(Ridge, Doubt)>, calls: &[Ridge]) -> Vec<(Ridge, Doubt)> {
    let mut sounds: Vec<(Ridge, Doubt)> = Vec::new();
    for (ridge, doubt) in doubtful {
        let span = ridge.span();
        let sounds_with =
            |other: &Ridge| covers(&other.span(), &span) || covers(&span, &other.span());
        let part = sounds.iter().any(|(other, _)| sounds_with(other));
        let within =
            |call: &Ridge| call.amplitude() > ridge.amplitude() && covers(&call.span(), &span);
        if !part && !calls.iter().any(within) {
            sounds.push((ridge, doubt));
        }
    }
    sounds
}

/// Leaves out the ridges that repeat louder ones: several traces of a loud call
/// lead to the same course.
fn distinct(ridges: Vec<Ridge>) -> Vec<Ridge> {
    let mut distinct: Vec<Ridge> = Vec::with_capacity(ridges.len());
    for ridge in ridges {
        if !ridge.repeats(&distinct) {
            distinct.push(ridge);
        }
    }
    distinct
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
        let like = |wanted: f64| (ratio / wanted - 1.0).abs() <= CROWD_SHARE;
        (theirs - hz).abs() > CROWD_HZ && !HARMONIC_RATIOS.into_iter().any(like)
    };
    let crowd = all.iter().filter(|other| {
        other.amplitude() > ridge.amplitude() * CROWD_RATIO
            && duration_ms(block, other) < CROWD_MS
            && other.hz_at(middle).is_some_and(unlike)
    });
    crowd.count() >= CROWD
}

/// Whether a ridge leaves the range where sounds can be told at all.
fn reaches_beyond(block: &Block, ridge: &Ridge) -> bool {
    let range = block.settings.traced_hz(block.nyquist_hz());
    ridge.guide.hz[ridge.edges.core()]
        .iter()
        .any(|hz| !range.contains(hz))
}

/// Whether the loud part of a ridge keeps to a constant tone that was taken
/// out: it is what is left of that where it begins, ends or wavers.
fn is_remnant(block: &Block, ridge: &Ridge) -> bool {
    let loud = loud_hz(ridge);
    let keeps_to = |line: &f64| loud.iter().all(|hz| (hz - line).abs() < REMNANT_HZ);
    block.lines.iter().any(keeps_to)
}

/// Whether an event covers half of a span or more.
fn covers(event: &Range<f64>, span: &Range<f64>) -> bool {
    let common = event.end.min(span.end) - event.start.max(span.start);
    common >= 0.5 * (span.end - span.start)
}

/// Share of the energy around a ridge, in its loudest part, that lies on its
/// course, once the steady noise is taken off, what louder calls bring, and what
/// lies on its own harmonics.
fn purity(block: &Block, at: usize, ridges: &[Ridge], verdicts: &[Verdict]) -> f64 {
    let ridge = &ridges[at];
    let span = ridge.span();
    let knots = loud_knots(ridge);
    let known: Vec<&Ridge> = ridges
        .iter()
        .enumerate()
        .filter(|(other, _)| *other != at)
        .filter(|(_, theirs)| theirs.span().start < span.end && theirs.span().end > span.start)
        .filter(|(other, theirs)| {
            verdicts.get(*other) == Some(&Verdict::Kept) || are_harmonics(ridge, theirs, &knots)
        })
        .map(|(_, theirs)| theirs)
        .collect();
    let half = ridge.around.hz / 2.0;
    let (mut on_course, mut around) = (0.0, 0.0);
    for knot in knots {
        let hz = ridge.guide.hz[knot];
        let sample = ridge.sample(knot as f64);
        let explained: f64 = known
            .iter()
            .filter(|other| {
                other
                    .hz_at(sample)
                    .is_some_and(|theirs| (theirs - hz).abs() < ridge.around.hz)
            })
            .map(|other| f64::from(other.amplitude_at(sample)).powi(2))
            .sum();
        // The wide channel's skirts let in what the floor between its ends does not tell of, such as wind.
        let floor = block.noise.power((hz - half).max(0.0), hz + half);
        let noise = floor.max(f64::from(ridge.around.noise));
        on_course += f64::from(ridge.envelope[knot]).powi(2);
        around += f64::from(ridge.around.power[knot]) - noise - explained;
    }
    (on_course / around.max(on_course)).min(1.0)
}

/// The knots of a ridge's loud part near its top.
fn loud_knots(ridge: &Ridge) -> Vec<usize> {
    let loud = ridge.amplitude() * LOUD;
    let is_loud = |knot: &usize| {
        ridge.envelope[*knot] >= loud && knot.abs_diff(ridge.edges.top) <= LOUD_KNOTS
    };
    ridge.edges.core().filter(is_loud).collect()
}

/// Whether two ridges keep the ratio of two harmonics of one call wherever both
/// sound, and do so long enough that it is no chance.
fn are_harmonics(ridge: &Ridge, other: &Ridge, knots: &[usize]) -> bool {
    let ratios: Vec<f64> = knots
        .iter()
        .filter_map(|&knot| {
            let theirs = other.hz_at(ridge.sample(knot as f64))?;
            let own = ridge.guide.hz[knot];
            Some(theirs.max(own) / theirs.min(own))
        })
        .collect();
    ratios.len() >= HARMONIC_KNOTS
        && HARMONIC_RATIOS.iter().any(|&wanted| {
            let off = |ratio: &&f64| (**ratio / wanted - 1.0).abs() > HARMONIC_SHARE;
            ratios.iter().filter(off).count() * 5 <= ratios.len()
        })
}

/// Whether a ridge is a short ringing, or sweeps upwards in so short a time.
fn is_strike(block: &Block, ridge: &Ridge) -> bool {
    let ms = duration_ms(block, ridge);
    let hz = &ridge.guide.hz[ridge.edges.core()];
    let loud = loud_hz(ridge);
    let upwards = hz.first() <= hz.last();
    ms < SHORT_MS
        && (upwards || excursion(hz) * 1e-3 * ms < LEAST_KHZ_MS || excursion(&loud) < LEAST_LOUD_HZ)
}

/// Difference between the largest and the smallest value.
fn excursion(hz: &[f64]) -> f64 {
    let (low, high) = hz
        .iter()
        .fold((f64::MAX, f64::MIN), |(l, h), &hz| (l.min(hz), h.max(hz)));
    (high - low).max(0.0)
}

/// The course of a ridge's loud part, hertz.
fn loud_hz(ridge: &Ridge) -> Vec<f64> {
    let loud = ridge.amplitude() * LOUD;
    ridge
        .edges
        .core()
        .filter(|&knot| ridge.envelope[knot] >= loud)
        .map(|knot| ridge.guide.hz[knot])
        .collect()
}

/// Whether the loud part of a short ridge goes to and fro.
fn is_wandering(block: &Block, ridge: &Ridge) -> bool {
    let loud = loud_hz(ridge);
    let step = MOVEMENT_KNOTS.max(loud.len() / MOVEMENTS);
    let hz: Vec<f64> = loud.into_iter().step_by(step).collect();
    let (Some(start), Some(end)) = (hz.first(), hz.last()) else {
        return true;
    };
    let movement: f64 = hz.windows(2).map(|pair| (pair[1] - pair[0]).abs()).sum();
    duration_ms(block, ridge) < STRAIGHT_MS
        && movement > TREMBLE_HZ
        && start - end < STRAIGHT_SHARE * movement
}

/// Whether a short ridge lies among many doubtful ones of its kind.
fn is_one_of_many(block: &Block, ridge: &Ridge, doubtful: &[(Ridge, Doubt)]) -> bool {
    let reach = MANY_S * block.rate_hz;
    let top = ridge.edges.top;
    let near = doubtful.iter().filter(|(other, _)| {
        let theirs = other.edges.top;
        let apart = other.sample(theirs as f64) - ridge.sample(top as f64);
        apart.abs() < reach
            && (other.guide.hz[theirs] - ridge.guide.hz[top]).abs() < MANY_HZ
            && other.amplitude() > ridge.amplitude() * MANY_RATIO
    });
    duration_ms(block, ridge) < STRAIGHT_MS && near.count() >= MANY
}

/// Whether a call's fundamental lies where no bat calls: a cricket's song whose
/// multiples reach up to bats.
pub(in crate::pulse) fn is_too_low(block: &Block, call: &Call) -> bool {
    let (multiple, ridge) = call.loudest();
    let top = ridge.guide.hz[ridge.edges.top] / f64::from(*multiple);
    top < block.settings.lowest_khz * 1e3
}
