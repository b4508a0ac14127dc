//! Waveforms and power spectra, step by step.

use crate::channel::Channel;
use crate::{OpenedFile, Problem, convert};
use dusklens_core::draw::{Waveform, WaveformView};
use dusklens_core::spectrum::{PowerMethod, PowerSpectrum, PowerSummer, room_for_fading, to_db};
use js_sys::Float32Array;
use serde::{Deserialize, Serialize};
use std::rc::Rc;
use tsify::Tsify;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

/// A waveform in the making.
#[wasm_bindgen]
pub struct WaveformJob {
    channel: Channel,
    waveform: Waveform,
}

/// What a waveform's values are.
#[derive(Debug, Clone, PartialEq, Serialize, Tsify)]
pub struct WaveformFacts {
    /// Whether there is one value for each sample; else there are two for each column, the lowest and the highest.
    pub single: bool,
    /// The time of the first single value, seconds.
    pub first_s: f64,
    /// From one single value to the next, seconds.
    pub step_s: f64,
    /// The largest magnitude among the values, full scale 1.
    pub largest: f32,
    /// The same as a level, decibels re full scale.
    pub largest_db: f32,
}

#[wasm_bindgen]
impl WaveformJob {
    /// Does a step of bounded work; returns whether the waveform is done.
    ///
    /// # Errors
    /// [`Problem`] where the file cannot be read any more.
    pub fn step(&mut self) -> Result<bool, Problem> {
        let Some(block) = self.waveform.next_block() else {
            return Ok(true);
        };
        self.waveform.feed(self.channel.read(block)?);
        Ok(self.waveform.next_block().is_none())
    }

    /// What the values are.
    ///
    /// # Errors
    /// [`Problem`] where it cannot be handed over.
    #[wasm_bindgen(unchecked_return_type = "WaveformFacts")]
    pub fn facts(&self) -> Result<JsValue, Problem> {
        let rate_hz = self.channel.recording().rate_hz();
        let largest = self.waveform.largest();
        convert::write(&WaveformFacts {
            largest,
            largest_db: to_db(largest * largest),
            single: self.waveform.is_single(),
            first_s: self.waveform.first_frame() as f64 / rate_hz,
            step_s: 1.0 / rate_hz,
        })
    }

    /// The values, full scale 1, in a buffer of their own.
    #[must_use]
    pub fn values(&self) -> Float32Array {
        Float32Array::from(self.waveform.values().as_slice())
    }
}

/// The stretch that a power spectrum is wanted of.
#[derive(Debug, Clone, PartialEq, Deserialize, Tsify)]
pub struct SpectrumView {
    /// Counted from 0.
    pub channel: u16,
    /// Its beginning, seconds.
    pub start_s: f64,
    /// Its end, seconds.
    pub end_s: f64,
    /// Its maximum is looked for from this frequency on, kilohertz ...
    pub low_khz: f64,
    /// ... up to this one.
    pub high_khz: f64,
    /// Whether all of the stretch counts in full, as a pulse does; what fades then lies around it.
    pub in_full: bool,
}

/// What a power spectrum shows, beside its levels.
#[derive(Debug, Clone, PartialEq, Serialize, Tsify)]
pub struct SpectrumFacts {
    /// From one level to the next, kilohertz; the first is at 0.
    pub bin_khz: f64,
    /// Frequency of its maximum in the wanted band, kilohertz; none where there is no sound.
    pub peak_khz: Option<f64>,
    /// How it was made.
    pub method: PowerMethod,
}

/// A power spectrum in the making.
#[wasm_bindgen]
pub struct SpectrumJob {
    channel: Channel,
    view: SpectrumView,
    summer: Option<PowerSummer>,
    spectrum: Option<PowerSpectrum>,
}

#[wasm_bindgen]
impl SpectrumJob {
    /// Does a step of bounded work; returns whether the spectrum is done.
    ///
    /// # Errors
    /// [`Problem`] where the file cannot be read any more.
    pub fn step(&mut self) -> Result<bool, Problem> {
        let Some(summer) = &mut self.summer else {
            return Ok(true);
        };
        if let Some(block) = summer.next_block() {
            summer.feed(self.channel.read(block)?);
        }
        if summer.next_block().is_some() {
            return Ok(false);
        }
        self.spectrum = self.summer.take().and_then(PowerSummer::into_spectrum);
        Ok(true)
    }

    /// What it shows.
    ///
    /// # Errors
    /// [`Problem`] where it cannot be handed over.
    #[wasm_bindgen(unchecked_return_type = "SpectrumFacts")]
    pub fn facts(&self) -> Result<JsValue, Problem> {
        let spectrum = self.spectrum.as_ref();
        let band = self.view.low_khz..self.view.high_khz;
        convert::write(&SpectrumFacts {
            bin_khz: spectrum.map_or(0.0, |spectrum| spectrum.bin_hz * 1e-3),
            peak_khz: spectrum.and_then(|spectrum| spectrum.peak_khz(band)),
            method: spectrum.map_or(PowerMethod::Whole, |spectrum| spectrum.method),
        })
    }

    /// Levels, decibels re full scale, in a buffer of their own; none where the stretch holds less than two samples.
    #[must_use]
    pub fn levels_db(&self) -> Float32Array {
        let levels = self.spectrum.as_ref().map(PowerSpectrum::levels_db);
        Float32Array::from(levels.unwrap_or_default().as_slice())
    }
}

#[wasm_bindgen]
impl OpenedFile {
    /// Begins a waveform.
    ///
    /// # Errors
    /// [`Problem`] where the view cannot be drawn.
    pub fn waveform(
        &self,
        #[wasm_bindgen(unchecked_param_type = "WaveformView")] view: JsValue,
    ) -> Result<WaveformJob, Problem> {
        let view: WaveformView = convert::read(view)?;
        let recording = Rc::clone(self.recording());
        Ok(WaveformJob {
            waveform: Waveform::new(&view, recording.rate_hz(), recording.frames())?,
            channel: Channel::new(recording, view.channel),
        })
    }

    /// Begins a power spectrum.
    ///
    /// # Errors
    /// [`Problem`] where the view is none.
    pub fn spectrum(
        &self,
        #[wasm_bindgen(unchecked_param_type = "SpectrumView")] view: JsValue,
    ) -> Result<SpectrumJob, Problem> {
        let view: SpectrumView = convert::read(view)?;
        let recording = Rc::clone(self.recording());
        let room_s = if view.in_full {
            (view.end_s - view.start_s) * room_for_fading()
        } else {
            0.0
        };
        // What is no number becomes 0, and what lies outside is cut off.
        let frame = |second: f64| {
            let frame = (second * recording.rate_hz()).round().max(0.0);
            (frame as u64).min(recording.frames())
        };
        let frames = frame(view.start_s - room_s)..frame(view.end_s + room_s);
        Ok(SpectrumJob {
            summer: PowerSummer::new(recording.rate_hz(), frames),
            channel: Channel::new(recording, view.channel),
            view,
            spectrum: None,
        })
    }
}
