//! The invented Larkwater Fen survey: a dozen short recordings for newcomers.
//!
//! Frequencies, durations and intervals follow published ones, named beside
//! each; no recording claims a species.

use super::sample::{Ending, Sample};
use super::{
    Background, Buzz, Call, Echo, Flight, FlyPast, Hiss, Placed, Plan, Rain, Rasp, Scene,
    Stridulation, Tone, Wind,
};
use crate::pulse::{Harmonic, Shape};

/// All recordings of the survey, in the order in which they are offered.
pub fn larkwater_fen() -> Vec<Sample> {
    vec![
        first_pass(),
        high_and_low(),
        feeding_buzz(),
        steep_sweeps(),
        constant_frequency(),
        two_animals(),
        quiet_sweeps(),
        long_over_water(),
        insects(),
        rain(),
        noise_only(),
        time_expanded(),
        cut_off(),
    ]
}

fn first_pass() -> Sample {
    let mut scene = fen(256_000, 1.3, 1);
    let past = past(-10.0, 0.7, 0.14);
    scene.calls = Flight {
        past,
        ..flight(pipistrelle_like(1.0), 0.03, 1.28, 88.0)
    }
    .calls(1);
    sample(
        "01-first-pass",
        "A bat flies past",
        "Sweeps that end in an almost level tail, like a pipistrelle's: louder as the animal comes near, fainter as it leaves.",
        scene,
    )
}

/// Alternating calls.
fn high_and_low() -> Sample {
    let mut scene = fen(256_000, 1.6, 2);
    let higher = noctule_like();
    let lower = plan(Shape::Qcf, 24.0, 22.2, 22.2, 16.0).call();
    let past = past(-14.0, 0.9, 0.6);
    let each = |call, first_s| Flight {
        past,
        jitter: 0.02,
        ..flight(call, first_s, 1.55, 440.0)
    };
    let mut calls = each(higher, 0.06).calls(2);
    calls.extend(
        Flight {
            animal: 2,
            ..each(lower, 0.29)
        }
        .calls(2),
    );
    scene.calls = in_order(calls);
    // One animal makes both kinds.
    scene.calls.iter_mut().for_each(|placed| placed.animal = 1);
    sample(
        "02-high-and-low",
        "High and low in turn",
        "Long, loud and low calls of two kinds in turn, like a noctule's above the trees.",
        scene,
    )
}

fn feeding_buzz() -> Sample {
    let mut scene = fen(256_000, 1.3, 3);
    let past = past(-12.0, 0.9, 0.8);
    let buzz = Buzz {
        from_s: 0.45,
        quickening: 0.17,
        final_interval_ms: 5.6,
        final_calls: 26,
        final_khz_factor: 0.72,
    };
    let search = flight(pipistrelle_like(1.02), 0.04, 0.45, 84.0);
    scene.calls = Flight {
        past,
        buzz: Some(buzz),
        ..search
    }
    .calls(3);
    sample(
        "03-feeding-buzz",
        "A feeding buzz",
        "The calls come faster and faster until they run together: the animal closes in on an insect.",
        scene,
    )
}

fn steep_sweeps() -> Sample {
    let mut scene = fen(500_000, 0.75, 4);
    let call = steep_sweep();
    let past = past(-12.0, 0.4, 0.1);
    scene.calls = Flight {
        past,
        ..flight(call, 0.03, 0.73, 72.0)
    }
    .calls(4);
    sample(
        "04-steep-sweeps",
        "Steep sweeps under the willows",
        "Very short calls that fall through ninety kilohertz, like a mouse-eared bat's among branches.",
        scene,
    )
}

/// Rhinolophus hipposideros: 102-115 kHz (handbook and memory).
fn constant_frequency() -> Sample {
    let mut scene = fen(384_000, 0.8, 5);
    let call = Call {
        harmonics: vec![],
        ..Plan {
            shape: Shape::FmCfFm,
            start_khz: 98.0,
            flat_khz: 110.0,
            end_khz: 92.0,
            duration_ms: 42.0,
        }
        .call()
    };
    let past = past(-16.0, 0.4, 0.3);
    let steady = flight(call, 0.03, 0.75, 88.0);
    scene.calls = Flight {
        past,
        spread: (0.002, 0.08),
        ..steady
    }
    .calls(5);
    sample(
        "05-level-calls",
        "Long level calls",
        "Each call holds one high note with a short sweep on either side, like a horseshoe bat's.",
        scene,
    )
}

fn two_animals() -> Sample {
    let mut scene = fen(256_000, 1.2, 6);
    let lower = flight(pipistrelle_like(0.99), 0.02, 1.18, 91.0);
    let higher = flight(higher_pipistrelle_like(), 0.05, 1.18, 79.0);
    let mut calls = Flight {
        past: past(-12.0, 0.5, 0.4),
        ..lower
    }
    .calls(6);
    calls.extend(
        Flight {
            animal: 2,
            past: past(-16.0, 0.8, 0.4),
            ..higher
        }
        .calls(6),
    );
    scene.calls = in_order(calls);
    sample(
        "06-two-animals",
        "Two animals at once",
        "Two bats hunt over the same ditch, one about nine kilohertz above the other.",
        scene,
    )
}

/// Plecotus auritus: 45-60 to 18-23 kHz, 2-5 ms, interval 40-80 ms (second-hand).
fn quiet_sweeps() -> Sample {
    let mut scene = fen(256_000, 0.8, 7);
    let call = Call {
        harmonics: vec![Harmonic {
            multiple: 2,
            relative_db: -7.0,
        }],
        ..plan(Shape::Fm, 50.0, 22.0, 22.0, 3.6).call()
    };
    let past = past(-27.0, 0.4, 0.25);
    scene.calls = Flight {
        past,
        ..flight(call, 0.02, 0.78, 58.0)
    }
    .calls(7);
    sample(
        "07-quiet-sweeps",
        "Quiet sweeps with a second harmonic",
        "Faint calls that sound at twice their frequency too, like a long-eared bat's in the orchard.",
        scene,
    )
}

/// Myotis dasycneme: FM-QCF-FM, peak 35 kHz, 14-26 ms (Van De Sijpe 2011, abstract).
fn long_over_water() -> Sample {
    let mut scene = fen(384_000, 0.85, 8);
    let call = plan(Shape::FmQcfFm, 68.0, 35.0, 25.0, 18.5).call();
    let past = past(-14.0, 0.4, 0.2);
    let echoes = vec![Echo {
        delay_ms: 24.0,
        loss_db: 15.0,
        corner_khz: 60.0,
    }];
    scene.calls = Flight {
        past,
        echoes,
        ..flight(call, 0.05, 0.8, 118.0)
    }
    .calls(8);
    sample(
        "08-over-open-water",
        "Long calls over open water",
        "A sweep, a level stretch and a second sweep, each followed by its echo from the far bank.",
        scene,
    )
}

fn insects() -> Sample {
    let mut scene = fen(256_000, 0.9, 9);
    scene.backgrounds.extend(bush_crickets());
    let past = past(-14.0, 0.6, 0.25);
    scene.calls = Flight {
        past,
        ..flight(pipistrelle_like(1.0), 0.15, 0.88, 86.0)
    }
    .calls(9);
    sample(
        "09-bush-crickets",
        "Bush crickets in the reeds",
        "Regular rasps and a steady hiss of insects, with a bat above them.",
        scene,
    )
}

/// Rasps of one insect and the steady song of another.
pub(super) fn bush_crickets() -> [Background; 2] {
    let rasp = Rasp {
        resonance_khz: 21.0,
        quality: 9.0,
        strikes: 22,
        strike_interval_ms: 1.1,
        syllable_interval_ms: 96.0,
        level_db: -26.0,
    };
    let song = Stridulation {
        low_khz: 12.0,
        high_khz: 30.0,
        density_db: -58.0,
        beat_hz: 160.0,
        depth: 0.8,
    };
    [Background::Rasp(rasp), Background::Stridulation(song)]
}

fn rain() -> Sample {
    let mut scene = fen(256_000, 0.8, 10);
    scene.backgrounds.push(Background::Rain(Rain {
        drops_per_s: 45.0,
        level_db: -8.0,
    }));
    scene.backgrounds.push(Background::Wind(Wind {
        rms_db: -30.0,
        corner_hz: 250.0,
        gust_s: 0.9,
    }));
    sample(
        "10-rain",
        "Rain and no bat",
        "Drops on the housing: clicks that fill every frequency at once and hold no call.",
        scene,
    )
}

fn noise_only() -> Sample {
    let mut scene = fen(256_000, 0.8, 11);
    scene.backgrounds.push(Background::Tone(Tone {
        drift_khz: 0.05,
        drift_period_s: 0.7,
        ..Tone::steady(38.4, -52.0)
    }));
    sample(
        "11-nothing-but-hiss",
        "Nothing but hiss",
        "The recorder's own noise with a faint constant tone from its electronics, and no bat.",
        scene,
    )
}

/// Eptesicus serotinus: 55 to 25 kHz, peak 31 kHz, 8.8 ms (second-hand).
fn time_expanded() -> Sample {
    let mut scene = fen(384_000, 0.7, 12);
    let call = plan(Shape::FmQcf, 58.0, 26.0, 26.0, 9.8).call();
    let past = past(-11.0, 0.4, 0.4);
    scene.calls = Flight {
        past,
        ..flight(call, 0.04, 0.68, 128.0)
    }
    .calls(12);
    let sample = sample(
        "12-time-expanded",
        "Ten times slowed down",
        "A recording that plays ten times slower than life, so that the ear can follow; all numbers are for real time.",
        scene,
    );
    Sample {
        expansion: 10,
        ..sample
    }
}

fn cut_off() -> Sample {
    let mut scene = fen(384_000, 1.1, 13);
    let past = past(-14.0, 0.4, 0.2);
    scene.calls = Flight {
        past,
        ..flight(pipistrelle_like(1.01), 0.03, 1.08, 90.0)
    }
    .calls(13);
    let sample = sample(
        "13-power-lost",
        "The battery died",
        "The recorder lost power while writing: the file ends early and without its notes, but what is there can be read.",
        scene,
    );
    Sample {
        ending: Ending::PowerLost { kept_s: 0.7 },
        ..sample
    }
}

/// Pipistrellus pipistrellus: 76 to 45-47 kHz, 5.6 ms (second-hand).
pub(super) fn pipistrelle_like(khz_factor: f64) -> Call {
    plan(Shape::FmQcf, 80.0, 45.5, 45.5, 6.4)
        .call()
        .scaled(khz_factor, 1.0)
}

/// Pipistrellus pygmaeus: 64.7 to 54.1 kHz, 5.7 ms, interval 81 ms (Vaughan et al. 1997,
/// second-hand).
pub(super) fn higher_pipistrelle_like() -> Call {
    plan(Shape::FmQcf, 68.0, 54.3, 54.3, 6.4).call()
}

/// Nyctalus noctula: higher calls 47 to 26 kHz, 11.5 ms, lower ones 33 to 22 kHz, 13.8 ms (Parsons &
/// Jones 2000 / Obrist et al. 2004, second-hand). This is the higher one.
pub(super) fn noctule_like() -> Call {
    plan(Shape::FmQcf, 47.0, 26.0, 26.0, 13.0).call()
}

/// Myotis nattereri: 115 to 23 kHz, 3.8 ms (second-hand); M. septentrionalis 2.4 ms,
/// interval 56 ms (Miller & Treat 1993, abstract).
pub(super) fn steep_sweep() -> Call {
    plan(Shape::Fm, 118.0, 36.0, 36.0, 4.4).call()
}

fn plan(shape: Shape, start_khz: f64, flat_khz: f64, end_khz: f64, duration_ms: f64) -> Plan {
    Plan {
        shape,
        start_khz,
        flat_khz,
        end_khz,
        duration_ms,
    }
}

fn flight(call: Call, first_s: f64, last_s: f64, interval_ms: f64) -> Flight {
    Flight {
        animal: 1,
        call,
        first_s,
        last_s,
        interval_ms,
        jitter: 0.05,
        spread: (0.01, 0.06),
        past: past(-12.0, 0.5, 0.4),
        echoes: vec![],
        buzz: None,
        passage: None,
    }
}

fn past(nearest_db: f64, nearest_s: f64, passing_s: f64) -> FlyPast {
    FlyPast {
        nearest_db,
        nearest_s,
        passing_s,
    }
}

/// A quiet night at the fen.
fn fen(rate_hz: u32, duration_s: f64, seed: u64) -> Scene {
    Scene {
        rate_hz,
        duration_s,
        seed,
        calls: vec![],
        backgrounds: vec![Background::Hiss(fen_hiss())],
    }
}

/// The recorder's hiss, a little louder at the bottom of its range.
pub(super) fn fen_hiss() -> Hiss {
    let response = vec![
        (5.0, 3.0),
        (20.0, 0.0),
        (60.0, -2.0),
        (120.0, -7.0),
        (200.0, -12.0),
    ];
    Hiss {
        rms_db: -62.0,
        response,
    }
}

fn in_order(mut calls: Vec<Placed>) -> Vec<Placed> {
    calls.sort_by(|a, b| a.onset_s.total_cmp(&b.onset_s));
    calls
}

fn sample(name: &str, title: &str, sentence: &str, scene: Scene) -> Sample {
    Sample {
        file: format!("larkwater-fen-{name}.wav"),
        title: title.into(),
        sentence: sentence.into(),
        scene,
        expansion: 1,
        ending: Ending::Whole,
    }
}
