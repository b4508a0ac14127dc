//! A figure to take along: a spectrogram with axes, level legend, contours, numbers and the settings it was drawn
//! with, as SVG.
//!
//! Its size is given in millimetres, as a report needs it, and the resolution of its raster in dots per inch. Text is
//! text, in a generic font family, so that it can be searched, read aloud and set again. The ground is white whatever
//! the colours of the spectrogram, and nothing is told by colour alone: lines have a halo that parts them from any
//! ground in black and white too, pulses are numbered, doubted sounds are dotted.
//!
//! A [`Figure`] is advanced in steps like a [`Drawing`](super::Drawing), and written as often as wanted: a change of
//! colours or words transforms nothing again.
//!
//! All that comes from a file or a person is escaped, and characters that XML 1.0 does not allow, or that would turn
//! the direction of writing, are replaced.

mod axes;
mod caption;
mod embed;
mod layout;
mod making;
mod marks;
mod markup;
mod order;
mod ticks;

pub use embed::with_resolution;
pub use making::{Figure, Subject};
pub(crate) use markup::{Markup, is_barred};
pub use order::{FigureError, FigureFrame, FigureLines, FigureSound, FigureStyle};

#[cfg(test)]
mod tests;
