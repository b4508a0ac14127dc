//! What an estimator is given of a pulse, and what it gives back.

use std::ops::Range;

/// A pulse to be traced, with what the estimators are told of it.
#[derive(Debug, Clone)]
pub(super) struct Target<'a> {
    /// The whole recording.
    pub(super) samples: &'a [f32],
    /// Its sampling rate, hertz.
    pub(super) rate_hz: f64,
    /// When the pulse begins and ends, seconds.
    pub(super) span_s: Range<f64>,
    /// Roughly its band, kilohertz.
    pub(super) band_khz: Range<f64>,
}

impl Target<'_> {
    /// The samples around a moment, as many as asked for; zeros beyond the recording. The middle
    /// one (the later of two) lies at the moment's sample.
    pub(super) fn around(&self, middle: i64, frame: &mut [f32]) {
        let first = middle - frame.len() as i64 / 2;
        for (offset, slot) in (0..).zip(frame) {
            let index = usize::try_from(first + offset).ok();
            *slot = index
                .and_then(|i| self.samples.get(i))
                .copied()
                .unwrap_or(0.0);
        }
    }

    /// The sample numbers on which frames are centred, so many samples apart.
    pub(super) fn middles(&self, hop: usize) -> Vec<i64> {
        let first = (self.span_s.start * self.rate_hz).floor() as i64;
        let last = (self.span_s.end * self.rate_hz).ceil() as i64;
        (first..=last + hop as i64 - 1)
            .step_by(hop.max(1))
            .collect()
    }
}

/// Frequency against time, as an estimator found it.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Track {
    /// Times in order, seconds, and the frequency then, kilohertz.
    pub(super) points: Vec<(f64, f64)>,
}

impl Track {
    /// The frequency at a moment, interpolated; held beyond the ends. None where nothing was found.
    pub(super) fn khz(&self, at_s: f64) -> Option<f64> {
        let after = self.points.partition_point(|p| p.0 <= at_s);
        let before = after.checked_sub(1).and_then(|i| self.points.get(i));
        match (before, self.points.get(after)) {
            (Some(a), Some(b)) => Some(a.1 + (b.1 - a.1) * (at_s - a.0) / (b.0 - a.0).max(1e-12)),
            (Some(only), None) | (None, Some(only)) => Some(only.1),
            (None, None) => None,
        }
    }
}

/// A straight sweep for the estimators' own tests.
#[cfg(test)]
pub(super) mod sweep {
    use super::{Target, Track};

    pub(in super::super) const RATE_HZ: f64 = 384_000.0;

    /// 20 ms of silence with a sweep from 70 to 50 kHz between 5 and 9 ms.
    pub(in super::super) fn samples() -> Vec<f32> {
        let mut samples = vec![0.0; 7680];
        let law = |t: f64| 70e3 * t - 5e6 * t * t / 2.0;
        for (n, sample) in samples.iter_mut().enumerate() {
            let t = n as f64 / RATE_HZ - 5e-3;
            if (0.0..4e-3).contains(&t) {
                *sample = (std::f64::consts::TAU * law(t)).sin() as f32 * 0.3;
            }
        }
        samples
    }

    pub(in super::super) fn target(samples: &[f32]) -> Target<'_> {
        Target {
            samples,
            rate_hz: RATE_HZ,
            span_s: 5e-3..9e-3,
            band_khz: 45.0..75.0,
        }
    }

    /// Largest distance from the law in the middle half, kilohertz.
    pub(in super::super) fn worst(track: &Track) -> f64 {
        (0..=20)
            .map(|step| {
                let at_s = 6e-3 + f64::from(step) * 1e-4;
                let law = 70.0 - 5.0 * (at_s - 5e-3) * 1e3;
                track
                    .khz(at_s)
                    .map_or(f64::INFINITY, |khz| (khz - law).abs())
            })
            .fold(0.0, f64::max)
    }
}
