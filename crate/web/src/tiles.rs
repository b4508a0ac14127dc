//! Pieces of a pyramid of pictures, and the noise that their colours begin at.

use crate::channel::Channel;
use crate::{OpenedFile, Problem, convert};
use dusklens_core::draw::{self, Drawing, Noise, Rendering, Survey, Tile};
use js_sys::Uint16Array;
use std::rc::Rc;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

/// A piece of a pyramid in the making.
#[wasm_bindgen]
pub struct TileJob {
    channel: Channel,
    drawing: Drawing,
    codes: Vec<u16>,
}

/// A look at the noise of a whole recording.
#[wasm_bindgen]
pub struct SurveyJob {
    channel: Channel,
    survey: Survey,
}

/// Stretches of a survey that make a step: some milliseconds.
const STRETCHES_AT_ONCE: usize = 48;

#[wasm_bindgen]
impl OpenedFile {
    /// Begins a piece of a pyramid.
    ///
    /// # Errors
    /// [`Problem`] where there is no such piece.
    pub fn tile(
        &self,
        #[wasm_bindgen(unchecked_param_type = "Tile")] tile: JsValue,
        #[wasm_bindgen(unchecked_param_type = "Rendering")] rendering: JsValue,
    ) -> Result<TileJob, Problem> {
        let (tile, rendering): (Tile, Rendering) =
            (convert::read(tile)?, convert::read(rendering)?);
        let recording = Rc::clone(self.recording());
        let channels = recording.facts().channels;
        let drawing = Drawing::tile(
            &tile,
            &rendering,
            channels,
            recording.rate_hz(),
            recording.frames(),
        )?;
        Ok(TileJob {
            channel: Channel::new(recording, tile.channel),
            drawing,
            codes: Vec::new(),
        })
    }

    /// Begins to look at the noise of a channel, counted from 0.
    ///
    /// # Errors
    /// [`Problem`] where there is no such channel.
    pub fn survey(&self, channel: u16) -> Result<SurveyJob, Problem> {
        let channel = Channel::present(Rc::clone(self.recording()), channel)?;
        let recording = channel.recording();
        let survey = Survey::new(recording.rate_hz(), recording.frames())?;
        Ok(SurveyJob { channel, survey })
    }
}

#[wasm_bindgen]
impl TileJob {
    /// Does a step of bounded work; returns whether the piece is done.
    ///
    /// # Errors
    /// [`Problem`] where the file cannot be read any more.
    pub fn step(&mut self) -> Result<bool, Problem> {
        let Some(block) = self.drawing.next_block() else {
            return Ok(true);
        };
        self.drawing.feed(self.channel.read(block)?);
        Ok(self.drawing.next_block().is_none())
    }

    /// How much is done, 0 to 1.
    #[wasm_bindgen(getter)]
    #[must_use]
    pub fn done_fraction(&self) -> f64 {
        self.drawing.done_fraction()
    }

    /// The levels of some rows as far as they are drawn, row after row, in a buffer of their own:
    /// 128 to a decibel, counted from -240 dB re full scale; 0 where there is none.
    #[must_use]
    pub fn codes(&mut self, first_row: u32, rows: u32) -> Uint16Array {
        let end = first_row.saturating_add(rows);
        self.drawing
            .raster()
            .encode(first_row..end, &mut self.codes);
        Uint16Array::from(self.codes.as_slice())
    }
}

#[wasm_bindgen]
impl SurveyJob {
    /// Does a step of bounded work; returns whether all is seen.
    ///
    /// # Errors
    /// [`Problem`] where the file cannot be read any more.
    pub fn step(&mut self) -> Result<bool, Problem> {
        for _ in 0..STRETCHES_AT_ONCE {
            let Some(block) = self.survey.next_block() else {
                return Ok(true);
            };
            self.survey.feed(self.channel.read(block)?);
        }
        Ok(self.survey.next_block().is_none())
    }

    /// The noise, as far as it is known.
    ///
    /// # Errors
    /// [`Problem`] where it cannot be handed over.
    #[wasm_bindgen(unchecked_return_type = "Noise")]
    pub fn noise(&self) -> Result<JsValue, Problem> {
        convert::write(&self.survey.noise())
    }
}

/// What there is to say of the level that a tile belongs to, in a recording with such noise.
///
/// # Errors
/// [`Problem`] where there is no such tile.
#[wasm_bindgen(js_name = tileFacts, unchecked_return_type = "TileFacts")]
pub fn tile_facts(
    #[wasm_bindgen(unchecked_param_type = "Tile")] tile: JsValue,
    #[wasm_bindgen(unchecked_param_type = "Rendering")] rendering: JsValue,
    #[wasm_bindgen(unchecked_param_type = "Noise")] noise: JsValue,
    rate_hz: f64,
) -> Result<JsValue, Problem> {
    let (tile, rendering): (Tile, Rendering) = (convert::read(tile)?, convert::read(rendering)?);
    let noise: Noise = convert::read(noise)?;
    convert::write(&draw::tile_facts(&tile, &rendering, &noise, rate_hz)?)
}
