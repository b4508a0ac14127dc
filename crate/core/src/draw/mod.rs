//! A recording and a view of it -> levels -> pixels.
//!
//! Two stages, so that a change of colours transforms nothing again:
//!
//! 1. A [`Drawing`] fills a [`Raster`]: one level (decibels re full scale) per
//!    pixel. A pixel covers a stretch of time and of frequency, from its lower
//!    edge up to and without its upper edge, and shows the *largest* level in
//!    it, so that a pulse of two milliseconds stays visible in an hour. No
//!    sample of the view is skipped. Where pixels are finer than the transform,
//!    levels are interpolated.
//! 2. [`Raster::paint`] turns levels into colours by a [`Look`].
//!
//! A drawing is of a [`View`], whose pixels lie as they were asked for, or of a
//! [`Tile`], a piece of a fixed pyramid of pictures that fits its neighbours.
//! [`Survey`] reads the noise of a whole recording off samples of it, so that
//! the floor stays put wherever one looks.
//!
//! Row 0 of a raster is the highest frequency, column 0 the earliest time.
//!
//! A drawing is advanced in steps of bounded work, so that it can show its
//! parts and can be cancelled between them; memory follows the size of the
//! picture and never the length of the recording.

mod axis;
mod colour;
mod decibels;
mod drawing;
mod figure;
mod frames;
mod grid;
mod levels;
mod raster;
mod rendering;
mod rows;
mod sharpener;
mod survey;
mod tables;
mod tile;
mod view;
mod waveform;

pub use axis::{Axis, Scale};
pub use colour::{ColourMap, legend};
pub use drawing::Drawing;
pub use figure::{
    Figure, FigureError, FigureFrame, FigureLines, FigureSound, FigureStyle, Subject,
    with_resolution,
};
pub(crate) use figure::{Markup, is_barred};
pub use levels::Shades;
pub use raster::{CODES_PER_DB, Raster};
pub use rendering::Rendering;
pub use survey::{Noise, Survey, TileFacts, tile_facts};
pub use tile::Tile;
pub use view::{Look, View, ViewError};
pub use waveform::{Waveform, WaveformError, WaveformView};

#[cfg(test)]
mod tests;
#[cfg(test)]
mod tile_tests;
