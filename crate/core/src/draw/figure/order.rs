//! What a figure shall show, and how.

use super::super::{Axis, Look, Rendering, View, ViewError};
use super::layout::Layout;
use crate::pulse::Pulse;
use serde::{Deserialize, Serialize};

/// What a figure shows, and its size: all that its raster follows from.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct FigureFrame {
    /// The channel, counted from 0.
    pub channel: u16,
    /// Left edge, seconds from the start of the recording.
    pub start_s: f64,
    /// Right edge, seconds.
    pub end_s: f64,
    /// Lower edge, kilohertz.
    pub low_khz: f64,
    /// Upper edge, kilohertz.
    pub high_khz: f64,
    /// How sound becomes the spectrogram, and how frequency runs up it.
    pub rendering: Rendering,
    /// Width of the whole figure, millimetres.
    pub width_mm: f64,
    /// Height of the spectrogram alone, millimetres; words stand above and below it.
    pub picture_mm: f64,
    /// Resolution of the raster, dots per inch; coarser where it would have more than [`View::LARGEST_PX`] a side.
    pub dpi: f64,
}

/// How a figure looks, and what else is on it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct FigureStyle {
    /// Colours of the spectrogram, and the levels that they stretch over.
    pub look: Look,
    /// Colour of contours and numbers on a light ground.
    pub lines: FigureLines,
    /// Whether contours are drawn.
    pub contours: bool,
    /// Whether pulses are numbered.
    pub numbers: bool,
    /// Whether a bar says how long a round stretch of time is.
    pub scale_bar: bool,
    /// Whether the recording's name, and what it says of itself, stand in it.
    pub source: bool,
    /// What stands above the picture; may be empty.
    pub title: String,
    /// What stands below it; may be empty, and may hold line breaks.
    pub note: String,
}

/// The colour of contours and numbers on a light ground. On a dark one they are white.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(rename_all = "snake_case")]
pub enum FigureLines {
    /// A dark red.
    Red,
    /// Black.
    Black,
}

/// A sound with the number that it has in the table.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct FigureSound {
    /// Such as `7`, or `D3` for a doubted sound.
    pub name: String,
    /// What was measured.
    pub pulse: Pulse,
}

/// A figure that cannot be drawn.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum FigureError {
    /// What it shall show cannot be drawn.
    #[error(transparent)]
    View(#[from] ViewError),
    /// Its size is beyond what can be read or printed.
    #[error(
        "a figure of {width_mm} mm with a picture {picture_mm} mm high cannot be made: it is from {} to {} mm wide, and the picture from {} to {} mm high",
        FigureFrame::WIDTH_MM.0, FigureFrame::WIDTH_MM.1, FigureFrame::PICTURE_MM.0, FigureFrame::PICTURE_MM.1
    )]
    Size {
        /// The width that was asked for, millimetres.
        width_mm: f64,
        /// The height of the spectrogram that was asked for, millimetres.
        picture_mm: f64,
    },
    /// Its resolution is beyond what makes sense.
    #[error("{dpi} dots per inch are no resolution for a figure: it has from {} to {}", FigureFrame::DPI.0, FigureFrame::DPI.1)]
    Resolution {
        /// The resolution that was asked for.
        dpi: f64,
    },
    /// The spectrogram could not be written as PNG.
    #[error("the spectrogram could not be put into the figure")]
    Embedding,
}

impl FigureFrame {
    /// Narrowest and widest figure, millimetres: a column of a journal, a poster's.
    pub const WIDTH_MM: (f64, f64) = (60.0, 400.0);
    /// Lowest and highest spectrogram, millimetres.
    pub const PICTURE_MM: (f64, f64) = (20.0, 400.0);
    /// Coarsest and finest resolution, dots per inch.
    pub const DPI: (f64, f64) = (50.0, 600.0);

    /// Whether a figure can be made of it.
    ///
    /// # Errors
    /// [`FigureError`] naming what is wrong.
    pub fn check(&self) -> Result<(), FigureError> {
        let Self {
            width_mm,
            picture_mm,
            dpi,
            ..
        } = *self;
        let holds = |(least, most): (f64, f64), value: f64| (least..=most).contains(&value);
        if !(holds(Self::WIDTH_MM, width_mm) && holds(Self::PICTURE_MM, picture_mm)) {
            return Err(FigureError::Size {
                width_mm,
                picture_mm,
            });
        }
        if !holds(Self::DPI, dpi) {
            return Err(FigureError::Resolution { dpi });
        }
        Ok(())
    }

    /// Where frequencies lie along the height of the plot, which is 1.
    pub(super) fn height_axis(&self) -> Axis {
        Axis::on(self.rendering.scale, self.high_khz, self.low_khz, 1)
    }

    /// The view that its raster is drawn from.
    #[must_use]
    pub fn view(&self) -> View {
        let (width_px, height_px) = Layout::raster_px(self);
        View {
            channel: self.channel,
            start_s: self.start_s,
            end_s: self.end_s,
            low_khz: self.low_khz,
            high_khz: self.high_khz,
            width_px,
            height_px,
        }
    }
}
