use realfft::RealFftPlanner;

use super::*;
use crate::teach::{Background, Bumps, Cricket, Hiss, Rain, Rasp, Stridulation, Tone, Wind};

const RATE_HZ: f64 = 384_000.0;

/// Two seconds of a background.
fn heard(background: Background) -> Vec<f32> {
    let mut scene = scene(vec![]);
    scene.duration_s = 2.0;
    scene.backgrounds.push(background);
    scene.render()
}

fn power(samples: &[f32]) -> f64 {
    samples.iter().map(|&s| f64::from(s).powi(2)).sum::<f64>() / samples.len() as f64
}

/// Mean power between two frequencies, by Parseval's theorem.
fn power_between(samples: &[f32], low_khz: f64, high_khz: f64) -> f64 {
    let mut input: Vec<f64> = samples.iter().map(|&s| f64::from(s)).collect();
    let n = input.len();
    let transform = RealFftPlanner::<f64>::new().plan_fft_forward(n);
    let mut output = transform.make_output_vec();
    transform.process(&mut input, &mut output).unwrap();
    let bin = |khz: f64| ((khz * 1e3 / RATE_HZ * n as f64) as usize).min(output.len());
    let sum: f64 = output[bin(low_khz)..bin(high_khz)]
        .iter()
        .map(|v| v.norm_sqr())
        .sum();
    2.0 * sum / (n as f64 * n as f64)
}

fn db(ratio: f64) -> f64 {
    10.0 * ratio.log10()
}

#[test]
fn white_hiss_has_the_stated_power_everywhere() {
    let hiss = Hiss::white(-40.0);
    let samples = heard(Background::Hiss(hiss.clone()));
    assert!((db(power(&samples)) + 40.0).abs() < 0.05);
    for (low, high) in [(10.0, 20.0), (60.0, 90.0), (150.0, 190.0)] {
        let measured = power_between(&samples, low, high);
        let stated = hiss.power_between(low, high, RATE_HZ);
        assert!(db(measured / stated).abs() < 0.2, "{low}-{high} kHz");
    }
}

#[test]
fn coloured_hiss_follows_its_response() {
    let hiss = Hiss {
        rms_db: -40.0,
        response: vec![(10.0, 0.0), (40.0, 6.0), (60.0, 0.0), (150.0, -12.0)],
    };
    let samples = heard(Background::Hiss(hiss.clone()));
    for (low, high) in [(12.0, 20.0), (38.0, 42.0), (80.0, 90.0), (160.0, 180.0)] {
        let measured = power_between(&samples, low, high);
        let stated = hiss.power_between(low, high, RATE_HZ);
        assert!(db(measured / stated).abs() < 0.3, "{low}-{high} kHz");
    }
    // The wanted 12 dB between 60 kHz and 150 kHz and above, within the filter's resolution.
    let fall = db(hiss.power_between(165.0, 175.0, RATE_HZ)
        / hiss.power_between(59.0, 61.0, RATE_HZ)
        / 5.0);
    assert!((fall + 12.0).abs() < 1.0, "{fall}");
}

#[test]
fn tones_have_their_level_stray_and_switch() {
    let steady = heard(Background::Tone(Tone::steady(50.0, -20.0)));
    assert!((db(power(&steady)) + 23.01).abs() < 0.01);
    let drifting = Tone {
        drift_khz: 0.5,
        drift_period_s: 1.0,
        ..Tone::steady(50.0, -20.0)
    };
    let samples = heard(Background::Tone(drifting));
    let within = power_between(&samples, 49.49, 50.51) / power(&samples);
    let middle = power_between(&samples, 49.9, 50.1) / power(&samples);
    assert!(within > 0.99 && middle < 0.3, "{within} {middle}");
    let switched = Tone {
        switched_s: Some((0.5, 0.5)),
        ..Tone::steady(50.0, -20.0)
    };
    let samples = heard(Background::Tone(switched));
    assert!(power(&samples[200_000..380_000]) == 0.0);
    assert!((db(power(&samples)) + 26.02).abs() < 0.02);
}

#[test]
fn every_sound_has_its_energy_where_it_belongs() {
    let share = |background: Background, low, high| {
        let samples = heard(background);
        assert!(power(&samples) > 0.0 && samples.iter().all(|s| s.is_finite()));
        power_between(&samples, low, high) / power(&samples)
    };
    let rasp = Rasp {
        resonance_khz: 30.0,
        quality: 10.0,
        strikes: 20,
        strike_interval_ms: 1.0,
        syllable_interval_ms: 90.0,
        level_db: -20.0,
    };
    assert!(share(Background::Rasp(rasp), 25.0, 35.0) > 0.8);
    let song = Stridulation {
        low_khz: 15.0,
        high_khz: 35.0,
        density_db: -40.0,
        beat_hz: 120.0,
        depth: 0.7,
    };
    assert!(share(Background::Stridulation(song), 12.0, 38.0) > 0.95);
    let cricket = Cricket {
        khz: 5.0,
        level_db: -20.0,
        sound_ms: 15.0,
        sounds: 3,
        chirp_interval_ms: 300.0,
    };
    assert!(share(Background::Cricket(cricket), 4.5, 5.5) > 0.98);
    let wind = Wind {
        rms_db: -30.0,
        corner_hz: 300.0,
        gust_s: 1.0,
    };
    assert!(share(Background::Wind(wind), 0.0, 2.0) > 0.95);
    let bumps = Bumps {
        per_s: 4.0,
        level_db: -10.0,
    };
    assert!(share(Background::Bumps(bumps), 0.0, 2.0) > 0.9);
    // Clicks are as broad as the recording.
    let rain = Rain {
        drops_per_s: 40.0,
        level_db: -10.0,
    };
    let upper = share(Background::Rain(rain), 96.0, 192.0);
    assert!((upper - 0.5).abs() < 0.1, "{upper}");
}
