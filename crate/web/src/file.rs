//! A browser's file as a source of bytes.

use dusklens_core::recording::Source;
use js_sys::{Error, Uint8Array};
use std::cell::RefCell;
use std::io;
use std::rc::Rc;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Blob, FileReaderSync};

/// A file that the person dropped or chose, read in slices when they are asked
/// for. Works in workers alone: elsewhere browsers only read without waiting.
#[derive(Debug)]
pub struct BrowserFile {
    blob: Blob,
    reader: FileReaderSync,
    ahead: RefCell<Stretch>,
    whole: Rc<Whole>,
}

/// All bytes of a file, if somebody brought them.
///
/// A browser hands a file over in one go, without waiting, in half the time
/// that it takes for slices that are waited for.
#[derive(Debug)]
pub(crate) struct Whole {
    size: u64,
    bytes: RefCell<Option<Stretch>>,
}

/// Bytes of a file from some place on.
#[derive(Debug, Default)]
struct Stretch {
    start: u64,
    bytes: Vec<u8>,
}

/// Bytes that are read at once where less is asked for: a header is read in
/// many small pieces, and each slice costs the browser a fraction of a
/// millisecond.
const READ_AHEAD: u64 = 64 * 1024;

impl BrowserFile {
    /// Opens a file, or any other blob.
    ///
    /// # Errors
    /// Fails outside a worker, where browsers have no such reader.
    pub fn new(blob: Blob) -> Result<Self, JsValue> {
        let whole = Whole {
            size: blob.size() as u64,
            bytes: RefCell::default(),
        };
        Ok(Self {
            blob,
            reader: FileReaderSync::new()?,
            ahead: RefCell::default(),
            whole: Rc::new(whole),
        })
    }

    /// Where all bytes of this file may be put, now or later.
    pub(crate) fn whole(&self) -> Rc<Whole> {
        Rc::clone(&self.whole)
    }

    /// The bytes from `start` up to `end`, in the browser's memory.
    fn slice(&self, start: u64, end: u64) -> io::Result<Uint8Array> {
        let read = || {
            // Exact up to 2^53 bytes, nine million gigabytes.
            let slice = self.blob.slice_with_f64_and_f64(start as f64, end as f64)?;
            self.reader.read_as_array_buffer(&slice)
        };
        let bytes = Uint8Array::new(&read().map_err(browser_error)?.into());
        if u64::from(bytes.length()) == end - start {
            Ok(bytes)
        } else {
            Err(io::ErrorKind::UnexpectedEof.into())
        }
    }
}

impl Source for BrowserFile {
    fn len(&self) -> u64 {
        self.blob.size() as u64
    }

    fn read_at(&self, offset: u64, buffer: &mut [u8]) -> io::Result<()> {
        if self.whole.give(offset, buffer) {
            return Ok(());
        }
        let wanted = buffer.len() as u64;
        let end = offset
            .checked_add(wanted)
            .filter(|&end| end <= self.len())
            .ok_or(io::ErrorKind::UnexpectedEof)?;
        if wanted >= READ_AHEAD {
            self.slice(offset, end)?.copy_to(buffer);
            return Ok(());
        }
        let mut ahead = self.ahead.borrow_mut();
        if !ahead.give(offset, buffer) {
            let slice = self.slice(offset, offset.saturating_add(READ_AHEAD).min(self.len()))?;
            ahead.start = offset;
            ahead.bytes.resize(slice.length() as usize, 0);
            slice.copy_to(&mut ahead.bytes);
            ahead.give(offset, buffer);
        }
        Ok(())
    }
}

impl Whole {
    /// Takes all bytes of the file in, if they are as many as it has; `None`
    /// lets go of them.
    pub(crate) fn put(&self, bytes: Option<Vec<u8>>) {
        let whole = bytes.filter(|bytes| bytes.len() as u64 == self.size);
        self.bytes
            .replace(whole.map(|bytes| Stretch { start: 0, bytes }));
    }

    fn give(&self, offset: u64, buffer: &mut [u8]) -> bool {
        let whole = self.bytes.borrow();
        whole
            .as_ref()
            .is_some_and(|stretch| stretch.give(offset, buffer))
    }
}

impl Stretch {
    /// Fills the buffer if all its bytes are at hand.
    fn give(&self, offset: u64, buffer: &mut [u8]) -> bool {
        let bytes = offset
            .checked_sub(self.start)
            .and_then(|from| usize::try_from(from).ok())
            .and_then(|from| self.bytes.get(from..from.checked_add(buffer.len())?));
        bytes.map(|bytes| buffer.copy_from_slice(bytes)).is_some()
    }
}

/// What the browser says about a file that it cannot read any more.
fn browser_error(error: JsValue) -> io::Error {
    let message = match error.dyn_ref::<Error>() {
        Some(error) => String::from(error.message()),
        None => js_sys::Reflect::get(&error, &"message".into())
            .ok()
            .and_then(|message| message.as_string())
            .unwrap_or_else(|| "the browser gives no reason".to_owned()),
    };
    io::Error::other(message)
}
