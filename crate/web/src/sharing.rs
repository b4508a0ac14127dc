//! Calls in links, step by step, and the calls that come in them.

use crate::channel::Channel;
use crate::{OpenedFile, Problem, convert};
use dusklens_core::share::{self, CallOrder, CallSheet, Making, ReceivedCall};
use js_sys::Uint8Array;
use std::rc::Rc;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

/// A call link in the making.
#[wasm_bindgen]
pub struct LinkJob {
    channel: Channel,
    making: Making,
}

#[wasm_bindgen]
impl OpenedFile {
    /// Begins a link with pulses of a channel, counted from 0.
    ///
    /// # Errors
    /// [`Problem`] where there is nothing to send, or too much.
    pub fn link(
        &self,
        channel: u16,
        #[wasm_bindgen(unchecked_param_type = "CallOrder")] order: JsValue,
    ) -> Result<LinkJob, Problem> {
        let order: CallOrder = convert::read(order)?;
        let channel = Channel::present(Rc::clone(self.recording()), channel)?;
        let recording = channel.recording();
        let making = Making::new(order, recording.rate_hz(), recording.frames())?;
        Ok(LinkJob { channel, making })
    }
}

#[wasm_bindgen]
impl LinkJob {
    /// Does a step of bounded work; returns whether the link is made.
    ///
    /// # Errors
    /// [`Problem`] where the file cannot be read any more.
    pub fn step(&mut self) -> Result<bool, Problem> {
        match self.making.next_block() {
            Some(block) => {
                self.making.feed(self.channel.read(block)?);
                Ok(false)
            }
            None => Ok(self.making.step()),
        }
    }

    /// How much is done, 0 to 1.
    #[wasm_bindgen(getter)]
    #[must_use]
    pub fn done_fraction(&self) -> f64 {
        self.making.done_fraction()
    }

    /// The link, and what it costs the call to travel in it.
    ///
    /// # Errors
    /// [`Problem`] where it is not made yet.
    #[wasm_bindgen(unchecked_return_type = "MadeLink")]
    pub fn made(&self) -> Result<JsValue, Problem> {
        convert::write(&self.making.made()?)
    }
}

/// A call that came in a link, and its sound as a file.
#[wasm_bindgen]
pub struct CallFile {
    call: ReceivedCall,
    bytes: Vec<u8>,
}

/// Reads a call link: an address with it, or its text alone.
///
/// # Errors
/// [`Problem`] naming what is wrong with it.
#[wasm_bindgen]
pub fn read_call(text: &str) -> Result<CallFile, Problem> {
    let (call, bytes) = ReceivedCall::read(text)?;
    Ok(CallFile { call, bytes })
}

/// A QR code of a text, as SVG.
///
/// # Errors
/// [`Problem`] where the text is too long for one.
#[wasm_bindgen]
pub fn qr_code(text: &str) -> Result<String, Problem> {
    Ok(share::qr_svg(text)?)
}

/// A call sheet: one HTML file that needs nothing else.
///
/// # Errors
/// [`Problem`] where this is no sheet.
#[wasm_bindgen]
pub fn call_sheet(
    #[wasm_bindgen(unchecked_param_type = "CallSheet")] sheet: JsValue,
) -> Result<String, Problem> {
    let sheet: CallSheet = convert::read(sheet)?;
    Ok(sheet.html())
}

#[wasm_bindgen]
impl CallFile {
    /// What its sender says.
    ///
    /// # Errors
    /// Only if this module is broken.
    #[wasm_bindgen(unchecked_return_type = "ReceivedCall")]
    pub fn call(&self) -> Result<JsValue, Problem> {
        convert::write(&self.call)
    }

    /// The bytes of a WAV file.
    #[must_use]
    pub fn bytes(&self) -> Uint8Array {
        Uint8Array::from(self.bytes.as_slice())
    }
}
