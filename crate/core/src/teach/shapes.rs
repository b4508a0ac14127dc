//! Ready-made calls of every shape, from the few numbers that field guides print.

use crate::pulse::{Harmonic, Shape};

use super::{Bend, Call, Envelope, Law, Segment};

/// The few numbers from which a call of a given shape is built.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plan {
    /// Shape wanted.
    pub shape: Shape,
    /// Frequency at the beginning, kilohertz; the top of a first sweep.
    pub start_khz: f64,
    /// Frequency of the flat part, kilohertz; not used by FM.
    pub flat_khz: f64,
    /// Frequency at the end, kilohertz; the bottom of a last sweep.
    pub end_khz: f64,
    /// Length of the law, milliseconds; the edges 20 dB down lie a little within.
    pub duration_ms: f64,
}

/// How much a quasi-constant part falls from its beginning to its end, as a share.
const QCF_FALL: f64 = 0.03;

impl Plan {
    /// The call of this plan, with an envelope and harmonics that are usual for its shape.
    pub fn call(&self) -> Call {
        Call {
            shape: self.shape,
            law: self.law(),
            envelope: self.envelope(),
            harmonics: self.harmonics(),
            way: None,
        }
    }

    fn law(&self) -> Law {
        let (start, flat, end, d) = (
            self.start_khz,
            self.flat_khz,
            self.end_khz,
            self.duration_ms,
        );
        // The quasi-constant part still falls a little, as such calls do.
        let (above, below) = (flat * (1.0 + QCF_FALL / 2.0), flat * (1.0 - QCF_FALL / 2.0));
        match self.shape {
            Shape::Fm => Law::new([segment(start, end, d, Bend::Hyperbolic)]),
            Shape::Qcf => Law::new([segment(start, end, d, Bend::Exponential { rate: 1.0 })]),
            Shape::Cf => Law::new([segment(flat, flat, d, Bend::Straight)]),
            Shape::FmQcf => Law::new([segment(start, flat, d, Bend::Exponential { rate: 5.0 })]),
            Shape::QcfFm => Law::new([
                segment(above, below, 0.7 * d, Bend::Straight),
                segment(below, end, 0.3 * d, Bend::FlatStart { power: 1.6 }),
            ]),
            Shape::FmQcfFm => Law::new([
                segment(start, above, 0.25 * d, Bend::FlatEnd { power: 2.5 }),
                segment(above, below, 0.5 * d, Bend::Straight),
                segment(below, end, 0.25 * d, Bend::FlatStart { power: 1.8 }),
            ]),
            Shape::CfFm => {
                let sweep = SWEEP_MS.min(0.3 * d);
                Law::new([
                    segment(flat, flat, d - sweep, Bend::Straight),
                    segment(flat, end, sweep, Bend::FlatStart { power: 1.5 }),
                ])
            }
            Shape::FmCf => {
                let sweep = SWEEP_MS.min(0.3 * d);
                Law::new([
                    segment(start, flat, sweep, Bend::FlatEnd { power: 2.0 }),
                    segment(flat, flat, d - sweep, Bend::Straight),
                ])
            }
            Shape::FmCfFm => {
                let sweep = SWEEP_MS.min(0.2 * d);
                Law::new([
                    segment(start, flat, sweep, Bend::FlatEnd { power: 2.0 }),
                    segment(flat, flat, d - 2.0 * sweep, Bend::Straight),
                    segment(flat, end, sweep, Bend::FlatStart { power: 1.5 }),
                ])
            }
        }
    }

    fn envelope(&self) -> Envelope {
        let d = self.duration_ms;
        let (rise, fall, peak_at, droop_db) = match self.shape {
            // Loudest before the middle, as sweeps of vespertilionids are.
            Shape::Fm => (0.3, 0.4, 0.45, 8.0),
            // Loudest in the flat part.
            Shape::FmQcf => (0.12, 0.25, 0.65, 8.0),
            Shape::QcfFm => (0.3, 0.2, 0.4, 5.0),
            Shape::FmQcfFm => (0.2, 0.2, 0.5, 6.0),
            Shape::Qcf => (0.3, 0.3, 0.5, 3.0),
            Shape::Cf => (0.1, 0.1, 0.5, 1.0),
            Shape::CfFm | Shape::FmCf | Shape::FmCfFm => (0.08, 0.06, 0.5, 2.0),
        };
        Envelope {
            rise_ms: rise * d,
            fall_ms: fall * d,
            peak_at,
            droop_db,
        }
    }

    fn harmonics(&self) -> Vec<Harmonic> {
        let relative_db = match self.shape {
            Shape::Fm => -22.0,
            Shape::Cf | Shape::CfFm | Shape::FmCf | Shape::FmCfFm => -32.0,
            _ => -28.0,
        };
        vec![Harmonic {
            multiple: 2,
            relative_db,
        }]
    }
}

/// Usual length of the sweeps beside a constant part, milliseconds (common practice).
const SWEEP_MS: f64 = 3.0;

fn segment(from_khz: f64, to_khz: f64, duration_ms: f64, bend: Bend) -> Segment {
    Segment {
        from_khz,
        to_khz,
        duration_ms,
        bend,
    }
}
