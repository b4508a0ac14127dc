//! Call links over many recordings: how long they are, and what a receiver measures.

use crate::truth::draw::{SHAPES, Set, recording, shape_name};
use crate::truth::{draw::Case, run};
use dusklens_core::pulse::{self, Pulse, Settings};
use dusklens_core::recording::{OpenOptions, Recording};
use dusklens_core::share::{CallContent, CallOrder, Cost, MadeLink, Making, NamedPulse};
use std::error::Error;

/// What came of one link.
#[derive(Debug, Clone)]
pub struct Row {
    /// What was sent.
    pub what: String,
    /// How many pulses.
    pub pulses: usize,
    /// The longest of them, milliseconds.
    pub duration_ms: f64,
    /// The faintest of them, signal-to-noise ratio in decibels.
    pub snr_db: f64,
    /// The interval of 95 % of the peak frequency, the widest of them, kilohertz.
    pub peak_u95_khz: f64,
    /// The interval of 95 % of the duration, the widest of them, milliseconds.
    pub duration_u95_ms: f64,
    /// Characters of the link without the page's address.
    pub chars: usize,
    /// What it cost.
    pub cost: Cost,
}

type Failure = Box<dyn Error + Send + Sync>;

/// What the page asks for: so many characters for a pulse, and for all else.
const CHARS_PER_PULSE: u32 = 1500;
const CHARS_BESIDE: u32 = 400;
/// Pulses below this are no quick question to a colleague, decibels.
const LEAST_SNR_DB: f64 = 15.0;

/// A pulse near the middle of every recording, and up to ten around it.
///
/// # Errors
/// Fails where a recording cannot be read.
pub fn of_file(what: &str, bytes: Vec<u8>) -> Result<Vec<Row>, Failure> {
    let recording = Recording::open(bytes, &OpenOptions { expansion: None })?;
    let findings = pulse::measure(&recording, 0, &Settings::default())?;
    let clear: Vec<&Pulse> = findings
        .pulses
        .iter()
        .filter(|pulse| pulse.snr_db >= LEAST_SNR_DB)
        .collect();
    let middle = clear.len() / 2;
    let one = clear.get(middle..(middle + 1).min(clear.len()));
    let ten = clear.get(middle.saturating_sub(5)..(middle + 5).min(clear.len()));
    let mut rows = Vec::new();
    for pulses in [one, ten]
        .into_iter()
        .flatten()
        .filter(|pulses| !pulses.is_empty())
    {
        let made = link(&recording, pulses)?;
        rows.push(row(what, pulses, &made));
    }
    Ok(rows)
}

/// One pulse each of recordings drawn at random, all shapes in turn.
///
/// # Errors
/// Fails where a recording cannot be made.
pub fn drawn(count: usize) -> Result<Vec<Row>, Failure> {
    let mut rows = Vec::new();
    let mut number = 0;
    while rows.len() < count && number < 100 * count as u64 {
        let shape = number as usize % SHAPES.len();
        let scene = recording(
            Set::Report,
            Case::Shape(shape),
            number / SHAPES.len() as u64,
        );
        number += 1;
        let samples = scene.render();
        let name = SHAPES.get(shape).map_or("?", |shape| shape_name(*shape));
        let made = of_file(name, run::file(&scene, &samples)?)?;
        rows.extend(made.into_iter().filter(|row| row.pulses == 1).take(1));
    }
    rows.truncate(count);
    Ok(rows)
}

fn link(recording: &Recording<Vec<u8>>, pulses: &[&Pulse]) -> Result<MadeLink, Failure> {
    let named = (1..).zip(pulses).map(|(number, pulse)| NamedPulse {
        name: number.to_string(),
        pulse: (*pulse).clone(),
    });
    let order = CallOrder {
        pulses: named.collect(),
        numbers: true,
        content: CallContent {
            file: Some("larkwater-fen.wav".to_owned()),
            start: recording.facts().start.clone(),
            ..CallContent::default()
        },
        most_chars: CHARS_BESIDE + CHARS_PER_PULSE * pulses.len() as u32,
    };
    let mut making = Making::new(order, recording.rate_hz(), recording.frames())?;
    let mut samples = Vec::new();
    while let Some(block) = making.next_block() {
        recording.read(0, block, &mut samples)?;
        making.feed(&samples);
    }
    while !making.step() {}
    Ok(making.made()?)
}

fn row(what: &str, pulses: &[&Pulse], made: &MadeLink) -> Row {
    let most = |of: fn(&Pulse) -> f64| pulses.iter().map(|pulse| of(pulse)).fold(0.0, f64::max);
    Row {
        what: what.to_owned(),
        pulses: pulses.len(),
        duration_ms: most(|pulse| pulse.duration_ms),
        snr_db: pulses
            .iter()
            .map(|pulse| pulse.snr_db)
            .fold(f64::INFINITY, f64::min),
        peak_u95_khz: most(|pulse| pulse.uncertainty.peak_khz),
        duration_u95_ms: most(|pulse| pulse.uncertainty.duration_ms),
        chars: made.fragment.len(),
        cost: made.cost,
    }
}

impl Row {
    /// Whether a receiver measures what the sender did: to a tenth, or within the sender's own interval of 95 %, as the
    /// peak of a flat spectrum and the ends of a long faint tone are not known better.
    #[must_use]
    pub fn is_good(&self) -> bool {
        self.cost.lost == 0
            && self.cost.duration_ms <= Cost::MOST_DURATION_MS.max(self.duration_u95_ms)
            && self.cost.peak_khz <= Cost::MOST_PEAK_KHZ.max(self.peak_u95_khz)
    }
}

impl std::fmt::Display for Row {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let Self {
            what,
            pulses,
            duration_ms,
            snr_db,
            peak_u95_khz,
            duration_u95_ms,
            chars,
            cost,
        } = self;
        write!(
            formatter,
            "{what:40} {pulses:2} pulses, {duration_ms:5.1} ms, {snr_db:4.0} dB: {chars:6} characters; \
             peak {:.3} kHz (± {peak_u95_khz:.2}), duration {:.3} ms (± {duration_u95_ms:.2}), level {:.2} dB, {} lost",
            cost.peak_khz, cost.duration_ms, cost.level_db, cost.lost,
        )
    }
}
