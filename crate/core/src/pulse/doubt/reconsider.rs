//! Doubt that only shows once sequences are known.

use super::sift::STRAIGHT_MS;
use crate::pulse::{Doubt, Pulse, Shape};

/// A pulse shorter than this, ms, that stands alone is a click: the short pulses
/// of bats come in buzzes. A longer one that stands alone must be sure, dB above
/// the noise, where it is as short as clicks and rasps can be.
const ALONE_MS: f64 = 1.0;
const ALONE_SNR_DB: f64 = 12.0;
/// What stands alone and is level somewhere, kHz/ms, is more likely electronics:
/// bats that call so level call again and again.
const ALONE_LEVEL_KHZ_PER_MS: f64 = 0.05;
/// What hardly stands above the noise of its own band, dB, was not seen plainly
/// and not measured well.
const LEAST_SNR_DB: f64 = 3.0;
/// A short pulse, ms, that is faint, dB, is drawn by chance into a rasp as often as
/// called by a bat, and so is a very short one, ms, into a click. A bat repeats itself: so many others, so near in time,
/// seconds, are like it in frequency, as a share, and in duration, as a ratio.
const FAINT_MS: f64 = 3.0;
const FAINT_SNR_DB: f64 = 15.0;
const VERY_SHORT_MS: f64 = 1.2;
const LEAST_KIN: usize = 2;
const KIN_S: f64 = 1.0;
const KIN_KHZ_SHARE: f64 = 0.15;
const KIN_DURATION_RATIO: f64 = 1.7;

/// Doubts what only shows once sequences are known: lone clicks and tones, and
/// faint short pulses that no other resembles. Expects order of time.
pub(in crate::pulse) fn reconsider(pulses: &mut [Pulse]) {
    let doubts: Vec<Option<Doubt>> = (0..pulses.len()).map(|at| doubt(pulses, at)).collect();
    for (pulse, doubt) in pulses.iter_mut().zip(doubts) {
        pulse.doubt = doubt;
    }
}

fn doubt(pulses: &[Pulse], at: usize) -> Option<Doubt> {
    let pulse = &pulses[at];
    let alone = pulse.sequence.is_none();
    let faint = pulse.duration_ms < FAINT_MS && pulse.snr_db < FAINT_SNR_DB;
    let needs_kin = faint || pulse.duration_ms < VERY_SHORT_MS;
    if pulse.snr_db < LEAST_SNR_DB {
        Some(Doubt::Faint)
    } else if alone && is_level(pulse) {
        Some(Doubt::Tone)
    } else if (alone && is_brief(pulse)) || (needs_kin && kin(pulses, at) < LEAST_KIN) {
        Some(Doubt::Lone)
    } else {
        None
    }
}

/// How many pulses around one resemble it.
fn kin(pulses: &[Pulse], at: usize) -> usize {
    let pulse = &pulses[at];
    let near = |a: f64, b: f64| (a - b).abs() < KIN_KHZ_SHARE * b;
    let resembles = |other: &&Pulse| {
        near(other.low_khz, pulse.low_khz)
            && near(other.high_khz, pulse.high_khz)
            && (other.duration_ms / pulse.duration_ms).ln().abs() < KIN_DURATION_RATIO.ln()
    };
    let close = |other: &&Pulse| (other.start_s - pulse.start_s).abs() < KIN_S;
    let before = pulses[..at].iter().rev().take_while(close);
    let after = pulses[at + 1..].iter().take_while(close);
    before.chain(after).filter(resembles).count()
}

/// Whether a pulse that stands alone is as short as clicks and rasps can be.
fn is_brief(pulse: &Pulse) -> bool {
    pulse.duration_ms < ALONE_MS || (pulse.duration_ms < STRAIGHT_MS && pulse.snr_db < ALONE_SNR_DB)
}

/// Whether a pulse has a level part, and is not merely flattest by chance
/// somewhere on a gentle slope.
fn is_level(pulse: &Pulse) -> bool {
    let level = |khz_per_ms: f64| khz_per_ms.abs() < ALONE_LEVEL_KHZ_PER_MS;
    level(pulse.flattest_khz_per_ms) && (level(pulse.sweep_khz_per_ms) || pulse.shape != Shape::Qcf)
}
