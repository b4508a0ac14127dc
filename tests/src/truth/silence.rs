//! Draws recordings that hold no bat.

use dusklens_core::teach::random::{Stream, between, stream};
use dusklens_core::teach::{
    Background, Bumps, Cricket, Hiss, Rain, Rasp, Scene, Stridulation, Tone, Wind,
};
use rand::RngExt;
use rand::rngs::ChaCha8Rng;

use super::draw::Set;

/// Length of every recording, seconds.
pub const LENGTH_S: f64 = 10.0;

/// What is heard instead of bats.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[allow(missing_docs, reason = "named as the backgrounds they stand for")]
pub enum Kind {
    Hiss,
    ColouredHiss,
    Tones,
    Rasp,
    Stridulation,
    Cricket,
    Rain,
    Wind,
    Bumps,
    PulsedTones,
}

/// All kinds in the order of the report.
pub const KINDS: [Kind; 10] = [
    Kind::Hiss,
    Kind::ColouredHiss,
    Kind::Tones,
    Kind::Rasp,
    Kind::Stridulation,
    Kind::Cricket,
    Kind::Rain,
    Kind::Wind,
    Kind::Bumps,
    Kind::PulsedTones,
];

impl Kind {
    /// Its name as printed and as `--only` takes it.
    pub fn name(self) -> &'static str {
        match self {
            Kind::Hiss => "hiss",
            Kind::ColouredHiss => "coloured-hiss",
            Kind::Tones => "tones",
            Kind::Rasp => "insect-rasp",
            Kind::Stridulation => "insect-stridulation",
            Kind::Cricket => "insect-cricket",
            Kind::Rain => "rain",
            Kind::Wind => "wind",
            Kind::Bumps => "bumps",
            Kind::PulsedTones => "pulsed-tones",
        }
    }
}

/// The `number`th recording of a kind.
pub fn recording(set: Set, kind: Kind, number: u64) -> Scene {
    let base = match set {
        Set::Tune => 0x51e7_0000_0000,
        Set::Report => 0x51ed_0000_0000,
    };
    let seed = base + kind as u64 * 10_000 + number;
    let mut random = stream(seed, Stream::Draw);
    let rates = [256_000, 384_000, 500_000];
    let rate_hz = rates[random.random_range(0..rates.len())];
    let wide = set == Set::Report;
    let rms_db = if wide {
        between(&mut random, -72.0, -35.0)
    } else {
        between(&mut random, -62.0, -48.0)
    };
    let mut backgrounds = vec![Background::Hiss(match kind {
        Kind::ColouredHiss => coloured(&mut random, rms_db, wide),
        _ => Hiss::white(rms_db),
    })];
    backgrounds.extend(sounds(&mut random, kind, wide));
    Scene {
        rate_hz,
        duration_s: LENGTH_S,
        seed,
        calls: vec![],
        backgrounds,
    }
}

fn coloured(random: &mut ChaCha8Rng, rms_db: f64, wide: bool) -> Hiss {
    let reach = if wide { 12.0 } else { 6.0 };
    let response = [8.0, 20.0, 35.0, 55.0, 90.0, 140.0, 220.0].map(|khz| {
        (
            khz * between(random, 0.9, 1.1),
            between(random, -reach, reach),
        )
    });
    Hiss {
        rms_db,
        response: response.to_vec(),
    }
}

/// What sounds in a recording of a kind, besides hiss.
pub(super) fn sounds(random: &mut ChaCha8Rng, kind: Kind, wide: bool) -> Vec<Background> {
    let mut pick = |tune: (f64, f64), report: (f64, f64)| {
        let (low, high) = if wide { report } else { tune };
        between(random, low, high)
    };
    match kind {
        Kind::Hiss | Kind::ColouredHiss => vec![],
        Kind::Tones => {
            let level_db = pick((-55.0, -30.0), (-60.0, -15.0));
            let drifting = Tone {
                drift_khz: pick((0.02, 0.2), (0.01, 0.5)),
                drift_period_s: pick((1.0, 5.0), (0.4, 8.0)),
                ..Tone::steady(pick((20.0, 90.0), (10.0, 120.0)), level_db)
            };
            let switched = Tone {
                switched_s: Some((pick((0.3, 2.0), (0.15, 3.0)), pick((0.3, 2.0), (0.1, 3.0)))),
                ..Tone::steady(pick((20.0, 90.0), (10.0, 120.0)), level_db)
            };
            let steady = Tone::steady(pick((20.0, 90.0), (10.0, 120.0)), level_db);
            [steady, drifting, switched].map(Background::Tone).to_vec()
        }
        Kind::Rasp => vec![Background::Rasp(Rasp {
            resonance_khz: pick((15.0, 35.0), (12.0, 45.0)),
            quality: pick((5.0, 12.0), (3.0, 25.0)),
            strikes: pick((10.0, 30.0), (3.0, 45.0)) as u32,
            strike_interval_ms: pick((0.8, 2.0), (0.5, 4.0)),
            syllable_interval_ms: pick((70.0, 150.0), (50.0, 400.0)),
            level_db: pick((-40.0, -20.0), (-45.0, -8.0)),
        })],
        Kind::Stridulation => vec![Background::Stridulation(Stridulation {
            low_khz: pick((10.0, 16.0), (9.0, 22.0)),
            high_khz: pick((25.0, 40.0), (24.0, 55.0)),
            density_db: pick((-45.0, -35.0), (-50.0, -25.0)),
            beat_hz: pick((60.0, 200.0), (25.0, 260.0)),
            depth: pick((0.5, 0.9), (0.2, 1.0)),
        })],
        Kind::Cricket => vec![Background::Cricket(Cricket {
            khz: pick((4.0, 6.0), (3.0, 8.0)),
            level_db: pick((-30.0, -15.0), (-40.0, -6.0)),
            sound_ms: pick((12.0, 20.0), (8.0, 40.0)),
            sounds: pick((2.0, 5.0), (1.0, 8.0)) as u32,
            chirp_interval_ms: pick((250.0, 500.0), (150.0, 900.0)),
        })],
        Kind::Rain => vec![Background::Rain(Rain {
            drops_per_s: pick((5.0, 40.0), (2.0, 120.0)),
            level_db: pick((-25.0, -8.0), (-35.0, 3.0)),
        })],
        Kind::Wind => vec![Background::Wind(Wind {
            rms_db: pick((-30.0, -20.0), (-40.0, -10.0)),
            corner_hz: pick((150.0, 500.0), (80.0, 1200.0)),
            gust_s: pick((1.0, 4.0), (0.5, 6.0)),
        })],
        Kind::PulsedTones => {
            let on_s = pick((0.004, 0.02), (0.002, 0.05));
            let off_s = pick((0.03, 0.1), (0.02, 0.25));
            let level_db = pick((-35.0, -20.0), (-40.0, -10.0));
            vec![Background::Tone(Tone {
                switched_s: Some((on_s, off_s)),
                ..Tone::steady(pick((25.0, 60.0), (15.0, 90.0)), level_db)
            })]
        }
        Kind::Bumps => vec![Background::Bumps(Bumps {
            per_s: pick((0.5, 2.0), (0.3, 5.0)),
            level_db: pick((-15.0, -3.0), (-25.0, 8.0)),
        })],
    }
}
