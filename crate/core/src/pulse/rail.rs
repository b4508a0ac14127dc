//! Sounds that are louder than the file can hold.

use std::f64::consts::FRAC_PI_2;
use std::ops::Range;

/// The share of samples at the rail is read in windows of this length, seconds: some cycles of any call.
const WINDOW_S: f64 = 0.6e-3;
/// Beyond this share nothing can be told any more (26 dB above the rail).
const MOST: f64 = 0.97;

/// A recording's samples as they are in the file, and the magnitude that they cannot exceed.
#[derive(Clone, Copy)]
pub(super) struct Rail<'a> {
    pub(super) samples: &'a [f32],
    pub(super) level: Option<f32>,
    pub(super) rate_hz: f64,
}

impl Rail<'_> {
    /// Whether some samples of a span are at the rail.
    pub(super) fn is_touched(&self, span: &Range<f64>) -> bool {
        self.level
            .is_some_and(|level| self.part(span).iter().any(|s| s.abs() >= level))
    }

    /// The amplitude that a sound within a span must have had: a sine of amplitude A is cut off at a level c for a
    /// share p of its time, and A = c / sin((1 - p) pi / 2). None where nothing was cut off.
    pub(super) fn amplitude(&self, span: &Range<f64>) -> Option<f64> {
        let level = self.level?;
        let window = ((WINDOW_S * self.rate_hz) as usize).max(8);
        let part = self.part(span);
        let share = |window: &[f32]| {
            let railed = window.iter().filter(|s| s.abs() >= level).count();
            railed as f64 / window.len() as f64
        };
        let whole = part.len() < window;
        let windows = part.chunks_exact(if whole { part.len().max(1) } else { window });
        let most = windows.map(share).fold(0.0, f64::max);
        (most > 0.0).then(|| f64::from(level) / ((1.0 - most.min(MOST)) * FRAC_PI_2).sin())
    }

    fn part(&self, span: &Range<f64>) -> &[f32] {
        let from = (span.start.max(0.0) as usize).min(self.samples.len());
        let to = (span.end.max(0.0) as usize + 1).min(self.samples.len());
        &self.samples[from..to.max(from)]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const RATE_HZ: f64 = 500_000.0;

    fn railed(amplitude: f64) -> Option<f64> {
        let samples: Vec<f32> = (0..2_000)
            .map(|n| {
                let turns = 41_300.0 * f64::from(n) / RATE_HZ;
                let sample = amplitude * (std::f64::consts::TAU * turns).sin();
                sample.clamp(-1.0, 1.0) as f32
            })
            .collect();
        let rail = Rail {
            samples: &samples,
            level: Some(1.0),
            rate_hz: RATE_HZ,
        };
        assert_eq!(rail.is_touched(&(0.0..2_000.0)), amplitude >= 1.0);
        rail.amplitude(&(0.0..2_000.0))
    }

    #[test]
    fn a_cut_off_sine_tells_its_amplitude() {
        for amplitude in [1.3, 2.0, 3.0, 4.0] {
            let told = railed(amplitude).unwrap_or(0.0);
            assert!(
                (told / amplitude - 1.0).abs() < 0.12,
                "{told} for {amplitude}"
            );
        }
        assert_eq!(railed(0.9), None);
    }

    #[test]
    fn spans_beyond_the_samples_and_files_without_a_rail_are_no_trouble() {
        let rail = Rail {
            samples: &[1.0; 10],
            level: None,
            rate_hz: RATE_HZ,
        };
        assert!(!rail.is_touched(&(-5.0..50.0)) && rail.amplitude(&(0.0..5.0)).is_none());
        let rail = Rail {
            level: Some(1.0),
            ..rail
        };
        assert!(rail.is_touched(&(-5.0..50.0)) && !rail.is_touched(&(20.0..30.0)));
        assert!(rail.amplitude(&(20.0..30.0)).is_none());
    }
}
