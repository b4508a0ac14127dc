//! Grouping: which pulses one animal may have made.

use super::Pulse;

/// Largest step in peak or characteristic frequency from one pulse to the next,
/// as a share of it. Calls glide by a tenth or so on the way into a buzz.
const FREQUENCY_SHARE: f64 = 0.18;
/// Largest step in level from one pulse to the next, dB.
const LEVEL_DB: f64 = 20.0;
/// Largest ratio of two successive durations.
const DURATION_RATIO: f64 = 3.5;
/// Shortest interval, seconds: a buzz reaches some 200 pulses a second
/// (US Geological Survey, recording of a hoary bat), 5 ms apart.
const SHORTEST_INTERVAL_S: f64 = 3.5e-3;

/// A sequence as far as it goes.
struct Open {
    members: Vec<usize>,
    last: usize,
}

/// Numbers the sequences among pulses in order of time, and gives each pulse
/// its interval. A pulse that nothing follows or precedes stands alone.
pub(super) fn group(pulses: &mut [Pulse], gap_s: f64) {
    pulses.sort_by(|a, b| a.start_s.total_cmp(&b.start_s));
    let mut open: Vec<Open> = Vec::new();
    let mut done: Vec<Open> = Vec::new();
    for at in 0..pulses.len() {
        let (over, still) = open
            .into_iter()
            .partition(|o| pulses[at].start_s - pulses[o.last].end_s > gap_s);
        done.extend::<Vec<Open>>(over);
        open = still;
        let best = open
            .iter_mut()
            .filter_map(|o| Some((unlikeness(&pulses[o.last], &pulses[at], gap_s)?, o)))
            .min_by(|a, b| a.0.total_cmp(&b.0));
        match best {
            Some((_, sequence)) => {
                sequence.members.push(at);
                sequence.last = at;
            }
            None => open.push(Open {
                members: vec![at],
                last: at,
            }),
        }
    }
    done.extend(open);
    done.sort_by_key(|o| o.members[0]);
    number(pulses, &done);
}

fn number(pulses: &mut [Pulse], sequences: &[Open]) {
    for pulse in pulses.iter_mut() {
        pulse.sequence = None;
        pulse.interval_ms = None;
    }
    let real = sequences.iter().filter(|o| o.members.len() > 1);
    for (number, sequence) in (1..).zip(real) {
        let mut before: Option<f64> = None;
        for &member in &sequence.members {
            let pulse = &mut pulses[member];
            pulse.sequence = Some(number);
            pulse.interval_ms = before.map(|start| (pulse.start_s - start) * 1e3);
            before = Some(pulse.start_s);
        }
    }
}

/// How unlike the next pulse of a sequence is to its last; none if it cannot be.
fn unlikeness(last: &Pulse, next: &Pulse, gap_s: f64) -> Option<f64> {
    let interval = next.start_s - last.start_s;
    if interval < SHORTEST_INTERVAL_S.max(last.end_s - last.start_s) {
        return None;
    }
    let frequency =
        ((next.characteristic_khz - last.characteristic_khz) / last.characteristic_khz).abs();
    let level = (next.level_db - last.level_db).abs();
    let duration = (next.duration_ms / last.duration_ms).ln().abs();
    let within = frequency <= FREQUENCY_SHARE
        && level <= LEVEL_DB
        && duration <= DURATION_RATIO.ln()
        && interval <= gap_s + (last.end_s - last.start_s);
    within.then(|| {
        frequency / FREQUENCY_SHARE
            + level / LEVEL_DB
            + duration / DURATION_RATIO.ln()
            + 0.3 * interval / gap_s
    })
}
