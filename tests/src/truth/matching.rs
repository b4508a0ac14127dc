//! Pairs measured pulses with true ones, and says what the unpaired are.

use dusklens_core::pulse::Pulse;
use dusklens_core::teach::{Placed, Scene, TruePulse};

/// Frequencies agree within this many kilohertz, or the share below of the law.
const NEAR_KHZ: f64 = 3.0;
const NEAR_SHARE: f64 = 0.08;
/// Share of the shorter of two pulses in which they must overlap.
const OVERLAP: f64 = 0.3;
/// How long after the end of a true pulse a sound at its frequency counts as its echo, seconds.
const ECHO_S: f64 = 0.06;

/// What a measured pulse that is no true one is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Extra {
    /// A multiple of a true pulse at the same time.
    Harmonic,
    /// A later copy of a true pulse.
    Echo,
    /// A second pulse on the same stretch of a true one.
    Double,
    /// None of these.
    Other,
}

/// How measured and true pulses pair up.
#[derive(Debug, Clone, Default)]
pub struct Pairs {
    /// For each true pulse, its measured one.
    pub measured: Vec<Option<usize>>,
    /// Measured pulses that pair with none.
    pub extras: Vec<(usize, Extra)>,
    /// True pulses that were missed but whose multiple was measured in their place.
    pub misassigned: Vec<usize>,
}

/// Pairs each true pulse with the measured one that follows its law best.
pub fn pair(scene: &Scene, truth: &[TruePulse], measured: &[Pulse]) -> Pairs {
    let mut offers: Vec<(f64, usize, usize)> = Vec::new();
    for (t, (placed, pulse)) in scene.calls.iter().zip(truth).enumerate() {
        for (m, found) in measured.iter().enumerate() {
            if overlap(pulse, found) >= OVERLAP && follows(placed, found, 1.0, 0.0) {
                offers.push((deviation_khz(placed, found, 1.0, 0.0), t, m));
            }
        }
    }
    offers.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut pairs = Pairs {
        measured: vec![None; truth.len()],
        ..Pairs::default()
    };
    let mut taken = vec![false; measured.len()];
    for (_, t, m) in offers {
        if pairs.measured[t].is_none() && !taken[m] {
            pairs.measured[t] = Some(m);
            taken[m] = true;
        }
    }
    for (m, found) in measured.iter().enumerate().filter(|(m, _)| !taken[*m]) {
        let extra = name(scene, truth, found);
        pairs.extras.push((m, extra));
    }
    for (t, (placed, pulse)) in scene.calls.iter().zip(truth).enumerate() {
        let multiple = |found: &Pulse| is_multiple(placed, pulse, found);
        if pairs.measured[t].is_none() && measured.iter().any(multiple) {
            pairs.misassigned.push(t);
        }
    }
    pairs
}

fn name(scene: &Scene, truth: &[TruePulse], found: &Pulse) -> Extra {
    let mut name = Extra::Other;
    for (placed, pulse) in scene.calls.iter().zip(truth) {
        if overlap(pulse, found) > 0.0 && follows(placed, found, 1.0, 0.0) {
            return Extra::Double;
        }
        if is_multiple(placed, pulse, found) {
            return Extra::Harmonic;
        }
        let late_s = found.start_s - pulse.start_s;
        let echoes = placed
            .echoes
            .iter()
            .any(|e| follows(placed, found, 1.0, e.delay_ms / 1e3));
        if echoes && late_s > 0.0 && found.start_s < pulse.end_s + ECHO_S {
            name = Extra::Echo;
        }
    }
    name
}

fn is_multiple(placed: &Placed, pulse: &TruePulse, found: &Pulse) -> bool {
    overlap(pulse, found) > 0.0
        && [0.5, 2.0, 3.0]
            .iter()
            .any(|&factor| follows(placed, found, factor, 0.0))
}

/// Share of the shorter of the two that they have in common.
fn overlap(pulse: &TruePulse, found: &Pulse) -> f64 {
    let common = pulse.end_s.min(found.end_s) - pulse.start_s.max(found.start_s);
    let shorter = (pulse.end_s - pulse.start_s).min(found.end_s - found.start_s);
    common / shorter.max(1e-6)
}

/// Whether a contour runs along a multiple of a law that is late by `late_s`.
fn follows(placed: &Placed, found: &Pulse, factor: f64, late_s: f64) -> bool {
    let allowed = NEAR_KHZ.max(NEAR_SHARE * found.peak_khz);
    deviation_khz(placed, found, factor, late_s) <= allowed
}

/// Median distance between contour and law, within the time that they share.
fn deviation_khz(placed: &Placed, found: &Pulse, factor: f64, late_s: f64) -> f64 {
    let duration_ms = placed.call.duration_ms();
    let mut distances: Vec<f64> = found
        .contour
        .khz
        .iter()
        .enumerate()
        .map(|(step, &khz)| {
            let at_s = found.contour.start_s + step as f64 * found.contour.step_s;
            ((at_s - placed.onset_s - late_s) * 1e3, f64::from(khz))
        })
        .filter(|(t_ms, _)| (0.0..duration_ms).contains(t_ms))
        .map(|(t_ms, khz)| (khz - factor * placed.call.law.khz(t_ms)).abs())
        .collect();
    let middle = distances.len() / 2;
    distances.sort_by(f64::total_cmp);
    distances.get(middle).copied().unwrap_or(f64::INFINITY)
}
