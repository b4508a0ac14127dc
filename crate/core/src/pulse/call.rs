//! From ridges to calls: which ridges are one animal's one pulse, and which
//! are none of its own (a duplicate, an echo, the distortion of an overload).

use super::rail::Rail;
use super::ridge::{Block, Ridge};
use std::ops::Range;

/// How far a frequency may lie from a multiple, hertz and as a share of it.
const MULTIPLE_HZ: f64 = 700.0;
const MULTIPLE_SHARE: f64 = 0.015;
/// How much farther it may lie where the weaker one is faint.
const FAINT_LEEWAY: f64 = 2.0;
/// Ridges nearer than this are the same ridge, hertz: half of a channel.
const SAME_HZ: f64 = 2_500.0;
/// A fragment that runs beside a call, so near, hertz (nearer if it is not so
/// much fainter, 10 dB), and is so much shorter is the ripple of its own onset.
const BESIDE_HZ: f64 = 15_000.0;
const FRAGMENT_RATIO: f32 = 0.32;
const FRAGMENT_SHARE: f64 = 0.5;
/// Highest multiple that is looked for.
const HIGHEST_MULTIPLE: u32 = 5;
/// What sounds within an overloaded call and this ratio below it cannot be told
/// from the overload's own distortion: products at all multiples, folded back by
/// sampling, of which the strongest, the third of a square wave, has a third (9.5 dB).
const DISTORTION_RATIO: f32 = 0.36;
/// How far edges may be off there, seconds.
const EDGE_S: f64 = 0.3e-3;
/// Share of the weaker one's time that two related ridges have in common.
const COMMON_SHARE: f64 = 0.5;

/// Ridges that belong to one pulse, each with its multiple of the fundamental.
pub(super) struct Call {
    pub(super) members: Vec<(u32, Ridge)>,
    /// Another call crosses it in time and frequency.
    pub(super) overlapped: bool,
}

/// How a weaker call relates to a stronger one.
#[derive(Debug, PartialEq, Eq)]
enum Relation {
    Unrelated,
    /// It is not a call of its own.
    Spurious,
    /// Its fundamental is this multiple of the other's.
    MultipleOf(u32),
    /// The other's fundamental is this multiple of its own.
    Below(u32),
}

impl Call {
    /// A call of one ridge.
    pub(super) fn of(ridge: Ridge) -> Self {
        Self {
            members: vec![(1, ridge)],
            overlapped: false,
        }
    }

    /// The member of the largest amplitude.
    pub(super) fn loudest(&self) -> &(u32, Ridge) {
        self.members.iter().fold(&self.members[0], |a, b| {
            if b.1.amplitude() > a.1.amplitude() {
                b
            } else {
                a
            }
        })
    }

    /// Samples of the block from the first start to the last end.
    pub(super) fn span(&self) -> Range<f64> {
        self.members
            .iter()
            .map(|(_, ridge)| ridge.span())
            .fold(f64::INFINITY..f64::NEG_INFINITY, |all, span| {
                all.start.min(span.start)..all.end.max(span.end)
            })
    }

    /// The fundamental at a sample of the block, hertz, from the loudest member that covers it.
    pub(super) fn fundamental_at(&self, sample: f64) -> Option<f64> {
        self.loudest_says(|ridge| ridge.hz_at(sample))
    }

    /// The same from the loudest member that is believed there.
    fn believed_at(&self, sample: f64) -> Option<f64> {
        self.loudest_says(|ridge| ridge.believed_hz_at(sample))
    }

    fn loudest_says(&self, hz: impl Fn(&Ridge) -> Option<f64>) -> Option<f64> {
        self.members
            .iter()
            .filter_map(|(multiple, ridge)| {
                Some((ridge.amplitude(), hz(ridge)? / f64::from(*multiple)))
            })
            .max_by(|a, b| a.0.total_cmp(&b.0))
            .map(|(_, hz)| hz)
    }

    fn multiply(&mut self, factor: u32) {
        for (multiple, _) in &mut self.members {
            *multiple *= factor;
        }
    }
}

/// Sorts ridges, loudest first, into calls. `rail` tells whether samples between two
/// places are at the rail.
pub(super) fn assemble(block: &Block, ridges: Vec<Ridge>, rail: &Rail) -> Vec<Call> {
    let mut calls: Vec<Call> = ridges.into_iter().map(Call::of).collect();
    // Twice: a third harmonic finds its fundamental only once the second has.
    for _ in 0..2 {
        merge(block, &mut calls, rail);
    }
    mark_overlaps(block, &mut calls);
    calls
}

fn merge(block: &Block, calls: &mut Vec<Call>, rail: &Rail) {
    let mut kept: Vec<Call> = Vec::with_capacity(calls.len());
    for mut call in calls.drain(..) {
        let related =
            kept.iter_mut()
                .find_map(|stronger| match relation(block, stronger, &call, rail) {
                    Relation::Unrelated => None,
                    found => Some((stronger, found)),
                });
        match related {
            None => kept.push(call),
            Some((_, Relation::Spurious | Relation::Unrelated)) => {}
            Some((stronger, Relation::MultipleOf(multiple))) => {
                call.multiply(multiple);
                stronger.members.append(&mut call.members);
            }
            Some((stronger, Relation::Below(multiple))) => {
                stronger.multiply(multiple);
                stronger.members.append(&mut call.members);
            }
        }
    }
    *calls = kept;
}

/// What two calls have in common: pairs of their frequencies, hertz, at the
/// knots of the weaker one's loudest member that both cover.
fn common(stronger: &Call, weaker: &Call) -> Vec<(f64, f64)> {
    knots(weaker)
        .filter_map(|sample| {
            Some((
                stronger.fundamental_at(sample)?,
                weaker.fundamental_at(sample)?,
            ))
        })
        .collect()
}

/// The samples of the block that the knots of a call's loudest member lie on.
fn knots(call: &Call) -> impl Iterator<Item = f64> {
    let ridge = &call.loudest().1;
    ridge.edges.core().map(|knot| ridge.sample(knot as f64))
}

fn relation(block: &Block, stronger: &Call, weaker: &Call, rail: &Rail) -> Relation {
    let (a, b) = (stronger.span(), weaker.span());
    if b.start >= a.end || a.start >= b.end {
        return Relation::Unrelated;
    }
    let pairs = common(stronger, weaker);
    let own = weaker.loudest().1.edges.core().len();
    if pairs.len() < 4 || (pairs.len() as f64) < COMMON_SHARE * own as f64 {
        return Relation::Unrelated;
    }
    if most(&pairs, |(a, b)| (a - b).abs() < SAME_HZ) {
        return Relation::Spurious;
    }
    let ratio = weaker.loudest().1.amplitude() / stronger.loudest().1.amplitude();
    let beside_hz = if ratio < FRAGMENT_RATIO {
        BESIDE_HZ
    } else {
        2.0 * SAME_HZ
    };
    let fragment = b.end - b.start < FRAGMENT_SHARE * (a.end - a.start)
        && most(&pairs, |(a, b)| (a - b).abs() < beside_hz);
    if fragment {
        return Relation::Spurious;
    }
    // The contour of what is much fainter is less sure.
    let leeway = if ratio < FRAGMENT_RATIO {
        FAINT_LEEWAY
    } else {
        1.0
    };
    let near = |multiple: f64, from: f64, to: f64| {
        let allowed = MULTIPLE_HZ * multiple.max(1.0) + MULTIPLE_SHARE * to;
        (multiple * from - to).abs() < allowed * leeway
    };
    let may_be_distortion = ratio < DISTORTION_RATIO
        && is_inside(block, &b, &a)
        && rail.is_touched(&stronger.loudest().1.span());
    for multiple in 2..=HIGHEST_MULTIPLE {
        if most(&pairs, |(a, b)| near(f64::from(multiple), a, b)) {
            return Relation::MultipleOf(multiple);
        }
        if !may_be_distortion && most(&pairs, |(a, b)| near(f64::from(multiple), b, a)) {
            return Relation::Below(multiple);
        }
    }
    if may_be_distortion {
        return Relation::Spurious;
    }
    Relation::Unrelated
}

/// Whether four out of five pairs agree.
fn most(pairs: &[(f64, f64)], agree: impl Fn((f64, f64)) -> bool) -> bool {
    let agreeing = pairs.iter().filter(|pair| agree(**pair)).count();
    agreeing * 5 >= pairs.len() * 4
}

/// Whether a span lies within another, but for what edges are uncertain by.
fn is_inside(block: &Block, inner: &Range<f64>, outer: &Range<f64>) -> bool {
    let leeway = EDGE_S * block.rate_hz;
    inner.start > outer.start - leeway && inner.end < outer.end + leeway
}

/// A call that comes within a channel's width of a stronger or similar one
/// while both sound cannot be told apart from it there. What is too short for a
/// call is no other call.
fn mark_overlaps(block: &Block, calls: &mut [Call]) {
    let shortest = block.settings.shortest_ms * 1e-3 * block.rate_hz;
    let is_call = |call: &Call| call.span().end - call.span().start >= shortest;
    let mut overlapped = vec![false; calls.len()];
    for (at, stronger) in calls.iter().enumerate() {
        let span = stronger.span();
        let meets = |call: &Call| call.span().start < span.end && span.start < call.span().end;
        let weaker = calls.iter().enumerate().skip(at + 1);
        for (other, weaker) in weaker.filter(|(_, call)| is_call(call) && meets(call)) {
            let cross = knots(weaker).any(|sample| {
                let both = stronger.believed_at(sample).zip(weaker.believed_at(sample));
                both.is_some_and(|(a, b)| (a - b).abs() < 2.0 * SAME_HZ)
            });
            if cross {
                overlapped[other] = true;
                let ratio = weaker.loudest().1.amplitude() / stronger.loudest().1.amplitude();
                overlapped[at] |= ratio > DISTORTION_RATIO;
            }
        }
    }
    for (call, overlapped) in calls.iter_mut().zip(overlapped) {
        call.overlapped = overlapped;
    }
}
