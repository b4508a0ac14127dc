//! Pictures, step by step.

use crate::channel::Channel;
use crate::{BrowserFile, Problem, convert};
use dusklens_core::draw::{self, ColourMap, Drawing, Look, View};
use dusklens_core::recording::Recording;
use dusklens_core::spectrum::Window;
use js_sys::Uint8ClampedArray;
use serde::Serialize;
use std::rc::Rc;
use tsify::Tsify;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

/// A picture in the making. Once done it can be painted again in other colours
/// at little cost.
#[wasm_bindgen]
pub struct DrawingJob {
    channel: Channel,
    drawing: Drawing,
    pixels: Vec<u8>,
}

/// What a painted picture shows, beside its pixels.
#[derive(Debug, Clone, PartialEq, Serialize, Tsify)]
pub struct PaintedFacts {
    /// Columns.
    pub width_px: u32,
    /// Rows.
    pub height_px: u32,
    /// The level of the first colour, decibels re full scale.
    pub floor_db: f32,
    /// The level of the last colour, decibels re full scale.
    pub top_db: f32,
    /// The window that was used.
    pub window: Window,
    /// Its length, milliseconds.
    pub window_ms: f64,
}

impl DrawingJob {
    pub(crate) fn new(recording: Rc<Recording<BrowserFile>>, view: &View) -> Result<Self, Problem> {
        let drawing = Drawing::new(
            view,
            recording.facts().channels,
            recording.rate_hz(),
            recording.frames(),
        )?;
        Ok(Self {
            channel: Channel::new(recording, view.channel),
            drawing,
            pixels: Vec::new(),
        })
    }
}

#[wasm_bindgen]
impl DrawingJob {
    /// Does a step of bounded work; returns whether the picture is done.
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

    /// Paints what is done so far; [`pixels`](Self::pixels) then holds it.
    ///
    /// # Errors
    /// [`Problem`] where the look makes no sense.
    #[wasm_bindgen(unchecked_return_type = "PaintedFacts")]
    pub fn paint(
        &mut self,
        #[wasm_bindgen(unchecked_param_type = "Look")] look: JsValue,
    ) -> Result<JsValue, Problem> {
        let look: Look = convert::read(look)?;
        let raster = self.drawing.raster();
        let shades = raster.paint(&look, &mut self.pixels)?;
        convert::write(&PaintedFacts {
            width_px: raster.width(),
            height_px: raster.height(),
            floor_db: shades.floor_db,
            top_db: shades.top_db,
            window: self.drawing.window(),
            window_ms: self.drawing.window_ms(),
        })
    }

    /// The painted pixels, red, green, blue, opacity, in a buffer of their own
    /// that can be handed on.
    #[must_use]
    pub fn pixels(&self) -> Uint8ClampedArray {
        Uint8ClampedArray::from(self.pixels.as_slice())
    }
}

/// A colour bar of `steps` pixels, at most 8192, from the floor's colour to the top's.
///
/// # Errors
/// [`Problem`] where there is no such map.
#[wasm_bindgen]
pub fn legend(
    #[wasm_bindgen(unchecked_param_type = "ColourMap")] map: JsValue,
    steps: u32,
) -> Result<Uint8ClampedArray, Problem> {
    let map: ColourMap = convert::read(map)?;
    let bar = draw::legend(map, steps.min(View::LARGEST_PX));
    Ok(Uint8ClampedArray::from(bar.as_slice()))
}
