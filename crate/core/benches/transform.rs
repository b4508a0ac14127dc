//! How long the short-time Fourier transform takes, per window length.

#![allow(
    clippy::expect_used,
    reason = "a bench that cannot be set up has to stop"
)]

use criterion::{BenchmarkId, Criterion, Throughput};
use dusklens_core::spectrum::{Stft, StftSettings};

/// Samples per second of the recording that is imitated.
const RATE_HZ: f32 = 500_000.0;

/// One second of a tone that sweeps from 20 to 100 kHz; what it sounds like does not change the work.
fn sweep() -> Vec<f32> {
    (0..500_000)
        .map(|n| {
            let t = n as f32 / RATE_HZ;
            (std::f32::consts::TAU * (20_000.0 + 40_000.0 * t) * t).sin()
        })
        .collect()
}

fn transform(criterion: &mut Criterion) {
    let samples = sweep();
    let mut group = criterion.benchmark_group("transform");
    group.throughput(Throughput::Elements(samples.len() as u64));
    for length in [256, 512, 1024, 2048] {
        let settings = StftSettings {
            length,
            hop: length / 4,
            padded: length,
            ..StftSettings::default()
        };
        let mut stft = Stft::new(&settings).expect("lengths within the limits");
        let mut powers = Vec::new();
        group.bench_function(BenchmarkId::from_parameter(length), |bencher| {
            bencher.iter(|| stft.powers(&samples, &mut powers));
        });
    }
    group.finish();
}

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    transform(&mut criterion);
    criterion.final_summary();
}
