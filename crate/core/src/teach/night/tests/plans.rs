use std::collections::BTreeSet;

use super::*;
use crate::teach::night::{Kind, NightError, Sound, TIMER_END_S, TIMER_START_S};
use crate::teach::survey::fen_hiss;
use crate::teach::{Background, Scene};

#[test]
fn the_same_seed_gives_the_same_night_and_another_one_another() {
    let plan = night(200, 5.0, &Fault::together());
    assert_eq!(plan, night(200, 5.0, &Fault::together()));
    let options = NightOptions {
        files: 200,
        seed: 2,
        ..NightOptions::default()
    };
    let other = NightPlan::new(&options).unwrap();
    assert_ne!(other.files, night(200, 5.0, &[]).files);
}

#[test]
fn a_night_without_faults_is_as_the_timer_wants_it() {
    let plan = night(2000, 5.0, &[]);
    let recordings = recordings(&plan);
    assert_eq!((recordings.len(), plan.files.len()), (2000, 2000));
    let paths: BTreeSet<_> = plan.files.iter().map(|file| &file.path).collect();
    assert_eq!(paths.len(), 2000);
    assert!(recordings[0].start_s >= TIMER_START_S);
    let last = recordings[1999];
    assert!(last.start_s as f64 + last.duration_s <= TIMER_END_S as f64);
    for pair in recordings.windows(2) {
        let free_s = pair[1].start_s as f64 - pair[0].start_s as f64 - pair[0].duration_s;
        assert!((0.9..1200.0).contains(&free_s), "{free_s} s");
    }
    assert!(plan.truth.faults.is_empty());
    assert!(plan.truth.files.iter().all(|file| file.faults.is_empty()));
    // Colder towards the morning.
    assert!(recordings[0].temperature_c > last.temperature_c + 8.0);
}

#[test]
fn few_recordings_leave_no_gap_that_looks_like_a_fault() {
    for seed in 0..20 {
        let options = NightOptions {
            seed,
            ..NightOptions::default()
        };
        let plan = NightPlan::new(&options).unwrap();
        let starts: Vec<_> = recordings(&plan).iter().map(|r| r.start_s).collect();
        let longest = starts.windows(2).map(|pair| pair[1] - pair[0]).max();
        assert!(longest < Some(45 * 60), "{longest:?} s, seed {seed}");
        assert!(starts[0] < TIMER_START_S + 30 * 60);
        assert!(starts[59] > TIMER_END_S - 30 * 60);
    }
}

#[test]
fn the_truth_counts_what_the_plan_holds() {
    let plan = night(1000, 5.0, &Fault::together());
    let truth = &plan.truth;
    assert_eq!(truth.files.len(), plan.files.len());
    assert_eq!(
        truth.files_by_kind.values().sum::<u32>() as usize,
        plan.files.len()
    );
    let mut bats = 0;
    for (file, said) in plan.files.iter().zip(&truth.files) {
        assert_eq!(file.path, said.path);
        let calls = file.recording().map_or(0, |recording| {
            let kept_s = recording.kept_s();
            let calls = recording.calls().into_iter().flatten();
            let whole = calls.filter(|c| c.onset_s + c.call.duration_ms() / 1e3 <= kept_s);
            whole.count()
        });
        assert_eq!(said.holds_bat, calls > 0, "{}", file.path);
        let counted: u32 = said.passes.iter().map(|pass| pass.calls).sum();
        let alone = calls as u32 - counted;
        assert!(alone <= 3, "{}: {alone} calls in no pass", file.path);
        assert_eq!(said.kind == Kind::Passes, !said.passes.is_empty());
        bats += u32::from(said.holds_bat);
    }
    assert_eq!(truth.files_with_bats, bats);
    assert!(truth.passes > 400 && truth.buzzes > 20, "{truth:?}");
}

#[test]
fn crowds_come_at_their_hours() {
    let plan = night(2000, 5.0, &[]);
    let early = |kind: fn(&PlannedRecording) -> bool| {
        let all: Vec<_> = recordings(&plan).into_iter().filter(|r| kind(r)).collect();
        let early = all.iter().filter(|r| r.start_s < 23 * 3600).count();
        early as f64 / all.len() as f64
    };
    fn low(recording: &PlannedRecording) -> bool {
        let Sound::Bats(animals) = &recording.sound else {
            return false;
        };
        animals.iter().any(|animal| animal.peak_khz < 30.0)
    }
    assert!(early(low) > 0.8, "{}", early(low));
    assert!(early(|r| r.sound == Sound::Insects) > 0.6);
    assert_eq!(early(|r| r.sound == Sound::Rain), 0.0);
}

#[test]
fn the_ratio_to_the_hiss_is_that_of_a_scene() {
    let plan = night(60, 1.0, &[]);
    for (file, said) in plan.files.iter().zip(&plan.truth.files) {
        let (Some(recording), [pass]) = (file.recording(), said.passes.as_slice()) else {
            continue;
        };
        let scene = Scene {
            rate_hz: recording.rate_hz,
            duration_s: recording.duration_s,
            seed: 1,
            calls: recording.calls().into_iter().flatten().collect(),
            backgrounds: vec![Background::Hiss(fen_hiss())],
        };
        let pulses = scene.truth(&[]);
        let best = pulses
            .iter()
            .filter_map(|pulse| pulse.snr_db)
            .reduce(f64::max);
        let off_db = pass.best_snr_db - best.unwrap();
        assert!(off_db.abs() < 1.0, "{}: {off_db} dB", file.path);
        let near = pulses
            .iter()
            .map(|p| (p.peak_khz / pass.peak_khz - 1.0).abs());
        assert!(near.reduce(f64::min) < Some(0.02), "{}", file.path);
        // One file is enough: a scene's truth takes its time.
        return;
    }
    panic!("no file with one pass");
}

#[test]
fn what_does_not_fit_is_refused_in_words() {
    let options = NightOptions {
        files: 20_000,
        ..NightOptions::default()
    };
    let error = NightPlan::new(&options).unwrap_err();
    let NightError::TooMany { most, .. } = error else {
        panic!("{error}");
    };
    let fits = NightOptions {
        files: most,
        ..options
    };
    assert_eq!(NightPlan::new(&fits).unwrap().files.len(), most);
    let options = NightOptions {
        duration_s: f64::NAN,
        ..fits
    };
    let error = NightPlan::new(&options).unwrap_err();
    assert!(error.to_string().contains("cannot be made"), "{error}");
}
