//! What the intervals of a sequence tell: missed pulses and feeding buzzes.

use super::order::median;
use super::sequence::members;
use super::{Flag, Pulse};

/// An interval is compared with so many on either side; fewer than the least tell nothing.
const AROUND: usize = 3;
const LEAST_AROUND: usize = 3;
/// It spans missed pulses if it is a whole number of times as long as those around it, up to this
/// one and within this share. More were no longer a gap within a row of pulses.
const MOST_TIMES: f64 = 5.0;
const TIMES_SHARE: f64 = 0.2;
/// Intervals of a feeding buzz are at most so long, milliseconds (common practice), and there are
/// at least so many of them.
const BUZZ_MS: f64 = 10.0;
const BUZZ_INTERVALS: usize = 4;

/// Flags the pulses that others were missed before, and numbers the feeding buzzes. Expects grouped
/// pulses in order of time.
pub(super) fn mark(pulses: &mut [Pulse]) {
    for pulse in pulses.iter_mut() {
        pulse.flags.retain(|flag| *flag != Flag::MissedBefore);
        pulse.buzz = None;
    }
    let mut buzzes = 0;
    for own in members(pulses, |pulse| pulse.sequence) {
        let intervals: Vec<f64> = own[1..]
            .iter()
            .filter_map(|&at| pulses[at].interval_ms)
            .collect();
        let times: Vec<f64> = (0..intervals.len()).map(|n| times(&intervals, n)).collect();
        for (&at, &times) in own[1..].iter().zip(&times) {
            if times > 1.0 {
                pulses[at].flags.push(Flag::MissedBefore);
            }
        }
        let short: Vec<bool> = intervals
            .iter()
            .zip(&times)
            .map(|(interval, times)| interval / times <= BUZZ_MS)
            .collect();
        for run in runs(&short) {
            buzzes += 1;
            // Interval n lies between members n and n + 1.
            for &at in &own[run.start..=run.end] {
                pulses[at].buzz = Some(buzzes);
            }
        }
    }
}

/// How many times as long an interval is as those around it, a whole number: 1 where nothing was
/// missed or nothing can be told. It is compared with the longer ones of those before and those
/// after it, so that an animal that goes over to another rhythm misses nothing.
fn times(intervals: &[f64], at: usize) -> f64 {
    let before = &intervals[at.saturating_sub(AROUND)..at];
    let after = &intervals[at + 1..(at + 1 + AROUND).min(intervals.len())];
    if before.len() + after.len() < LEAST_AROUND {
        return 1.0;
    }
    let usual = [before, after]
        .into_iter()
        .filter_map(|side| median(&mut side.to_vec(), f64::total_cmp))
        .fold(0.0, f64::max);
    let ratio = intervals[at] / usual;
    let times = ratio.round();
    let fits = (ratio / times - 1.0).abs() <= TIMES_SHARE;
    if (2.0..=MOST_TIMES).contains(&times) && fits {
        times
    } else {
        1.0
    }
}

/// The runs that are long enough for a buzz.
fn runs(short: &[bool]) -> Vec<std::ops::Range<usize>> {
    let mut runs = Vec::new();
    let mut begun = None;
    for at in 0..=short.len() {
        if short.get(at) == Some(&true) {
            begun = begun.or(Some(at));
        } else if let Some(from) = begun.take()
            && at - from >= BUZZ_INTERVALS
        {
            runs.push(from..at);
        }
    }
    runs
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pulse::sequence::{self, tests::gap, tests::pulse};

    const NONE: [usize; 0] = [];

    /// One animal's pulses at these starts, milliseconds, marked.
    fn marked(starts_ms: &[f64]) -> Vec<Pulse> {
        let mut pulses: Vec<Pulse> = starts_ms
            .iter()
            .map(|ms| Pulse {
                end_s: ms * 1e-3 + 1e-3,
                duration_ms: 1.0,
                ..pulse(ms * 1e-3, 45.0, -20.0)
            })
            .collect();
        sequence::group(&mut pulses, &gap(1.0));
        mark(&mut pulses);
        pulses
    }

    fn after(intervals_ms: &[f64]) -> Vec<f64> {
        let mut starts = vec![100.0];
        for interval in intervals_ms {
            starts.push(starts[starts.len() - 1] + interval);
        }
        starts
    }

    fn missed(pulses: &[Pulse]) -> Vec<usize> {
        let flagged =
            |(at, p): (usize, &Pulse)| p.flags.contains(&Flag::MissedBefore).then_some(at);
        pulses.iter().enumerate().filter_map(flagged).collect()
    }

    #[test]
    fn an_interval_twice_or_thrice_as_long_spans_missed_pulses() {
        let pulses = marked(&after(&[
            90.0, 100.0, 95.0, 195.0, 92.0, 103.0, 290.0, 97.0, 99.0,
        ]));
        assert_eq!(missed(&pulses), [4, 7]);
        // The interval itself stays what it is.
        assert!((pulses[4].interval_ms.unwrap_or(0.0) - 195.0).abs() < 1e-9);
    }

    #[test]
    fn an_animal_that_slows_down_or_scatters_misses_nothing() {
        let slower = after(&[60.0, 70.0, 82.0, 95.0, 110.0, 128.0, 150.0]);
        assert_eq!(missed(&marked(&slower)), NONE);
        let scattered = after(&[90.0, 120.0, 80.0, 135.0, 95.0, 140.0, 85.0]);
        assert_eq!(missed(&marked(&scattered)), NONE);
        // One and a half times as long is no whole number of times.
        assert_eq!(
            missed(&marked(&after(&[90.0, 90.0, 135.0, 90.0, 90.0]))),
            NONE
        );
        // Three pulses have no usual interval.
        assert_eq!(missed(&marked(&after(&[90.0, 180.0]))), NONE);
    }

    #[test]
    fn the_short_intervals_at_the_end_of_an_attack_are_a_buzz() {
        let mut intervals = vec![95.0, 80.0, 60.0, 42.0, 30.0, 21.0, 15.0];
        intervals.extend([9.5, 8.0, 7.0, 6.5, 6.0, 6.0, 5.5]);
        intervals.push(150.0);
        let pulses = marked(&after(&intervals));
        let buzz: Vec<usize> = (0..pulses.len())
            .filter(|&n| pulses[n].buzz == Some(1))
            .collect();
        // From the pulse before the first short interval to that after the last.
        assert_eq!(buzz, (7..=14).collect::<Vec<_>>());
    }

    #[test]
    fn a_pulse_missed_in_a_buzz_does_not_break_it() {
        let pulses = marked(&after(&[50.0, 25.0, 6.0, 6.2, 5.9, 12.1, 6.0, 6.1]));
        assert_eq!(missed(&pulses), [6]);
        assert!(pulses[2..].iter().all(|p| p.buzz == Some(1)), "{pulses:?}");
    }

    #[test]
    fn a_few_quick_pulses_are_no_buzz() {
        let pulses = marked(&after(&[80.0, 9.0, 8.0, 9.0, 85.0, 90.0]));
        assert!(pulses.iter().all(|p| p.buzz.is_none()));
        assert!(marked(&[]).is_empty());
        assert!(marked(&[100.0])[0].buzz.is_none());
    }
}
