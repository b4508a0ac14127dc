//! Pieces of a pyramid fit without seams, and sharpened energy lies where theory has it.

#![allow(clippy::unwrap_used, reason = "a failed test may panic")]

use super::{Drawing, Raster, Rendering, Scale, Tile};
use crate::spectrum::{LOWEST_DB, Window};
use proptest::prelude::*;
use std::f64::consts::TAU;

const RATE_HZ: f64 = 500e3;

fn drawn(samples: &[f32], tile: &Tile, rendering: &Rendering) -> Raster {
    let total = samples.len() as u64;
    let mut drawing = Drawing::tile(tile, rendering, 1, RATE_HZ, total).unwrap();
    while let Some(block) = drawing.next_block() {
        drawing.feed(&samples[block.start as usize..block.end as usize]);
    }
    drawing.raster().clone()
}

/// Sweeps in hiss, from Knuth's MMIX congruential sequence.
fn sounds(count: usize) -> Vec<f32> {
    let mut state = 1u64;
    (0..count)
        .map(|n| {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            let t = (n % 9000) as f64;
            let sweep = 0.2 * (TAU * (0.2 * t - 0.1 * t * t / 18_000.0)).sin();
            (sweep + 0.01 * ((state >> 40) as f64 / (1u64 << 23) as f64 - 1.0)) as f32
        })
        .collect()
}

fn renderings() -> impl Strategy<Value = Rendering> {
    let windows = prop_oneof![
        Just(Window::Hann),
        Just(Window::Gaussian),
        Just(Window::BlackmanHarris)
    ];
    let lengths = prop_oneof![Just(None), Just(Some(0.25)), Just(Some(2.0))];
    (any::<bool>(), windows, lengths, any::<bool>()).prop_map(
        |(log, window, window_ms, sharpened)| Rendering {
            scale: if log {
                Scale::Logarithmic
            } else {
                Scale::Linear
            },
            window,
            window_ms,
            sharpened,
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Bit by bit, whatever the zoom, the place, the scale and the window.
    #[test]
    fn a_tile_is_a_part_of_the_whole(
        rendering in renderings(),
        time_zoom in -2i32..11,
        zoomed in 0u32..3,
        column in 0u32..40,
        row_share in 0f64..1.0,
    ) {
        let samples = sounds(30_000);
        let whole = Tile {
            channel: 0,
            time_zoom,
            rows: 64 << zoomed,
            low_khz: if rendering.scale == Scale::Logarithmic { 250.0 / 64.0 } else { 0.0 },
            // From before the recording, and where columns are long, to its end.
            first_column: -7,
            width_px: 60,
            first_row: 0,
            height_px: 64 << zoomed,
        };
        let first_row = (row_share * f64::from(whole.rows - 16)) as u32;
        let part = Tile {
            first_column: whole.first_column + column as i32,
            width_px: 20,
            first_row,
            height_px: 16,
            ..whole
        };
        let (whole, part) = (drawn(&samples, &whole, &rendering), drawn(&samples, &part, &rendering));
        for x in 0..20 {
            for y in 0..16 {
                prop_assert_eq!(part.level_db(x, y), whole.level_db(column + x, first_row + y), "column {} row {}", x, y);
            }
        }
    }
}

/// A level of columns of 64 samples and as many rows as the transform of 1 ms has bins.
fn level(first_column: i32, width_px: u32) -> Tile {
    Tile {
        channel: 0,
        time_zoom: 6,
        rows: 256,
        low_khz: 0.0,
        first_column,
        width_px,
        first_row: 0,
        height_px: 256,
    }
}

const SHARPENED: Rendering = Rendering {
    scale: Scale::Linear,
    window: Window::Hann,
    window_ms: Some(1.0),
    sharpened: true,
};

/// The share of all energy that lies on the pixels that `holds` says.
fn share_on(raster: &Raster, holds: impl Fn(u32, u32) -> bool) -> f64 {
    let (mut on, mut all) = (0.0, 0.0);
    for x in 0..raster.width() {
        for y in 0..raster.height() {
            let power = 10f64.powf(f64::from(raster.level_db(x, y).unwrap()) / 10.0);
            all += power;
            if holds(x, y) {
                on += power;
            }
        }
    }
    on / all
}

#[test]
fn an_impulse_is_sharpened_into_its_column() {
    let mut samples = vec![0.0; 20_000];
    samples[10_000] = 1.0;
    let sharp = drawn(&samples, &level(100, 120), &SHARPENED);
    // Sample 10000 lies in column 156, the 56th of the view.
    assert!(share_on(&sharp, |x, _| x == 56) > 0.999);
    let plain = drawn(
        &samples,
        &level(100, 120),
        &Rendering {
            sharpened: false,
            ..SHARPENED
        },
    );
    assert!(
        share_on(&plain, |x, _| x == 56) < 0.4,
        "or there would be nothing to gain"
    );
}

#[test]
fn a_straight_sweep_is_sharpened_onto_its_line() {
    // From 40 to 200 kHz in 40 ms.
    let samples: Vec<f32> = (0..20_000)
        .map(|n| {
            let t = f64::from(n) / RATE_HZ;
            (0.5 * (TAU * (40e3 * t + 2e6 * t * t)).cos()) as f32
        })
        .collect();
    let on_line = |x: u32, y: u32| {
        let t = (f64::from(x + 40) + 0.5) * 64.0 / RATE_HZ;
        let khz = 40.0 + 4e3 * t;
        let row = (250.0 - khz) / 250.0 * 256.0;
        (f64::from(y) + 0.5 - row).abs() <= 1.0
    };
    let sharp = share_on(&drawn(&samples, &level(40, 200), &SHARPENED), on_line);
    let plain = Rendering {
        sharpened: false,
        ..SHARPENED
    };
    let plain = share_on(&drawn(&samples, &level(40, 200), &plain), on_line);
    assert!(sharp > 0.97, "{sharp} of the energy lies on the line");
    assert!(plain < 0.8, "{plain}, or there would be nothing to gain");
}

#[test]
fn a_tone_keeps_its_level_when_it_is_sharpened() {
    for khz in [62.5, 63.2, 120.0] {
        let samples: Vec<f32> = (0..60_000)
            .map(|n| (0.5 * (TAU * khz * 1e3 * f64::from(n) / RATE_HZ).sin()) as f32)
            .collect();
        for time_zoom in [3, 6, 10] {
            let tile = Tile {
                time_zoom,
                width_px: 20,
                first_column: 20_000 >> time_zoom,
                ..level(0, 1)
            };
            let sharp = drawn(&samples, &tile, &SHARPENED);
            let row = ((250.0 - khz) / 250.0 * 256.0) as u32;
            // On the edge of two rows it may lie in either.
            let level = (row - 1..=row + 1)
                .filter_map(|y| sharp.level_db(10, y))
                .fold(LOWEST_DB, f32::max);
            assert!(
                (level + 6.02).abs() < 0.1,
                "{khz} kHz, zoom {time_zoom}: {level} dB"
            );
        }
    }
}

#[test]
fn a_tone_lies_in_its_row_on_a_logarithmic_axis() {
    for khz in [5.0, 12.0, 45.0, 110.0, 240.0] {
        let samples: Vec<f32> = (0..60_000)
            .map(|n| (0.5 * (TAU * khz * 1e3 * f64::from(n) / RATE_HZ).sin()) as f32)
            .collect();
        let tile = Tile {
            low_khz: 250.0 / 64.0,
            ..level(300, 4)
        };
        for sharpened in [false, true] {
            let rendering = Rendering {
                scale: Scale::Logarithmic,
                sharpened,
                window_ms: Some(4.0),
                ..SHARPENED
            };
            let raster = drawn(&samples, &tile, &rendering);
            let loudest = (0..256).max_by(|&a, &b| {
                raster
                    .level_db(2, a)
                    .unwrap()
                    .total_cmp(&raster.level_db(2, b).unwrap())
            });
            // Six octaves on 256 rows.
            let wanted = (250.0 / khz).log2() / 6.0 * 256.0;
            let bin_rows = 0.25 / khz * 256.0 / 6.0 / std::f64::consts::LN_2;
            let off = f64::from(loudest.unwrap()) + 0.5 - wanted;
            assert!(
                off.abs() <= 1.0 + bin_rows,
                "{khz} kHz is {off} rows off, sharpened: {sharpened}"
            );
        }
    }
}
