//! What was drawn: the stated distributions of `draw` and `silence`, and the seeds.

use std::collections::BTreeMap;

use dusklens_core::pulse::Shape;

use super::model::{Section, Table};
use super::{Input, Set};
use crate::truth::run::Job;

/// A range from and to.
type Range = (f64, f64);

/// What a shape's calls are drawn from, for the draw that is tuned on and the reported one:
/// the flat part (or end) in kilohertz, start and end as shares of it, and milliseconds.
pub(super) struct Stated {
    pub(super) shape: Shape,
    pub(super) flat_khz: (Range, Range),
    pub(super) start: (Range, Range),
    pub(super) end: (Range, Range),
    pub(super) duration_ms: (Range, Range),
}

const SAME: (Range, Range) = ((1.0, 1.0), (1.0, 1.0));

/// The shapes, in the order of the report.
pub(super) const STATED: [Stated; 9] = [
    Stated {
        shape: Shape::Fm,
        flat_khz: ((24.0, 40.0), (17.0, 45.0)),
        start: ((2.2, 3.2), (1.7, 4.2)),
        end: SAME,
        duration_ms: ((2.0, 5.0), (1.2, 7.0)),
    },
    Stated {
        shape: Shape::Qcf,
        flat_khz: ((19.0, 50.0), (14.0, 58.0)),
        // Drawn as 0.15-0.5 or 0.1-0.8 kHz/ms over at most 12 ms, which is at most these shares.
        start: ((1.02, 1.32), (1.01, 1.69)),
        end: SAME,
        duration_ms: ((9.0, 18.0), (6.0, 28.0)),
    },
    Stated {
        shape: Shape::Cf,
        flat_khz: ((25.0, 110.0), (13.0, 150.0)),
        start: SAME,
        end: SAME,
        duration_ms: ((12.0, 50.0), (8.0, 78.0)),
    },
    Stated {
        shape: Shape::FmQcf,
        flat_khz: ((20.0, 55.0), (16.0, 68.0)),
        start: ((1.4, 1.9), (1.25, 2.3)),
        end: SAME,
        duration_ms: ((4.5, 12.0), (3.5, 18.0)),
    },
    Stated {
        shape: Shape::QcfFm,
        flat_khz: ((25.0, 60.0), (18.0, 70.0)),
        start: SAME,
        end: ((0.6, 0.75), (0.5, 0.8)),
        duration_ms: ((6.0, 14.0), (5.0, 20.0)),
    },
    Stated {
        shape: Shape::FmQcfFm,
        flat_khz: ((30.0, 50.0), (22.0, 60.0)),
        start: ((1.4, 1.8), (1.25, 2.1)),
        end: ((0.65, 0.8), (0.55, 0.82)),
        duration_ms: ((12.0, 22.0), (10.0, 28.0)),
    },
    constant(Shape::CfFm, SAME, CONSTANT_END),
    constant(Shape::FmCf, CONSTANT_START, SAME),
    constant(Shape::FmCfFm, CONSTANT_START, CONSTANT_END),
];

const CONSTANT_START: (Range, Range) = ((0.86, 0.93), (0.8, 1.15));
const CONSTANT_END: (Range, Range) = ((0.8, 0.9), (0.75, 0.92));

const fn constant(shape: Shape, start: (Range, Range), end: (Range, Range)) -> Stated {
    Stated {
        shape,
        flat_khz: ((60.0, 110.0), (38.0, 150.0)),
        start,
        end,
        duration_ms: ((20.0, 50.0), (14.0, 70.0)),
    }
}

/// What is drawn besides laws: what, for tuning, for the report.
const BESIDES: [[&str; 3]; 21] = [
    ["hiss, rms", "-62 to -50 dB re full scale", "-70 to -42 dB"],
    [
        "hiss, colour (half of all)",
        "tilt -10 to 0 dB, hump to 4 dB at 35-60 kHz",
        "tilt -18 to +6 dB, hump to 9 dB at 20-90 kHz",
    ],
    [
        "signal-to-noise where nearest",
        "18 to 42 dB",
        "12 to 45 dB",
    ],
    [
        "passing: time to fly as far as it is away when nearest",
        "0.2 to 0.4 s",
        "0.12 to 0.5 s",
    ],
    [
        "interval, or 2.2 durations if longer",
        "70 to 120 ms, jitter 3 to 8 %",
        "55 to 160 ms, jitter 2 to 15 %",
    ],
    [
        "from call to call",
        "frequency 0.5 to 2 % (constant: 0.2 %), duration 7 or 8 %",
        "frequency 0.5 to 3 % (constant: 0.2 %), duration 7 or 8 %",
    ],
    [
        "bend",
        "FM hyperbolic, FM-QCF exponential of rate 5",
        "also straight and exponential FM of rate 0.3-1.8, FM-QCF of rate 4-7",
    ],
    [
        "envelope",
        "one for each shape",
        "rise and fall 0.5-1.4 times it, loudest moment moved by up to 0.25, droop 2-11 dB",
    ],
    [
        "harmonics",
        "second at -22 to -32 dB by shape",
        "second at -45 to -12 dB, third at -60 to -20 dB",
    ],
    [
        "echo (three in ten)",
        "4-30 ms later, 18-30 dB fainter",
        "2-40 ms later, 15-30 dB fainter",
    ],
    [
        "loud-harmonic",
        "FM, second harmonic -6 to +3 dB",
        "-8 to +6 dB",
    ],
    [
        "echoes",
        "FM-QCF, two, 4-30 ms later, 8-16 dB fainter",
        "2-40 ms later, 6-18 dB fainter",
    ],
    [
        "feeding-buzz",
        "FM-QCF, last interval 5.5-7 ms, 20 calls, lower by 0.7-0.85",
        "5-8 ms, lower by 0.6-0.95",
    ],
    [
        "lowest",
        "FM to 9.5-11 kHz, from 5-6 kHz above, 3-5 ms",
        "to 9-12 kHz, from 4.5-9 kHz above, 2.5-6 ms",
    ],
    [
        "fly-past",
        "8-20 °C, 60-90 % humidity, 4-8 m/s",
        "2-28 °C, 35-100 %, 3-10 m/s",
    ],
    [
        "overdriven",
        "3-9 dB above full scale where nearest",
        "2-14 dB above",
    ],
    [
        "tones",
        "three at 10-90 kHz or so, -55 to -30 dB",
        "-60 to -15 dB",
    ],
    [
        "insect-rasp",
        "resonance 15-35 kHz, -40 to -20 dB",
        "12-45 kHz, -45 to -8 dB",
    ],
    [
        "insect-stridulation (without bats only)",
        "10-16 to 25-40 kHz, -45 to -35 dB, beat 60-200 Hz",
        "9-22 to 24-55 kHz, -50 to -25 dB, beat 25-260 Hz",
    ],
    [
        "insect-cricket",
        "4-6 kHz, -30 to -15 dB",
        "3-8 kHz, -40 to -6 dB",
    ],
    [
        "rain; wind; bumps (without bats only)",
        "5-40 drops a second to -25 to -8 dB; -30 to -20 dB rms; 0.5-2 a second",
        "2-120 drops to -35 to +3 dB; -40 to -10 dB rms; 0.3-5 a second",
    ],
];

/// The section on what was drawn.
pub(super) fn section(input: &Input) -> Section {
    let this = match input.set {
        Set::Tune => "This page shows the draw that is tuned on.",
        Set::Report => "This page shows the draw that is reported on.",
    };
    Section {
        id: "drawn",
        title: "What was drawn".into(),
        text: vec![format!(
            "Every recording is drawn with a seed of its own, from which everything random in it follows: the same \
             seeds give the same recordings on every machine. {this} The tuning draw has other seeds and narrower \
             parameters than the report's, and its calls have one bend, one envelope and one harmonic for each shape. \
             All numbers are drawn evenly between their limits. Rates are 256, 384 and 500 kHz, whichever hold the call."
        )],
        tables: vec![
            shapes(),
            Table::new("Everything else", &["what", "tuned on", "reported on"])
                .rows(BESIDES.map(|row| row.map(str::to_owned).to_vec()))
                .words(),
            seeds(input).shut(),
        ],
        ..Section::default()
    }
}

fn shapes() -> Table {
    let rows = STATED.iter().flat_map(|s| {
        let row = |set: &str, pick: fn(&(Range, Range)) -> Range| {
            let text = |ranges: &(Range, Range)| match pick(ranges) {
                (low, high) if low == high => "1".to_owned(),
                (low, high) => format!("{low}-{high}"),
            };
            vec![
                s.shape.name().into(),
                set.into(),
                text(&s.flat_khz),
                text(&s.start),
                text(&s.end),
                text(&s.duration_ms),
            ]
        };
        [row("tuned on", |r| r.0), row("reported on", |r| r.1)]
    });
    let columns = [
        "shape",
        "draw",
        "flat part or end, kHz",
        "start, times that",
        "end, times that",
        "length of the law, ms",
    ];
    Table::new(
        "Shapes; starts of 0.93-1.08 for FM-CF become 0.88",
        &columns,
    )
    .rows(rows)
}

/// The recordings of each case: how many, how many pulses, and their seeds.
fn seeds(input: &Input) -> Table {
    let mut cases: Vec<String> = Vec::new();
    let mut of: BTreeMap<String, (usize, usize, u64, u64)> = BTreeMap::new();
    for (job, outcome) in input.jobs.iter().zip(input.outcomes) {
        let name = match job {
            Job::Bats(case, _) => case.name().to_owned(),
            Job::Silence(kind, _) => format!("{} without bats", kind.name()),
        };
        let seed = job.scene(input.set).seed;
        if !of.contains_key(&name) {
            cases.push(name.clone());
        }
        let entry = of.entry(name).or_insert((0, 0, seed, seed));
        *entry = (
            entry.0 + 1,
            entry.1 + outcome.pulses.len(),
            entry.2.min(seed),
            entry.3.max(seed),
        );
    }
    let rows = cases.into_iter().filter_map(|name| {
        let (recordings, pulses, first, last) = *of.get(&name)?;
        Some(vec![
            name,
            recordings.to_string(),
            pulses.to_string(),
            format!("{first:#x} to {last:#x}"),
        ])
    });
    Table::new(
        "Recordings of this page and their seeds",
        &["case", "recordings", "pulses", "seeds"],
    )
    .rows(rows)
}
