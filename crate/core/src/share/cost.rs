//! What it costs a call to travel: what a receiver measures beside what the sender did.

use super::SentPulse;
use crate::pulse::{Findings, Measurer, Pulse, Settings};
use serde::{Deserialize, Serialize};

/// How far what the receiver measures lies from what the sender measured, at most over all pulses.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Cost {
    /// Pulses that were sent.
    pub pulses: u32,
    /// Those that are not found again.
    pub lost: u32,
    /// Of the peak frequency, kilohertz.
    pub peak_khz: f64,
    /// Of the duration, milliseconds.
    pub duration_ms: f64,
    /// Of the characteristic frequency, kilohertz.
    pub characteristic_khz: f64,
    /// Of the level, decibels.
    pub level_db: f64,
}

impl Cost {
    /// How far a call may change on its way, by peak frequency and duration.
    pub const MOST_PEAK_KHZ: f64 = 0.1;
    /// Milliseconds.
    pub const MOST_DURATION_MS: f64 = 0.1;

    /// Measures samples and compares.
    pub(super) fn of(samples: &[f32], rate_hz: f64, sent: &[SentPulse]) -> Self {
        let findings = measured(samples, rate_hz);
        let mut cost = Self {
            pulses: u32::try_from(sent.len()).unwrap_or(u32::MAX),
            ..Self::default()
        };
        for pulse in sent {
            match again(pulse, &findings) {
                Some(found) => cost.add(pulse, found),
                None => cost.lost += 1,
            }
        }
        cost
    }

    fn add(&mut self, sent: &SentPulse, found: &Pulse) {
        let more = |sum: &mut f64, sent: f32, found: f64| {
            *sum = sum.max((f64::from(sent) - found).abs());
        };
        more(&mut self.peak_khz, sent.peak_khz, found.peak_khz);
        more(&mut self.duration_ms, sent.duration_ms, found.duration_ms);
        more(
            &mut self.characteristic_khz,
            sent.characteristic_khz,
            found.characteristic_khz,
        );
        more(&mut self.level_db, sent.level_db, found.level_db);
    }

    /// Whether nothing is lost by which a call is told.
    #[must_use]
    pub fn is_small(&self) -> bool {
        self.lost == 0
            && self.peak_khz <= Self::MOST_PEAK_KHZ
            && self.duration_ms <= Self::MOST_DURATION_MS
    }

    /// How bad it is: one pulse that is lost is worse than any number.
    pub(super) fn badness(&self) -> f64 {
        f64::from(self.lost) * 1e6
            + self.peak_khz / Self::MOST_PEAK_KHZ
            + self.duration_ms / Self::MOST_DURATION_MS
    }
}

fn measured(samples: &[f32], rate_hz: f64) -> Findings {
    let mut measurer = Measurer::new(rate_hz, samples.len() as u64, None, &Settings::default());
    while let Some(block) = measurer.next_block() {
        let block = block.start as usize..block.end as usize;
        measurer.feed(samples.get(block).unwrap_or_default());
    }
    measurer.into_findings()
}

/// The sound that a sent pulse is found again as.
fn again<'a>(sent: &SentPulse, findings: &'a Findings) -> Option<&'a Pulse> {
    let start_s = f64::from(sent.start_s);
    let end_s = start_s + f64::from(sent.duration_ms) * 1e-3;
    let peak_s = f64::from(sent.peak_s);
    let all = findings.pulses.iter().chain(&findings.doubted);
    all.filter(|pulse| pulse.start_s <= end_s && pulse.end_s >= start_s)
        .min_by(|one, other| {
            let far = |pulse: &Pulse| (pulse.peak_s - peak_s).abs();
            far(one).total_cmp(&far(other))
        })
}
