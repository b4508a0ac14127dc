//! Animals in flight: sequences of calls that come nearer and go away again.

use rand::Rng;
use serde::{Deserialize, Serialize};

use super::random::{Stream, between, normal, stream};
use super::{Call, Echo, Placed, Way};
use crate::field::Air;

/// How loud an animal is as it flies past.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct FlyPast {
    /// Level where it is nearest, decibels re full scale.
    pub nearest_db: f64,
    /// When it is nearest, seconds.
    pub nearest_s: f64,
    /// Time in which it flies as far as it is away when nearest, seconds.
    pub passing_s: f64,
}

impl FlyPast {
    /// The level at a time: spherical spreading, and half as much again for the air and
    /// for calls that point elsewhere.
    fn level_db(&self, at_s: f64) -> f64 {
        let way = (at_s - self.nearest_s) / self.passing_s;
        self.nearest_db - 15.0 * libm::log10(1.0 + way * way)
    }
}

/// Flight through air, at a speed: an approaching animal sounds higher and shorter (Doppler,
/// handbook formula), and one that is far away has lost its high frequencies.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Passage {
    /// The air.
    pub air: Air,
    /// Speed along a straight line, metres per second.
    pub speed_m_s: f64,
}

/// A sequence of calls of one animal.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Flight {
    /// The animal, counted from 1; also the number of its stream of random numbers.
    pub animal: u32,
    /// The call that it repeats.
    pub call: Call,
    /// When its first call begins, seconds.
    pub first_s: f64,
    /// When it falls silent, seconds.
    pub last_s: f64,
    /// Mean time from call to call, milliseconds.
    pub interval_ms: f64,
    /// Standard deviation of that time as a share of it.
    pub jitter: f64,
    /// Standard deviation of a call's frequencies and of its duration, as shares.
    pub spread: (f64, f64),
    /// Level against time.
    pub past: FlyPast,
    /// Echoes of every call.
    pub echoes: Vec<Echo>,
    /// An attack at the end of the sequence.
    pub buzz: Option<Buzz>,
    /// The air it flies through; none for calls that are heard as they were uttered.
    pub passage: Option<Passage>,
}

/// The end of an attack: calls ever faster, shorter and lower. Common practice:
/// intervals fall to about 5 ms (200 calls a second).
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Buzz {
    /// When the approach begins, seconds.
    pub from_s: f64,
    /// Share by which each interval is shorter than the one before it while approaching.
    pub quickening: f64,
    /// Interval at the end, milliseconds.
    pub final_interval_ms: f64,
    /// Calls at the final interval.
    pub final_calls: u32,
    /// Factor on the frequencies of the last calls.
    pub final_khz_factor: f64,
}

/// Shortest interval that is believed, milliseconds; keeps a sequence finite.
const SHORTEST_MS: f64 = 1.0;

impl Flight {
    /// The calls of the sequence, in order of time.
    pub fn calls(&self, seed: u64) -> Vec<Placed> {
        let mut random = stream(seed, Stream::Animal(self.animal));
        let mut calls = Vec::new();
        let mut at_s = self.first_s;
        let cruise_end_s = self.buzz.map_or(self.last_s, |b| b.from_s);
        // One slow drift of frequency over the sequence, besides the scatter from call to call.
        let drift = self.spread.0 * normal(&mut random);
        while at_s < cruise_end_s {
            let way = (at_s - self.first_s) / (self.last_s - self.first_s).max(1e-3) - 0.5;
            let khz_factor = 1.0 + drift * way + 0.5 * self.spread.0 * clipped(&mut random);
            let ms_factor = 1.0 + self.spread.1 * clipped(&mut random);
            calls.push(self.place(at_s, khz_factor, ms_factor));
            let jitter = (self.jitter * clipped(&mut random)).max(-0.9);
            at_s += self.interval_ms.max(SHORTEST_MS) / 1e3 * (1.0 + jitter);
        }
        if let Some(buzz) = self.buzz {
            self.attack(&buzz, at_s, &mut random, &mut calls);
        }
        calls
    }

    /// Adds the approach and the buzz itself, from `at_s` on.
    fn attack(&self, buzz: &Buzz, mut at_s: f64, random: &mut impl Rng, calls: &mut Vec<Placed>) {
        let mut interval_ms = self.interval_ms;
        let final_ms = buzz.final_interval_ms.max(SHORTEST_MS);
        let mut final_left = buzz.final_calls;
        while final_left > 0 {
            interval_ms *= 1.0 - buzz.quickening.max(0.01);
            if interval_ms <= final_ms {
                interval_ms = final_ms;
                final_left -= 1;
            }
            let call_ms = self.call.duration_ms();
            // A call never fills more than a good third of the time to the next one.
            let ms_factor = (0.38 * interval_ms / call_ms).min(1.0);
            // It sinks in frequency only in the buzz itself, once intervals are below 12 ms.
            let sunk = ((12.0 - interval_ms) / (12.0 - final_ms).max(1e-3)).clamp(0.0, 1.0);
            let khz_factor = 1.0 + sunk * (buzz.final_khz_factor - 1.0);
            calls.push(self.place(at_s, khz_factor, ms_factor));
            at_s += interval_ms / 1e3 * between(random, 0.98, 1.02);
        }
    }

    fn place(&self, onset_s: f64, khz_factor: f64, ms_factor: f64) -> Placed {
        let uttered = self.call.scaled(khz_factor, ms_factor);
        let (call, level_db) = match self.passage {
            None => (uttered, self.past.level_db(onset_s)),
            Some(passage) => self.heard(&passage, uttered, onset_s),
        };
        Placed {
            call,
            onset_s,
            level_db,
            animal: self.animal,
            echoes: self.echoes.clone(),
        }
    }

    /// A call as it arrives, and its level.
    fn heard(&self, passage: &Passage, uttered: Call, onset_s: f64) -> (Call, f64) {
        let nearest_m = passage.speed_m_s * self.past.passing_s;
        // How far it is past the nearest point, in distances to that point.
        let way = (onset_s - self.past.nearest_s) / self.past.passing_s;
        let away = (1.0 + way * way).sqrt();
        let receding_m_s = passage.speed_m_s * way / away;
        let stretched = 1.0 + receding_m_s / passage.air.speed_of_sound_m_s();
        let at = |metres: f64| Way {
            air: passage.air,
            metres,
        };
        let mut call = uttered.scaled(1.0 / stretched, stretched);
        let top_khz = call.law.khz(call.maximum().0);
        let absorbed = at(nearest_m * away).loss_db(top_khz) - at(nearest_m).loss_db(top_khz);
        call.way = Some(at(nearest_m * away));
        let level_db = self.past.nearest_db - 20.0 * libm::log10(away) - absorbed;
        (call, level_db)
    }
}

/// A normal number without the rare extremes that no animal produces.
fn clipped(random: &mut impl Rng) -> f64 {
    normal(random).clamp(-2.0, 2.0)
}
