//! How long it takes to search five seconds for pulses, and to measure those that are there.

use criterion::{Criterion, Throughput};
use dusklens_core::pulse::{Measurer, Pulse, Settings};

/// Samples per second of the recording that is imitated.
const RATE_HZ: f32 = 500_000.0;

/// Five seconds.
const FRAMES: usize = 2_500_000;

/// Samples from one pulse to the next: 80 ms.
const INTERVAL: usize = 40_000;

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
    for (n, sample) in samples.iter_mut().enumerate() {
        let t = (n % INTERVAL) as f32 / RATE_HZ;
        if t < 0.004 {
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

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    bench(&mut criterion, "find", &hiss(), 0);
    let expected = FRAMES.div_ceil(INTERVAL);
    bench(&mut criterion, "measure", &pulses_in_hiss(), expected);
    criterion.final_summary();
}
