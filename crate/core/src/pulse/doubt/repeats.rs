//! Doubt about what repeats itself as evenly as only a machine does.

use crate::pulse::order::median;
use crate::pulse::sequence::members;
use crate::pulse::{Doubt, Pulse};

/// So many pulses in a row are needed to tell clockwork from chance.
const FEWEST: usize = 6;
/// From one interval to the next and from one pulse to the next, half of all changes are smaller
/// than this: share of the interval, kilohertz, and share of the duration. An animal's intervals
/// follow its wings and its flight and scatter by some percent (common practice).
const EVEN_SHARE: f64 = 0.004;
const EVEN_KHZ: f64 = 0.15;
const EVEN_DURATION_SHARE: f64 = 0.02;

/// Doubts all pulses of the sequences that run like clockwork. Expects order of time.
pub(in crate::pulse) fn doubt_machines(pulses: &mut [Pulse]) {
    for own in members(pulses, |pulse| pulse.sequence) {
        let sequence: Vec<&Pulse> = own.iter().map(|&at| &pulses[at]).collect();
        if is_clockwork(&sequence) {
            for at in own {
                pulses[at].doubt = Some(Doubt::Electronics);
            }
        }
    }
}

fn is_clockwork(pulses: &[&Pulse]) -> bool {
    let starts: Vec<f64> = pulses.iter().map(|pulse| pulse.start_s).collect();
    let intervals: Vec<f64> = starts.windows(2).map(|pair| pair[1] - pair[0]).collect();
    pulses.len() >= FEWEST
        && typical_change(&intervals, relative) < EVEN_SHARE
        && typical_change(&values(pulses, |p| p.peak_khz), |a, b| (b - a).abs()) < EVEN_KHZ
        && typical_change(&values(pulses, |p| p.duration_ms), relative) < EVEN_DURATION_SHARE
}

fn values(pulses: &[&Pulse], of: impl Fn(&Pulse) -> f64) -> Vec<f64> {
    pulses.iter().map(|pulse| of(pulse)).collect()
}

fn relative(before: f64, after: f64) -> f64 {
    ((after - before) / before).abs()
}

/// The median change from one value to the next.
fn typical_change(values: &[f64], change: impl Fn(f64, f64) -> f64) -> f64 {
    let mut changes: Vec<f64> = values.windows(2).map(|v| change(v[0], v[1])).collect();
    median(&mut changes, f64::total_cmp).unwrap_or(f64::INFINITY)
}
