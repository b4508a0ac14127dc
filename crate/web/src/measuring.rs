//! Pulses, step by step.

use crate::channel::Channel;
use crate::{BrowserFile, Problem, convert};
use dusklens_core::pulse::{Measurer, Settings};
use dusklens_core::recording::Recording;
use std::rc::Rc;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

/// The measuring of one channel, from its beginning to its end.
#[wasm_bindgen]
pub struct MeasuringJob {
    channel: Channel,
    measurer: Measurer,
}

impl MeasuringJob {
    pub(crate) fn new(
        recording: Rc<Recording<BrowserFile>>,
        channel: u16,
    ) -> Result<Self, Problem> {
        let channel = Channel::present(recording, channel)?;
        let recording = channel.recording();
        let measurer = Measurer::new(
            recording.rate_hz(),
            recording.frames(),
            recording.clip_level(),
            &Settings::default(),
        );
        Ok(Self { channel, measurer })
    }
}

#[wasm_bindgen]
impl MeasuringJob {
    /// Does a step of bounded work; returns whether all is measured.
    ///
    /// # Errors
    /// [`Problem`] where the file cannot be read any more.
    pub fn step(&mut self) -> Result<bool, Problem> {
        let Some(block) = self.measurer.next_block() else {
            return Ok(true);
        };
        self.measurer.feed(self.channel.read(block)?);
        Ok(self.measurer.next_block().is_none())
    }

    /// How much of the recording is measured, seconds.
    #[wasm_bindgen(getter)]
    #[must_use]
    pub fn done_s(&self) -> f64 {
        self.measurer.measured_frames() as f64 / self.channel.recording().rate_hz()
    }

    /// How much there is to measure, seconds.
    #[wasm_bindgen(getter)]
    #[must_use]
    pub fn total_s(&self) -> f64 {
        self.channel.recording().facts().duration_s
    }

    /// What was found so far. Order and grouping may still change until all is measured.
    ///
    /// # Errors
    /// [`Problem`] where it cannot be handed over.
    #[wasm_bindgen(unchecked_return_type = "Findings")]
    pub fn findings(&self) -> Result<JsValue, Problem> {
        convert::write(self.measurer.findings())
    }
}
