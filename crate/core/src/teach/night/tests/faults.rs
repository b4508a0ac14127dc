use super::*;
use crate::teach::night::{Content, Crowd, Ending, FileTruth, Sound};

const FILES: usize = 300;

/// A night with a fault beside the same night without it, and the night's own recordings of both.
fn beside(fault: Fault) -> (NightPlan, Vec<(PlannedRecording, PlannedRecording)>) {
    let (with, without) = (night(FILES, 5.0, &[fault]), night(FILES, 5.0, &[]));
    let pairs = recordings(&with).into_iter().take(FILES).cloned();
    let pairs = pairs.zip(recordings(&without).into_iter().cloned());
    let pairs = pairs.collect();
    (with, pairs)
}

/// Recordings that differ once `undo` has taken a fault from one of them: none.
fn only(fault: Fault, undo: impl Fn(&mut PlannedRecording, &PlannedRecording)) -> NightPlan {
    let (plan, pairs) = beside(fault);
    let mut changed = 0;
    for (mut with, without) in pairs {
        changed += usize::from(with != without);
        undo(&mut with, &without);
        assert_eq!(with, without, "{} changes more", fault.name());
    }
    assert!(changed > 3, "{} changed {changed} files", fault.name());
    plan
}

fn showing(plan: &NightPlan, fault: Fault) -> impl Iterator<Item = &FileTruth> {
    let files = plan.truth.files.iter();
    files.filter(move |file| file.faults.contains(&fault))
}

#[test]
fn names_are_those_of_the_truth() {
    for fault in Fault::ALL {
        assert_eq!(fault.name().parse(), Ok(fault));
        let written = serde_json::to_string(&fault).unwrap();
        assert_eq!(written, format!("\"{}\"", fault.name()));
    }
    assert!(
        "broken"
            .parse::<Fault>()
            .unwrap_err()
            .contains("cut-off, foreign")
    );
}

#[test]
fn faults_of_level_and_settings_change_those_alone() {
    let plan = only(Fault::GainHigh, |with, _| {
        (with.sound_gain_db, with.hiss_gain_db) = (0.0, 0.0);
    });
    let bats = plan
        .truth
        .files
        .iter()
        .filter(|file| !file.passes.is_empty());
    let (clipped, whole): (Vec<_>, Vec<_>) = bats.partition(|file| file.clipped);
    assert!(clipped.len() > whole.len(), "{}", clipped.len());
    let plan = only(Fault::GainLow, |with, _| {
        (with.sound_gain_db, with.hiss_gain_db) = (0.0, 0.0);
    });
    let faint = plan.files_with_bats_above(20.0).count();
    assert!(2 * faint < plan.truth.files_with_bats as usize, "{faint}");
    let plan = only(Fault::Moisture, |with, _| with.hiss_gain_db = 0.0);
    let all = recordings(&plan);
    assert_eq!(all[0].hiss_gain_db, 0.0);
    assert_eq!(all[FILES - 1].hiss_gain_db, 10.0);
    let plan = only(Fault::Microphone, |with, _| with.microphone_loss_db = 0.0);
    let losses = recordings(&plan);
    let rises =
        |pair: &[&PlannedRecording]| pair[0].microphone_loss_db < pair[1].microphone_loss_db;
    assert!(losses.windows(2).all(rises));
    let plan = only(Fault::Tone, |with, _| with.tone = false);
    assert_eq!(showing(&plan, Fault::Tone).count(), FILES);
    let plan = only(Fault::Settings, |with, _| {
        (with.rate_hz, with.high_pass_khz) = (384_000, 1.0);
    });
    let said = showing(&plan, Fault::Settings);
    assert!(said.into_iter().all(|file| file.rate_hz == Some(256_000)));
    let plan = only(Fault::RateLow, |with, _| with.rate_hz = 384_000);
    let steep = |file: &&FileTruth| file.passes.iter().any(|p| p.crowd == Crowd::SteepSweeps);
    assert!(plan.truth.files.iter().filter(steep).count() > 10);
    let plan = only(Fault::ClockJump, |with, without| {
        with.written_s = without.written_s
    });
    for file in showing(&plan, Fault::ClockJump) {
        assert!(file.start < file.true_start, "{}", file.path);
    }
}

#[test]
fn faults_of_files_spoil_some_or_add_some() {
    let plan = only(Fault::CutOff, |with, _| with.ending = Ending::Whole);
    let empty = recordings(&plan)
        .into_iter()
        .filter(|r| r.ending == Ending::Empty);
    assert!((2..=FILES / 20).contains(&empty.count()));
    assert!((5..=FILES / 10).contains(&showing(&plan, Fault::CutOff).count()));

    let (plan, pairs) = beside(Fault::Twice);
    assert!(pairs.iter().all(|(with, without)| with == without));
    let truths = plan.truth.files.iter().zip(&plan.files);
    let copies: Vec<_> = truths
        .filter(|(truth, _)| truth.copy_of.is_some())
        .collect();
    assert_eq!(copies.len(), plan.files.len() - FILES);
    for (truth, copy) in copies {
        let original = plan
            .files
            .iter()
            .find(|f| Some(&f.path) == truth.copy_of.as_ref());
        assert_eq!(original.unwrap().content, copy.content);
    }

    let (plan, pairs) = beside(Fault::Foreign);
    assert!(pairs.iter().all(|(with, without)| with == without));
    let foreign = plan.files.iter().filter(|f| f.recording().is_none());
    let named: Vec<_> = foreign.filter(|f| f.path.ends_with(".wav")).collect();
    assert!(matches!(named.as_slice(), [file] if matches!(file.content, Content::Text(_))));

    let (plan, pairs) = beside(Fault::OtherNight);
    assert!(pairs.iter().all(|(with, without)| with == without));
    for file in showing(&plan, Fault::OtherNight) {
        assert!(file.path.contains("NIGHT_20260613/FEN-07_20260613_150"));
        let start = file.start.as_deref().unwrap();
        assert!(start.starts_with("2026-06-13T15:0"), "{start}");
    }
}

#[test]
fn faults_of_time_leave_the_rest_of_the_night() {
    let plan = night(FILES, 5.0, &[Fault::SilentGap]);
    let starts: Vec<_> = recordings(&plan).iter().map(|r| r.start_s).collect();
    let longest = starts.windows(2).map(|pair| pair[1] - pair[0]).max();
    assert!(
        (70 * 60..85 * 60).contains(&longest.unwrap()),
        "{longest:?} s"
    );

    let plan = night(FILES, 5.0, &[Fault::CardFull]);
    let all = recordings(&plan);
    assert_eq!(all.len(), FILES);
    let last = all[FILES - 1];
    assert!(last.kept_s() < last.duration_s);
    let end = plan
        .truth
        .files
        .iter()
        .filter_map(|file| file.start.as_deref())
        .max();
    assert!(end < Some("2026-06-15T02:52"), "{end:?}");
    assert_eq!(showing(&plan, Fault::CardFull).count(), 1);

    let plan = night(FILES, 5.0, &[Fault::Stuck]);
    for pair in recordings(&plan).windows(2) {
        assert_eq!(pair[1].start_s - pair[0].start_s, 5);
        assert_eq!((pair[1].duration_s, &pair[1].sound), (5.0, &Sound::Nothing));
    }

    let plan = night(FILES, 5.0, &[Fault::NoiseTriggers]);
    let bats = plan.truth.files_with_bats as usize;
    assert!((1..FILES / 12).contains(&bats), "{bats}");
}
