//! Long recordings in blocks, and recordings that hardly are any.

use super::*;

/// Frames at which a recording of this length is cut into blocks: first and last
/// frames of each, and those from which on its pulses count.
fn borders_s(rate_hz: f64, duration_s: f64) -> Vec<f64> {
    let frames = (duration_s * rate_hz) as u64;
    let mut measurer = Measurer::new(rate_hz, frames, None, &Settings::default());
    let silence = vec![0.0; frames as usize];
    let mut borders = Vec::new();
    while let Some(block) = measurer.next_block() {
        borders.extend([block.start, block.end, measurer.measured_frames()]);
        measurer.feed(&silence[block.start as usize..block.end as usize]);
    }
    borders.retain(|&border| border > 0 && border < frames);
    borders.into_iter().map(|b| b as f64 / rate_hz).collect()
}

#[test]
fn pulses_on_block_borders_are_neither_lost_nor_doubled() {
    const SLOW_HZ: u32 = 128_000;
    let duration_s = 14.0;
    let borders = borders_s(f64::from(SLOW_HZ), duration_s);
    assert!(borders.len() >= 6, "less than three blocks: {borders:?}");
    let mut calls = Vec::new();
    for border in borders {
        // Three at once, apart in frequency: middles on the border and a hair beside it.
        for (low_khz, off_s) in [(15.0, -4e-6), (27.0, 0.0), (42.0, 4e-6)] {
            let call = straight(low_khz + 8.0, low_khz, 6.0, 1.5);
            calls.push(at(border - 3e-3 + off_s, -20.0, call));
        }
    }
    let scene = scene(SLOW_HZ, duration_s, HISS_DB, calls);
    let pulses = heard(&scene);
    for placed in &scene.calls {
        let found = pulses.iter().filter(|pulse| {
            let middle_s = (pulse.start_s + pulse.end_s) / 2.0;
            let low_khz = placed.call.law.khz(6.0);
            (middle_s - placed.onset_s - 3e-3).abs() < 5e-4 && (pulse.low_khz - low_khz).abs() < 3.0
        });
        assert_eq!(found.count(), 1, "at {} s", placed.onset_s);
    }
    assert_eq!(pulses.len(), scene.calls.len(), "{:?}", outline(&pulses));
}

#[test]
fn progress_only_grows_and_ends_at_the_whole() {
    let frames = 20 * 32_000;
    let mut measurer = Measurer::new(32_000.0, frames, None, &Settings::default());
    let mut before = 0;
    let mut blocks = 0;
    while let Some(block) = measurer.next_block() {
        assert!(block.start <= before && block.end > before);
        measurer.feed(&vec![0.0; (block.end - block.start) as usize]);
        assert!(measurer.measured_frames() > before);
        before = measurer.measured_frames();
        blocks += 1;
    }
    assert!(blocks > 2);
    assert_eq!(before, frames);
}

#[test]
fn fewer_samples_than_asked_for_end_the_recording() {
    let call = straight(60.0, 40.0, 5.0, 1.0);
    let calls = vec![at(0.1, -12.0, call.clone()), at(0.2, -12.0, call)];
    let samples = scene(RATE_HZ, 0.3, HISS_DB, calls).render();
    let mut measurer = Measurer::new(256_000.0, 1 << 40, None, &Settings::default());
    measurer.feed(&samples);
    assert_eq!(measurer.next_block(), None);
    assert_eq!(measurer.measured_frames(), 1 << 40);
    assert_eq!(measurer.findings().pulses.len(), 2);
    measurer.feed(&samples);
    assert_eq!(
        measurer.findings().pulses.len(),
        2,
        "what comes after the end counts"
    );
}

#[test]
fn hardly_any_samples_hold_no_pulse() {
    for rate_hz in [1.0, 8_000.0, 256_000.0, 2_000_000.0] {
        assert!(measured(&[], rate_hz).is_empty());
        for length in [1, 2, 63, 64, 200, 2_000] {
            assert!(measured(&vec![0.5; length], rate_hz).is_empty());
        }
    }
}

#[test]
fn nothing_fed_ends_the_recording() {
    let mut measurer = Measurer::new(256_000.0, 1_000_000, None, &Settings::default());
    measurer.feed(&[]);
    assert_eq!(measurer.next_block(), None);
    assert!(measurer.into_findings().pulses.is_empty());
}

#[test]
fn extreme_sampling_rates_are_measured_as_far_as_they_reach() {
    // 8 kHz holds no sound that is looked for; 2 MHz holds all of it.
    let low: Vec<f32> = (0..8_000).map(|n| (n as f32 * 1.9).sin() * 0.5).collect();
    assert!(measured(&low, 8_000.0).is_empty());
    let call = straight(60.0, 40.0, 5.0, 1.0);
    let calls = vec![at(0.05, -12.0, call.clone()), at(0.12, -12.0, call)];
    let pulses = heard(&scene(2_000_000, 0.2, HISS_DB, calls));
    assert_eq!(pulses.len(), 2, "{:?}", outline(&pulses));
    near("level", pulses[0].level_db, -12.0, 0.2);
}
