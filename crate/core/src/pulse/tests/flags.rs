//! What limits trust is flagged, and nothing else is.

use super::*;

fn sweep() -> Call {
    straight(60.0, 40.0, 6.0, 1.5)
}

#[test]
fn overdriven_call_is_clipped_and_one_pulse() {
    // 6 dB over full scale, at a rate that holds the third harmonic and folds the others.
    let calls = [0.1, 0.2, 0.3].map(|onset_s| at(onset_s, 6.0, sweep()));
    let pulses = heard(&scene(500_000, 0.4, HISS_DB, calls.to_vec()));
    assert_eq!(pulses.len(), 3, "{:?}", outline(&pulses));
    for pulse in &pulses {
        assert!(pulse.flags.contains(&Flag::Clipped), "{:?}", pulse.flags);
        // What lies above the rail is told by how long samples stay at it.
        near("level", pulse.level_db, 6.0, 1.0);
        near("low", pulse.low_khz, 42.0, 2.0);
        near("high", pulse.high_khz, 58.0, 2.0);
    }
}

#[test]
fn call_below_full_scale_is_not_clipped() {
    let calls = [0.1, 0.2].map(|onset_s| at(onset_s, -1.0, sweep()));
    for pulse in heard(&scene(RATE_HZ, 0.3, HISS_DB, calls.to_vec())) {
        assert_eq!(pulse.flags, []);
    }
}

#[test]
fn clipping_is_told_by_the_level_that_is_given() {
    let calls = [0.1, 0.2].map(|onset_s| at(onset_s, -6.0, sweep()));
    let samples = scene(RATE_HZ, 0.3, HISS_DB, calls.to_vec()).render();
    for (level, clipped) in [(None, false), (Some(0.55), false), (Some(0.45), true)] {
        let frames = samples.len() as u64;
        let mut measurer = Measurer::new(256_000.0, frames, level, &Settings::default());
        measurer.feed(&samples);
        assert_eq!(measurer.findings().pulses.len(), 2);
        for pulse in &measurer.findings().pulses {
            assert_eq!(pulse.flags.contains(&Flag::Clipped), clipped, "{level:?}");
        }
    }
}

#[test]
fn call_at_either_end_of_the_recording_is_cut_off() {
    // The first begins 2 ms before the recording, the last ends 2 ms after it.
    let calls = [-0.002, 0.1, 0.2, 0.296].map(|onset_s| at(onset_s, -12.0, sweep()));
    let pulses = heard(&scene(RATE_HZ, 0.3, HISS_DB, calls.to_vec()));
    let cut: Vec<bool> = pulses
        .iter()
        .map(|p| p.flags.contains(&Flag::CutOff))
        .collect();
    assert_eq!(cut, [true, false, false, true], "{:?}", outline(&pulses));
    near("start", pulses[0].start_s, 0.0, 2e-4);
    near("end", pulses[3].end_s, 0.3, 2e-4);
}

#[test]
fn call_at_the_end_of_a_block_is_not_cut_off() {
    // Blocks end inside the recording: that is no edge of the file.
    let rate_hz = 64_000;
    let measurer = Measurer::new(64_000.0, 64_000 * 10, None, &Settings::default());
    let end_s = measurer.next_block().unwrap().end as f64 / 64_000.0;
    let call = straight(25.0, 18.0, 6.0, 1.5);
    let calls = [end_s - 0.2, end_s - 0.003].map(|onset_s| at(onset_s, -12.0, call.clone()));
    let pulses = heard(&scene(rate_hz, 10.0, HISS_DB, calls.to_vec()));
    assert_eq!(pulses.len(), 2, "{:?}", outline(&pulses));
    assert!(pulses.iter().all(|p| p.flags.is_empty()), "{pulses:?}");
}

#[test]
fn noise_over_the_edge_threshold_is_flagged_with_the_threshold_that_was_used() {
    let calls: Vec<Placed> = (0..6)
        .map(|n| at(0.1 + 0.1 * f64::from(n), -25.0, sweep()))
        .collect();
    // Of white noise at -33 dB some 6 of 128 kHz lie in the channel: -43 dB re a
    // full-scale sine, 18 dB below the call; edges 6 dB above that.
    let pulses = heard(&scene(RATE_HZ, 0.8, -33.0, calls));
    assert_eq!(pulses.len(), 6, "{:?}", outline(&pulses));
    for pulse in pulses {
        assert!(pulse.flags.contains(&Flag::FloorLimited));
        assert!((5.0..19.0).contains(&pulse.edge_db), "{}", pulse.edge_db);
        assert!(pulse.duration_ms < 5.5, "{}", pulse.duration_ms);
    }
}

/// Two equal calls that cross cancel each other for moments, and one may be cut
/// or missed; what is measured of them says so.
#[test]
fn what_is_measured_of_calls_that_cross_is_flagged() {
    let calls = vec![
        at(0.1, -12.0, straight(60.0, 30.0, 8.0, 1.5)),
        at(0.1, -14.0, straight(45.5, 44.5, 8.0, 1.5)),
        at(0.25, -12.0, straight(60.0, 30.0, 8.0, 1.5)),
    ];
    let pulses = heard(&scene(RATE_HZ, 0.35, HISS_DB, calls));
    let is_overlapped = |pulse: &&Pulse| pulse.flags.contains(&Flag::Overlapped);
    let (crossing, clear): (Vec<&Pulse>, Vec<&Pulse>) =
        pulses.iter().partition(|pulse| pulse.start_s < 0.2);
    assert!(!crossing.is_empty());
    assert!(crossing.iter().all(is_overlapped), "{:?}", outline(&pulses));
    assert_eq!(clear.len(), 1);
    assert!(!clear.iter().any(is_overlapped));
}
