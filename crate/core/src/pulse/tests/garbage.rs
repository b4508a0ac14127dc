//! Whatever the samples are, the numbers are numbers.

use super::*;
use proptest::prelude::*;

/// What holds for every pulse of every recording of this length.
fn assert_sane(pulses: &[Pulse], duration_s: f64) {
    for pulse in pulses {
        let numbers = [
            pulse.start_s,
            pulse.end_s,
            pulse.duration_ms,
            pulse.peak_khz,
            pulse.start_khz,
            pulse.end_khz,
            pulse.high_khz,
            pulse.low_khz,
            pulse.characteristic_khz,
            pulse.sweep_khz_per_ms,
            pulse.flattest_khz_per_ms,
            pulse.interval_ms.unwrap_or_default(),
            pulse.level_db,
            pulse.snr_db,
            pulse.edge_db,
            pulse.contour.start_s,
            pulse.contour.step_s,
        ];
        assert!(numbers.into_iter().all(f64::is_finite), "{pulse:?}");
        assert!(pulse.contour.khz.iter().all(|khz| khz.is_finite()));
        assert!(pulse.harmonics.iter().all(|h| h.relative_db.is_finite()));
        assert!(
            pulse.start_s >= 0.0 && pulse.end_s <= duration_s,
            "{pulse:?}"
        );
        assert!(pulse.start_s < pulse.end_s);
        assert!(pulse.contour.step_s > 0.0 && pulse.contour.step_s <= 1e-4);
        assert!(pulse.low_khz <= pulse.high_khz);
        assert!(pulse.low_khz - 2.0 <= pulse.peak_khz);
        assert!((pulse.low_khz..=pulse.high_khz).contains(&pulse.start_khz));
        assert!((pulse.low_khz..=pulse.high_khz).contains(&pulse.end_khz));
        assert!(pulse.edge_db <= 20.0 + 1e-6);
        assert!(pulse.flags.is_sorted_by(|a, b| a < b), "{:?}", pulse.flags);
        assert!(pulse.harmonics.is_sorted_by(|a, b| a.multiple < b.multiple));
    }
    assert!(pulses.is_sorted_by(|a, b| a.start_s <= b.start_s));
}

fn assert_sane_samples(samples: &[f32], rate_hz: f64) {
    assert_sane(&measured(samples, rate_hz), samples.len() as f64 / rate_hz);
}

#[test]
fn what_is_no_sound_at_all_gives_no_pulse() {
    let length = 128_000;
    let square = |n: usize| if n / 3 % 2 == 0 { 1.0 } else { -1.0 };
    let impulse = |n: usize| f32::from(u8::from(n % 12_800 == 77));
    for samples in [
        vec![0.0; length],
        vec![1.0; length],
        vec![-0.3; length],
        vec![f32::MIN_POSITIVE; length],
        (0..length).map(square).collect(),
        (0..length).map(impulse).collect(),
    ] {
        let pulses = measured(&samples, 256_000.0);
        assert_eq!(outline(&pulses), []);
    }
}

/// Recordings of bursts: where each begins, how long it is, and what it sounds like.
fn bursts() -> impl Strategy<Value = Vec<f32>> {
    let burst = (
        0..20_000usize,
        1..3_000usize,
        0..4u8,
        0.001..4.0f32,
        any::<u32>(),
    );
    proptest::collection::vec(burst, 1..8).prop_map(|bursts| {
        let mut samples = vec![0.0f32; 24_000];
        for (first, length, kind, gain, seed) in bursts {
            let mut state = seed | 1;
            for (n, sample) in samples[first..].iter_mut().take(length).enumerate() {
                // Marsaglia's xorshift (2003, J. Stat. Softw. 8:14).
                state ^= state << 13;
                state ^= state >> 17;
                state ^= state << 5;
                let noise = state as f32 / u32::MAX as f32 * 2.0 - 1.0;
                let turn = 0.4 + (seed % 16) as f32 * 0.15 - n as f32 * 2e-4;
                *sample += gain
                    * match kind {
                        0 => noise,
                        1 => (turn * n as f32).sin(),
                        2 => (turn * n as f32).sin().signum(),
                        _ => noise * (turn * n as f32).sin(),
                    };
            }
        }
        samples.iter().map(|s| s.clamp(-1.0, 1.0)).collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_number_of_every_pulse_in_clipped_garbage_is_finite_and_in_order(
        samples in bursts(),
        rate_hz in prop::sample::select(vec![22_050.0, 96_000.0, 256_000.0, 384_000.0, 1_000_000.0]),
    ) {
        assert_sane_samples(&samples, rate_hz);
    }

    #[test]
    fn every_number_of_every_sweep_is_finite_and_in_order(
        from_khz in 12.0..120.0f64,
        fall in 0.3..1.0f64,
        duration_ms in 0.5..30.0f64,
        level_db in -45.0..10.0f64,
        onset_s in -0.005..0.095f64,
    ) {
        let call = straight(from_khz, from_khz * fall, duration_ms, duration_ms / 4.0);
        let scene = scene(RATE_HZ, 0.1, HISS_DB, vec![at(onset_s, level_db, call)]);
        assert_sane_samples(&scene.render(), f64::from(RATE_HZ));
    }
}
