//! The bats of the fen, as crowds of like calls; no crowd claims a species.

use std::sync::LazyLock;

use rand::{Rng, RngExt};
use serde::{Deserialize, Serialize};

use super::clock::at;
use crate::teach::random::between;
use crate::teach::survey::{higher_pipistrelle_like, noctule_like, pipistrelle_like, steep_sweep};
use crate::teach::{Buzz, Call, Flight, FlyPast};

/// Animals whose calls are alike.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Crowd {
    /// Long calls that end near 26 kHz, early in the evening above all.
    #[serde(rename = "about_25_khz")]
    About25,
    /// Calls that end near 45 kHz, all night.
    #[serde(rename = "about_45_khz")]
    About45,
    /// Calls that end near 55 kHz, all night.
    #[serde(rename = "about_55_khz")]
    About55,
    /// Steep sweeps from 118 to 36 kHz, when it is dark.
    SteepSweeps,
}

/// An animal that is heard in a recording.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Animal {
    /// What its calls are like.
    pub crowd: Crowd,
    /// Peak frequency of the call that it repeats, kilohertz.
    pub peak_khz: f64,
    /// How it flies and calls.
    pub flight: Flight,
}

impl Crowd {
    /// All crowds.
    pub const ALL: [Crowd; 4] = [
        Crowd::About25,
        Crowd::About45,
        Crowd::About55,
        Crowd::SteepSweeps,
    ];

    /// The call that its animals repeat.
    pub fn call(self) -> Call {
        match self {
            Crowd::About25 => noctule_like(),
            Crowd::About45 => pipistrelle_like(1.0),
            Crowd::About55 => higher_pipistrelle_like(),
            Crowd::SteepSweeps => steep_sweep(),
        }
    }

    /// How many of them are about, relative, against the hour.
    pub(super) fn hours(self) -> &'static [(i64, f64)] {
        const EARLY: [(i64, f64); 6] = [
            (at(20, 47), 6.0),
            (at(21, 30), 3.0),
            (at(22, 20), 0.6),
            (at(23, 0), 0.05),
            (at(27, 45), 0.05),
            (at(28, 30), 0.5),
        ];
        const MOST: [(i64, f64); 1] = [(at(20, 47), 5.0)];
        const SOME: [(i64, f64); 1] = [(at(20, 47), 2.5)];
        const DARK: [(i64, f64); 4] = [
            (at(21, 45), 0.0),
            (at(22, 20), 2.6),
            (at(27, 30), 2.6),
            (at(28, 5), 0.0),
        ];
        match self {
            Crowd::About25 => &EARLY,
            Crowd::About45 => &MOST,
            Crowd::About55 => &SOME,
            Crowd::SteepSweeps => &DARK,
        }
    }

    /// Mean time from call to call, milliseconds: as in the survey's samples; for the lowest a
    /// little below those of noctules in the open.
    fn interval_ms(self) -> f64 {
        match self {
            Crowd::About25 => 260.0,
            Crowd::About45 => 88.0,
            Crowd::About55 => 79.0,
            Crowd::SteepSweeps => 72.0,
        }
    }

    /// Level of the faintest and of the loudest animal where it is nearest, decibels re full scale.
    fn nearest_db(self) -> (f64, f64) {
        match self {
            Crowd::About25 => (-30.0, -8.0),
            Crowd::About45 | Crowd::About55 => (-38.0, -10.0),
            Crowd::SteepSweeps => (-42.0, -16.0),
        }
    }

    /// Whether feeding buzzes are made of it: those of the others are heard too seldom.
    fn buzzes(self) -> bool {
        matches!(self, Crowd::About45 | Crowd::About55)
    }

    /// An animal of this crowd that flies past within a recording.
    pub(super) fn passing(self, number: u32, duration_s: f64, random: &mut impl Rng) -> Animal {
        let khz_factor = between(random, 0.98, 1.02);
        let mut flight = self.flight(number, duration_s, random);
        flight.call = flight.call.scaled(khz_factor, 1.0);
        Animal {
            crowd: self,
            peak_khz: khz_factor * self.peak_khz(),
            flight,
        }
    }

    /// An animal far away of which one call is heard.
    pub(super) fn calling_once(self, duration_s: f64, random: &mut impl Rng) -> Animal {
        let at_s = between(random, 0.2, 0.8) * duration_s;
        let mut animal = self.passing(1, duration_s, random);
        animal.flight.first_s = at_s;
        // It falls silent before it would call again.
        animal.flight.last_s = at_s + 1e-3;
        animal.flight.buzz = None;
        animal.flight.past = FlyPast {
            nearest_db: between(random, LONE_DB.0, LONE_DB.1),
            nearest_s: at_s,
            passing_s: 1.0,
        };
        animal
    }

    /// Peak frequency of its call, kilohertz.
    fn peak_khz(self) -> f64 {
        // A transform for each of thousands of animals would take longer than all the rest of a plan.
        static PEAKS: LazyLock<[f64; 4]> =
            LazyLock::new(|| Crowd::ALL.map(|crowd| crowd.call().peak_khz(384e3)));
        PEAKS.get(self as usize).copied().unwrap_or_default()
    }

    fn flight(self, animal: u32, duration_s: f64, random: &mut impl Rng) -> Flight {
        let first_s = between(random, 0.02, 0.2) * duration_s;
        let last_s = first_s + between(random, 0.6, 0.98) * (duration_s - first_s);
        let (faintest_db, loudest_db) = self.nearest_db();
        let nearest_db = between(random, faintest_db, loudest_db);
        let mut past = FlyPast {
            nearest_db,
            nearest_s: first_s + between(random, 0.3, 0.7) * (last_s - first_s),
            passing_s: between(random, 0.3, 0.9),
        };
        let hunts = self.buzzes() && random.random_bool(BUZZ_SHARE);
        let buzz_from_s = last_s - BUZZ_LENGTH_S;
        let buzz = (hunts && buzz_from_s > first_s + 0.1).then(|| {
            // It is heard best where it hunts.
            past.nearest_s = buzz_from_s + BUZZ_LENGTH_S / 2.0;
            buzz(buzz_from_s)
        });
        Flight {
            animal,
            call: self.call(),
            first_s,
            last_s,
            interval_ms: self.interval_ms(),
            jitter: 0.06,
            spread: (0.01, 0.06),
            past,
            echoes: vec![],
            buzz,
            passage: None,
        }
    }
}

/// Share of animals that catch something while they are heard.
const BUZZ_SHARE: f64 = 0.14;
/// Time from the beginning of an approach to the end of its buzz, seconds.
const BUZZ_LENGTH_S: f64 = 0.65;
/// Level of calls that stand alone, decibels re full scale.
const LONE_DB: (f64, f64) = (-62.0, -52.0);

fn buzz(from_s: f64) -> Buzz {
    Buzz {
        from_s,
        quickening: 0.17,
        final_interval_ms: 5.6,
        final_calls: 26,
        final_khz_factor: 0.72,
    }
}
