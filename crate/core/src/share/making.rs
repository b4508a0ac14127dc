//! A link in the making.

use super::error::Tenths;
use super::message::Message;
use super::sound::{Detail, MOST_FRAMES, Sound, Spectrum, Wanted};
use super::{CallContent, Cost, LinkError, SentPulse};
use crate::pulse::Pulse;
use serde::{Deserialize, Serialize};
use std::ops::Range;

/// What shall be sent.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct CallOrder {
    /// The pulses, with times of the recording.
    pub pulses: Vec<NamedPulse>,
    /// Whether the sender's numbers travel with them.
    pub numbers: bool,
    /// What else travels.
    pub content: CallContent,
    /// How many characters the link may have, if it can be helped.
    pub most_chars: u32,
}

/// A pulse with its number in the table.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct NamedPulse {
    /// Such as `7`, or `H1` for one measured by hand.
    pub name: String,
    /// What was measured.
    pub pulse: Pulse,
}

/// A link, and what it costs.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct MadeLink {
    /// What stands after the `#` of an address.
    pub fragment: String,
    /// Bytes of sound in it, before they became text.
    pub sound_bytes: u32,
    /// What the receiver will measure, beside what the sender did.
    pub cost: Cost,
    /// The sender's numbers that are in it.
    pub pulses: Vec<SentPulse>,
    /// What else is in it.
    pub content: CallContent,
    /// The stretch that the receiver gets, seconds of the recording.
    pub start_s: f64,
    /// Its end.
    pub end_s: f64,
    /// The frequencies that are carried, kilohertz; all else is noise drawn anew.
    pub low_khz: f64,
    /// The highest of them.
    pub high_khz: f64,
    /// How much of the stretch is carried, seconds; the rest is noise drawn anew.
    pub carried_s: f64,
}

/// Before a pulse and after it, seconds: what its edges are told by, and an echo or two.
const BEFORE_S: f64 = 0.001_5;
const AFTER_S: f64 = 0.003;
/// Below the lowest and above the highest frequency, kilohertz.
const BESIDE_KHZ: f64 = 8.0;
/// Noise around the calls, seconds, that the receiver measures them against. It costs nothing, as it is drawn anew.
const AROUND_S: f64 = 0.4;
/// The detail that is tried first: eight decibels below the noise, and a few hundred bytes for a pulse.
const FIRST_RUNG: u8 = 4;

/// A link in the making, advanced in steps of bounded work.
#[derive(Debug)]
pub struct Making {
    order: CallOrder,
    rate_hz: f64,
    /// The stretch, in samples of the recording.
    stretch: Range<u64>,
    wanted: Wanted,
    sent: Vec<SentPulse>,
    spectra: Vec<Spectrum>,
    /// Candidates that are still to be tried: spectrum and rung, the next one last.
    open: Vec<(usize, u8)>,
    tries: usize,
    best: Option<(Sound, Cost)>,
    done: bool,
}

impl Making {
    /// Begins a link from a recording of so many samples a second (at the microphone) and so many frames.
    ///
    /// # Errors
    /// [`LinkError`] where there is nothing to send, or too much.
    pub fn new(order: CallOrder, rate_hz: f64, frames: u64) -> Result<Self, LinkError> {
        let first_s = order
            .pulses
            .iter()
            .map(|one| one.pulse.start_s)
            .reduce(f64::min);
        let last_s = order
            .pulses
            .iter()
            .map(|one| one.pulse.end_s)
            .reduce(f64::max);
        let (Some(first_s), Some(last_s)) = (first_s, last_s) else {
            return Err(LinkError::Nothing);
        };
        let sample = |time_s: f64| ((time_s * rate_hz).max(0.0) as u64).min(frames);
        let stretch = sample(first_s - AROUND_S)..sample(last_s + AROUND_S);
        let length = stretch.end.saturating_sub(stretch.start);
        if length == 0 {
            return Err(LinkError::Nothing);
        }
        if length > u64::from(MOST_FRAMES) {
            return Err(LinkError::TooMuch {
                seconds: Tenths::of(length as f64 / rate_hz),
                most_s: Tenths::of(f64::from(MOST_FRAMES) / rate_hz),
            });
        }
        let from_s = stretch.start as f64 / rate_hz;
        let sent = order
            .pulses
            .iter()
            .map(|one| SentPulse::of(&one.name, &one.pulse, from_s));
        Ok(Self {
            wanted: wanted(&order.pulses, &stretch, rate_hz),
            sent: sent.collect(),
            order,
            rate_hz,
            stretch,
            spectra: Vec::new(),
            open: Vec::new(),
            tries: 0,
            best: None,
            done: false,
        })
    }

    /// The samples that the next step needs; none where it needs none.
    #[must_use]
    pub fn next_block(&self) -> Option<Range<u64>> {
        self.spectra.is_empty().then(|| self.stretch.clone())
    }

    /// Takes the samples of [`next_block`](Self::next_block).
    pub fn feed(&mut self, samples: &[f32]) {
        self.spectra = Spectrum::all(samples, self.rate_hz, &self.wanted).collect();
        // The transform that suits the sound takes the fewest bytes; it is tried first.
        let mut order: Vec<(usize, usize)> = self
            .spectra
            .iter()
            .enumerate()
            .map(|(number, spectrum)| (sound_at(spectrum, FIRST_RUNG).bytes(), number))
            .collect();
        order.sort_unstable();
        let rungs = (0..=FIRST_RUNG)
            .rev()
            .chain(FIRST_RUNG + 1..=Detail::COARSEST);
        self.open = rungs
            .flat_map(|rung| order.iter().map(move |&(_, number)| (number, rung)))
            .collect();
        self.tries = self.open.len();
        self.open.reverse();
    }

    /// Does a step; returns whether all is done.
    pub fn step(&mut self) -> bool {
        let next = if self.done { None } else { self.open.pop() };
        let Some((number, rung)) = next else {
            self.done = true;
            return true;
        };
        let Some(spectrum) = self.spectra.get(number) else {
            return false;
        };
        let sound = sound_at(spectrum, rung);
        // Coarser ones come last: what is too long now may be all there is in the end.
        let fits = self.chars_of(&sound) <= self.order.most_chars as usize;
        let is_last = self.open.is_empty();
        let is_needed = is_last && self.best.is_none();
        if !fits && !is_needed {
            return false;
        }
        // What was just written can be read.
        let samples = sound.samples().unwrap_or_default();
        let cost = Cost::of(&samples, self.rate_hz, &self.sent);
        self.done = cost.is_small() || is_last;
        let is_better = |(_, best): &(Sound, Cost)| cost.badness() < best.badness();
        if self.best.as_ref().is_none_or(is_better) {
            self.best = Some((sound, cost));
        }
        self.done
    }

    /// How much is done, 0 to 1.
    #[must_use]
    pub fn done_fraction(&self) -> f64 {
        if self.done {
            1.0
        } else if self.tries == 0 {
            0.0
        } else {
            1.0 - self.open.len() as f64 / self.tries as f64
        }
    }

    /// The link.
    ///
    /// # Errors
    /// [`LinkError::Nothing`] where it is not done.
    pub fn made(&self) -> Result<MadeLink, LinkError> {
        let (sound, cost) = self.best.as_ref().ok_or(LinkError::Nothing)?;
        let message = self.message(sound);
        let text = message.to_text()?;
        let (low_khz, high_khz) = sound.band_khz();
        let carried = sound.carried();
        let frames: u64 = carried
            .iter()
            .map(|samples| samples.end - samples.start)
            .sum();
        Ok(MadeLink {
            fragment: format!("call={text}"),
            sound_bytes: u32::try_from(sound.bytes()).unwrap_or(u32::MAX),
            cost: *cost,
            pulses: message.pulses,
            content: message.content,
            start_s: self.begin_s(),
            end_s: self.stretch.end as f64 / self.rate_hz,
            low_khz,
            high_khz,
            carried_s: frames as f64 / self.rate_hz,
        })
    }

    fn chars_of(&self, sound: &Sound) -> usize {
        let text = self.message(sound).to_text();
        text.map_or(usize::MAX, |text| text.len())
    }

    fn begin_s(&self) -> f64 {
        self.stretch.start as f64 / self.rate_hz
    }

    fn message(&self, sound: &Sound) -> Message {
        Message {
            version: env!("CARGO_PKG_VERSION").to_owned(),
            from_s: self.begin_s(),
            sound: sound.clone(),
            pulses: if self.order.numbers {
                self.sent.clone()
            } else {
                Vec::new()
            },
            content: self.content(),
        }
    }

    /// What travels, with labels and view on the time of the stretch.
    fn content(&self) -> CallContent {
        let mut content = self.order.content.clone();
        let (from_s, end_s_of_stretch) = (self.begin_s(), self.stretch.end as f64 / self.rate_hz);
        // Without the pulses that it is about, a label would be one of all that is sent.
        let is_within = |start_s: f64, end_s: f64| start_s >= from_s && end_s <= end_s_of_stretch;
        content.labels.retain(|label| {
            let mut spans = label.about.iter();
            label.about.is_empty() || spans.any(|span| is_within(span.start_s, span.end_s))
        });
        for label in &mut content.labels {
            label
                .about
                .retain(|span| is_within(span.start_s, span.end_s));
            for span in &mut label.about {
                span.start_s -= from_s;
                span.end_s -= from_s;
                // What is sent is one channel in real time.
                span.channel = 0;
                span.expansion = 1.0;
            }
        }
        if let Some(view) = &mut content.view {
            view.start_s -= from_s;
            view.end_s -= from_s;
        }
        content
    }
}

fn sound_at(spectrum: &Spectrum, rung: u8) -> Sound {
    spectrum.write(Detail::rung(rung, spectrum.largest()))
}

/// Which samples of a stretch, and which frequencies, make up the pulses.
fn wanted(pulses: &[NamedPulse], stretch: &Range<u64>, rate_hz: f64) -> Wanted {
    let length = stretch.end - stretch.start;
    let sample = |time_s: f64| {
        ((time_s * rate_hz).max(0.0) as u64)
            .saturating_sub(stretch.start)
            .min(length) as usize
    };
    let mut samples: Vec<Range<usize>> = pulses
        .iter()
        .map(|one| sample(one.pulse.start_s - BEFORE_S)..sample(one.pulse.end_s + AFTER_S))
        .collect();
    samples.sort_unstable_by_key(|samples| samples.start);
    let low_khz = pulses
        .iter()
        .map(|one| one.pulse.low_khz)
        .fold(f64::INFINITY, f64::min);
    let high_khz = pulses
        .iter()
        .map(|one| highest_khz(&one.pulse))
        .fold(0.0, f64::max);
    Wanted {
        samples,
        band_khz: low_khz - BESIDE_KHZ..high_khz + BESIDE_KHZ,
    }
}

/// The top of a pulse's highest harmonic that carries energy.
fn highest_khz(pulse: &Pulse) -> f64 {
    let multiples = pulse
        .harmonics
        .iter()
        .map(|harmonic| f64::from(harmonic.multiple));
    multiples.fold(1.0, f64::max) * pulse.high_khz
}
