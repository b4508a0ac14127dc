//! What a night comes to: totals, and how the activity went.
//!
//! A *pass* is a sequence of at least [`pass_min_pulses`](super::NightSettings::pass_min_pulses) pulses. Passes measure
//! activity: one animal that hunts at a pond can make a hundred. A file counts once, however many copies of it are there,
//! and what happens in it is placed by the time of the pass and not by that of the file.
//!
//! Beside every count stands the *watch*: the stretch that the recorder was meant to run, else the one from its first to
//! its last recording. Nothing found in eight hours of watch is a zero; nothing found in none says nothing.

use serde::{Deserialize, Serialize};

use super::card::{Night, NightFile};
use super::content::{Content, Outcome, PassFacts};
use super::frame::{Frame, Stretch};
use super::list::passes;
use super::moment::Moment;
use crate::pulse::Verdict;

/// The longest bins that activity is counted in, minutes.
const LONGEST_BIN_MIN: u32 = 120;
/// Passes of a shorter watch than this make no rate, hours.
const SHORTEST_WATCH_H: f64 = 0.5;

/// What a night comes to.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Totals {
    /// Recordings that were read; copies of the same content count once.
    pub recordings: u32,
    /// Files that could not be read.
    pub broken: u32,
    /// Files whose content another file has as well.
    pub copies: u32,
    /// Recordings that hold bat pulses.
    pub holding_pulses: u32,
    /// Recordings that may hold some.
    pub unsure: u32,
    /// Recordings in which none was found; no proof that none was there.
    pub probably_none: u32,
    /// Passes.
    pub passes: u32,
    /// Feeding buzzes.
    pub buzzes: u32,
    /// Pulses.
    pub pulses: u32,
    /// The durations of all recordings together, hours.
    pub sound_h: f64,
    /// From the beginning of the first recording to the end of the last, hours.
    pub recorded_h: f64,
    /// How long the recorder was meant to run, hours; none where nobody says.
    pub planned_h: Option<f64>,
    /// The effort that belongs to every count: the planned hours, else the recorded ones.
    pub watch_h: f64,
    /// Passes per hour of the watch; none where that was shorter than half an hour.
    pub passes_per_h: Option<f64>,
    /// Temperatures that the files state.
    pub temperature: Option<TemperatureRange>,
}

/// The lowest and the highest temperature of a night.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct TemperatureRange {
    /// The lowest, degrees Celsius.
    pub low_c: f64,
    /// The highest, degrees Celsius.
    pub high_c: f64,
    /// Whether it was taken inside the recorder, since no file states one outside. Inside it is warmer.
    pub is_inside: bool,
}

/// Activity through a night, in bins of the same width.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Activity {
    /// Width of a bin, minutes.
    pub bin_min: u32,
    /// Start of the first bin.
    pub from: Moment,
    /// End of the last bin.
    pub to: Moment,
    /// The bins without gaps, in order of time.
    pub bins: Vec<Bin>,
}

/// A bin of activity.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Bin {
    /// Its start.
    pub from: Moment,
    /// Passes that began in it.
    pub passes: u32,
    /// Feeding buzzes of the sequences that began in it.
    pub buzzes: u32,
    /// Recordings that began in it.
    pub recordings: u32,
    /// Those of them that hold bat pulses.
    pub bat_recordings: u32,
    /// How much of it lies within the watch, 0 to 1.
    pub watched_share: f64,
}

/// An hour of the clock.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Hour {
    /// Its start.
    pub from: Moment,
    /// Passes that began in it.
    pub passes: u32,
    /// Feeding buzzes of the sequences that began in it.
    pub buzzes: u32,
    /// Recordings that began in it.
    pub recordings: u32,
    /// Those of them that hold bat pulses.
    pub bat_recordings: u32,
    /// How much of it lies within the watch, minutes.
    pub watched_min: f64,
}

/// A pass as a mark on a plot.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct PassMark {
    /// Start of its first pulse.
    pub at: Moment,
    /// Median peak frequency, kilohertz.
    pub peak_khz: f64,
    /// Median characteristic frequency, kilohertz.
    pub characteristic_khz: f64,
    /// How many pulses it has.
    pub pulses: u32,
    /// Whether it holds a feeding buzz.
    pub has_buzz: bool,
    /// Largest signal-to-noise ratio of its pulses, decibels.
    pub snr_db: f64,
    /// Number of its file in [`Night::files`], from 0.
    pub file: u32,
}

/// A temperature as a mark on a plot.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct TemperatureMark {
    /// Start of the recording that states it.
    pub at: Moment,
    /// Degrees Celsius.
    pub celsius: f64,
}

impl Night {
    /// Recordings that count, with their numbers in [`Night::files`].
    pub(super) fn recordings(&self) -> impl Iterator<Item = (usize, &NightFile, &Content)> {
        let files = self.files.iter().enumerate();
        files.filter_map(|(number, own)| Some((number, own, own.counted()?)))
    }

    /// What the night comes to.
    #[must_use]
    pub fn totals(&self) -> Totals {
        let frame = self.frame();
        let watch_h = frame.watch().map_or(0.0, |watch| watch.hours());
        let with = |verdict| self.count(|content| u32::from(content.verdict == verdict));
        let passes = self.count(|content| passes(content, &self.settings).count() as u32);
        let is_broken =
            |own: &&NightFile| matches!(own.file.examined.outcome, Outcome::Broken { .. });
        let is_copy = |own: &&NightFile| !is_broken(own) && own.copy_of.is_some();
        Totals {
            recordings: self.count(|_| 1),
            broken: self.files.iter().filter(is_broken).count() as u32,
            copies: self.files.iter().filter(is_copy).count() as u32,
            holding_pulses: with(Verdict::HoldsPulses),
            unsure: with(Verdict::Unsure),
            probably_none: with(Verdict::ProbablyNone),
            passes,
            buzzes: self.count(buzzes_in),
            pulses: self.count(|content| content.pulses),
            sound_h: self
                .recordings()
                .map(|(_, _, content)| content.duration_s)
                .sum::<f64>()
                / 3600.0,
            recorded_h: frame.recorded.map_or(0.0, |stretch| stretch.hours()),
            planned_h: frame.planned.map(|stretch| stretch.hours()),
            watch_h,
            passes_per_h: (watch_h >= SHORTEST_WATCH_H).then(|| f64::from(passes) / watch_h),
            temperature: self.temperature_range(),
        }
    }

    /// Activity in bins of so many minutes, 1 to 120, which begin on the clock: from sunset to sunrise, and on to where
    /// the watch and the recordings reach beyond.
    #[must_use]
    pub fn activity(&self, bin_min: u32) -> Activity {
        self.activity_within(bin_min, &self.frame())
    }

    pub(super) fn activity_within(&self, bin_min: u32, frame: &Frame) -> Activity {
        let bin_min = bin_min.clamp(1, LONGEST_BIN_MIN);
        let width_s = f64::from(bin_min) * 60.0;
        let Stretch { from, to } = self.shown(frame, width_s);
        let count = (to.since_s(from) / width_s).round() as usize;
        let watch = frame.watch();
        let start = |number: usize| from.plus_s(number as f64 * width_s);
        let empty = |number: usize| Bin {
            from: start(number),
            passes: 0,
            buzzes: 0,
            recordings: 0,
            bat_recordings: 0,
            watched_share: watch.map_or(0.0, |watch| {
                watch.overlap_s(start(number), start(number + 1)) / width_s
            }),
        };
        let mut bins: Vec<Bin> = (0..count).map(empty).collect();
        // Clocks that are far off can put a recording outside of what is shown: it counts in the bin at that end.
        let of = |at: Moment| ((at.since_s(from) / width_s) as usize).min(count.saturating_sub(1));
        for (_, own, content) in self.recordings() {
            let start = own.time.start;
            if let Some(bin) = bins.get_mut(of(start)) {
                bin.recordings += 1;
                bin.bat_recordings += u32::from(content.verdict == Verdict::HoldsPulses);
            }
            for pass in passes(content, &self.settings) {
                if let Some(bin) = bins.get_mut(of(start.plus_s(pass.start_s))) {
                    bin.passes += 1;
                }
            }
            for sequence in &content.passes {
                if let Some(bin) = bins.get_mut(of(start.plus_s(sequence.start_s))) {
                    bin.buzzes += sequence.buzzes;
                }
            }
        }
        Activity {
            bin_min,
            from,
            to,
            bins,
        }
    }

    /// Activity by hours of the clock.
    #[must_use]
    pub fn hours(&self) -> Vec<Hour> {
        let bins = self.activity(60).bins;
        let hour = |bin: Bin| Hour {
            from: bin.from,
            passes: bin.passes,
            buzzes: bin.buzzes,
            recordings: bin.recordings,
            bat_recordings: bin.bat_recordings,
            watched_min: bin.watched_share * 60.0,
        };
        bins.into_iter().map(hour).collect()
    }

    /// All passes in order of their files, and within these of time.
    #[must_use]
    pub fn marks(&self) -> Vec<PassMark> {
        let mut marks = Vec::new();
        for (number, own, content) in self.recordings() {
            let mark = |pass: &PassFacts| PassMark {
                at: own.time.start.plus_s(pass.start_s),
                peak_khz: pass.peak_khz,
                characteristic_khz: pass.characteristic_khz,
                pulses: pass.pulses,
                has_buzz: pass.buzzes > 0,
                snr_db: pass.snr_db,
                file: number as u32,
            };
            marks.extend(passes(content, &self.settings).map(mark));
        }
        marks
    }

    /// Temperatures in order of time, and whether they were taken inside the recorder: those outside, where any file
    /// states one.
    #[must_use]
    pub fn temperatures(&self) -> (Vec<TemperatureMark>, bool) {
        let of = |celsius: fn(&Content) -> Option<f64>| -> Vec<TemperatureMark> {
            let marks = self.recordings().filter_map(|(_, own, content)| {
                let celsius = celsius(content).filter(|celsius| celsius.is_finite())?;
                let at = own.time.start;
                Some(TemperatureMark { at, celsius })
            });
            marks.collect()
        };
        let outside = of(|content| content.temperature_c);
        if outside.is_empty() {
            (of(|content| content.temperature_inside_c), true)
        } else {
            (outside, false)
        }
    }

    fn temperature_range(&self) -> Option<TemperatureRange> {
        let (marks, is_inside) = self.temperatures();
        let values = || marks.iter().map(|mark| mark.celsius);
        Some(TemperatureRange {
            low_c: values().reduce(f64::min)?,
            high_c: values().reduce(f64::max)?,
            is_inside,
        })
    }

    fn count(&self, of: impl Fn(&Content) -> u32) -> u32 {
        self.recordings().map(|(_, _, content)| of(content)).sum()
    }

    /// What is shown of a night, in whole bins counted from noon: not more than a day.
    fn shown(&self, frame: &Frame, width_s: f64) -> Stretch {
        let noon = self.noon();
        let twilight = frame.twilight.unwrap_or_default();
        let sun = twilight.sunset.zip(twilight.sunrise);
        let sun = sun.map(|(from, to)| Stretch { from, to });
        let known = [sun, frame.planned, frame.recorded];
        let after_noon = |at: Moment| at.since_s(noon).clamp(0.0, 24.0 * 3600.0);
        let ends = known.into_iter().flatten();
        let (from_s, to_s) = ends.fold((f64::INFINITY, 0.0f64), |(from_s, to_s), stretch| {
            let from_s = from_s.min(after_noon(stretch.from));
            (from_s, to_s.max(after_noon(stretch.to)))
        });
        // Of a night that nothing is known of, the hours around midnight.
        let (from_s, to_s) = if from_s.is_finite() {
            (from_s, to_s)
        } else {
            (6.0 * 3600.0, 18.0 * 3600.0)
        };
        let first = (from_s / width_s).floor();
        let last = (to_s / width_s).ceil().max(first + 1.0);
        Stretch {
            from: noon.plus_s(first * width_s),
            to: noon.plus_s(last * width_s),
        }
    }

    /// Noon before the night.
    fn noon(&self) -> Moment {
        let text = format!("{}T12:00:00", self.key.evening);
        let noon = Moment::from_local(&text, self.settings.utc_offset_min);
        let first = || self.files.first().map(|own| own.time.start);
        noon.or_else(first).unwrap_or(Moment::from_utc_s(0.0))
    }
}

impl Frame {
    /// The stretch that counts belong to: the planned one, else the recorded one.
    #[must_use]
    pub fn watch(&self) -> Option<Stretch> {
        self.planned.or(self.recorded)
    }
}

impl Stretch {
    /// How many seconds of it lie between two moments.
    pub(super) fn overlap_s(&self, from: Moment, to: Moment) -> f64 {
        let end_s = self.to.utc_s().min(to.utc_s());
        (end_s - self.from.utc_s().max(from.utc_s())).max(0.0)
    }
}

fn buzzes_in(content: &Content) -> u32 {
    content.passes.iter().map(|sequence| sequence.buzzes).sum()
}

#[cfg(test)]
#[path = "activity_tests.rs"]
mod tests;
