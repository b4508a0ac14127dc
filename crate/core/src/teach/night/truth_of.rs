//! A plan -> what is true of it.

use std::collections::BTreeMap;

use super::clock::{self, SUNRISE_S, SUNSET_S, TIMER_END_S, TIMER_START_S};
use super::recording::{POSITION_DEG, SERIAL};
use super::{Animal, Fault, FileTruth, Kind, NightTruth, PlannedFile, PlannedRecording};
use super::{Sound, TruePass, filter, spoil};
use crate::teach::Placed;
use crate::teach::hiss::interpolate;
use crate::teach::survey::fen_hiss;

/// How far below a call's maximum its own band is taken, decibels: as in [`crate::teach::TruePulse`].
const EDGE_DB: f64 = 20.0;
/// How far the band reaches beyond the call's lowest and highest frequency, kilohertz.
const BAND_KHZ: f64 = 1.0;

/// What is true of one file.
pub(super) fn file(file: &PlannedFile, faults: &[Fault]) -> FileTruth {
    let Some(recording) = file.recording() else {
        return FileTruth {
            faults: vec![Fault::Foreign],
            ..nothing(&file.path)
        };
    };
    let (lone, passes): (Vec<_>, Vec<_>) = heard(recording).into_iter().partition(|p| p.calls < 2);
    let all = || passes.iter().chain(&lone);
    let best_snr_db = all().map(|pass| pass.best_snr_db).reduce(f64::max);
    let shown = |fault: &&Fault| spoil::shows(recording, **fault);
    FileTruth {
        kind: kind(recording, !passes.is_empty(), !lone.is_empty()),
        start: Some(clock::stamp(recording.written_s)),
        true_start: Some(clock::stamp(recording.start_s)),
        rate_hz: Some(recording.rate_hz),
        duration_s: recording.kept_s(),
        holds_bat: best_snr_db.is_some(),
        best_snr_db,
        buzzes: passes.iter().map(|pass| u32::from(pass.buzz)).sum(),
        clipped: all().any(|pass| pass.level_db > 0.0),
        faults: faults.iter().filter(shown).copied().collect(),
        passes,
        ..nothing(&file.path)
    }
}

fn nothing(path: &str) -> FileTruth {
    FileTruth {
        path: path.to_owned(),
        kind: Kind::NoRecording,
        start: None,
        true_start: None,
        rate_hz: None,
        duration_s: 0.0,
        holds_bat: false,
        best_snr_db: None,
        passes: vec![],
        buzzes: 0,
        clipped: false,
        faults: vec![],
        copy_of: None,
    }
}

fn kind(recording: &PlannedRecording, passes: bool, lone: bool) -> Kind {
    match recording.sound {
        _ if recording.kept_s() == 0.0 => Kind::Hiss,
        Sound::Bats(_) if passes => Kind::Passes,
        Sound::Bats(_) if lone => Kind::SingleCall,
        Sound::Bats(_) | Sound::Nothing => Kind::Hiss,
        Sound::Rain => Kind::Rain,
        Sound::Insects => Kind::Insects,
        Sound::Wind => Kind::Wind,
        Sound::Handling => Kind::Handling,
    }
}

/// Each animal that can be heard in what reached the card.
fn heard(recording: &PlannedRecording) -> Vec<TruePass> {
    let Sound::Bats(animals) = &recording.sound else {
        return Vec::new();
    };
    let calls = recording.calls();
    let kept_s = recording.kept_s();
    let each = animals.iter().zip(calls).filter_map(|(animal, mut calls)| {
        calls.retain(|placed| placed.onset_s + placed.call.duration_ms() / 1e3 <= kept_s);
        pass(recording, animal, &calls)
    });
    each.collect()
}

fn pass(recording: &PlannedRecording, animal: &Animal, calls: &[Placed]) -> Option<TruePass> {
    let (first, last) = (calls.first()?, calls.last()?);
    let louder = |a: &&Placed, b: &&Placed| a.level_db.total_cmp(&b.level_db);
    let loudest = calls.iter().max_by(louder)?;
    let lost_db = filter::left_of_tone_db(animal.peak_khz, recording.microphone_loss_db);
    // Calls come at the end's pace only once the attack is over.
    let buzz = animal.flight.buzz.is_some_and(|buzz| {
        let close = |pair: &[Placed]| match pair {
            [a, b] => (b.onset_s - a.onset_s) * 1e3 < 1.1 * buzz.final_interval_ms,
            _ => false,
        };
        calls.windows(2).filter(|pair| close(pair)).count() >= 10
    });
    Some(TruePass {
        crowd: animal.crowd,
        start_s: first.onset_s,
        end_s: last.onset_s,
        calls: calls.len() as u32,
        peak_khz: animal.peak_khz,
        level_db: loudest.level_db + lost_db,
        best_snr_db: snr_db(recording, loudest),
        buzz,
    })
}

/// Power at the call's maximum over that of the hiss in its own band. A failing microphone takes
/// of both alike.
fn snr_db(recording: &PlannedRecording, placed: &Placed) -> f64 {
    let edges = placed.call.edges(EDGE_DB);
    let half_khz = f64::from(recording.rate_hz) / 2e3;
    let low_khz = (edges.low_khz - BAND_KHZ).clamp(0.0, half_khz);
    let high_khz = (edges.high_khz + BAND_KHZ).clamp(0.0, half_khz);
    let hiss = fen_hiss();
    let steps = 32;
    let step_khz = (high_khz - low_khz) / f64::from(steps);
    let gains = (0..steps).map(|step| {
        let khz = low_khz + (f64::from(step) + 0.5) * step_khz;
        libm::exp10(interpolate(&hiss.response, khz) / 10.0)
    });
    let coloured = gains.sum::<f64>() * step_khz / half_khz;
    let noise_db = hiss.rms_db + recording.hiss_gain_db + 10.0 * libm::log10(coloured);
    // A sine of amplitude 1 has a mean power of one half.
    placed.level_db - 10.0 * libm::log10(2.0) - noise_db
}

/// Tells of copies, which follow one another from an index on, what they are copies of.
pub(super) fn mark_copies(truths: &mut [FileTruth], from: usize, copied: &[usize]) {
    for (copy, &original) in (from..).zip(copied) {
        let path = truths.get(original).map(|truth| truth.path.clone());
        if let Some(truth) = truths.get_mut(copy) {
            truth.copy_of = path;
        }
        mark(truths, Some(copy), Fault::Twice);
        mark(truths, Some(original), Fault::Twice);
    }
}

/// Tells of a file that it shows a fault too.
pub(super) fn mark(truths: &mut [FileTruth], index: Option<usize>, fault: Fault) {
    if let Some(truth) = index.and_then(|index| truths.get_mut(index)) {
        truth.faults.push(fault);
        truth.faults.sort();
    }
}

/// What is true of the whole.
pub(super) fn night(seed: u64, faults: Vec<Fault>, files: Vec<FileTruth>) -> NightTruth {
    let mut files_by_kind = BTreeMap::new();
    for file in &files {
        *files_by_kind.entry(file.kind).or_default() += 1;
    }
    let once = || files.iter().filter(|file| file.copy_of.is_none());
    NightTruth {
        site: "Larkwater Fen".into(),
        recorder: SERIAL.into(),
        latitude_deg: POSITION_DEG.0,
        longitude_deg: POSITION_DEG.1,
        timer_start: clock::stamp(TIMER_START_S),
        timer_end: clock::stamp(TIMER_END_S),
        sunset: clock::stamp(SUNSET_S),
        sunrise: clock::stamp(SUNRISE_S),
        seed,
        faults,
        files_by_kind,
        files_with_bats: files.iter().map(|file| u32::from(file.holds_bat)).sum(),
        passes: once().map(|file| file.passes.len() as u32).sum(),
        buzzes: once().map(|file| file.buzzes).sum(),
        files,
    }
}
