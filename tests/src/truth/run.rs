//! Renders, writes, opens and measures the drawn recordings on every processor.

use std::error::Error;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

use dusklens_core::pulse::{Doubt, Findings, Flag, Pulse, Settings, Verdict, measure};
use dusklens_core::recording::{OpenOptions, Recording};
use dusklens_core::teach::wav::{WavSettings, encode};
use dusklens_core::teach::{Call, Echo, Edges, Placed, Scene, TruePulse};

use super::draw::{self, Case, Set};
use super::links::Links;
use super::matching::{Extra, Pairs, pair};
use super::silence::{self, Kind};

/// An echo less than this below its call shows in its envelope, decibels: it makes dips of a decibel and more.
const LOUD_ECHO_DB: f64 = 20.0;

/// A recording to measure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Job {
    /// One with bats.
    Bats(Case, u64),
    /// One without.
    Silence(Kind, u64),
}

impl Job {
    /// A name for lists and saved files.
    pub fn name(self) -> String {
        match self {
            Job::Bats(case, number) => format!("{}-{number:02}", case.name()),
            Job::Silence(kind, number) => format!("{}-{number:02}", kind.name()),
        }
    }

    /// Whether a feeding buzz was made.
    fn has_buzz(self) -> bool {
        matches!(self, Job::Bats(Case::FeedingBuzz, _))
    }

    /// The scene it stands for.
    pub fn scene(self, set: Set) -> Scene {
        match self {
            Job::Bats(case, number) => draw::recording(set, case, number),
            Job::Silence(kind, number) => silence::recording(set, kind, number),
        }
    }
}

/// What is true of a pulse whose edges are taken at a given depth.
#[derive(Debug, Clone, Copy)]
pub struct AtEdges {
    /// The law at and between the edges.
    pub law: Edges,
    /// The law at the end of its flattest stretch between them, kilohertz.
    pub characteristic_khz: f64,
    /// The slope of that stretch, kilohertz per millisecond.
    pub flattest_khz_per_ms: f64,
}

/// A true pulse with what was measured of it.
#[derive(Debug, Clone)]
pub struct Judged {
    /// What is true.
    pub truth: TruePulse,
    /// What was measured, if it was found.
    pub measured: Option<Pulse>,
    /// What is true at the edges that the measurement used.
    pub edges: Option<AtEdges>,
    /// When the law begins, seconds.
    pub onset_s: f64,
    /// Whether the pulse of the same animal before it was found too.
    pub follows_found: bool,
    /// Whether pulses of the same animal were missed since the last one that was found.
    pub skips: bool,
    /// Whether an echo of its own overlaps it plainly, or something else sounds through it.
    pub disturbed: bool,
    /// Whether a multiple of it was measured in its place.
    pub misassigned: bool,
}

impl Judged {
    /// Whether it can be asked for: neither cut off nor drowned in another pulse.
    pub fn is_plain(&self) -> bool {
        let spoilt = [Flag::CutOff, Flag::Overlapped];
        !self.truth.flags.iter().any(|flag| spoilt.contains(flag))
    }
}

/// What came out of one recording.
#[derive(Debug, Clone)]
pub struct Outcome {
    /// Which.
    pub job: Job,
    /// Its length, seconds.
    pub length_s: f64,
    /// Every true pulse.
    pub pulses: Vec<Judged>,
    /// Every measured pulse that is no true one.
    pub extras: Vec<(Extra, Pulse)>,
    /// What the recording was said to hold.
    pub verdict: Verdict,
    /// Every doubted sound, and whether it was a true pulse after all that was found nowhere else.
    pub doubted: Vec<(Doubt, bool)>,
    /// How well sequences follow animals.
    pub links: Links,
    /// Feeding buzzes that there were, and those that were found.
    pub buzzes: (usize, usize),
}

/// The bytes of the WAV file of a scene.
///
/// # Errors
/// Fails where the scene is too long for a WAV file.
pub fn file(scene: &Scene, samples: &[f32]) -> Result<Vec<u8>, Box<dyn Error + Send + Sync>> {
    Ok(encode(samples, scene.rate_hz, &WavSettings::default())?)
}

/// Runs one job from scene to pairs.
///
/// # Errors
/// Fails where its file cannot be written or read.
pub fn run(
    set: Set,
    job: Job,
    settings: &Settings,
) -> Result<Outcome, Box<dyn Error + Send + Sync>> {
    let scene = job.scene(set);
    let samples = scene.render();
    let truth = scene.truth(&samples);
    let recording = Recording::open(file(&scene, &samples)?, &OpenOptions::default())?;
    let Findings {
        pulses: measured,
        doubted,
        summary,
    } = measure(&recording, 0, settings)?;
    let pairs = pair(&scene, &truth, &measured);
    Ok(Outcome {
        job,
        length_s: scene.duration_s,
        verdict: summary.verdict,
        doubted: judge_doubts(&scene, &truth, &doubted, &pairs),
        links: Links::of(&truth, &measured, &pairs),
        buzzes: (usize::from(job.has_buzz()), summary.buzzes.len()),
        extras: pairs
            .extras
            .iter()
            .map(|&(m, extra)| (extra, measured[m].clone()))
            .collect(),
        pulses: judge(&scene, truth, &measured, &pairs),
    })
}

/// For each doubted sound its reason, and whether it is a true pulse that was found nowhere else.
fn judge_doubts(
    scene: &Scene,
    truth: &[TruePulse],
    doubted: &[Pulse],
    found: &Pairs,
) -> Vec<(Doubt, bool)> {
    let pairs = pair(scene, truth, doubted);
    let lost: Vec<usize> = (0..truth.len())
        .filter(|&t| found.measured[t].is_none())
        .filter_map(|t| pairs.measured[t])
        .collect();
    doubted
        .iter()
        .enumerate()
        .filter_map(|(at, sound)| Some((sound.doubt?, lost.contains(&at))))
        .collect()
}

fn judge(scene: &Scene, truth: Vec<TruePulse>, measured: &[Pulse], pairs: &Pairs) -> Vec<Judged> {
    let animals: Vec<u32> = truth.iter().map(|t| t.animal).collect();
    let found_before = |t: usize| {
        let last = (0..t).rev().find(|&earlier| animals[earlier] == animals[t]);
        last.is_some_and(|earlier| pairs.measured[earlier].is_some())
    };
    truth
        .into_iter()
        .zip(&scene.calls)
        .enumerate()
        .map(|(t, (truth, placed))| {
            let found = pairs.measured[t].map(|m| measured[m].clone());
            Judged {
                edges: found.as_ref().map(|f| at_edges(&placed.call, f.edge_db)),
                measured: found,
                onset_s: placed.onset_s,
                follows_found: found_before(t),
                skips: !found_before(t) && animals[..t].contains(&animals[t]),
                disturbed: scene.backgrounds.len() > 1 || is_echoed(placed),
                misassigned: pairs.misassigned.contains(&t),
                truth,
            }
        })
        .collect()
}

/// Whether an echo comes while the call still sounds, and is loud enough to show.
fn is_echoed(placed: &Placed) -> bool {
    let shows =
        |echo: &Echo| echo.delay_ms < placed.call.duration_ms() && echo.loss_db < LOUD_ECHO_DB;
    placed.echoes.iter().any(shows)
}

fn at_edges(call: &Call, below_db: f64) -> AtEdges {
    let law = call.edges(below_db);
    let (characteristic_khz, flattest_khz_per_ms) = call.flattest(law.start_ms, law.end_ms);
    AtEdges {
        law,
        characteristic_khz,
        flattest_khz_per_ms,
    }
}

/// Runs all jobs; outcomes in the jobs' order.
///
/// # Errors
/// The first failure of any job.
pub fn run_all(
    set: Set,
    jobs: &[Job],
    settings: &Settings,
) -> Result<Vec<Outcome>, Box<dyn Error + Send + Sync>> {
    on_all_processors(jobs, |job| run(set, job, settings))
}

/// Does the same work for all jobs, as many at a time as there are processors; results in the jobs' order.
///
/// # Errors
/// The first failure of any job.
pub fn on_all_processors<T: Send>(
    jobs: &[Job],
    work: impl Fn(Job) -> Result<T, Box<dyn Error + Send + Sync>> + Sync,
) -> Result<Vec<T>, Box<dyn Error + Send + Sync>> {
    let next = AtomicUsize::new(0);
    let done = Mutex::new(Vec::new());
    let threads = std::thread::available_parallelism().map_or(1, |n| n.get());
    std::thread::scope(|scope| {
        for _ in 0..threads {
            scope.spawn(|| {
                loop {
                    let index = next.fetch_add(1, Ordering::Relaxed);
                    let Some(&job) = jobs.get(index) else { break };
                    let result = work(job);
                    if let Ok(mut done) = done.lock() {
                        done.push((index, result));
                    }
                }
            });
        }
    });
    let mut done = done
        .into_inner()
        .map_err(|_| "a thread failed while measuring")?;
    done.sort_by_key(|(index, _)| *index);
    done.into_iter().map(|(_, result)| result).collect()
}
