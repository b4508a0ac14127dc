//! The ideal pulses that are tried.

use dusklens_core::pulse::Shape;
use dusklens_core::teach::{Bend, Call, Envelope, Law, Segment};

use super::model::Parameter;

/// An ideal pulse: one law, one envelope, no harmonics, no echo.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ideal {
    /// Its name as printed.
    pub name: &'static str,
    shape: Shape,
    segment: Segment,
    envelope: Envelope,
}

/// The ideal pulses in the order of the report. The bulge of the envelope is kept off the
/// middle, where its formula has a kink.
pub const IDEALS: [Ideal; 4] = [
    Ideal {
        name: "CF, 60 kHz, 12 ms",
        shape: Shape::Cf,
        segment: segment(60.0, 60.0, 12.0, Bend::Straight),
        envelope: envelope(1.2, 1.2, 0.45, 1.0),
    },
    Ideal {
        name: "QCF, 32 to 30 kHz, 10 ms",
        shape: Shape::Qcf,
        segment: segment(32.0, 30.0, 10.0, Bend::Exponential { rate: 1.0 }),
        envelope: envelope(3.0, 3.0, 0.45, 3.0),
    },
    Ideal {
        name: "FM, straight, 80 to 40 kHz, 4 ms",
        shape: Shape::Fm,
        segment: segment(80.0, 40.0, 4.0, Bend::Straight),
        envelope: envelope(1.2, 1.6, 0.45, 8.0),
    },
    Ideal {
        name: "FM-QCF, curved, 70 to 40 kHz, 6 ms",
        shape: Shape::FmQcf,
        segment: segment(70.0, 40.0, 6.0, Bend::Exponential { rate: 5.0 }),
        envelope: envelope(0.72, 1.5, 0.65, 8.0),
    },
];

const fn segment(from_khz: f64, to_khz: f64, duration_ms: f64, bend: Bend) -> Segment {
    Segment {
        from_khz,
        to_khz,
        duration_ms,
        bend,
    }
}

const fn envelope(rise_ms: f64, fall_ms: f64, peak_at: f64, droop_db: f64) -> Envelope {
    Envelope {
        rise_ms,
        fall_ms,
        peak_at,
        droop_db,
    }
}

impl Ideal {
    /// The call.
    pub fn call(&self) -> Call {
        Call {
            shape: self.shape,
            law: Law::new([self.segment]),
            envelope: self.envelope,
            harmonics: vec![],
            way: None,
        }
    }

    /// What the bound takes to be unknown of it.
    pub fn unknown(&self) -> Vec<Parameter> {
        use Parameter::{
            Droop, Duration, Fall, From, Level, Onset, PeakAt, Phase, Rate, Rise, To, Tone,
        };
        let law: &[Parameter] = match (self.shape, self.segment.bend) {
            (Shape::Cf, _) => &[Tone],
            (_, Bend::Exponential { .. }) => &[From, To, Rate],
            _ => &[From, To],
        };
        let rest = [Level, Phase, Onset, Duration, Rise, Fall, PeakAt, Droop];
        rest.iter().chain(law).copied().collect()
    }

    /// Whether its flattest stretch has a place: a straight sweep is as flat everywhere.
    pub fn has_characteristic(&self) -> bool {
        self.shape != Shape::Fm
    }

    /// Whether the peak of its spectrum is a frequency that it keeps to.
    pub fn is_constant(&self) -> bool {
        self.shape == Shape::Cf
    }
}
