//! How sound becomes a picture, beside what is looked at and in which colours.

use super::{Scale, ViewError};
use crate::spectrum::Window;
use serde::{Deserialize, Serialize};

/// How sound becomes a picture: what must be transformed anew when it changes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Rendering {
    /// How frequency runs up the picture.
    pub scale: Scale,
    /// The window function.
    pub window: Window,
    /// Its length, milliseconds; the nearest power of two in samples is taken. None: what suits the view.
    pub window_ms: Option<f64>,
    /// Whether energy is moved to its own centre in time and frequency ([`crate::spectrum::Reassigned`]).
    pub sharpened: bool,
}

impl Default for Rendering {
    /// Linear, Hann's window of a length that suits the view, nothing moved.
    fn default() -> Self {
        Self {
            scale: Scale::Linear,
            window: Window::Hann,
            window_ms: None,
            sharpened: false,
        }
    }
}

impl Rendering {
    /// Whether a transform can be made.
    ///
    /// # Errors
    /// [`ViewError::Window`] where the window's length is no number above 0.
    pub fn check(&self) -> Result<(), ViewError> {
        match self.window_ms {
            Some(window_ms) if !(window_ms.is_finite() && window_ms > 0.0) => {
                Err(ViewError::Window(window_ms))
            }
            _ => Ok(()),
        }
    }
}
