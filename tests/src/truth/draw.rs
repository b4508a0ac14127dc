//! Draws recordings of bats at random, in two sets that share neither seeds nor
//! distributions: one to tune on, one to report on.

use dusklens_core::field::Air;
use dusklens_core::pulse::{Harmonic, Shape};
use dusklens_core::teach::random::{Stream, between, stream};
use dusklens_core::teach::{
    Background, Bend, Buzz, Call, Echo, Envelope, Flight, FlyPast, Hiss, Law, Passage, Placed,
    Plan, Scene,
};
use rand::RngExt;
use rand::rngs::ChaCha8Rng;

use super::silence::{self, Kind};

/// Which of the two draws.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub enum Set {
    /// For tuning thresholds: calls near the middle of what is published.
    Tune,
    /// For reporting: other seeds, wider ranges, other bends, envelopes, harmonics and hiss.
    Report,
}

/// What a recording is drawn to try.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Case {
    /// One animal that makes calls of one shape.
    Shape(usize),
    /// A second harmonic about as loud as the fundamental.
    LoudHarmonic,
    /// Strong echoes within 40 ms.
    Echoes,
    /// Two animals of different shapes, whose calls at times overlap.
    TwoAnimals,
    /// The search, approach and buzz of an attack.
    FeedingBuzz,
    /// Lowest bats: 15 to 9 kHz (Fenton et al. 1987, J Mammal 68:142-144, abstract).
    Lowest,
    /// Animals that fly past through air, up to about 20 m away: Doppler, spreading and absorption.
    FlyPast,
    /// Calls that are louder than the recorder can hold.
    Overdriven,
    /// Calls of any shape over something else that sounds.
    Over(Kind),
}

/// The shapes in the order of the report.
pub const SHAPES: [Shape; 9] = [
    Shape::Fm,
    Shape::Qcf,
    Shape::Cf,
    Shape::FmQcf,
    Shape::QcfFm,
    Shape::FmQcfFm,
    Shape::CfFm,
    Shape::FmCf,
    Shape::FmCfFm,
];

/// The cases other than one shape each.
pub const OTHERS: [Case; 12] = [
    Case::LoudHarmonic,
    Case::Echoes,
    Case::TwoAnimals,
    Case::FeedingBuzz,
    Case::Lowest,
    Case::FlyPast,
    Case::Overdriven,
    Case::Over(Kind::Rain),
    Case::Over(Kind::Wind),
    Case::Over(Kind::Tones),
    Case::Over(Kind::Rasp),
    Case::Over(Kind::Cricket),
];

/// The name of a shape as printed.
pub fn shape_name(shape: Shape) -> &'static str {
    match shape {
        Shape::Fm => "FM",
        Shape::Qcf => "QCF",
        Shape::Cf => "CF",
        Shape::FmQcf => "FM-QCF",
        Shape::QcfFm => "QCF-FM",
        Shape::FmQcfFm => "FM-QCF-FM",
        Shape::CfFm => "CF-FM",
        Shape::FmCf => "FM-CF",
        Shape::FmCfFm => "FM-CF-FM",
    }
}

impl Case {
    /// Its name as printed and as `--only` takes it.
    pub fn name(self) -> &'static str {
        match self {
            Case::Shape(index) => SHAPES.get(index).map_or("?", |s| shape_name(*s)),
            Case::LoudHarmonic => "loud-harmonic",
            Case::Echoes => "echoes",
            Case::TwoAnimals => "two-animals",
            Case::FeedingBuzz => "feeding-buzz",
            Case::Lowest => "lowest",
            Case::FlyPast => "fly-past",
            Case::Overdriven => "overdriven",
            Case::Over(Kind::Rain) => "over-rain",
            Case::Over(Kind::Wind) => "over-wind",
            Case::Over(Kind::Tones) => "over-tones",
            Case::Over(Kind::Rasp) => "over-rasp",
            Case::Over(Kind::Cricket) => "over-cricket",
            Case::Over(_) => "over-others",
        }
    }

    fn number(self) -> u64 {
        match self {
            Case::Shape(index) => index as u64,
            Case::LoudHarmonic => 100,
            Case::Echoes => 101,
            Case::TwoAnimals => 102,
            Case::FeedingBuzz => 103,
            Case::Lowest => 104,
            Case::FlyPast => 105,
            Case::Overdriven => 106,
            Case::Over(kind) => 110 + kind as u64,
        }
    }
}

/// The chance of one recording: its set and its random numbers.
struct Draw {
    set: Set,
    random: ChaCha8Rng,
}

/// The `number`th recording of a case.
pub fn recording(set: Set, case: Case, number: u64) -> Scene {
    let base = match set {
        Set::Tune => 0x7e57_0000_0000,
        Set::Report => 0x7e5d_0000_0000,
    };
    let seed = base + case.number() * 10_000 + number;
    let mut draw = Draw {
        set,
        random: stream(seed, Stream::Draw),
    };
    draw.scene(case, seed)
}

impl Draw {
    /// One of two ranges by the set, and a number from it.
    fn pick(&mut self, tune: (f64, f64), report: (f64, f64)) -> f64 {
        let (low, high) = match self.set {
            Set::Tune => tune,
            Set::Report => report,
        };
        between(&mut self.random, low, high)
    }

    fn chance(&mut self, share: f64) -> bool {
        self.random.random_bool(share)
    }

    fn scene(&mut self, case: Case, seed: u64) -> Scene {
        let shape = match case {
            Case::Shape(index) => SHAPES.get(index).copied().unwrap_or(Shape::Fm),
            Case::TwoAnimals | Case::FlyPast | Case::Overdriven | Case::Over(_) => {
                SHAPES[(seed % 9) as usize]
            }
            Case::Lowest | Case::LoudHarmonic => Shape::Fm,
            Case::Echoes | Case::FeedingBuzz => Shape::FmQcf,
        };
        let call = self.call(shape, case);
        let top_khz = call.law.range_khz(0.0, call.duration_ms()).1;
        let mut scene = self.empty(top_khz, seed);
        let flight = self.flight(&scene, call, case, 1);
        scene.calls = flight.calls(seed);
        if case == Case::TwoAnimals {
            let other = SHAPES[((seed / 9 + 4) % 9) as usize];
            let call = self.call(other, case);
            let flight = self.flight(&scene, call, case, 2);
            scene.calls.extend(flight.calls(seed));
            scene.calls.sort_by(|a, b| a.onset_s.total_cmp(&b.onset_s));
        }
        if let Case::Over(kind) = case {
            let wide = self.set == Set::Report;
            let sounds = silence::sounds(&mut self.random, kind, wide);
            scene.backgrounds.extend(sounds);
        }
        // What lies beyond the recorder's reach cannot be asked for.
        let reach_khz = f64::from(scene.rate_hz) / 2e3 * 0.92;
        scene.calls.retain(|placed| top(placed) < reach_khz);
        scene
    }

    /// Hiss at a rate that can hold the call.
    fn empty(&mut self, top_khz: f64, seed: u64) -> Scene {
        let rates = [256_000, 384_000, 500_000];
        let fits = |rate: u32| top_khz * 1.12 < f64::from(rate) / 2e3;
        let able: Vec<u32> = rates.into_iter().filter(|&r| fits(r)).collect();
        let index = self.random.random_range(0..able.len().max(1));
        let response = if self.chance(0.5) {
            let tilt = self.pick((-10.0, 0.0), (-18.0, 6.0));
            let hump = self.pick((0.0, 4.0), (0.0, 9.0));
            let at_khz = self.pick((35.0, 60.0), (20.0, 90.0));
            vec![
                (5.0, 2.0),
                (at_khz * 0.7, 0.0),
                (at_khz, hump),
                (at_khz * 1.3, 0.0),
                (200.0, tilt),
            ]
        } else {
            vec![]
        };
        let rms_db = self.pick((-62.0, -50.0), (-70.0, -42.0));
        Scene {
            rate_hz: able.get(index).copied().unwrap_or(500_000),
            duration_s: 2.0,
            seed,
            calls: vec![],
            backgrounds: vec![Background::Hiss(Hiss { rms_db, response })],
        }
    }

    fn call(&mut self, shape: Shape, case: Case) -> Call {
        let plan = if case == Case::Lowest {
            self.lowest()
        } else {
            self.plan(shape)
        };
        let mut call = plan.call();
        if self.set == Set::Report {
            self.vary(&mut call, &plan);
        }
        if case == Case::LoudHarmonic {
            call.harmonics = vec![Harmonic {
                multiple: 2,
                relative_db: self.pick((-6.0, 3.0), (-8.0, 6.0)),
            }];
        }
        call
    }

    fn lowest(&mut self) -> Plan {
        let end_khz = self.pick((9.5, 11.0), (9.0, 12.0));
        Plan {
            shape: Shape::Fm,
            start_khz: end_khz + self.pick((5.0, 6.0), (4.5, 9.0)),
            flat_khz: end_khz,
            end_khz,
            duration_ms: self.pick((3.0, 5.0), (2.5, 6.0)),
        }
    }

    fn plan(&mut self, shape: Shape) -> Plan {
        let (flat_khz, start, end, duration_ms) = match shape {
            Shape::Fm => {
                let end = self.pick((24.0, 40.0), (17.0, 45.0));
                (
                    end,
                    self.pick((2.2, 3.2), (1.7, 4.2)),
                    1.0,
                    self.pick((2.0, 5.0), (1.2, 7.0)),
                )
            }
            Shape::Qcf => {
                let duration = self.pick((9.0, 18.0), (6.0, 28.0));
                let fall_khz = self.pick((0.15, 0.5), (0.1, 0.8)) * duration.min(12.0);
                let flat = self.pick((19.0, 50.0), (14.0, 58.0));
                (flat, 1.0 + fall_khz / flat, 1.0, duration)
            }
            Shape::Cf => (
                self.pick((25.0, 110.0), (13.0, 150.0)),
                1.0,
                1.0,
                self.pick((12.0, 50.0), (8.0, 78.0)),
            ),
            Shape::FmQcf => (
                self.pick((20.0, 55.0), (16.0, 68.0)),
                self.pick((1.4, 1.9), (1.25, 2.3)),
                1.0,
                self.pick((4.5, 12.0), (3.5, 18.0)),
            ),
            Shape::QcfFm => (
                self.pick((25.0, 60.0), (18.0, 70.0)),
                1.0,
                self.pick((0.6, 0.75), (0.5, 0.8)),
                self.pick((6.0, 14.0), (5.0, 20.0)),
            ),
            Shape::FmQcfFm => (
                self.pick((30.0, 50.0), (22.0, 60.0)),
                self.pick((1.4, 1.8), (1.25, 2.1)),
                self.pick((0.65, 0.8), (0.55, 0.82)),
                self.pick((12.0, 22.0), (10.0, 28.0)),
            ),
            Shape::CfFm | Shape::FmCf | Shape::FmCfFm => (
                self.pick((60.0, 110.0), (38.0, 150.0)),
                self.pick((0.86, 0.93), (0.8, 1.15)),
                self.pick((0.8, 0.9), (0.75, 0.92)),
                self.pick((20.0, 50.0), (14.0, 70.0)),
            ),
        };
        // A sweep of a few percent up would be no sweep; take it down instead.
        let start = if (0.93..1.08).contains(&start) && shape == Shape::FmCf {
            0.88
        } else {
            start
        };
        Plan {
            shape,
            start_khz: flat_khz * start,
            flat_khz,
            end_khz: flat_khz * end,
            duration_ms,
        }
    }

    /// What the report's calls have and those for tuning have not: other bends,
    /// envelopes and harmonics.
    fn vary(&mut self, call: &mut Call, plan: &Plan) {
        let bend = match (plan.shape, self.random.random_range(0..3)) {
            (Shape::Fm, 0) => Some(Bend::Straight),
            (Shape::Fm, 1) => Some(Bend::Exponential {
                rate: between(&mut self.random, 0.3, 1.8),
            }),
            (Shape::FmQcf, _) => Some(Bend::Exponential {
                rate: between(&mut self.random, 4.0, 7.0),
            }),
            _ => None,
        };
        if let (Some(bend), [only]) = (bend, call.law.segments()) {
            call.law = Law::new([dusklens_core::teach::Segment { bend, ..*only }]);
        }
        let body = call.envelope;
        call.envelope = Envelope {
            rise_ms: body.rise_ms * between(&mut self.random, 0.5, 1.4),
            fall_ms: body.fall_ms * between(&mut self.random, 0.5, 1.4),
            peak_at: (body.peak_at + between(&mut self.random, -0.25, 0.25)).clamp(0.1, 0.9),
            droop_db: between(&mut self.random, 2.0, 11.0),
        };
        call.harmonics = (2..=3)
            .zip([
                between(&mut self.random, -45.0, -12.0),
                between(&mut self.random, -60.0, -20.0),
            ])
            .map(|(multiple, relative_db)| Harmonic {
                multiple,
                relative_db,
            })
            .collect();
    }

    fn flight(&mut self, scene: &Scene, call: Call, case: Case, animal: u32) -> Flight {
        let edges = call.edges(20.0);
        let noise = scene.noise_between(edges.low_khz - 1.0, edges.high_khz + 1.0);
        let floor_db = 10.0 * (2.0 * noise).log10();
        let nearest_snr = self.pick((18.0, 42.0), (12.0, 45.0));
        let duration_ms = call.duration_ms();
        let interval_ms = (duration_ms * 2.2).max(self.pick((70.0, 120.0), (55.0, 160.0)));
        let buzz = (case == Case::FeedingBuzz).then(|| Buzz {
            from_s: 0.7,
            quickening: self.pick((0.15, 0.2), (0.1, 0.25)),
            final_interval_ms: self.pick((5.5, 7.0), (5.0, 8.0)),
            final_calls: 20,
            final_khz_factor: self.pick((0.7, 0.85), (0.6, 0.95)),
        });
        let steady = buzz.is_some();
        Flight {
            animal,
            first_s: between(&mut self.random, 0.02, 0.1),
            last_s: 1.95 - duration_ms / 1e3,
            interval_ms,
            jitter: self.pick((0.03, 0.08), (0.02, 0.15)),
            spread: self.spread(call.shape),
            past: FlyPast {
                nearest_db: if case == Case::Overdriven {
                    self.pick((3.0, 9.0), (2.0, 14.0))
                } else {
                    (floor_db + nearest_snr).min(-1.5)
                },
                nearest_s: between(&mut self.random, 0.5, 1.5),
                passing_s: if steady {
                    2.0
                } else {
                    self.pick((0.2, 0.4), (0.12, 0.5))
                },
            },
            echoes: self.echoes(case),
            passage: (case == Case::FlyPast).then(|| self.passage()),
            buzz,
            call,
        }
    }

    /// Summer and autumn nights, and the speeds of small bats (common practice: 3 to 10 m/s).
    fn passage(&mut self) -> Passage {
        let temperature_c = self.pick((8.0, 20.0), (2.0, 28.0));
        let humidity_percent = self.pick((60.0, 90.0), (35.0, 100.0));
        Passage {
            air: Air::new(temperature_c, humidity_percent),
            speed_m_s: self.pick((4.0, 8.0), (3.0, 10.0)),
        }
    }

    /// Constant frequencies are kept to a fraction of a percent (common practice).
    fn spread(&mut self, shape: Shape) -> (f64, f64) {
        match shape {
            Shape::Cf | Shape::CfFm | Shape::FmCf | Shape::FmCfFm => (0.002, 0.08),
            _ => (self.pick((0.005, 0.02), (0.005, 0.03)), 0.07),
        }
    }

    fn echoes(&mut self, case: Case) -> Vec<Echo> {
        let strong = case == Case::Echoes;
        if !strong && self.chance(0.7) {
            return vec![];
        }
        let count = if strong { 2 } else { 1 };
        (0..count)
            .map(|_| Echo {
                delay_ms: self.pick((4.0, 30.0), (2.0, 40.0)),
                loss_db: if strong {
                    self.pick((8.0, 16.0), (6.0, 18.0))
                } else {
                    self.pick((18.0, 30.0), (15.0, 30.0))
                },
                corner_khz: self.pick((50.0, 90.0), (40.0, 120.0)),
            })
            .collect()
    }
}

fn top(placed: &Placed) -> f64 {
    placed.call.law.range_khz(0.0, placed.call.duration_ms()).1
}
