//! The committed sample recordings: as the synthesiser makes them, and measured as they were made.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test that cannot go on should stop"
)]

use std::fs;

use dusklens_core::pulse::{Flag, Pulse, Settings, measure};
use dusklens_core::recording::{OpenOptions, Recording};
use dusklens_core::teach::{SampleTruth, TruePulse, larkwater_fen};
use dusklens_tests::samples::{files, folder};

/// Signed 16-bit values of a file's samples, and its other bytes.
fn taken_apart(bytes: &[u8]) -> (Vec<i16>, Vec<u8>) {
    let stated = u32::from_le_bytes(bytes[40..44].try_into().unwrap()) as usize;
    let end = (44 + stated).min(bytes.len());
    let samples = bytes[44..end]
        .chunks_exact(2)
        .map(|pair| i16::from_le_bytes([pair[0], pair[1]]))
        .collect();
    (samples, [&bytes[..44], &bytes[end..]].concat())
}

#[test]
fn committed_files_are_what_the_synthesiser_makes() {
    let mut total = 0;
    for (name, fresh) in files().unwrap() {
        let committed = fs::read(folder().join(&name)).unwrap();
        total += committed.len();
        if name.ends_with(".wav") {
            let ((old, rest), (new, fresh_rest)) = (taken_apart(&committed), taken_apart(&fresh));
            assert_eq!(rest, fresh_rest, "{name}: header or metadata");
            assert_eq!(old.len(), new.len(), "{name}");
            // One step of 16 bits for machines whose sums are rounded otherwise.
            let same = old.iter().zip(&new).all(|(a, b)| a.abs_diff(*b) <= 1);
            assert!(same, "{name}: run `cargo xtask samples`");
        } else {
            assert!(committed == fresh, "{name}: run `cargo xtask samples`");
        }
    }
    assert!(total < 8_000_000, "{total} bytes in all");
}

#[test]
fn two_renders_are_the_same_to_the_byte() {
    assert!(files().unwrap() == files().unwrap());
}

fn opened(file: &str) -> (SampleTruth, Vec<Pulse>) {
    let bytes = fs::read(folder().join(file)).unwrap();
    let recording = Recording::open(bytes, &OpenOptions::default()).unwrap();
    let pulses = measure(&recording, 0, &Settings::default()).unwrap().pulses;
    let truth = file.replace(".wav", ".truth.json");
    let truth = serde_json::from_str(&fs::read_to_string(folder().join(truth)).unwrap()).unwrap();
    (truth, pulses)
}

/// Whether a measured pulse lies at a true one's time and frequency.
fn is_of(found: &Pulse, truth: &TruePulse) -> bool {
    found.start_s < truth.end_s
        && found.end_s > truth.start_s
        && (found.characteristic_khz - truth.characteristic_khz).abs() < 3.0
}

/// The measured pulse at a true one's time and frequency.
fn nearest<'a>(truth: &TruePulse, pulses: &'a [Pulse]) -> Option<&'a Pulse> {
    let off = |p: &Pulse| (p.characteristic_khz - truth.characteristic_khz).abs();
    pulses
        .iter()
        .filter(|found| is_of(found, truth))
        .min_by(|a, b| off(a).total_cmp(&off(b)))
}

#[test]
fn every_sample_is_measured_as_it_was_made() {
    for sample in larkwater_fen() {
        let (truth, pulses) = opened(&sample.file);
        let file = &truth.file;
        let strays: Vec<String> = pulses
            .iter()
            .filter(|found| !truth.pulses.iter().any(|t| is_of(found, t)))
            .map(|p| {
                format!(
                    "{:.4} s, {:.1} kHz, {:.2} ms",
                    p.start_s, p.peak_khz, p.duration_ms
                )
            })
            .collect();
        assert_eq!(strays, [""; 0], "{file}: pulses of no true one");
        assert!(
            pulses.len() <= truth.pulses.len(),
            "{file}: {} pulses of {} true ones",
            pulses.len(),
            truth.pulses.len()
        );
        // Where two calls cross, the fainter one may be taken for a part of the other.
        let crossed = |pulse: &TruePulse| pulse.flags.contains(&Flag::Overlapped);
        let missed_crossings = truth
            .pulses
            .iter()
            .filter(|pulse| crossed(pulse) && nearest(pulse, &pulses).is_none())
            .count();
        assert!(
            missed_crossings <= 1,
            "{file}: {missed_crossings} crossed calls missed"
        );
        for pulse in &truth.pulses {
            let Some(found) = nearest(pulse, &pulses) else {
                if crossed(pulse) {
                    continue;
                }
                panic!("{file}: pulse at {:.4} s was not found", pulse.start_s)
            };
            if pulse.flags.contains(&Flag::CutOff) {
                assert!(
                    found.flags.contains(&Flag::CutOff),
                    "{file} at {:.4} s",
                    pulse.start_s
                );
                continue;
            }
            // Where two calls meet in time and frequency, one hides the other's edges.
            if crossed(pulse) {
                continue;
            }
            let close = |what: &str, is: f64, was: f64, allowed: f64| {
                assert!(
                    (is - was).abs() <= allowed,
                    "{file} at {:.4} s: {what} {is:.2}, truth {was:.2}, allowed {allowed}",
                    pulse.start_s
                );
            };
            close(
                "characteristic",
                found.characteristic_khz,
                pulse.characteristic_khz,
                1.0,
            );
            close(
                "duration",
                found.duration_ms,
                pulse.duration_ms,
                0.1 * pulse.duration_ms + 0.2,
            );
            close("end", found.end_khz, pulse.end_khz, 1.5);
            close("level", found.level_db, pulse.level_db, 1.5);
            if found
                .harmonics
                .iter()
                .all(|h| h.multiple == 1 || h.relative_db < -12.0)
            {
                close("peak", found.peak_khz, pulse.peak_khz, 2.0);
            }
        }
    }
}

/// Ranges within which published values for calls like these lie; each row names its source.
/// Duration in milliseconds, peak in kilohertz.
#[test]
fn samples_sound_like_what_they_are_likened_to() {
    let rows = [
        // Pipistrellus pipistrellus: peak 45-47 kHz, 5.6 ms (Parsons & Jones 2000 / Obrist,
        // Boesch & Flueckiger 2004, second-hand), give or take 15 %.
        ("larkwater-fen-01-first-pass.wav", (4.5, 6.5), (44.0, 48.0)),
        // Myotis nattereri 3.8 ms, peak 53 kHz; M. mystacinus 3.0 ms, 53 kHz; M. brandtii
        // 4.2 ms, 51 kHz (same, second-hand); M. septentrionalis 2.4 ms (Miller & Treat 1993).
        (
            "larkwater-fen-04-steep-sweeps.wav",
            (2.4, 4.2),
            (45.0, 60.0),
        ),
        // Rhinolophus hipposideros: 102-115 kHz (a handbook and memory); duration from memory.
        (
            "larkwater-fen-05-level-calls.wav",
            (20.0, 60.0),
            (102.0, 115.0),
        ),
        // Plecotus auritus: 2-5 ms, peak 25-35 kHz (Skiba 2009 / Dietz et al. 2007, second-hand).
        (
            "larkwater-fen-07-quiet-sweeps.wav",
            (2.0, 5.0),
            (25.0, 35.0),
        ),
        // Myotis dasycneme: 14-26 ms, peak 35 kHz (Van De Sijpe 2011, Lutra 54(1), abstract).
        (
            "larkwater-fen-08-over-open-water.wav",
            (14.0, 26.0),
            (33.0, 37.0),
        ),
    ];
    for (file, (shortest, longest), (lowest, highest)) in rows {
        for pulse in opened(file).0.pulses {
            assert!(
                (shortest..=longest).contains(&pulse.duration_ms),
                "{file}: {} ms",
                pulse.duration_ms
            );
            assert!(
                (lowest..=highest).contains(&pulse.peak_khz),
                "{file}: {} kHz",
                pulse.peak_khz
            );
        }
    }
    // Feeding buzz: rates to about 200 calls a second, intervals of 5 ms (read on a federal
    // science agency's media page about the hoary bat; common practice).
    let buzz = opened("larkwater-fen-03-feeding-buzz.wav").0.pulses;
    let shortest = buzz
        .iter()
        .filter_map(|p| p.interval_ms)
        .fold(f64::INFINITY, f64::min);
    assert!((5.0..7.0).contains(&shortest), "{shortest} ms");
}
