//! What is looked at, and how it shall look.

use super::{Axis, ColourMap, Scale};
use serde::{Deserialize, Serialize};

/// A stretch of time and frequency of one channel, and the picture's size.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct View {
    /// The channel, counted from 0.
    pub channel: u16,
    /// Left edge, seconds from the start of the recording; may lie before it.
    pub start_s: f64,
    /// Right edge, seconds; may lie beyond the recording.
    pub end_s: f64,
    /// Lower edge, kilohertz.
    pub low_khz: f64,
    /// Upper edge, kilohertz; may lie above half the sampling rate.
    pub high_khz: f64,
    /// Columns, device pixels.
    pub width_px: u32,
    /// Rows, device pixels.
    pub height_px: u32,
}

/// Colours, and the levels that they stretch over.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Look {
    /// The colours.
    pub map: ColourMap,
    /// The level of the first colour, decibels re full scale; none: chosen from
    /// the noise in the view.
    pub floor_db: Option<f32>,
    /// From the first colour's level to the last one's, decibels; none: chosen
    /// from the noise and the loudest sounds in the view.
    pub range_db: Option<f32>,
}

/// A view or a look that cannot be drawn.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum ViewError {
    /// The span of time is empty, reversed, or not a number.
    #[error("the view runs from {start_s} s to {end_s} s, which is no stretch of time")]
    Time {
        /// The left edge that was asked for, seconds.
        start_s: f64,
        /// The right edge that was asked for, seconds.
        end_s: f64,
    },
    /// The span of frequency is empty, reversed, negative, or not a number.
    #[error("the view runs from {low_khz} kHz to {high_khz} kHz, which is no stretch of frequency")]
    Frequency {
        /// The lower edge that was asked for, kilohertz.
        low_khz: f64,
        /// The upper edge that was asked for, kilohertz.
        high_khz: f64,
    },
    /// The picture has no pixels, or too many.
    #[error(
        "a picture of {width_px} by {height_px} pixels cannot be drawn: each side has from 1 to {largest_px} of them",
        largest_px = View::LARGEST_PX
    )]
    Size {
        /// The width that was asked for, pixels.
        width_px: u32,
        /// The height that was asked for, pixels.
        height_px: u32,
    },
    /// The window has no length that a transform could have.
    #[error("a window of {0} ms cannot be used")]
    Window(f64),
    /// The piece of a pyramid lies outside of what can be drawn.
    #[error("there is no such piece of a picture: {0}")]
    Tile(&'static str),
    /// The recording has no such channel.
    #[error("there is no channel {} in a recording with {channels}", .channel + 1)]
    Channel {
        /// The channel that was asked for, counted from 0.
        channel: u16,
        /// How many the recording has.
        channels: u16,
    },
    /// The recording's rate is not a number above 0.
    #[error("a recording with a sampling rate of {0} Hz cannot be drawn")]
    Rate(f64),
    /// The levels that colours shall stretch over are not numbers, or the range is not above 0.
    #[error("colours cannot stretch over a range of {range_db} dB from {floor_db} dB upwards")]
    Levels {
        /// The floor that was asked for, decibels (0 where none was).
        floor_db: f32,
        /// The range that was asked for, decibels (1 where none was).
        range_db: f32,
    },
}

impl View {
    /// The longest side of a picture, device pixels: beyond the largest screens.
    pub const LARGEST_PX: u32 = 8192;
    /// The furthest that a view may lie from the start of a recording, seconds
    /// (a year): positions stay exact to a fraction of a sample.
    const FURTHEST_S: f64 = 3.2e7;

    /// Whether the view can be drawn at all.
    ///
    /// # Errors
    /// [`ViewError`] naming what is wrong.
    pub fn check(&self, channels: u16) -> Result<(), ViewError> {
        let Self {
            channel,
            start_s,
            end_s,
            low_khz,
            high_khz,
            width_px,
            height_px,
        } = *self;
        let near = |time: f64| time.abs() <= Self::FURTHEST_S;
        // A billionth of a second is far below a sample's length.
        if !(near(start_s) && near(end_s) && end_s - start_s >= 1e-9) {
            return Err(ViewError::Time { start_s, end_s });
        }
        if !(low_khz >= 0.0 && high_khz - low_khz >= 1e-6 && high_khz <= 1e6) {
            return Err(ViewError::Frequency { low_khz, high_khz });
        }
        let drawable = 1..=Self::LARGEST_PX;
        if !(drawable.contains(&width_px) && drawable.contains(&height_px)) {
            return Err(ViewError::Size {
                width_px,
                height_px,
            });
        }
        if channel >= channels {
            return Err(ViewError::Channel { channel, channels });
        }
        Ok(())
    }

    /// Time in seconds along the columns.
    #[must_use]
    pub fn time_axis(&self) -> Axis {
        Axis::new(self.start_s, self.end_s, self.width_px)
    }

    /// Frequency in kilohertz down the rows: the highest first.
    #[must_use]
    pub fn frequency_axis(&self) -> Axis {
        self.frequency_axis_on(Scale::Linear)
    }

    /// The same on a scale.
    #[must_use]
    pub fn frequency_axis_on(&self, scale: Scale) -> Axis {
        Axis::on(scale, self.high_khz, self.low_khz, self.height_px)
    }
}

impl Look {
    /// Whether the levels make sense.
    ///
    /// # Errors
    /// [`ViewError::Levels`] where they do not.
    pub fn check(&self) -> Result<(), ViewError> {
        let floor_db = self.floor_db.unwrap_or(0.0);
        let range_db = self.range_db.unwrap_or(1.0);
        if floor_db.is_finite() && range_db.is_finite() && range_db > 0.0 {
            Ok(())
        } else {
            Err(ViewError::Levels { floor_db, range_db })
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const VIEW: View = View {
        channel: 0,
        start_s: 0.0,
        end_s: 5.0,
        low_khz: 0.0,
        high_khz: 250.0,
        width_px: 1200,
        height_px: 400,
    };

    #[test]
    fn what_cannot_be_drawn_says_why() {
        assert_eq!(VIEW.check(1), Ok(()));
        let message = |view: View| view.check(1).err().map(|error| error.to_string());
        let backward = View {
            end_s: -1.0,
            ..VIEW
        };
        assert!(message(backward).is_some_and(|text| text.contains("0 s to -1 s")));
        let not_a_number = View {
            low_khz: f64::NAN,
            ..VIEW
        };
        assert!(message(not_a_number).is_some_and(|text| text.contains("NaN kHz")));
        let huge = View {
            width_px: 100_000,
            ..VIEW
        };
        assert!(message(huge).is_some_and(|text| text.contains("1 to 8192")));
        let right = View { channel: 1, ..VIEW };
        // A person counts channels from 1.
        assert!(message(right).is_some_and(|text| text.contains("no channel 2")));
    }

    #[test]
    fn a_look_needs_a_range_above_nothing() {
        let look = Look {
            map: ColourMap::Paper,
            floor_db: Some(-90.0),
            range_db: Some(60.0),
        };
        assert_eq!(look.check(), Ok(()));
        assert!(
            Look {
                range_db: Some(0.0),
                ..look
            }
            .check()
            .is_err()
        );
        assert!(
            Look {
                floor_db: Some(f32::NAN),
                ..look
            }
            .check()
            .is_err()
        );
    }
}
