//! All that was found in a recording.

use super::{Pulse, Settings, Summary, Uncertainty, doubt, echo, rhythm, sequence, summary};
use serde::{Deserialize, Serialize};

/// What was found in a recording: pulses, sounds that are probably none of a bat's, and what both
/// say of the recording as a whole.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Findings {
    /// Pulses that may well be a bat's, in order of time, grouped into sequences.
    pub pulses: Vec<Pulse>,
    /// The other sounds, in order of time, each with its reason for doubt. They are measured by the
    /// same definitions, belong to no sequence, and of those that sound together only the loudest
    /// is listed.
    pub doubted: Vec<Pulse>,
    /// What pulses and doubted sounds come to.
    pub summary: Summary,
}

impl Findings {
    /// Takes in what was found in a block, in any order, and the tones that were taken out of it.
    pub(super) fn take_in(&mut self, found: impl Iterator<Item = Pulse>, tones_khz: Vec<f64>) {
        for pulse in found {
            match pulse.doubt {
                None => self.pulses.push(pulse),
                Some(_) => self.doubted.push(pulse),
            }
        }
        summary::add_tones(&mut self.summary.tones_khz, tones_khz);
    }

    /// Puts in order and groups what was found so far, and if that is `all`, looks for what only
    /// whole sequences show.
    pub(super) fn arrange(&mut self, settings: &Settings, all: bool) {
        sequence::group(&mut self.pulses, settings);
        if all {
            echo::remove_far(&mut self.pulses);
            sequence::group(&mut self.pulses, settings);
            doubt::reconsider(&mut self.pulses);
            self.set_doubted_aside(settings);
            doubt::doubt_machines(&mut self.pulses);
            self.set_doubted_aside(settings);
        }
        rhythm::mark(&mut self.pulses);
        self.doubted.sort_by(|a, b| a.start_s.total_cmp(&b.start_s));
        self.summary.renew(&self.pulses, &self.doubted);
    }

    fn set_doubted_aside(&mut self, settings: &Settings) {
        let aside = self.pulses.extract_if(.., |pulse| pulse.doubt.is_some());
        self.doubted.extend(aside.map(|pulse| Pulse {
            sequence: None,
            interval_ms: None,
            uncertainty: Uncertainty {
                interval_ms: None,
                ..pulse.uncertainty
            },
            ..pulse
        }));
        sequence::group(&mut self.pulses, settings);
    }
}
