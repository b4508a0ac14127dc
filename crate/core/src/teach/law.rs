//! The frequency law of a call: kilohertz against milliseconds, with its
//! integral in closed form so that the phase of a rendered call is exact.

use serde::{Deserialize, Serialize};

/// How a stretch of a law runs from its first frequency to its last.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Bend {
    /// Frequency linear in time.
    Straight,
    /// Period linear in time, the sweep that tolerates Doppler shift best.
    Hyperbolic,
    /// Steep first and flattening towards the end; `rate` time constants long.
    Exponential {
        /// Stretch duration over time constant, above 0.
        rate: f64,
    },
    /// Slope zero at the beginning, frequency off it by a power of time.
    FlatStart {
        /// Exponent, 1 or more.
        power: f64,
    },
    /// Slope zero at the end, frequency off it by a power of the time left.
    FlatEnd {
        /// Exponent, 1 or more.
        power: f64,
    },
}

/// One stretch of a law. Frequency is monotone within it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Segment {
    /// Frequency at its beginning, kilohertz.
    pub from_khz: f64,
    /// Frequency at its end, kilohertz.
    pub to_khz: f64,
    /// Length, milliseconds.
    pub duration_ms: f64,
    /// How it runs between the two.
    pub bend: Bend,
}

impl Segment {
    /// Frequency at `t_ms` from the segment's beginning, kilohertz.
    fn khz(&self, t_ms: f64) -> f64 {
        let (a, b) = (self.from_khz, self.to_khz);
        let u = t_ms / self.duration_ms;
        match self.bend {
            Bend::Straight => a + (b - a) * u,
            Bend::Hyperbolic => a * b / (b + (a - b) * u),
            Bend::Exponential { rate } => a + (b - a) * libm::expm1(-rate * u) / libm::expm1(-rate),
            Bend::FlatStart { power } => a + (b - a) * libm::pow(u, power),
            Bend::FlatEnd { power } => b + (a - b) * libm::pow(1.0 - u, power),
        }
    }

    /// Cycles passed `t_ms` from the segment's beginning: the integral of [`Segment::khz`].
    fn cycles(&self, t_ms: f64) -> f64 {
        let (a, b, d) = (self.from_khz, self.to_khz, self.duration_ms);
        let u = t_ms / d;
        let unit = match self.bend {
            Bend::Straight => a * u + (b - a) * u * u / 2.0,
            Bend::Hyperbolic => {
                let rise = (a - b) / b;
                if rise.abs() < 1e-9 {
                    a * u
                } else {
                    a * libm::log1p(rise * u) / rise
                }
            }
            Bend::Exponential { rate } => {
                let whole = libm::expm1(-rate);
                a * u + (b - a) * (-libm::expm1(-rate * u) / rate - u) / whole
            }
            Bend::FlatStart { power } => {
                a * u + (b - a) * libm::pow(u, power + 1.0) / (power + 1.0)
            }
            Bend::FlatEnd { power } => {
                b * u + (a - b) * (1.0 - libm::pow(1.0 - u, power + 1.0)) / (power + 1.0)
            }
        };
        unit * d
    }
}

/// A frequency law made of segments, one after the other.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Law {
    segments: Vec<Segment>,
}

impl Law {
    /// A law of these segments; those of no length are left out.
    pub fn new(segments: impl IntoIterator<Item = Segment>) -> Law {
        let segments = segments.into_iter().filter(|s| s.duration_ms > 0.0);
        Law {
            segments: segments.collect(),
        }
    }

    /// Its segments in order.
    pub fn segments(&self) -> &[Segment] {
        &self.segments
    }

    /// Length of the whole, milliseconds.
    pub fn duration_ms(&self) -> f64 {
        self.segments.iter().map(|s| s.duration_ms).sum()
    }

    /// Frequency `t_ms` after the beginning, kilohertz; held constant beyond either end.
    pub fn khz(&self, t_ms: f64) -> f64 {
        let (segment, _, t) = self.find(t_ms);
        segment.map_or(0.0, |s| s.khz(t))
    }

    /// Cycles of the fundamental passed `t_ms` after the beginning; held beyond either end.
    pub fn cycles(&self, t_ms: f64) -> f64 {
        let (segment, before, t) = self.find(t_ms);
        before + segment.map_or(0.0, |s| s.cycles(t))
    }

    /// The smallest and the largest frequency between two times, kilohertz.
    ///
    /// Exact, since every segment is monotone: extremes lie at joints or edges.
    pub fn range_khz(&self, from_ms: f64, to_ms: f64) -> (f64, f64) {
        let mut low = self.khz(from_ms).min(self.khz(to_ms));
        let mut high = self.khz(from_ms).max(self.khz(to_ms));
        let mut joint_ms = 0.0;
        for segment in &self.segments {
            for (t_ms, khz) in [
                (joint_ms, segment.from_khz),
                (joint_ms + segment.duration_ms, segment.to_khz),
            ] {
                if (from_ms..=to_ms).contains(&t_ms) {
                    low = low.min(khz);
                    high = high.max(khz);
                }
            }
            joint_ms += segment.duration_ms;
        }
        (low, high)
    }

    /// The same law with frequencies and times multiplied.
    pub fn scaled(&self, khz_factor: f64, ms_factor: f64) -> Law {
        Law::new(self.segments.iter().map(|s| Segment {
            from_khz: s.from_khz * khz_factor,
            to_khz: s.to_khz * khz_factor,
            duration_ms: s.duration_ms * ms_factor,
            bend: s.bend,
        }))
    }

    /// The segment at a time, the cycles before it, and the time within it.
    fn find(&self, t_ms: f64) -> (Option<&Segment>, f64, f64) {
        let mut before = 0.0;
        let mut left_ms = t_ms.max(0.0);
        for (index, segment) in self.segments.iter().enumerate() {
            if left_ms < segment.duration_ms {
                return (Some(segment), before, left_ms);
            }
            if index + 1 == self.segments.len() {
                return (Some(segment), before, segment.duration_ms);
            }
            left_ms -= segment.duration_ms;
            before += segment.cycles(segment.duration_ms);
        }
        (None, before, 0.0)
    }
}
