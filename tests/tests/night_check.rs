//! Invented nights of sound, looked at from the bytes of their files alone: which hold bats, and what is wrong with the
//! recorder. What is looked for is the invented night's own truth.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test that cannot go on should stop"
)]

use std::collections::BTreeSet;

use dusklens_core::night::{
    Card, CardFile, Check, CheckKind, CheckVerdict, Examination, ExamineOptions, Night,
    NightSettings, Timer, TimerEdge, checks,
};
use dusklens_core::pulse::Verdict;
use dusklens_core::teach::night::{
    Fault, NightOptions, NightPlan, PlannedFile, Renderer, TIMER_END_S, TIMER_START_S,
    UTC_OFFSET_MIN,
};
use rayon::prelude::*;

/// Enough for the silences of a night to be told from chance.
const FILES: usize = 80;
/// Short, so that the tests are; a constant tone needs longer to be told from a sound that ends.
const SHORT_S: f64 = 1.2;
const TONE_S: f64 = 2.0;

fn examined(file: &PlannedFile, renderer: &Renderer) -> CardFile {
    let bytes = file.render(&mut renderer.clone()).unwrap();
    let mut examination = Examination::new(bytes, ExamineOptions::default());
    while !examination.step().unwrap() {}
    CardFile {
        path: file.path.clone(),
        modified_ms: None,
        examined: examination.into_finished().unwrap().examined,
    }
}

fn planned(faults: &[Fault], duration_s: f64) -> NightPlan {
    NightPlan::new(&NightOptions {
        files: FILES,
        duration_s,
        faults: faults.to_vec(),
        ..NightOptions::default()
    })
    .unwrap()
}

/// The nights of a card, with the timer that the plan had.
fn nights(plan: &NightPlan) -> Vec<Night> {
    let renderer = Renderer::new(plan);
    let recordings = plan
        .files
        .par_iter()
        .filter(|file| file.path.ends_with(".wav"));
    let files: Vec<CardFile> = recordings.map(|file| examined(file, &renderer)).collect();
    let mut card = Card::default();
    files.into_iter().for_each(|file| card.take(file));
    let clock = |seconds: i64| TimerEdge::Clock {
        minute: u32::try_from(seconds / 60 % (24 * 60)).unwrap(),
    };
    let settings = NightSettings {
        utc_offset_min: UTC_OFFSET_MIN,
        timer: Some(Timer {
            from: clock(TIMER_START_S),
            to: clock(TIMER_END_S),
        }),
        ..NightSettings::default()
    };
    card.nights(&settings).0
}

/// The night itself; tests of an afternoon before make a night of their own.
fn the_night(plan: &NightPlan) -> Night {
    let mut nights = nights(plan).into_iter();
    nights
        .find(|night| night.key.evening == "2026-06-14")
        .unwrap()
}

fn told(faults: &[Fault], duration_s: f64) -> Vec<Check> {
    let night = the_night(&planned(faults, duration_s));
    checks(&night, &night.frame())
}

#[track_caller]
fn assert_noticed(told: &[Check], kind: CheckKind) {
    let check = told.iter().find(|check| check.kind == kind).unwrap();
    assert!(check.verdict <= CheckVerdict::Look, "{check:#?}");
}

#[test]
fn a_sound_night_is_told_file_by_file_and_draws_no_trouble() {
    let plan = planned(&[], SHORT_S);
    let night = the_night(&plan);
    let held: BTreeSet<&str> = night
        .files
        .iter()
        .filter(|own| own.file.examined.content().unwrap().verdict == Verdict::HoldsPulses)
        .map(|own| own.file.path.as_str())
        .collect();
    let truth = &plan.truth.files;
    let with_bats: BTreeSet<&str> = truth
        .iter()
        .filter(|file| file.holds_bat)
        .map(|file| file.path.as_str())
        .collect();
    // Single faint calls are left to a person: the verdict is then `unsure`.
    let plain: BTreeSet<&str> = plan
        .files_with_bats_above(15.0)
        .map(|file| file.path.as_str())
        .collect();
    let with_passes: BTreeSet<&str> = truth
        .iter()
        .filter(|file| !file.passes.is_empty())
        .map(|file| file.path.as_str())
        .collect();
    let sure: Vec<_> = plain.intersection(&with_passes).collect();
    let missed = sure.iter().filter(|path| !held.contains(***path)).count();
    let wrong = held.difference(&with_bats).count();
    assert!(sure.len() > 30, "{}", sure.len());
    assert!(
        missed * 50 <= sure.len(),
        "{missed} of {} missed",
        sure.len()
    );
    assert!(wrong * 50 <= held.len(), "{wrong} of {} wrong", held.len());

    let told = checks(&night, &night.frame());
    assert!(told[0].verdict > CheckVerdict::Trouble, "{:#?}", told[0]);
}

#[test]
fn faults_that_come_together_are_all_noticed() {
    let told = told(&Fault::together(), SHORT_S);
    for kind in [
        CheckKind::BrokenFiles,
        CheckKind::Copies,
        CheckKind::ClockJumps,
        CheckKind::SilentGaps,
        CheckKind::CardFull,
        CheckKind::Clipping,
        CheckKind::NoiseDrift,
        CheckKind::SettingsChanged,
    ] {
        assert_noticed(&told, kind);
    }
}

#[test]
fn faults_that_others_would_hide_are_noticed_alone() {
    for (fault, kind, duration_s) in [
        (Fault::GainLow, CheckKind::FaintCalls, SHORT_S),
        (Fault::Microphone, CheckKind::HighFrequencies, SHORT_S),
        (Fault::Tone, CheckKind::ConstantTones, TONE_S),
    ] {
        assert_noticed(&told(&[fault], duration_s), kind);
    }
}
