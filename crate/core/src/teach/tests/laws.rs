use proptest::prelude::*;
use rustfft::{FftPlanner, num_complex::Complex};

use super::*;
use crate::teach::hump;

fn bends() -> impl Strategy<Value = Bend> {
    prop_oneof![
        Just(Bend::Straight),
        Just(Bend::Hyperbolic),
        (0.05..8.0).prop_map(|rate| Bend::Exponential { rate }),
        (1.0..4.0).prop_map(|power| Bend::FlatStart { power }),
        (1.0..4.0).prop_map(|power| Bend::FlatEnd { power }),
    ]
}

fn segments() -> impl Strategy<Value = Segment> {
    (9.0..160.0, 9.0..160.0, 0.5..80.0, bends())
        .prop_map(|(from, to, duration, bend)| segment(from, to, duration, bend))
}

/// Simpson's rule over many steps.
fn integral(law: &Law, to_ms: f64) -> f64 {
    let steps = 2000;
    let step = to_ms / f64::from(steps);
    let weight = |i| match i {
        0 => 1.0,
        i if i == steps => 1.0,
        i if i % 2 == 1 => 4.0,
        _ => 2.0,
    };
    (0..=steps)
        .map(|i| weight(i) * law.khz(f64::from(i) * step))
        .sum::<f64>()
        * step
        / 3.0
}

proptest! {
    #[test]
    fn cycles_are_the_integral_of_frequency(first in segments(), share in 0.05..1.0) {
        let law = Law::new([first]);
        let to_ms = share * law.duration_ms();
        let (closed, numeric) = (law.cycles(to_ms), integral(&law, to_ms));
        // Power laws have infinite higher derivatives at their flat end.
        prop_assert!((closed - numeric).abs() < 2e-4 * closed, "{closed} and {numeric}");
    }

    #[test]
    fn segments_begin_and_end_where_they_say(only in segments()) {
        let law = Law::new([only]);
        prop_assert!((law.khz(0.0) - only.from_khz).abs() < 1e-9);
        prop_assert!((law.khz(only.duration_ms) - only.to_khz).abs() < 1e-9);
    }

    #[test]
    fn phase_is_continuous_where_segments_join(a in segments(), b in segments()) {
        let law = Law::new([a, b]);
        let before = law.cycles(a.duration_ms - 1e-9);
        let after = law.cycles(a.duration_ms + 1e-9);
        prop_assert!((after - before).abs() < 1e-6);
    }

    #[test]
    fn range_holds_every_value(a in segments(), b in segments(), at in 0.0..1.0) {
        let law = Law::new([a, b]);
        let (low, high) = law.range_khz(0.0, law.duration_ms());
        let khz = law.khz(at * law.duration_ms());
        prop_assert!(low - 1e-9 <= khz && khz <= high + 1e-9);
    }

    #[test]
    fn edges_of_a_raised_cosine_are_the_closed_form(
        rise in 0.1..3.0, fall in 0.1..3.0, body in 0.0..10.0, below_db in 3.0..40.0,
    ) {
        let duration = rise + body + fall;
        let envelope = Envelope { rise_ms: rise, fall_ms: fall, peak_at: 0.5, droop_db: 0.0 };
        let (start, end) = hump::edges_ms(duration, below_db, |t| envelope.at(t, duration));
        // (1 - cos(pi t / r)) / 2 = 10^(-below/20)
        let share = (1.0 - 2.0 * 10f64.powf(-below_db / 20.0)).acos() / std::f64::consts::PI;
        prop_assert!((start - share * rise).abs() < 1e-3, "{start}");
        prop_assert!((duration - end - share * fall).abs() < 1e-3, "{end}");
    }
}

/// Instantaneous frequency in kilohertz by the phase steps of the analytic signal.
fn instantaneous_khz(samples: &[f32], rate_hz: f64) -> Vec<f64> {
    let n = samples.len();
    let mut planner = FftPlanner::<f64>::new();
    let mut values: Vec<Complex<f64>> = samples
        .iter()
        .map(|&s| Complex::from(f64::from(s)))
        .collect();
    planner.plan_fft_forward(n).process(&mut values);
    values[n / 2 + 1..].fill(Complex::default());
    planner.plan_fft_inverse(n).process(&mut values);
    values
        .windows(2)
        .map(|pair| (pair[1] * pair[0].conj()).arg() / std::f64::consts::TAU * rate_hz / 1e3)
        .collect()
}

#[test]
fn rendered_samples_run_along_the_law() {
    let rate_hz = 500_000.0;
    for bend in [
        Bend::Straight,
        Bend::Hyperbolic,
        Bend::Exponential { rate: 4.0 },
        Bend::FlatStart { power: 2.0 },
        Bend::FlatEnd { power: 2.0 },
    ] {
        let call = call(segment(90.0, 40.0, 5.0, bend), 1.0, 1.0);
        let mut samples = vec![0.0; 4096];
        let onset_s = 1.000_7e-3;
        call.add_to(&mut samples, rate_hz, onset_s, 0.5, None);
        let measured = instantaneous_khz(&samples, rate_hz);
        let mut worst: f64 = 0.0;
        for (index, khz) in measured.iter().enumerate() {
            let t_ms = ((index as f64 + 0.5) / rate_hz - onset_s) * 1e3;
            if (0.7..4.3).contains(&t_ms) {
                worst = worst.max((khz - call.law.khz(t_ms)).abs());
            }
        }
        assert!(worst < 0.1, "{bend:?}: {worst} kHz off the law");
    }
}

#[test]
fn amplitude_is_the_level_at_the_top_of_the_envelope() {
    let call = call(segment(40.0, 40.0, 10.0, Bend::Straight), 2.0, 2.0);
    let mut samples = vec![0.0; 5000];
    call.add_to(&mut samples, 500_000.0, 0.0, 0.25, None);
    let top = samples.iter().fold(0.0_f32, |top, s| top.max(s.abs()));
    assert!((top - 0.25).abs() < 0.001, "{top}");
}

#[test]
fn a_bulging_envelope_is_loudest_where_it_says() {
    let envelope = Envelope {
        rise_ms: 0.5,
        fall_ms: 0.5,
        peak_at: 0.7,
        droop_db: 10.0,
    };
    let (at_ms, value) = hump::maximum(10.0, |t| envelope.at(t, 10.0));
    assert!((at_ms - 7.0).abs() < 0.01 && (value - 1.0).abs() < 1e-6);
    // 10 dB down at the far end, before the rise takes its share.
    let far_db = 20.0 * envelope.at(0.5, 10.0).log10();
    assert!(
        (far_db + 10.0 * (6.5_f64 / 7.0).powi(2)).abs() < 1e-6,
        "{far_db}"
    );
}
