//! A call <-> a link.
//!
//! A link carries the call itself, so that whoever gets it sees, hears and measures the sound and not only numbers. What
//! stands out of the noise is carried as coefficients of a lapped transform, counted in steps of the noise and written
//! by an arithmetic coder; the noise is carried as its level in 64 bands and drawn anew. What that costs is measured each
//! time: the sound that the receiver will have is measured before the link is given out, and compared.
//!
//! ```text
//! samples -> Making -> MadeLink -> text        text -> ReceivedCall -> a WAV file, numbers, words
//! ```
//!
//! The text is base64url (RFC 4648, section 5) of: a byte that names the version, the message, a CRC-32. A version that
//! was ever given out stays readable. A link comes from a stranger: nothing that it states is trusted before it is
//! bounded, and nothing in it is ever more than text or sound.
//!
//! For people without the page there is a [`CallSheet`]: picture, numbers, words and the sound to listen to in one HTML
//! file, which can be printed. [`qr_svg`] makes a link one that can be read off paper.

mod coefficients;
mod content;
mod cost;
mod entropy;
mod error;
mod floor;
mod lapped;
mod making;
mod message;
mod qr;
mod received;
mod sheet;
mod sound;

pub use content::{CallContent, CallView, SentPulse};
pub use cost::Cost;
pub use error::{LinkError, Tenths};
pub use making::{CallOrder, MadeLink, Making, NamedPulse};
pub use qr::qr_svg;
pub use received::ReceivedCall;
pub use sheet::CallSheet;

#[cfg(test)]
mod tests;
