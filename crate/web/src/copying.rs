//! A copy of a recording with labels, as the pieces that the browser puts it together from.

use crate::Problem;
use dusklens_core::recording::{CopyError, LabelledCopy, Piece};
use serde::Serialize;
use tsify::Tsify;

/// A copy of a recording that carries labels. Nothing of it lies in memory but what is new.
#[derive(Debug, Serialize, Tsify)]
pub struct CopyPlan {
    /// The pieces in their order.
    pub pieces: Vec<CopyPiece>,
    /// What is other than in the original besides the labels, as sentences.
    pub notices: Vec<String>,
}

/// A piece of a copy.
#[derive(Debug, Serialize, Tsify)]
#[serde(rename_all = "snake_case", tag = "kind")]
pub enum CopyPiece {
    /// Bytes of the original from `start` up to `end`.
    Original {
        /// The first byte.
        start: u64,
        /// The byte after the last.
        end: u64,
    },
    /// New bytes.
    Fresh {
        /// The bytes themselves.
        bytes: Vec<u8>,
    },
}

impl From<LabelledCopy> for CopyPlan {
    fn from(copy: LabelledCopy) -> Self {
        let pieces = copy.pieces.into_iter().map(|piece| match piece {
            Piece::Original(range) => CopyPiece::Original {
                start: range.start,
                end: range.end,
            },
            Piece::Fresh(bytes) => CopyPiece::Fresh { bytes },
        });
        Self {
            pieces: pieces.collect(),
            notices: copy.notices,
        }
    }
}

impl From<CopyError> for Problem {
    fn from(error: CopyError) -> Self {
        match error {
            CopyError::Read(error) => error.into(),
            error => Self {
                message: crate::problem::sentence(&error.to_string()),
                advice: error.advice().to_owned(),
                byte: None,
            },
        }
    }
}
