//! Telling an echo from a call: the same sweep again, a little later and fainter.

use super::call::Call;
use super::ridge::{Block, Ridge};
use super::{Pulse, remove_flagged};

/// Longest delay of an echo, seconds: 25 ms are some 4 m of detour by a wall.
const LONGEST_DELAY_S: f64 = 25e-3;
/// How much fainter than its call an echo is that begins while the call still
/// sounds, and one that begins later, as amplitude ratios (3 dB, 10 dB). The
/// pulses of a buzz follow as quickly but hardly change their level.
const OVERLAPPING_RATIO: f32 = 0.7;
const LATER_RATIO: f32 = 0.32;
/// Largest difference of the two contours, laid over one another, hertz.
const SAME_HZ: f64 = 2_500.0;

/// Longest delay of an echo by a far wall or the ground, seconds (8 m of detour);
/// it is at least so much fainter, dB, and its frequency so near, as a share.
const FAR_DELAY_S: f64 = 45e-3;
const FAR_DB: f64 = 4.0;
const FAR_KHZ_SHARE: f64 = 0.1;
/// Another animal's pulses also follow, but not always after the same time: so
/// many of the pairs around, seconds, and one in five of them, have the same
/// delay within half a millisecond. (Two echoes make pairs of three delays.)
const AROUND_S: f64 = 1.0;
const SAME_DELAY_S: f64 = 0.5e-3;
const LEAST_PAIRS: usize = 3;
const FEWEST: usize = 5;

/// Removes pulses that follow others faintly and always with the same delay.
/// Expects them in order of time.
pub(super) fn remove_far(pulses: &mut Vec<Pulse>) {
    // Pairs of a pulse and a fainter one that follows: index of both, delay.
    let mut pairs: Vec<(usize, usize, f64)> = Vec::new();
    for (at, pulse) in pulses.iter().enumerate() {
        let later = pulses.iter().enumerate().skip(at + 1);
        for (follower, next) in later.take_while(|(_, p)| p.start_s < pulse.end_s + FAR_DELAY_S) {
            if is_like_echo(pulse, next) {
                // Ends are surer than starts: an echo loses its high frequencies.
                pairs.push((at, follower, next.end_s - pulse.end_s));
            }
        }
    }
    let mut echo = vec![false; pulses.len()];
    for &(at, follower, delay) in &pairs {
        let near = |start_s: f64| (start_s - pulses[at].start_s).abs() < AROUND_S;
        let around = pairs
            .iter()
            .filter(|(other, ..)| near(pulses[*other].start_s));
        let (mut all, mut same) = (0, 0);
        for (.., theirs) in around {
            all += 1;
            same += usize::from((theirs - delay).abs() < SAME_DELAY_S);
        }
        echo[follower] |= same >= LEAST_PAIRS && same * FEWEST >= all;
    }
    remove_flagged(pulses, echo);
}

fn is_like_echo(pulse: &Pulse, later: &Pulse) -> bool {
    let fainter = later.level_db < pulse.level_db - FAR_DB;
    let apart = (later.low_khz - pulse.low_khz).abs();
    let inside = later.high_khz < pulse.high_khz * (1.0 + FAR_KHZ_SHARE);
    fainter && inside && apart < FAR_KHZ_SHARE * pulse.low_khz
}

/// Removes the calls that are echoes of another, close after it.
pub(super) fn remove_near(block: &Block, calls: &mut Vec<Call>) {
    let echo: Vec<bool> = calls
        .iter()
        .map(|call| calls.iter().any(|other| is_echo(block, other, call)))
        .collect();
    remove_flagged(calls, echo);
}

fn is_echo(block: &Block, call: &Call, later: &Call) -> bool {
    let (a, b) = (&call.loudest().1, &later.loudest().1);
    let (span, later_span) = (a.span(), b.span());
    let delay = later_span.start - span.start;
    // An echo's own beginning may be hidden under the call.
    let follows = later_span.end > span.end && delay > 0.1e-3 * block.rate_hz;
    if !follows || delay > LONGEST_DELAY_S * block.rate_hz {
        return false;
    }
    let ratio = if later_span.start < span.end {
        OVERLAPPING_RATIO
    } else {
        LATER_RATIO
    };
    b.amplitude() < a.amplitude() * ratio && same_sweep(a, b)
}

/// Whether the later ridge runs through frequencies of the earlier one at the
/// earlier one's pace: laid over one another at one frequency, they agree.
fn same_sweep(call: &Ridge, later: &Ridge) -> bool {
    let core = later.edges.core();
    let middle = later.guide.hz[(core.start + core.end) / 2];
    let call_core = call.edges.core();
    let nearest = call_core.clone().min_by(|&x, &y| {
        (call.guide.hz[x] - middle)
            .abs()
            .total_cmp(&(call.guide.hz[y] - middle).abs())
    });
    let Some(anchor) = nearest else {
        return false;
    };
    let shift = anchor as isize - ((core.start + core.end) / 2) as isize;
    let pairs: Vec<f64> = core
        .clone()
        .filter_map(|knot| {
            let at = usize::try_from(knot as isize + shift).ok()?;
            call_core
                .contains(&at)
                .then(|| (call.guide.hz[at] - later.guide.hz[knot]).abs())
        })
        .collect();
    let agreeing = pairs.iter().filter(|off| **off < SAME_HZ).count();
    pairs.len() * 2 >= core.len() && agreeing * 5 >= pairs.len() * 4
}
