//! One ideal pulse at one level, many times over: what is measured, and the bound.

use std::error::Error;

use dusklens_core::pulse::{Pulse, Settings, measure};
use dusklens_core::recording::{OpenOptions, Recording};
use dusklens_core::teach::random::{Stream, between, stream};
use dusklens_core::teach::{Background, Edges, Hiss, Placed, Scene};
use serde::Serialize;

use super::fisher::{Information, derivatives};
use super::ideal::Ideal;
use super::model::{QUANTITIES, Sound, steps};
use crate::truth::matching::pair;
use crate::truth::run::file;
use crate::truth::tally::quantile;

const RATE_HZ: u32 = 384_000;
/// Level of every pulse, decibels re full scale: noise of a narrow pulse's 20 dB must not clip.
const LEVEL_DB: f64 = -20.0;
/// Time from one pulse to the next, and how far each may stray, milliseconds: a delay that
/// never changes would be taken for an echo's.
const INTERVAL_MS: f64 = 55.0;
const JITTER_MS: f64 = 20.0;
/// How far a pulse's own band reaches beyond it when noise is set, kilohertz: as in `snr_db`.
const BAND_KHZ: f64 = 1.0;
/// Depth of the edges unless noise lies higher, decibels.
const EDGE_DB: f64 = 20.0;

/// One quantity of one ideal pulse at one level.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Line {
    /// The pulse.
    pub ideal: &'static str,
    /// Its signal-to-noise ratio, decibels.
    pub snr_db: f64,
    /// The quantity; its unit is its suffix.
    pub quantity: &'static str,
    /// Pulses drawn.
    pub drawn: usize,
    /// Pulses found.
    pub found: usize,
    /// Median depth of the edges below the maximum, decibels.
    pub edge_db: f64,
    /// Mean error.
    pub bias: f64,
    /// Standard deviation of the error.
    pub deviation: f64,
    /// Half of the middle 68 % of the error.
    pub spread: f64,
    /// The Cramér-Rao bound on the standard deviation.
    pub bound: f64,
}

impl Line {
    /// The spread as a multiple of the bound.
    pub fn ratio(&self) -> f64 {
        self.spread / self.bound
    }
}

/// What was measured of one ideal pulse at one level.
#[derive(Debug, Clone)]
pub struct Trial {
    ideal: Ideal,
    snr_db: f64,
    drawn: usize,
    noise_power: f64,
    edge_db: f64,
    /// Errors of each found pulse, in the order of the quantities.
    errors: Vec<Vec<f64>>,
}

impl Trial {
    /// Renders so many pulses into one recording and measures it.
    ///
    /// # Errors
    /// Fails where the recording cannot be written or read.
    pub fn run(
        ideal: Ideal,
        snr_db: f64,
        draws: usize,
    ) -> Result<Trial, Box<dyn Error + Send + Sync>> {
        let noise_power = noise_power(&ideal, snr_db);
        let scene = scene(&ideal, snr_db, draws, noise_power);
        let samples = scene.render();
        let truth = scene.truth(&samples);
        let recording = Recording::open(file(&scene, &samples)?, &OpenOptions::default())?;
        let measured = measure(&recording, 0, &Settings::default())?.pulses;
        let pairs = pair(&scene, &truth, &measured);
        let found = scene.calls.iter().zip(&pairs.measured);
        let found: Vec<(&Placed, &Pulse)> = found
            .filter_map(|(placed, m)| Some((placed, measured.get((*m)?)?)))
            .collect();
        let mut depths: Vec<f64> = found.iter().map(|(_, pulse)| pulse.edge_db).collect();
        Ok(Trial {
            ideal,
            snr_db,
            drawn: draws,
            noise_power,
            edge_db: quantile(&mut depths, 0.5),
            errors: found.iter().map(|(p, m)| errors(p, m)).collect(),
        })
    }

    /// Its lines, one for each quantity that means something of this pulse.
    pub fn lines(&self) -> Vec<Line> {
        let bounds = self.bounds();
        QUANTITIES
            .iter()
            .enumerate()
            .filter(|(_, quantity)| match **quantity {
                "characteristic_khz" => self.ideal.has_characteristic(),
                "peak_khz" => self.ideal.is_constant(),
                _ => true,
            })
            .map(|(index, quantity)| {
                self.line(
                    quantity,
                    index,
                    bounds.get(index).copied().unwrap_or(f64::NAN),
                )
            })
            .collect()
    }

    fn line(&self, quantity: &'static str, index: usize, bound: f64) -> Line {
        let mut errors: Vec<f64> = self
            .errors
            .iter()
            .filter_map(|all| all.get(index).copied())
            .collect();
        let count = errors.len().max(1) as f64;
        let bias = errors.iter().sum::<f64>() / count;
        let square = errors.iter().map(|e| (e - bias) * (e - bias)).sum::<f64>();
        let (low, high) = (quantile(&mut errors, 0.16), quantile(&mut errors, 0.84));
        Line {
            ideal: self.ideal.name,
            snr_db: self.snr_db,
            quantity,
            drawn: self.drawn,
            found: errors.len(),
            edge_db: self.edge_db,
            bias,
            deviation: (square / (count - 1.0).max(1.0)).sqrt(),
            spread: (high - low) / 2.0,
            bound,
        }
    }

    /// The bound of every quantity, at the median depth of the edges.
    fn bounds(&self) -> Vec<f64> {
        let unknown = self.ideal.unknown();
        let mut sound = Sound::ideal(&self.ideal);
        sound.amplitude *= libm::exp10(LEVEL_DB / 20.0);
        let rate_hz = f64::from(RATE_HZ);
        let length_ms = sound.call.duration_ms() + 2.0;
        let edges = sound.call.edges(self.edge_db);
        let middle_ms = sound.onset_ms + (edges.start_ms + edges.end_ms) / 2.0;
        let (still, steps) = (vec![0.0; unknown.len()], steps(&unknown));
        let samples =
            |changes: &[f64]| sound.changed(&unknown, changes).samples(rate_hz, length_ms);
        let quantities = |changes: &[f64]| {
            let changed = sound.changed(&unknown, changes);
            changed.quantities(self.edge_db, middle_ms)
        };
        let slopes = derivatives(quantities, &still, &steps);
        let information = Information::of(&derivatives(samples, &still, &steps), self.noise_power);
        let Some(information) = information else {
            return vec![];
        };
        (0..QUANTITIES.len())
            .map(|index| {
                let gradient: Vec<f64> = slopes
                    .iter()
                    .map(|by| by.get(index).copied().unwrap_or(0.0))
                    .collect();
                information.bound(&gradient)
            })
            .collect()
    }
}

/// The power of white noise that gives the pulse this `snr_db`.
fn noise_power(ideal: &Ideal, snr_db: f64) -> f64 {
    let edges: Edges = ideal.call().edges(EDGE_DB);
    let band_khz = edges.high_khz - edges.low_khz + 2.0 * BAND_KHZ;
    let share = band_khz / (f64::from(RATE_HZ) / 2e3);
    // A sine of amplitude 1 has a mean power of one half.
    libm::exp10((LEVEL_DB - snr_db) / 10.0) / 2.0 / share
}

fn scene(ideal: &Ideal, snr_db: f64, draws: usize, noise_power: f64) -> Scene {
    let number = ideal
        .name
        .bytes()
        .fold(0, |sum, b| sum * 31 % 65_521 + u64::from(b));
    let seed = 0x11a1_0000_0000 + number * 100 + snr_db as u64;
    let mut random = stream(seed, Stream::Draw);
    let calls = (0..draws).map(|index| Placed {
        call: ideal.call(),
        onset_s: (20.0 + index as f64 * INTERVAL_MS + between(&mut random, 0.0, JITTER_MS)) / 1e3,
        level_db: LEVEL_DB,
        animal: 1,
        echoes: vec![],
    });
    Scene {
        rate_hz: RATE_HZ,
        seed,
        calls: calls.collect(),
        duration_s: (draws as f64 * INTERVAL_MS + 60.0) / 1e3,
        backgrounds: vec![Background::Hiss(Hiss::white(
            10.0 * libm::log10(noise_power),
        ))],
    }
}

/// Measured less true, in the order of the quantities, at the edges that could be used.
fn errors(placed: &Placed, measured: &Pulse) -> Vec<f64> {
    let edges = placed.call.edges(measured.edge_db);
    let (characteristic_khz, _) = placed.call.flattest(edges.start_ms, edges.end_ms);
    let start_ms = (measured.start_s - placed.onset_s) * 1e3 - edges.start_ms;
    let end_ms = (measured.end_s - placed.onset_s) * 1e3 - edges.end_ms;
    let middle_ms = (edges.start_ms + edges.end_ms) / 2.0;
    vec![
        start_ms,
        end_ms,
        end_ms - start_ms,
        measured.start_khz - edges.start_khz,
        measured.end_khz - edges.end_khz,
        contour_khz(measured, placed.onset_s + middle_ms / 1e3) - placed.call.law.khz(middle_ms),
        measured.characteristic_khz - characteristic_khz,
        measured.peak_khz - placed.call.law.khz(middle_ms),
        measured.level_db - placed.level_db,
    ]
}

/// The contour at a moment, interpolated; held beyond its ends.
pub fn contour_khz(pulse: &Pulse, at_s: f64) -> f64 {
    let contour = &pulse.contour;
    let place = ((at_s - contour.start_s) / contour.step_s).max(0.0);
    let (index, share) = (place as usize, place.fract());
    let last = contour.khz.last().copied().unwrap_or(0.0);
    let value = |n: usize| f64::from(contour.khz.get(n).copied().unwrap_or(last));
    value(index) + (value(index + 1) - value(index)) * share
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed test may panic")]

    use super::super::ideal::IDEALS;
    use super::*;

    #[test]
    fn noise_gives_the_ratio_that_truth_tells() {
        for ideal in &IDEALS {
            let scene = scene(ideal, 30.0, 2, noise_power(ideal, 30.0));
            let truth = scene.truth(&scene.render());
            let snr_db = truth[0].snr_db.unwrap();
            assert!((snr_db - 30.0).abs() < 0.01, "{}: {snr_db}", ideal.name);
        }
    }

    #[test]
    fn no_spread_lies_far_below_its_bound() {
        for ideal in IDEALS {
            let trial = Trial::run(ideal, 30.0, 40).unwrap();
            for line in trial.lines() {
                assert!(line.bound.is_finite() && line.bound > 0.0, "{line:?}");
                // The spread of 40 values is itself uncertain by a ninth or more.
                assert!(line.ratio() > 0.6, "{line:?}");
                assert!(line.found >= 36, "{line:?}");
            }
        }
    }

    #[test]
    fn the_bound_of_a_constant_frequency_is_near_that_of_a_plain_tone() {
        let trial = Trial::run(IDEALS[0], 30.0, 4).unwrap();
        let lines = trial.lines();
        let peak = lines.iter().find(|l| l.quantity == "peak_khz").unwrap();
        let rate_hz = f64::from(RATE_HZ);
        let eta = libm::exp10(LEVEL_DB / 10.0) / 2.0 / trial.noise_power;
        let count = 12e-3 * rate_hz;
        let tau = std::f64::consts::TAU;
        let plain_khz =
            (12.0 / (tau * tau * eta * count * (count * count - 1.0))).sqrt() * rate_hz / 1e3;
        // The rise and the fall hold less of the tone: somewhat above.
        assert!(
            (1.0..1.4).contains(&(peak.bound / plain_khz)),
            "{peak:?} {plain_khz}"
        );
    }
}
