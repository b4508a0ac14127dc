use std::f64::consts::TAU;

use realfft::RealFftPlanner;

use super::*;
use crate::pulse::{Findings, Settings, measure};
use crate::recording::{OpenOptions, Recording};
use crate::teach::night::{Crowd, Kind, PlannedFile, Renderer, filter};
use crate::teach::survey::fen_hiss;

const RATE_HZ: f64 = 384e3;

fn measured(file: &PlannedFile, renderer: &mut Renderer) -> Findings {
    let bytes = file.render(renderer).unwrap();
    let recording = Recording::open(bytes, &OpenOptions::default()).unwrap();
    measure(&recording, 0, &Settings::default()).unwrap()
}

/// The files of a kind with what is true of them.
fn of_kind(plan: &NightPlan, kind: Kind) -> Vec<(&PlannedFile, &crate::teach::night::FileTruth)> {
    let files = plan.files.iter().zip(&plan.truth.files);
    files.filter(|(_, truth)| truth.kind == kind).collect()
}

/// Mean power between two frequencies, where a full-scale square wave has 1.
fn power_between(samples: &[f32], low_khz: f64, high_khz: f64) -> f64 {
    let mut samples: Vec<f64> = samples.iter().map(|&s| f64::from(s)).collect();
    let count = samples.len() as f64;
    let transform = RealFftPlanner::<f64>::new().plan_fft_forward(samples.len());
    let mut spectrum = transform.make_output_vec();
    transform.process(&mut samples, &mut spectrum).unwrap();
    let khz = |bin: usize| bin as f64 * RATE_HZ / count / 1e3;
    let bins = spectrum.iter().enumerate();
    let within = bins.filter(|(bin, _)| (low_khz..high_khz).contains(&khz(*bin)));
    // Parseval's theorem; every bin stands for its negative twin too.
    within.map(|(_, v)| 2.0 * v.norm_sqr()).sum::<f64>() / (count * count)
}

fn db(ratio: f64) -> f64 {
    10.0 * libm::log10(ratio)
}

#[test]
fn a_pass_is_measured_where_the_truth_says_and_hiss_holds_nothing() {
    let plan = night(60, 0.8, &[]);
    let mut renderer = Renderer::new(&plan);
    let loud = of_kind(&plan, Kind::Passes).into_iter().find(|(_, truth)| {
        matches!(truth.passes.as_slice(), [pass]
            if pass.crowd == Crowd::About45 && pass.best_snr_db > 30.0 && !pass.buzz)
    });
    let (file, truth) = loud.unwrap();
    let pass = &truth.passes[0];
    let found = measured(file, &mut renderer);
    assert!(
        found.pulses.len() as u32 >= pass.calls / 2,
        "{}",
        found.pulses.len()
    );
    assert!(found.pulses.len() as u32 <= pass.calls);
    let best = found
        .pulses
        .iter()
        .max_by(|a, b| a.snr_db.total_cmp(&b.snr_db));
    let best = best.unwrap();
    assert!(
        (best.peak_khz - pass.peak_khz).abs() < 1.5,
        "{} kHz",
        best.peak_khz
    );
    assert!(
        (best.snr_db - pass.best_snr_db).abs() < 3.0,
        "{} dB",
        best.snr_db
    );
    assert!(
        (best.level_db - pass.level_db).abs() < 1.0,
        "{} dB",
        best.level_db
    );

    let (hiss, _) = of_kind(&plan, Kind::Hiss)[0];
    assert!(measured(hiss, &mut renderer).pulses.is_empty());
}

#[test]
fn files_are_the_same_from_any_renderer_and_unlike_one_another() {
    let plan = night(60, 0.3, &[Fault::CutOff, Fault::Foreign]);
    let first = Renderer::new(&plan);
    let (mut one, mut other) = (first.clone(), Renderer::new(&plan));
    let mut hisses = Vec::new();
    for file in &plan.files {
        let bytes = file.render(&mut one).unwrap();
        assert_eq!(bytes, file.render(&mut other).unwrap(), "{}", file.path);
        let Some(recording) = file.recording() else {
            continue;
        };
        if recording.kept_s() < recording.duration_s {
            let kept = (recording.kept_s() * RATE_HZ).round() as usize;
            let expected = if kept == 0 { 0 } else { 44 + 2 * kept };
            assert_eq!(bytes.len(), expected, "{}", file.path);
        }
        hisses.push(bytes.get(44..2044).map(<[u8]>::to_vec));
    }
    hisses.retain(Option::is_some);
    let count = hisses.len();
    hisses.sort();
    hisses.dedup();
    assert_eq!(hisses.len(), count);
}

#[test]
fn pieces_of_hiss_have_its_power_and_a_failing_microphone_takes_the_upper_part() {
    let plan = night(60, 0.6, &[]);
    let (file, _) = of_kind(&plan, Kind::Hiss)[0];
    let mut recording = file.recording().unwrap().clone();
    let mut renderer = Renderer::new(&plan);
    let whole = renderer.samples(&recording).to_vec();
    let bands = [(10.0, 35.0), (45.0, 90.0), (90.0, 150.0)];
    for (low, high) in bands {
        let expected = fen_hiss().power_between(low, high, RATE_HZ);
        let off_db = db(power_between(&whole, low, high) / expected);
        assert!(off_db.abs() < 0.5, "{off_db} dB from {low} to {high} kHz");
    }
    recording.microphone_loss_db = 18.0;
    let failing = renderer.samples(&recording).to_vec();
    for ((low, high), loss_db) in bands.into_iter().zip([0.0, 18.0, 18.0]) {
        let lost = power_between(&whole, low, high) / power_between(&failing, low, high);
        assert!(
            (db(lost) - loss_db).abs() < 0.7,
            "{} dB from {low} kHz",
            db(lost)
        );
    }
}

#[test]
fn the_tone_is_one_line_without_seams() {
    let plan = night(60, 0.6, &[Fault::Tone]);
    let mut renderer = Renderer::new(&plan);
    let (file, _) = of_kind(&plan, Kind::Hiss)[0];
    let samples = renderer.samples(file.recording().unwrap());
    // A sine of amplitude a has the power a * a / 2.
    let line_db = db(power_between(samples, 38.35, 38.45));
    assert!((line_db - (-52.0 - 3.01)).abs() < 0.2, "{line_db} dB");
    let beside_db = db(power_between(samples, 38.5, 38.6));
    assert!(beside_db < line_db - 30.0, "{beside_db} dB");
}

/// A second-order Butterworth high-pass lets through 1 / sqrt(1 + (corner / f)^4) (textbook).
#[test]
fn the_high_pass_is_butterworths() {
    for (khz, expected_db) in [(8.0, -3.0103), (4.0, -12.304), (40.0, -0.007)] {
        let tone = |index: u32| libm::sin(TAU * khz * 1e3 / RATE_HZ * f64::from(index)) as f32;
        let mut samples: Vec<f32> = (0..38_400).map(tone).collect();
        filter::high_pass(&mut samples, RATE_HZ, 8.0);
        // Once it has settled, over whole cycles.
        let settled = &samples[19_200..];
        let power = settled.iter().map(|&s| f64::from(s * s)).sum::<f64>() / 19_200.0;
        let off_db = db(2.0 * power) - expected_db;
        assert!(off_db.abs() < 0.05, "{off_db} dB at {khz} kHz");
    }
}
