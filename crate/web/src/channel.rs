//! One channel of a recording, stretch by stretch.

use crate::{BrowserFile, Problem};
use dusklens_core::recording::Recording;
use std::ops::Range;
use std::rc::Rc;

/// A channel that long work reads from. It keeps its scratch space: nothing is allocated per stretch.
pub(crate) struct Channel {
    recording: Rc<Recording<BrowserFile>>,
    number: u16,
    samples: Vec<f32>,
}

impl Channel {
    /// A channel, counted from 0. Whether there is such a one shows when it is read.
    pub(crate) fn new(recording: Rc<Recording<BrowserFile>>, number: u16) -> Self {
        Self {
            recording,
            number,
            samples: Vec::new(),
        }
    }

    /// The same where one that is not there is to be refused at once and not with the first step.
    pub(crate) fn present(
        recording: Rc<Recording<BrowserFile>>,
        number: u16,
    ) -> Result<Self, Problem> {
        let mut channel = Self::new(recording, number);
        channel.read(0..0)?;
        Ok(channel)
    }

    pub(crate) fn recording(&self) -> &Recording<BrowserFile> {
        &self.recording
    }

    /// The samples of some frames, full scale 1.
    pub(crate) fn read(&mut self, frames: Range<u64>) -> Result<&[f32], Problem> {
        self.recording
            .read(self.number, frames, &mut self.samples)?;
        Ok(&self.samples)
    }
}
