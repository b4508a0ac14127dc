//! The message of a link <-> its text.

use super::sound::Sound;
use super::{CallContent, LinkError, SentPulse};
use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use serde::{Deserialize, Serialize};

/// All that a link carries, in form number 1.
///
/// Its bytes are postcard's, whose form is fixed (the postcard wire specification). Fields are written in this order and without names: a
/// form that was given out is never changed. Another one gets another number and a struct of its own.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(super) struct Message {
    pub(super) version: String,
    /// Where the stretch begins in the sender's recording, seconds.
    pub(super) from_s: f64,
    pub(super) sound: Sound,
    pub(super) pulses: Vec<SentPulse>,
    pub(super) content: CallContent,
}

const FORM: u8 = 1;
const CHECK_BYTES: usize = 4;
/// The longest text that is read: far more than any program hands on in a message.
pub(super) const MOST_CHARS: usize = 400_000;
/// What stands before the text in the fragment of an address.
const FIELD: &str = "call=";

impl Message {
    pub(super) fn to_text(&self) -> Result<String, LinkError> {
        // Nothing in it is of a kind that postcard could not write.
        let body = postcard::to_allocvec(self).map_err(|_| LinkError::Damaged)?;
        let mut bytes = vec![FORM];
        bytes.extend(body);
        bytes.extend(crc32fast::hash(&bytes).to_le_bytes());
        Ok(URL_SAFE_NO_PAD.encode(bytes))
    }

    /// Reads the text itself, an address with it in its fragment, or either with line breaks that a program put in.
    pub(super) fn from_text(text: &str) -> Result<Self, LinkError> {
        let text: String = text.chars().filter(|c| !c.is_whitespace()).collect();
        let text = match text.rfind(FIELD) {
            Some(at) => text.get(at + FIELD.len()..).unwrap_or_default(),
            None => &text,
        };
        let is_ours = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
        let text = text.split(|c| !is_ours(c)).next().unwrap_or_default();
        if text.len() > MOST_CHARS {
            return Err(LinkError::TooLong {
                chars: text.len(),
                most: MOST_CHARS,
            });
        }
        if text.is_empty() {
            return Err(LinkError::NoCall);
        }
        let bytes = URL_SAFE_NO_PAD
            .decode(text)
            .map_err(|_| LinkError::Damaged)?;
        let form = bytes.first().copied().ok_or(LinkError::NoCall)?;
        let at = bytes
            .len()
            .checked_sub(CHECK_BYTES)
            .ok_or(LinkError::Damaged)?;
        let (told, check) = bytes.split_at(at);
        if crc32fast::hash(told).to_le_bytes() != check {
            return Err(LinkError::Damaged);
        }
        if form != FORM {
            return Err(LinkError::Version(form));
        }
        let body = told.get(1..).unwrap_or_default();
        let (message, rest): (Self, _) = postcard::take_from_bytes(body)
            .map_err(|_| LinkError::Bounds("nothing that can be understood"))?;
        if !rest.is_empty() {
            return Err(LinkError::Bounds("more than belongs to it"));
        }
        message.content.check(&message.pulses)?;
        let is_time = message.from_s.abs() <= 1e9;
        if !is_time {
            return Err(LinkError::Bounds("numbers that measure nothing"));
        }
        Ok(message)
    }
}
