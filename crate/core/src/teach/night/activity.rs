//! When recordings start in a night, and what sets the trigger off.

use std::ops::Range;

use rand::Rng;

use super::clock::{TIMER_END_S, TIMER_START_S, at};
use super::crowd::Crowd;
use crate::teach::hiss::interpolate;
use crate::teach::random::between;

/// Share of a minute that recordings fill at most: even a busy trigger rests a little.
const BUSIEST: f64 = 0.85;
const MINUTE_S: i64 = 60;

/// How often the trigger goes off, relative, against the hour: busy after dusk, a lull, a rise
/// before dawn.
const TRIGGERS: [(i64, f64); 9] = [
    (at(20, 47), 0.5),
    (at(21, 40), 1.9),
    (at(22, 40), 1.8),
    (at(23, 40), 0.9),
    (at(24, 30), 0.6),
    (at(26, 30), 0.6),
    (at(27, 30), 1.3),
    (at(28, 15), 1.0),
    (at(28, 52), 0.6),
];

/// Share of recordings that hold a bat's pass.
const BATS: [(i64, f64); 8] = [
    (at(20, 47), 0.1),
    (at(21, 30), 0.65),
    (at(22, 45), 0.65),
    (at(23, 45), 0.4),
    (at(26, 30), 0.35),
    (at(27, 30), 0.6),
    (at(28, 15), 0.4),
    (at(28, 52), 0.1),
];

/// Share of the rest that bush crickets set off: they sing early in the night.
const INSECTS: [(i64, f64); 4] = [
    (at(20, 47), 0.6),
    (at(22, 0), 0.6),
    (at(24, 15), 0.2),
    (at(25, 0), 0.0),
];

/// The hour of showers.
pub(super) const RAIN: Range<i64> = at(24, 50)..at(25, 50);

/// What set the trigger off.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Cause {
    Pass,
    FaintCall,
    Rain,
    Insects,
    Wind,
    Nothing,
}

/// What sets the trigger off at a time of the night; `bats` is a factor on the bats' share.
pub(super) fn cause(clock_s: i64, bats: f64, random: &mut impl Rng) -> Cause {
    let raining = RAIN.contains(&clock_s);
    // Few animals hunt in the rain.
    let bats = bats * if raining { 0.3 } else { 1.0 };
    let pass = bats * along(&BATS, clock_s);
    let faint = 0.06 * bats;
    let rest = 1.0 - pass - faint;
    let rain = rest * if raining { 0.75 } else { 0.0 };
    let insects = (rest - rain) * along(&INSECTS, clock_s);
    let wind = (rest - rain - insects) * 0.55;
    let shares = [
        (Cause::Pass, pass),
        (Cause::FaintCall, faint),
        (Cause::Rain, rain),
        (Cause::Insects, insects),
        (Cause::Wind, wind),
    ];
    let chosen = pick(&shares, between(random, 0.0, 1.0));
    chosen.unwrap_or(Cause::Nothing)
}

/// The crowd that an animal belongs to which flies past at a time of the night.
pub(super) fn crowd(clock_s: i64, random: &mut impl Rng) -> Crowd {
    let weights = Crowd::ALL.map(|crowd| (crowd, along(crowd.hours(), clock_s)));
    let whole: f64 = weights.iter().map(|(_, weight)| weight).sum();
    pick(&weights, whole * between(random, 0.0, 1.0)).unwrap_or(Crowd::About45)
}

/// The first of weighted things at which the weights so far exceed a number.
fn pick<T: Copy>(weighted: &[(T, f64)], mut number: f64) -> Option<T> {
    for &(thing, weight) in weighted {
        if number < weight {
            return Some(thing);
        }
        number -= weight;
    }
    None
}

/// The value of a curve over the night.
fn along(points: &[(i64, f64)], clock_s: i64) -> f64 {
    let points: Vec<_> = points.iter().map(|&(s, value)| (s as f64, value)).collect();
    interpolate(&points, clock_s as f64)
}

/// The time in which recordings may start.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct OpenTime {
    /// When the last one has ended.
    pub(super) end_s: i64,
    /// When nothing is recorded.
    pub(super) gap_s: Option<Range<i64>>,
}

impl OpenTime {
    /// How many recordings find room, each with the seconds that it takes.
    pub(super) fn room(&self, spacing_s: i64) -> usize {
        let gap_s = self.gap_s.as_ref().map_or(0, |gap| gap.end - gap.start);
        let open_s = self.end_s - TIMER_START_S - gap_s;
        (0.8 * open_s as f64 / spacing_s as f64) as usize
    }

    /// So many starts in order of time, at least `spacing_s` apart. One falls at random into each
    /// of as many stretches that are equally likely to set the trigger off, so that a night of few
    /// recordings has no long gaps by chance.
    pub(super) fn starts(&self, count: usize, spacing_s: i64, random: &mut impl Rng) -> Vec<i64> {
        let minutes = self.expected(count, spacing_s);
        let mut starts = Vec::with_capacity(count);
        let (mut minute, mut before) = (0, 0.0);
        let mut free_s = TIMER_START_S;
        let whole: f64 = minutes.iter().sum();
        for index in 0..count {
            let wanted = whole * (index as f64 + between(random, 0.0, 1.0)) / count as f64;
            while minute + 1 < minutes.len() && before + at_index(&minutes, minute) <= wanted {
                before += at_index(&minutes, minute);
                minute += 1;
            }
            let within = (wanted - before) / at_index(&minutes, minute).max(1e-9);
            let offset_s = (within.clamp(0.0, 1.0) * MINUTE_S as f64) as i64;
            let mut start_s = (TIMER_START_S + minute as i64 * MINUTE_S + offset_s).max(free_s);
            if let Some(gap) = &self.gap_s
                && start_s + spacing_s > gap.start
                && start_s < gap.end
            {
                start_s = gap.end;
            }
            starts.push(start_s);
            free_s = start_s + spacing_s;
        }
        starts
    }

    /// How many recordings are expected in each minute: in proportion to what goes on, but never
    /// more than fit.
    fn expected(&self, count: usize, spacing_s: i64) -> Vec<f64> {
        let most = BUSIEST * MINUTE_S as f64 / spacing_s as f64;
        let last_s = self.end_s - spacing_s;
        let steps = ((last_s - TIMER_START_S) / MINUTE_S).max(1);
        let weights: Vec<f64> = (0..steps)
            .map(|step| TIMER_START_S + step * MINUTE_S)
            .map(|s| match &self.gap_s {
                Some(gap) if gap.contains(&s) => 0.0,
                _ => along(&TRIGGERS, s),
            })
            .collect();
        // What does not fit into a busy minute is spread over the others.
        let mut scale = 0.0;
        for _ in 0..30 {
            let full = |weight: f64| weight * scale > most;
            let fixed = most * weights.iter().filter(|w| full(**w)).count() as f64;
            let free: f64 = weights.iter().filter(|w| !full(**w)).sum();
            scale = (count as f64 - fixed) / free.max(1e-9);
        }
        weights.iter().map(|w| (w * scale).min(most)).collect()
    }
}

fn at_index(values: &[f64], index: usize) -> f64 {
    values.get(index).copied().unwrap_or_default()
}

/// The night as a share: 0 when the timer starts the recorder, 1 when it stops it.
pub(super) fn share_of_night(clock_s: i64) -> f64 {
    let whole_s = (TIMER_END_S - TIMER_START_S) as f64;
    ((clock_s - TIMER_START_S) as f64 / whole_s).clamp(0.0, 1.0)
}
