//! The numbers of single pulses against closed forms.

use super::*;

/// Where a raised-cosine rise of a length reaches a tenth of its maximum (20 dB
/// below it): `0.5 - 0.5 cos(pi t / length) = 0.1`.
fn edge_ms(side_ms: f64) -> f64 {
    side_ms / std::f64::consts::PI * 0.8f64.acos()
}

/// Three sweeps from 80 to 40 kHz in 5 ms.
fn sweeps(rate_hz: u32) -> Scene {
    let call = straight(80.0, 40.0, 5.0, 1.0);
    let calls = [0.1, 0.2, 0.3].map(|onset_s| at(onset_s, -12.0, call.clone()));
    scene(rate_hz, 0.4, HISS_DB, calls.to_vec())
}

fn assert_sweeps(pulses: &[Pulse]) {
    assert_eq!(pulses.len(), 3, "{:?}", outline(pulses));
    let edge = edge_ms(1.0);
    for (pulse, onset_s) in pulses.iter().zip([0.1, 0.2, 0.3]) {
        near("start", pulse.start_s, onset_s + edge * 1e-3, 1e-4);
        near("end", pulse.end_s, onset_s + (5.0 - edge) * 1e-3, 1e-4);
        near("duration", pulse.duration_ms, 5.0 - 2.0 * edge, 0.15);
        near("level", pulse.level_db, -12.0, 0.2);
        near("edge", pulse.edge_db, 20.0, 0.01);
        near("sweep", pulse.sweep_khz_per_ms, -8.0, 0.15);
        near("flattest", pulse.flattest_khz_per_ms, -8.0, 0.4);
        near("high", pulse.high_khz, 80.0 - 8.0 * edge, 1.0);
        near("low", pulse.low_khz, 40.0 + 8.0 * edge, 1.0);
        assert_eq!(pulse.shape, Shape::Fm);
        assert_eq!(pulse.flags, []);
        assert_contour(pulse, |s| 80.0 - 8e3 * (s - onset_s));
    }
}

#[test]
fn moments_are_those_of_the_envelope_and_of_the_contour() {
    // Sides of half the length leave the raised cosine a single maximum, in the middle.
    let call = straight(80.0, 40.0, 5.0, 2.5);
    let calls = [0.1, 0.2, 0.3].map(|onset_s| at(onset_s, -12.0, call.clone()));
    let pulses = heard(&scene(RATE_HZ, 0.4, HISS_DB, calls.to_vec()));
    assert_eq!(pulses.len(), 3, "{:?}", outline(&pulses));
    for (pulse, onset_s) in pulses.iter().zip([0.1, 0.2, 0.3]) {
        near("peak", pulse.peak_s, onset_s + 2.5e-3, 1.5e-4);
        let at = (pulse.characteristic_s - pulse.contour.start_s) / pulse.contour.step_s;
        let khz = f64::from(pulse.contour.khz[at.round() as usize]);
        near("characteristic", khz, pulse.characteristic_khz, 1e-9);
    }
}

/// The contour against a law of the time in the recording, away from the edges.
fn assert_contour(pulse: &Pulse, khz_at: impl Fn(f64) -> f64) {
    let contour = &pulse.contour;
    for (step, khz) in contour.khz.iter().enumerate() {
        let time_s = contour.start_s + step as f64 * contour.step_s;
        let share = (time_s - pulse.start_s) / (pulse.end_s - pulse.start_s);
        let tolerance = if (0.15..0.85).contains(&share) {
            0.3
        } else {
            1.0
        };
        near("contour", f64::from(*khz), khz_at(time_s), tolerance);
    }
}

#[test]
fn linear_sweep_has_the_numbers_of_its_formula() {
    assert_sweeps(&heard(&sweeps(RATE_HZ)));
}

#[test]
fn sampling_rate_leaves_the_numbers_alone() {
    assert_sweeps(&heard(&sweeps(500_000)));
    assert_sweeps(&heard(&sweeps(192_000)));
}

#[test]
fn constant_tone_has_the_numbers_of_its_formula() {
    let call = straight(83.0, 83.0, 20.0, 2.0);
    let calls = [0.1, 0.2].map(|onset_s| at(onset_s, -20.0, call.clone()));
    let pulses = heard(&scene(RATE_HZ, 0.3, HISS_DB, calls.to_vec()));
    assert_eq!(pulses.len(), 2, "{:?}", outline(&pulses));
    for (pulse, onset_s) in pulses.iter().zip([0.1, 0.2]) {
        let edge = edge_ms(2.0);
        near("start", pulse.start_s, onset_s + edge * 1e-3, 1e-4);
        near("end", pulse.end_s, onset_s + (20.0 - edge) * 1e-3, 1e-4);
        near("level", pulse.level_db, -20.0, 0.2);
        near("peak", pulse.peak_khz, 83.0, 0.02);
        near("characteristic", pulse.characteristic_khz, 83.0, 0.1);
        near("sweep", pulse.sweep_khz_per_ms, 0.0, 0.02);
        assert_eq!(pulse.shape, Shape::Cf);
        assert_contour(pulse, |_| 83.0);
        // White noise of that power per 2 kHz of 128, against half a sine's square.
        let noise_db = HISS_DB + 10.0 * (2.0f64 / 128.0).log10() + 10.0 * 2.0f64.log10();
        near("snr", pulse.snr_db, -20.0 - noise_db, 1.0);
    }
}

#[test]
fn gain_shifts_the_level_and_nothing_else() {
    let samples = sweeps(RATE_HZ).render();
    let fainter: Vec<f32> = samples.iter().map(|s| s * 0.25).collect();
    let loud = measured(&samples, f64::from(RATE_HZ));
    let faint = measured(&fainter, f64::from(RATE_HZ));
    assert_eq!(loud.len(), 3);
    assert_eq!(loud.len(), faint.len());
    for (loud, faint) in loud.iter().zip(&faint) {
        // 20 log10(1/4).
        near("level", faint.level_db, loud.level_db - 12.0412, 0.05);
        near("start", faint.start_s, loud.start_s, 1e-8);
        near("end", faint.end_s, loud.end_s, 1e-8);
        near("snr", faint.snr_db, loud.snr_db, 0.01);
        near("peak", faint.peak_khz, loud.peak_khz, 1e-3);
        near("low", faint.low_khz, loud.low_khz, 1e-3);
        near("high", faint.high_khz, loud.high_khz, 1e-3);
        assert_eq!(faint.flags, loud.flags);
        assert_eq!(faint.shape, loud.shape);
    }
}

#[test]
fn time_shift_moves_a_pulse_by_as_much() {
    let rate_hz = f64::from(RATE_HZ);
    let samples = sweeps(RATE_HZ).render();
    let original = measured(&samples, rate_hz);
    // The first is a whole number of frames and of the contour's knots at this rate.
    for (shift, seconds, khz) in [(832, 1e-6, 0.01), (1, 2e-5, 0.5), (37, 2e-5, 0.5)] {
        // What is cut off the end comes before the beginning, so that the noise stays.
        let mut moved = samples.clone();
        moved.rotate_right(shift);
        let moved = measured(&moved, rate_hz);
        assert_eq!(moved.len(), original.len());
        for (moved, original) in moved.iter().zip(&original) {
            let by_s = shift as f64 / rate_hz;
            near("start", moved.start_s, original.start_s + by_s, seconds);
            near("end", moved.end_s, original.end_s + by_s, seconds);
            near("level", moved.level_db, original.level_db, 0.05);
            // The spectrum of a straight sweep is nearly flat: its maximum may move along it.
            if shift == 832 {
                near("peak", moved.peak_khz, original.peak_khz, khz);
            }
            near("low", moved.low_khz, original.low_khz, khz);
            near("high", moved.high_khz, original.high_khz, khz);
        }
    }
}

#[test]
fn contour_runs_from_start_to_end_in_steps_of_a_tenth_of_a_millisecond_at_most() {
    for pulse in heard(&sweeps(RATE_HZ)) {
        let contour = &pulse.contour;
        let length_s = (contour.khz.len() - 1) as f64 * contour.step_s;
        assert!(contour.step_s <= 1e-4);
        near("first", contour.start_s, pulse.start_s, 1e-9);
        near("last", contour.start_s + length_s, pulse.end_s, 1e-9);
    }
}
