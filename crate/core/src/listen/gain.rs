//! Automatic gain: slow, and within bounds.

/// Where the loudest sounds are brought to, amplitude: 14 dB below full scale.
const TARGET: f64 = 0.2;
/// The most that is given, decibels: with more, a quiet recording's hiss would be all that is heard.
const MOST_DB: f64 = 36.0;
/// The most that is taken, decibels; the limiter does the rest.
const LEAST_DB: f64 = -12.0;
/// How fast it rises, decibels per second: over several pulses, so that their levels can still be compared.
const RISE_DB_PER_S: f64 = 10.0;
/// How fast it falls.
const FALL_DB_PER_S: f64 = 60.0;
/// How long the loudest is remembered: it falls to a third in this time, seconds.
const MEMORY_S: f64 = 2.0;
/// The gain is thought over once in so many samples.
const STEP: u32 = 32;

/// Brings quiet sounds up.
#[derive(Debug)]
pub(super) struct AutomaticGain {
    output_hz: f64,
    decay: f64,
    loudest: f64,
    gain_db: f64,
    gain: f64,
    slope: f64,
    left: u32,
}

impl AutomaticGain {
    pub(super) fn new(output_hz: f64) -> Self {
        Self {
            output_hz,
            decay: (-1.0 / (MEMORY_S * output_hz)).exp(),
            loudest: 0.0,
            gain_db: 0.0,
            gain: 1.0,
            slope: 0.0,
            left: 0,
        }
    }

    /// Amplifies samples in place.
    pub(super) fn run(&mut self, samples: &mut [f32]) {
        for sample in samples {
            if self.left == 0 {
                self.think();
                self.left = STEP;
            }
            self.left -= 1;
            self.loudest = (self.loudest * self.decay).max(f64::from(sample.abs()));
            self.gain += self.slope;
            *sample *= self.gain as f32;
        }
    }

    /// Where the gain goes until it thinks again.
    fn think(&mut self) {
        let step_s = f64::from(STEP) / self.output_hz;
        let wanted_db = 20.0 * (TARGET / self.loudest.max(1e-9)).log10();
        let change = wanted_db.clamp(LEAST_DB, MOST_DB) - self.gain_db;
        self.gain_db += change.clamp(-FALL_DB_PER_S * step_s, RISE_DB_PER_S * step_s);
        let next = 10f64.powf(self.gain_db / 20.0);
        self.slope = (next - self.gain) / f64::from(STEP);
    }
}
