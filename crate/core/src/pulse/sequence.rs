//! Grouping: which pulses one animal may have made.

use super::Pulse;

/// Largest step in characteristic or lowest frequency from one pulse to the
/// next, as a share of it. Calls glide by a tenth or so on the way into a buzz.
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
    let step = |a: f64, b: f64| ((b - a) / a).abs();
    // A straight sweep has no flattest stretch of its own, so noise chooses its
    // characteristic frequency; its lowest one is sure.
    let frequency = step(last.characteristic_khz, next.characteristic_khz)
        .min(step(last.low_khz, next.low_khz));
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

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use crate::pulse::{Contour, Shape};

    /// A pulse of 5 ms.
    pub(in crate::pulse) fn pulse(start_s: f64, khz: f64, level_db: f64) -> Pulse {
        Pulse {
            start_s,
            end_s: start_s + 5e-3,
            duration_ms: 5.0,
            peak_khz: khz,
            start_khz: khz * 1.5,
            end_khz: khz,
            high_khz: khz * 1.5,
            low_khz: khz,
            characteristic_khz: khz,
            sweep_khz_per_ms: -khz * 0.1,
            flattest_khz_per_ms: -1.0,
            interval_ms: None,
            level_db,
            snr_db: 30.0,
            edge_db: 20.0,
            shape: Shape::Fm,
            flags: Vec::new(),
            sequence: None,
            buzz: None,
            doubt: None,
            harmonics: Vec::new(),
            contour: Contour {
                start_s,
                step_s: 1e-4,
                khz: vec![khz as f32; 51],
            },
        }
    }

    fn numbers(pulses: &[Pulse]) -> Vec<Option<u32>> {
        pulses.iter().map(|pulse| pulse.sequence).collect()
    }

    #[test]
    fn interleaved_animals_of_other_frequencies_are_two_sequences() {
        let mut pulses: Vec<Pulse> = (0..10)
            .flat_map(|n| {
                let at_s = 0.1 * f64::from(n);
                [pulse(at_s, 45.0, -20.0), pulse(at_s + 0.04, 25.0, -20.0)]
            })
            .collect();
        group(&mut pulses, 1.0);
        for pair in pulses.chunks(2) {
            assert_eq!(numbers(pair), [Some(1), Some(2)]);
        }
    }

    #[test]
    fn intervals_are_the_differences_of_starts_within_a_sequence() {
        let starts = [0.1, 0.19, 0.31, 0.36, 0.5];
        let mut pulses: Vec<Pulse> = starts.map(|s| pulse(s, 45.0, -20.0)).to_vec();
        // Another animal in between changes nothing.
        pulses.insert(2, pulse(0.25, 80.0, -20.0));
        pulses.insert(4, pulse(0.33, 80.0, -20.0));
        group(&mut pulses, 1.0);
        let own: Vec<&Pulse> = pulses.iter().filter(|p| p.peak_khz < 60.0).collect();
        assert_eq!(own[0].interval_ms, None);
        for (n, pulse) in own.iter().enumerate().skip(1) {
            let expected = (starts[n] - starts[n - 1]) * 1e3;
            let interval = pulse.interval_ms.unwrap_or(0.0);
            assert!((interval - expected).abs() < 1e-9, "{interval}");
        }
    }

    #[test]
    fn silence_over_the_gap_begins_a_new_sequence() {
        // From the end of one pulse to the start of the next: 0.99 s, then 1.01 s.
        let starts = [0.0, 0.995, 2.01, 2.1];
        let mut pulses: Vec<Pulse> = starts.map(|s| pulse(s, 45.0, -20.0)).to_vec();
        group(&mut pulses, 1.0);
        assert_eq!(numbers(&pulses), [Some(1), Some(1), Some(2), Some(2)]);
        assert_eq!(pulses[2].interval_ms, None);
        group(&mut pulses, 2.0);
        assert_eq!(numbers(&pulses), [Some(1); 4]);
    }

    #[test]
    fn pulse_that_nothing_resembles_stands_alone() {
        let mut pulses = vec![
            pulse(0.1, 45.0, -20.0),
            pulse(0.15, 90.0, -20.0),
            pulse(0.2, 45.0, -20.0),
        ];
        group(&mut pulses, 1.0);
        assert_eq!(numbers(&pulses), [Some(1), None, Some(1)]);
        assert_eq!(pulses[1].interval_ms, None);
    }

    #[test]
    fn pulses_closer_than_any_buzz_are_not_one_animal() {
        let mut pulses = vec![pulse(0.1, 45.0, -20.0), pulse(0.102, 45.0, -20.0)];
        group(&mut pulses, 1.0);
        assert_eq!(numbers(&pulses), [None, None]);
    }

    #[test]
    fn grouping_again_and_in_any_order_gives_the_same() {
        let mut pulses: Vec<Pulse> = [0.3, 0.1, 0.2, 5.0].map(|s| pulse(s, 45.0, -20.0)).to_vec();
        group(&mut pulses, 1.0);
        assert!(pulses.is_sorted_by(|a, b| a.start_s < b.start_s));
        assert_eq!(numbers(&pulses), [Some(1), Some(1), Some(1), None]);
        let once = pulses.clone();
        group(&mut pulses, 1.0);
        assert_eq!(pulses, once);
        pulses.truncate(1);
        group(&mut pulses, 1.0);
        assert_eq!(numbers(&pulses), [None], "an old number stayed");
    }
}
