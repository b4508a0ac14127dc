//! Rumble, taken out.

use std::f64::consts::PI;

/// Quality factors of the two sections of a Butterworth filter of the fourth order:
/// 1 / (2 cos(pi/8)) and 1 / (2 cos(3 pi/8)).
const QUALITIES: [f64; 2] = [0.541_196_100_146_197, 1.306_562_964_876_377];

/// A Butterworth filter of the fourth order: 3 dB less at the edge, 24 dB less an octave below it.
#[derive(Debug)]
pub(super) struct HighPass {
    sections: [Section; 2],
}

/// Second-order section in transposed direct form II.
#[derive(Debug)]
struct Section {
    /// Gains of the newest sample, the one before it, and the one before that.
    forward: [f64; 3],
    /// The same of what came out.
    back: [f64; 2],
    state: [f64; 2],
}

impl HighPass {
    /// A filter with its edge at `edge_hz`; none where no frequency is left above it.
    pub(super) fn new(edge_hz: f64, rate_hz: f64) -> Option<Self> {
        (edge_hz < 0.49 * rate_hz).then(|| Self {
            sections: QUALITIES.map(|quality| Section::high_pass(edge_hz / rate_hz, quality)),
        })
    }

    /// Forgets what it heard.
    pub(super) fn reset(&mut self) {
        for section in &mut self.sections {
            section.state = [0.0; 2];
        }
    }

    /// Filters samples in place.
    pub(super) fn run(&mut self, samples: &mut [f32]) {
        for sample in samples {
            let sections = self.sections.iter_mut();
            *sample = sections.fold(f64::from(*sample), |x, section| section.step(x)) as f32;
        }
    }
}

impl Section {
    /// Bilinear transform of the analogue prototype (Bristow-Johnson, Audio EQ Cookbook, high-pass).
    fn high_pass(edge: f64, quality: f64) -> Self {
        let (sine, cosine) = (2.0 * PI * edge).sin_cos();
        let alpha = sine / (2.0 * quality);
        let whole = 1.0 + alpha;
        let outer = (1.0 + cosine) / 2.0 / whole;
        Self {
            forward: [outer, -2.0 * outer, outer],
            back: [-2.0 * cosine / whole, (1.0 - alpha) / whole],
            state: [0.0; 2],
        }
    }

    fn step(&mut self, x: f64) -> f64 {
        let [a, b, c] = self.forward;
        let y = a * x + self.state[0];
        self.state[0] = b * x - self.back[0] * y + self.state[1];
        self.state[1] = c * x - self.back[1] * y;
        y
    }
}
