//! The transform and the measuring alone, to be timed from JavaScript by `cargo xtask bench`.

use dusklens_core::pulse::{Measurer, Settings};
use dusklens_core::spectrum::{Stft, StftSettings};
use wasm_bindgen::prelude::{JsError, wasm_bindgen};

/// A recording in memory and the transform that is to be timed on it: Hann, 512 samples, 128 apart.
#[wasm_bindgen]
pub struct TransformBench {
    stft: Stft,
    samples: Vec<f32>,
    powers: Vec<f32>,
}

#[wasm_bindgen]
impl TransformBench {
    /// Takes the samples over, so that copying them is no part of the time.
    ///
    /// # Errors
    /// When the transform cannot be planned.
    #[wasm_bindgen(constructor)]
    pub fn new(samples: Vec<f32>) -> Result<TransformBench, JsError> {
        Ok(Self {
            stft: Stft::new(&StftSettings::default())?,
            samples,
            powers: Vec::new(),
        })
    }

    /// Transforms all samples and returns the number of frames.
    pub fn run(&mut self) -> usize {
        self.stft.powers(&self.samples, &mut self.powers)
    }

    /// Sum of all powers of the last run, by which a reader sees that the work was done.
    #[must_use]
    pub fn total(&self) -> f64 {
        self.powers.iter().map(|&power| f64::from(power)).sum()
    }
}

/// Finds and measures what sounds in samples at a rate; returns the number of pulses.
#[wasm_bindgen]
#[must_use]
pub fn measure_bench(samples: &[f32], rate_hz: f64) -> usize {
    let frames = samples.len() as u64;
    let mut measurer = Measurer::new(rate_hz, frames, None, &Settings::default());
    while let Some(block) = measurer.next_block() {
        measurer.feed(&samples[block.start as usize..block.end as usize]);
    }
    measurer.findings().pulses.len()
}
