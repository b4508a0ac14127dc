//! The limiter: nothing that leaves it is louder than the ceiling.

use std::collections::VecDeque;

/// The largest amplitude that is ever put out, decibels re full scale.
pub const CEILING_DB: f32 = -6.0;
/// The same as an amplitude, rounded down.
pub const CEILING: f32 = 0.501;

/// How far it looks ahead, seconds.
const AHEAD_S: f64 = 0.002;
/// How long it takes to let go: the missing gain falls to a third in this time, seconds.
const RELEASE_S: f64 = 0.080;

/// A limiter that looks ahead.
///
/// The gain that a sample needs is held as long as the sample may be ahead, let go slowly, and averaged over
/// the same time: the average only takes in gains that are low enough for the sample that it is used on, and
/// changes without a corner that could be heard.
#[derive(Debug)]
pub(super) struct Limiter {
    ahead: usize,
    release: f32,
    /// The samples that are looked at, the oldest first.
    waiting: VecDeque<f32>,
    /// Falling candidates for the least gain of the last `ahead` samples, with their number.
    least: VecDeque<(u64, f32)>,
    held: f32,
    /// The last `ahead` held gains, for their mean.
    gains: VecDeque<f32>,
    seen: u64,
}

impl Limiter {
    pub(super) fn new(output_hz: f64) -> Self {
        let ahead = (AHEAD_S * output_hz).round().max(1.0) as usize;
        Self {
            ahead,
            release: (1.0 - (-1.0 / (RELEASE_S * output_hz)).exp()) as f32,
            waiting: std::iter::repeat_n(0.0, ahead - 1).collect(),
            least: VecDeque::new(),
            held: 1.0,
            gains: std::iter::repeat_n(1.0, ahead).collect(),
            seen: 0,
        }
    }

    /// By how many samples what comes out is late.
    pub(super) fn delay(&self) -> usize {
        self.ahead - 1
    }

    /// Limits samples in place.
    pub(super) fn run(&mut self, samples: &mut [f32]) {
        for sample in samples {
            *sample = self.step(if sample.is_finite() { *sample } else { 0.0 });
        }
    }

    fn step(&mut self, sample: f32) -> f32 {
        let needed = (CEILING / sample.abs().max(CEILING)).min(1.0);
        let least = self.least_of_last(needed);
        self.held = least.min(self.held + (1.0 - self.held) * self.release);
        self.gains.pop_front();
        self.gains.push_back(self.held);
        self.waiting.push_back(sample);
        let oldest = self.waiting.pop_front().unwrap_or(0.0);
        // The sum is taken anew each time: a running one would gather rounding for hours.
        let gain = self.gains.iter().sum::<f32>() / self.ahead as f32;
        (oldest * gain).clamp(-CEILING, CEILING)
    }

    /// The least of the last `ahead` gains, this one included.
    fn least_of_last(&mut self, gain: f32) -> f32 {
        while self.least.back().is_some_and(|&(_, other)| other >= gain) {
            self.least.pop_back();
        }
        self.least.push_back((self.seen, gain));
        let gone = (self.seen + 1).saturating_sub(self.ahead as u64);
        while self.least.front().is_some_and(|&(number, _)| number < gone) {
            self.least.pop_front();
        }
        self.seen += 1;
        self.least.front().map_or(gain, |&(_, least)| least)
    }
}
