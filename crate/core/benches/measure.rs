//! How long it takes to search five seconds for pulses, and to measure those that are there.

#![allow(
    clippy::expect_used,
    reason = "a bench that cannot be set up has to stop"
)]

use criterion::{Criterion, Throughput};
use dusklens_core::pulse::{Measurer, Pulse, Settings};
use dusklens_core::spectrum::{Stft, StftSettings, Window};
use std::hint::black_box;
use std::time::Instant;

/// Samples per second of the recording that is imitated.
const RATE_HZ: f32 = 500_000.0;

/// Five seconds.
const FRAMES: usize = 2_500_000;

/// Samples from one pulse to the next: 80 ms, and up to so many more, or it would be a machine's.
const INTERVAL: usize = 40_000;
const SCATTER: [usize; 5] = [0, 1_300, 400, 1_700, 900];

/// Rounds of the comparison with the transform.
const ROUNDS: usize = 15;

/// Hiss 60 dB below full scale.
fn hiss() -> Vec<f32> {
    let mut state = 1_u32;
    (0..FRAMES)
        .map(|_| {
            // Numerical Recipes' linear congruential generator: plain, and the same everywhere.
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (state as f32 / u32::MAX as f32 - 0.5) * 0.0035
        })
        .collect()
}

/// The same hiss with pulses of 4 ms that sweep from 80 to 40 kHz.
fn pulses_in_hiss() -> Vec<f32> {
    let mut samples = hiss();
    for (start, scatter) in (0..FRAMES - INTERVAL)
        .step_by(INTERVAL)
        .zip(SCATTER.into_iter().cycle())
    {
        for (n, sample) in samples[start + scatter..][..2_000].iter_mut().enumerate() {
            let t = n as f32 / RATE_HZ;
            let turns = 80_000.0 * t - 5_000_000.0 * t * t;
            let envelope = (std::f32::consts::PI * t / 0.004).sin();
            *sample += 0.3 * envelope * (std::f32::consts::TAU * turns).sin();
        }
    }
    samples
}

fn measured(samples: &[f32]) -> Vec<Pulse> {
    let frames = samples.len() as u64;
    let settings = Settings::default();
    let mut measurer = Measurer::new(f64::from(RATE_HZ), frames, None, &settings);
    while let Some(block) = measurer.next_block() {
        measurer.feed(&samples[block.start as usize..block.end as usize]);
    }
    measurer.into_findings().pulses
}

fn bench(criterion: &mut Criterion, name: &str, samples: &[f32], expected: usize) {
    // A bench of pulses that were not found would look fast.
    assert!(measured(samples).len() >= expected, "{name}");
    let mut group = criterion.benchmark_group(name);
    group.sample_size(10);
    group.throughput(Throughput::Elements(samples.len() as u64));
    group.bench_function("5 s at 500 kHz", |bencher| {
        bencher.iter(|| measured(samples));
    });
    group.finish();
}

/// The usual picture of five seconds: 512 points under a Hann window, every 128 samples.
fn transformed(samples: &[f32]) -> f32 {
    let settings = StftSettings {
        window: Window::Hann,
        length: 512,
        hop: 128,
        padded: 512,
    };
    let mut stft = Stft::new(&settings).expect("the settings are sound");
    let mut power = vec![0.0; stft.bins()];
    let mut sum = 0.0;
    for frame in 0..stft.frames(samples.len()) {
        stft.power(&samples[frame * 128..][..512], &mut power);
        sum += power[40];
    }
    sum
}

/// Transforming and measuring by turns in one run, and the ratio of their medians.
fn compare_with_transform(name: &str, samples: &[f32]) {
    let timed = |work: &dyn Fn()| {
        let begun = Instant::now();
        work();
        begun.elapsed().as_secs_f64() * 1e3
    };
    let (mut transforms, mut measurings) = (Vec::new(), Vec::new());
    for _ in 0..ROUNDS {
        transforms.push(timed(&|| {
            black_box(transformed(samples));
        }));
        measurings.push(timed(&|| {
            black_box(measured(samples));
        }));
    }
    let median = |times: &mut Vec<f64>| {
        times.sort_by(f64::total_cmp);
        times[times.len() / 2]
    };
    let (transform, measuring) = (median(&mut transforms), median(&mut measurings));
    println!(
        "{name}: measuring {measuring:.1} ms, of it its own transform; a transform of 512 points \
         every 128 samples {transform:.1} ms; ratio {:.2}",
        measuring / transform
    );
}

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    bench(&mut criterion, "find", &hiss(), 0);
    let expected = FRAMES / INTERVAL - 1;
    bench(&mut criterion, "measure", &pulses_in_hiss(), expected);
    compare_with_transform("hiss", &hiss());
    compare_with_transform("62 pulses in hiss", &pulses_in_hiss());
    criterion.final_summary();
}
