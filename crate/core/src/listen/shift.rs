//! Heterodyne: the product with a tone.

use std::f64::consts::TAU;

/// A new tuning is reached after this time, seconds: soon enough to follow a hand on a dial, slow
/// enough to make no click.
const RAMP_S: f64 = 0.010;

/// A tone that samples are multiplied with. Its phase runs on without a jump when it is tuned anew.
///
/// The product of a sound at f with the tone at t is two sounds, at |f - t| and at f + t, each of half the
/// amplitude; the tone has an amplitude of 2, so that the difference is as loud as the sound was. As in
/// every heterodyne without a second mixer, sounds above and below the tone cannot be told apart by ear.
#[derive(Debug)]
pub(super) struct Shift {
    rate_hz: f64,
    /// Cycles, 0 to 1.
    phase: f64,
    /// Cycles per sample.
    frequency: f64,
    wanted: f64,
    /// Change of the frequency per sample while it is tuned anew.
    slope: f64,
}

impl Shift {
    pub(super) fn new(tuning_khz: f64, rate_hz: f64) -> Self {
        let frequency = tuning_khz * 1e3 / rate_hz;
        Self {
            rate_hz,
            phase: 0.0,
            frequency,
            wanted: frequency,
            slope: 0.0,
        }
    }

    /// Another frequency from the next sample on.
    pub(super) fn tune(&mut self, tuning_khz: f64) {
        self.wanted = tuning_khz * 1e3 / self.rate_hz;
        self.slope = (self.wanted - self.frequency) / (RAMP_S * self.rate_hz);
    }

    /// Begins at a frame of the recording, with the phase that the tone has there if it sounds since
    /// the recording's start: whoever begins in the middle hears what came there anyway.
    pub(super) fn begin(&mut self, frame: i64) {
        self.frequency = self.wanted;
        self.slope = 0.0;
        self.phase = (self.frequency * frame as f64).rem_euclid(1.0);
    }

    /// Multiplies samples in place.
    pub(super) fn run(&mut self, samples: &mut [f32]) {
        for sample in samples {
            *sample *= 2.0 * (TAU * self.phase).cos() as f32;
            self.advance();
        }
    }

    fn advance(&mut self) {
        if self.slope != 0.0 {
            self.frequency += self.slope;
            if (self.wanted - self.frequency) * self.slope <= 0.0 {
                self.frequency = self.wanted;
                self.slope = 0.0;
            }
        }
        self.phase += self.frequency;
        if self.phase >= 1.0 {
            self.phase -= 1.0;
        }
    }
}
