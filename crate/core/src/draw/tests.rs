//! What pictures show, checked by meaning: the right thing at the right pixel.

#![allow(clippy::unwrap_used, reason = "a failed test may panic")]

use super::{ColourMap, Drawing, Look, Raster, View};
use crate::spectrum::LOWEST_DB;
use proptest::prelude::*;
use std::f64::consts::TAU;

const RATE_HZ: f64 = 500e3;

const OVERVIEW: View = View {
    channel: 0,
    start_s: 0.0,
    end_s: 5.0,
    low_khz: 0.0,
    high_khz: 250.0,
    width_px: 1200,
    height_px: 400,
};

fn drawn(samples: &[f32], view: &View) -> Raster {
    let mut drawing = Drawing::new(view, 1, RATE_HZ, samples.len() as u64).unwrap();
    while let Some(block) = drawing.next_block() {
        drawing.feed(&samples[block.start as usize..block.end as usize]);
    }
    drawing.raster().clone()
}

fn tone(khz: f64, amplitude: f64, seconds: f64) -> Vec<f32> {
    (0..(seconds * RATE_HZ) as usize)
        .map(|n| (amplitude * (TAU * khz * 1e3 * n as f64 / RATE_HZ).sin()) as f32)
        .collect()
}

/// Even noise of an amplitude, from Knuth's MMIX congruential sequence.
fn hiss(amplitude: f32, seconds: f64) -> Vec<f32> {
    let mut state = 1u64;
    (0..(seconds * RATE_HZ) as usize)
        .map(|_| {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            amplitude * ((state >> 40) as f32 / (1u64 << 23) as f32 - 1.0)
        })
        .collect()
}

fn column(raster: &Raster, column: u32) -> &[f32] {
    let height = raster.height() as usize;
    &raster.levels_db()[column as usize * height..][..height]
}

/// The index of the largest level, and the level.
fn loudest(levels: impl IntoIterator<Item = f32>) -> (usize, f32) {
    let levels = levels.into_iter().enumerate();
    levels.max_by(|a, b| a.1.total_cmp(&b.1)).unwrap()
}

#[test]
fn a_tone_lies_in_its_row_at_its_level() {
    let half_scale = tone(62.5, 0.5, 0.5);
    for span_s in [0.5, 0.01] {
        for (low_khz, high_khz, height_px) in
            [(0.0, 250.0, 400), (0.0, 250.0, 90), (55.0, 75.0, 600)]
        {
            let view = View {
                start_s: 0.1,
                end_s: 0.1 + span_s,
                low_khz,
                high_khz,
                height_px,
                ..OVERVIEW
            };
            let raster = drawn(&half_scale, &view);
            let (row, level) = loudest(column(&raster, 300).iter().copied());
            let wanted = view.frequency_axis().position_px(62.5);
            // Between two rows either is right; a curve between bins has its top within a bin.
            assert!(
                (row as f64 + 0.5 - wanted).abs() <= 0.6 + f64::from(height_px) / 200.0,
                "row {row} for {wanted}"
            );
            assert!(
                (level + 6.02).abs() < 0.1,
                "{level} dB for half of full scale"
            );
        }
    }
}

#[test]
fn a_click_lies_in_its_column_at_its_level() {
    let mut samples = vec![0.0; 100_000];
    samples[40_000] = 1.0;
    for (start_s, end_s) in [
        (0.0, 0.2),
        (0.07, 0.09),
        (0.0799, 0.0801),
        (0.07999, 0.08001),
    ] {
        let view = View {
            start_s,
            end_s,
            ..OVERVIEW
        };
        let raster = drawn(&samples, &view);
        let levels = (0..1200).map(|n| column(&raster, n)[200]);
        let (found, level) = loudest(levels);
        let wanted = view.time_axis().position_px(0.08);
        let sample_px = 1200.0 / (end_s - start_s) / RATE_HZ;
        assert!(
            (found as f64 + 0.5 - wanted).abs() <= 1.5 + sample_px / 2.0,
            "column {found} for {wanted}"
        );
        // A single sample in the middle of Hann's window of n samples: 1 / (n / 4), so between 64 and 512 samples.
        assert!((-42.5..-23.9).contains(&level), "{level} dB");
    }
}

#[test]
fn a_recording_reversed_in_time_gives_the_mirrored_picture() {
    let mut samples = hiss(0.01, 0.04);
    // One sample is the middle: frames are centred on samples.
    samples.push(0.0);
    let end_s = samples.len() as f64 / RATE_HZ;
    let half_sample_s = 0.5 / RATE_HZ;
    let view = View {
        // Samples lie in the middle of the view's steps, so that both directions place them alike.
        start_s: -half_sample_s,
        end_s: end_s - half_sample_s,
        width_px: 667,
        height_px: 100,
        ..OVERVIEW
    };
    let forward = drawn(&samples, &view);
    samples.reverse();
    let backward = drawn(&samples, &view);
    for n in 0..667 {
        for (a, b) in column(&forward, n).iter().zip(column(&backward, 666 - n)) {
            assert!((a - b).abs() < 0.1, "column {n}: {a} and {b} dB");
        }
    }
}

#[test]
fn a_tone_that_the_file_cuts_leaves_no_click_at_its_edges() {
    // Mirrored about a crest a cosine goes on unbroken.
    let samples: Vec<f32> = (0..25_001)
        .map(|n| (TAU * f64::from(n) / 10.0).cos() as f32)
        .collect();
    let raster = drawn(
        &samples,
        &View {
            end_s: 0.05,
            ..OVERVIEW
        },
    );
    for n in [0, 1, 1198, 1199] {
        // 150 kHz away from the tone of 50 kHz.
        assert!(
            column(&raster, n)[80] < -100.0,
            "{} dB",
            column(&raster, n)[80]
        );
    }
}

#[test]
fn beyond_the_recording_and_its_band_there_is_nothing() {
    let view = View {
        start_s: -0.1,
        end_s: 0.3,
        high_khz: 300.0,
        width_px: 400,
        height_px: 300,
        ..OVERVIEW
    };
    let raster = drawn(&hiss(0.1, 0.2), &view);
    for n in 0..400 {
        let inside = (100..300).contains(&n);
        for (row, &level) in column(&raster, n).iter().enumerate() {
            // Half the sampling rate itself, 250 kHz, is the first value of row 49.
            let sounds = inside && row >= 49;
            assert_eq!(level > LOWEST_DB, sounds, "column {n}, row {row}: {level}");
        }
    }
}

#[test]
fn a_view_beside_the_recording_and_a_recording_of_nothing_are_blank() {
    let samples = hiss(0.1, 0.01);
    let later = View {
        start_s: 10.0,
        end_s: 11.0,
        ..OVERVIEW
    };
    for raster in [drawn(&samples, &later), drawn(&[], &OVERVIEW)] {
        assert!(raster.levels_db().iter().all(|&level| level == LOWEST_DB));
    }
}

#[test]
fn levels_hold_when_samples_go_missing_or_make_no_sense() {
    let view = View {
        end_s: 0.1,
        width_px: 100,
        height_px: 50,
        ..OVERVIEW
    };
    let mut drawing = Drawing::new(&view, 1, RATE_HZ, 50_000).unwrap();
    drawing.feed(&[f32::NAN; 300]);
    while drawing.next_block().is_some() {
        drawing.feed(&[]);
    }
    let raster = drawing.raster();
    assert!(raster.levels_db().iter().all(|level| level.is_finite()));
}

#[test]
fn a_step_is_bounded_and_progress_is_even() {
    let hour = 3600 * 500_000;
    let view = View {
        end_s: 3600.0,
        ..OVERVIEW
    };
    let mut drawing = Drawing::new(&view, 1, RATE_HZ, hour).unwrap();
    let mut end = 0;
    for _ in 0..5 {
        let block = drawing.next_block().unwrap();
        assert!(
            block.end - block.start < 600_000,
            "{} samples at once",
            block.end - block.start
        );
        assert!(
            block.start <= end,
            "samples {end} to {} are skipped",
            block.start
        );
        end = block.end;
        drawing.feed(&vec![0.0; (block.end - block.start) as usize]);
    }
    let done = drawing.done_fraction();
    assert!((done - end as f64 / hour as f64).abs() < 1e-3, "{done}");
}

#[test]
fn a_view_of_an_hour_takes_the_memory_of_a_view() {
    let view = View {
        end_s: 3600.0,
        ..OVERVIEW
    };
    let drawing = Drawing::new(&view, 1, RATE_HZ, 3600 * 500_000).unwrap();
    assert_eq!(drawing.raster().levels_db().len(), 1200 * 400);
}

#[test]
fn changing_colours_keeps_the_levels() {
    let raster = drawn(
        &hiss(0.1, 0.1),
        &View {
            end_s: 0.1,
            ..OVERVIEW
        },
    );
    let before = raster.clone();
    let (mut a, mut b) = (Vec::new(), Vec::new());
    let look = |map| Look {
        map,
        floor_db: None,
        range_db: None,
    };
    let first = raster.paint(&look(ColourMap::Paper), &mut a).unwrap();
    let second = raster.paint(&look(ColourMap::Viridis), &mut b).unwrap();
    assert_eq!(first, second);
    assert_ne!(a, b);
    assert_eq!(raster, before);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// A pulse of 2 ms, 12 dB above the loudest hiss of its columns, in a view
    /// where a column lasts 4 ms: it must show wherever it falls.
    #[test]
    fn a_short_pulse_shows_in_a_long_view(start in 0usize..2_498_000, khz in 20f64..120.0) {
        let mut samples = hiss(0.003, 5.0);
        for n in 0..1000 {
            let envelope = 0.5 - 0.5 * (TAU * n as f64 / 1000.0).cos();
            samples[start + n] += (0.05 * envelope * (TAU * khz * 1e3 * n as f64 / RATE_HZ).sin()) as f32;
        }
        let raster = drawn(&samples, &OVERVIEW);
        let middle = (start as f64 + 500.0) / RATE_HZ;
        let wanted = OVERVIEW.time_axis().position_px(middle);
        let row = OVERVIEW.frequency_axis().position_px(khz) as usize;
        let (found, level) = loudest((0..1200).map(|n| column(&raster, n)[row]));
        prop_assert!((found as f64 + 0.5 - wanted).abs() <= 1.0, "column {} for {}", found, wanted);
        // Its own level is 0.05 of full scale, -26 dB; a row off a bin's centre loses up to 1.5 dB.
        prop_assert!((-29.0..-25.5).contains(&level), "{} dB", level);
        let elsewhere = (0..1200u32).filter(|&n| n.abs_diff(found as u32) > 1);
        let (_, noise) = loudest(elsewhere.map(|n| column(&raster, n)[row]));
        prop_assert!(level > noise + 12.0, "{} dB beside {} dB", level, noise);
    }

    #[test]
    fn every_view_is_done_in_steps_that_move_on(start_s in -0.5f64..2.0, span_log in -6f64..1.0, frames in 0u64..500_000) {
        let end_s = start_s + 10f64.powf(span_log);
        let view = View { start_s, end_s, width_px: 64, height_px: 40, ..OVERVIEW };
        let mut drawing = Drawing::new(&view, 1, RATE_HZ, frames).unwrap();
        let samples = vec![0.5; frames as usize];
        let mut steps = 0;
        while let Some(block) = drawing.next_block() {
            prop_assert!(block.start < block.end && block.end <= frames);
            let before = drawing.done_fraction();
            drawing.feed(&samples[block.start as usize..block.end as usize]);
            prop_assert!(drawing.done_fraction() > before);
            steps += 1;
            prop_assert!(steps < 1000);
        }
        prop_assert_eq!(drawing.done_fraction(), 1.0);
    }
}

#[test]
fn seams_between_steps_do_not_show() {
    let samples = hiss(0.1, 5.0);
    // Rows as wide as bins, so that no view is worth padding and all use the same transform.
    let whole_view = View {
        height_px: 200,
        ..OVERVIEW
    };
    let whole = drawn(&samples, &whole_view);
    let axis = whole_view.time_axis();
    // Steps of this view end about every second, 240 columns.
    for first in (0..1190).step_by(7) {
        let part = View {
            start_s: axis.value_at(f64::from(first)),
            end_s: axis.value_at(f64::from(first) + 10.0),
            width_px: 10,
            ..whole_view
        };
        let part = drawn(&samples, &part);
        for n in 0..10 {
            assert_eq!(
                column(&part, n),
                column(&whole, first + n),
                "column {}",
                first + n
            );
        }
    }
}
