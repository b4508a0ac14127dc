//! What is not a bat: clicks of rain and twigs, strikes and trains of insects.

use super::Pulse;
use super::ridge::{Block, Ridge, WIDE_HZ};
use std::ops::Range;

/// Least share of the energy around a pulse's course that lies on it. A click
/// or a rasp spreads over all frequencies at once (one eighth of the wide
/// channel lies in the narrow one), a call does not.
const LEAST_PURITY: f64 = 0.4;
/// Purity is read where the amplitude is at least this share of its maximum (10 dB),
/// and so near to it, in knots.
const LOUD: f32 = 0.32;
const LOUD_KNOTS: usize = 100;
/// A sound this short that does not sweep so far is a ringing strike: bats that
/// call for so short a time sweep.
const STRIKE_MS: f64 = 2.0;
const STRIKE_HZ: f64 = 3_000.0;

/// Keeps the ridges that may be a bat's, loudest first. What spreads over all
/// frequencies takes with it all that is fainter and sounds in the same moment.
pub(super) fn sift(block: &Block, mut ridges: Vec<Ridge>) -> Vec<Ridge> {
    ridges.sort_by(|a, b| b.amplitude().total_cmp(&a.amplitude()));
    let mut kept: Vec<Ridge> = Vec::with_capacity(ridges.len());
    let mut broadband: Vec<Range<f64>> = Vec::new();
    for ridge in ridges {
        let span = ridge.span();
        if !in_range(block, &ridge) || broadband.iter().any(|event| covers(event, &span)) {
            continue;
        }
        if purity(block, &ridge, &kept) < LEAST_PURITY {
            broadband.push(span);
        } else if !is_strike(block, &ridge) {
            kept.push(ridge);
        }
    }
    kept
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
                    .is_some_and(|theirs| (theirs - hz).abs() < WIDE_HZ)
            })
            .map(|other| f64::from(other.amplitude_at(sample)).powi(2))
            .sum();
        let noise = block.noise.power((hz - WIDE_HZ / 2.0).max(0.0), hz + WIDE_HZ / 2.0);
        on_course += f64::from(amplitude).powi(2);
        around += f64::from(ridge.wide[knot]) - noise - explained;
    }
    (on_course / around.max(on_course)).min(1.0)
}

/// Whether a ridge is a short ringing.
fn is_strike(block: &Block, ridge: &Ridge) -> bool {
    let span = ridge.span();
    let ms = (span.end - span.start) / block.rate_hz * 1e3;
    let (low, high) = ridge.guide.hz[ridge.edges.core()]
        .iter()
        .fold((f64::MAX, 0f64), |(l, h), &hz| (l.min(hz), h.max(hz)));
    ms < STRIKE_MS && high - low < STRIKE_HZ
}

/// Removes pulse trains of insects.
pub(super) fn remove_trains(_pulses: &mut Vec<Pulse>) {}
