//! Faults that change recordings.

use rand::Rng;

use super::activity::share_of_night;
use super::clock::{TIMER_END_S, at};
use super::{Ending, Fault, PlannedRecording, Sound};
use crate::teach::random::{Stream, between, stream};

/// When the recorder's clock goes back, and by how much.
const JUMP_S: (i64, i64) = (at(25, 40), -3600);
/// When the noise begins to rise, and when it has risen.
const MOIST_S: (i64, i64) = (at(25, 0), at(26, 0));
const MOIST_DB: f64 = 10.0;
/// When the settings change.
const CHANGE_S: i64 = at(24, 20);
/// What the microphone has lost at the night's end, decibels.
const MICROPHONE_DB: f64 = 24.0;
/// When a card that fills up has filled.
pub(super) const CARD_FULL_S: i64 = TIMER_END_S - 2 * 3600;

/// Does to recordings, in order of time, what a fault does; those of files beside them and of the
/// time of recordings are not done here.
pub(super) fn spoil(recordings: &mut [PlannedRecording], fault: Fault, seed: u64) {
    match fault {
        Fault::CutOff => cut_off(recordings, seed),
        Fault::CardFull => {
            if let Some(last) = recordings.last_mut() {
                let kept_s = 0.4 * last.duration_s;
                last.ending = Ending::CutOff { kept_s };
            }
        }
        Fault::Stuck => {
            for recording in recordings {
                recording.sound = Sound::Nothing;
            }
        }
        _ => recordings.iter_mut().for_each(|r| spoil_one(r, fault)),
    }
}

/// What a fault does to each recording by itself.
fn spoil_one(recording: &mut PlannedRecording, fault: Fault) {
    match fault {
        Fault::ClockJump if recording.start_s >= JUMP_S.0 => recording.written_s += JUMP_S.1,
        Fault::GainHigh => {
            recording.sound_gain_db += 28.0;
            recording.hiss_gain_db += 28.0;
        }
        Fault::GainLow => {
            recording.sound_gain_db -= 42.0;
            recording.hiss_gain_db -= 8.0;
        }
        Fault::Moisture => {
            let way = (recording.start_s - MOIST_S.0) as f64 / (MOIST_S.1 - MOIST_S.0) as f64;
            recording.hiss_gain_db += MOIST_DB * way.clamp(0.0, 1.0);
        }
        Fault::Microphone => {
            recording.microphone_loss_db = MICROPHONE_DB * share_of_night(recording.start_s);
        }
        Fault::Tone => recording.tone = true,
        Fault::Settings if recording.start_s >= CHANGE_S => {
            recording.rate_hz = 256_000;
            recording.high_pass_khz = 8.0;
        }
        Fault::RateLow => recording.rate_hz = 192_000,
        _ => {}
    }
}

/// Cuts some recordings off and leaves nothing of some others.
fn cut_off(recordings: &mut [PlannedRecording], seed: u64) {
    let mut random = stream(seed, Stream::Fault(Fault::CutOff.number()));
    for index in some(recordings.len(), 0.015, &mut random) {
        if let Some(recording) = recordings.get_mut(index) {
            let kept_s = between(&mut random, 0.1, 0.9) * recording.duration_s;
            recording.ending = Ending::CutOff { kept_s };
        }
    }
    for index in some(recordings.len(), 0.01, &mut random) {
        if let Some(recording) = recordings.get_mut(index) {
            recording.ending = Ending::Empty;
        }
    }
}

/// Two of so many at least, or a share of them, in order and none twice.
pub(super) fn some(count: usize, share: f64, random: &mut impl Rng) -> Vec<usize> {
    let wanted = ((share * count as f64) as usize).max(2);
    let stretch = count as f64 / wanted as f64;
    let mut chosen: Vec<usize> = (0..wanted)
        .map(|part| ((part as f64 + between(random, 0.0, 1.0)) * stretch) as usize)
        .collect();
    chosen.dedup();
    chosen
}

/// Whether a recording shows a fault of the night.
pub(super) fn shows(recording: &PlannedRecording, fault: Fault) -> bool {
    match fault {
        Fault::CutOff => recording.ending != Ending::Whole,
        Fault::ClockJump => recording.written_s < recording.start_s,
        Fault::Moisture => recording.start_s > MOIST_S.0,
        Fault::Settings => recording.start_s >= CHANGE_S,
        Fault::OtherNight => recording.sound == Sound::Handling,
        Fault::GainHigh | Fault::GainLow | Fault::RateLow => true,
        Fault::Tone | Fault::Stuck => true,
        Fault::Microphone => recording.microphone_loss_db > 3.0,
        // These show in what lies beside recordings, in the time between them, or in their shares.
        Fault::CardFull | Fault::Foreign | Fault::Twice => false,
        Fault::SilentGap | Fault::NoiseTriggers => false,
    }
}
