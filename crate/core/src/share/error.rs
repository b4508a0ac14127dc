//! Why there is no link, or no call in one.

/// A link that cannot be made or read.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum LinkError {
    /// There is nothing in the text that could be a call.
    #[error("this is no call link: there is no call in it")]
    NoCall,
    /// It is longer than any call.
    #[error("the link has {chars} characters; a call has at most {most}")]
    TooLong {
        /// How many it has.
        chars: usize,
        /// How many are read.
        most: usize,
    },
    /// Some of it is missing or altered.
    #[error("the link is damaged: some of it is missing or was altered on its way")]
    Damaged,
    /// A later version made it.
    #[error("the link was made by a later version of Dusklens (its form is number {0})")]
    Version(u8),
    /// It is whole, and states what cannot be.
    #[error("the link is no call that Dusklens made: it states {0}")]
    Bounds(&'static str),
    /// There is nothing to send.
    #[error("no pulse is chosen, so there is no call to send")]
    Nothing,
    /// It is too much for a link.
    #[error(
        "{seconds} s are too long for a call link, which carries up to {most_s} s of this recording"
    )]
    TooMuch {
        /// How long it is, in tenths of a second.
        seconds: Tenths,
        /// How long it may be.
        most_s: Tenths,
    },
    /// It is too much for a QR code.
    #[error("the link has {chars} characters; a QR code holds at most {most}")]
    TooDense {
        /// How many it has, as bytes; those of a link are one byte each.
        chars: usize,
        /// How many fit in.
        most: usize,
    },
}

/// A time in tenths of a second.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Tenths(pub u32);

impl Tenths {
    pub(super) fn of(seconds: f64) -> Self {
        // A float that is too large becomes the largest number.
        Self((seconds * 10.0).round() as u32)
    }
}

impl std::fmt::Display for Tenths {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(formatter, "{}.{}", self.0 / 10, self.0 % 10)
    }
}

impl LinkError {
    /// What can still be done, as a sentence.
    #[must_use]
    pub fn advice(&self) -> &'static str {
        match self {
            Self::NoCall | Self::Damaged => {
                "Copy the whole link, from its first character to its last, or ask for a call sheet, which no program cuts."
            }
            Self::TooLong { .. } | Self::Bounds(_) => {
                "Ask whoever sent it for a call sheet or for the recording itself."
            }
            Self::Version(_) => {
                "Open it with a current version, or ask whoever sent it for a call sheet."
            }
            Self::Nothing => "Choose a pulse in the picture or in the table first.",
            Self::TooMuch { .. } => {
                "Choose fewer pulses, or send the recording itself or a call sheet."
            }
            Self::TooDense { .. } => "Copy the link, or give a call sheet.",
        }
    }
}
