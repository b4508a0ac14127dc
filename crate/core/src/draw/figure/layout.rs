//! Where things lie on a figure, in points (1/72 inch).

use super::super::View;
use super::FigureFrame;

/// Points in a millimetre.
pub(super) const PT_PER_MM: f64 = 72.0 / 25.4;
/// Room for the labels and the title of the frequency axis.
const LEFT: f64 = 42.0;
/// Room for the level legend with its labels and title.
const RIGHT: f64 = 58.0;
/// Room above everything.
const TOP: f64 = 6.0;
/// Room for the labels and the title of the time axis.
const AXIS_BELOW: f64 = 33.0;
/// Room at the outer edges of words.
pub(super) const EDGE: f64 = 4.0;

/// Sizes of type.
pub(super) const LABEL_PT: f64 = 8.0;
pub(super) const TITLE_PT: f64 = 11.0;
pub(super) const WORDS_PT: f64 = 7.0;
/// Distance of lines, in sizes of type.
pub(super) const LEADING: f64 = 1.35;

/// A rectangle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Area {
    pub(super) left: f64,
    pub(super) top: f64,
    pub(super) width: f64,
    pub(super) height: f64,
}

impl Area {
    pub(super) fn right(&self) -> f64 {
        self.left + self.width
    }

    pub(super) fn bottom(&self) -> f64 {
        self.top + self.height
    }
}

/// Where things lie.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Layout {
    pub(super) width: f64,
    pub(super) height: f64,
    pub(super) plot: Area,
    /// The colour bar.
    pub(super) bar: Area,
    /// The first baseline of the words below.
    pub(super) words_from: f64,
}

impl Layout {
    /// For so many lines of title and of words below.
    pub(super) fn new(frame: &FigureFrame, title_lines: usize, word_lines: usize) -> Self {
        let width = frame.width_mm * PT_PER_MM;
        let title = title_lines as f64 * TITLE_PT * LEADING;
        let plot = Area {
            left: LEFT,
            top: TOP + title,
            width: Self::plot_width(frame),
            height: frame.picture_mm * PT_PER_MM,
        };
        let words_from = plot.bottom() + AXIS_BELOW + WORDS_PT;
        Self {
            width,
            height: words_from + word_lines as f64 * WORDS_PT * LEADING,
            plot,
            bar: Area {
                left: plot.right() + 12.0,
                width: 9.0,
                ..plot
            },
            words_from,
        }
    }

    /// How wide words may be.
    pub(super) fn words_width(frame: &FigureFrame) -> f64 {
        frame.width_mm * PT_PER_MM - 2.0 * EDGE
    }

    /// Columns and rows of the raster.
    pub(super) fn raster_px(frame: &FigureFrame) -> (u32, u32) {
        // A float that is too large or no number becomes the nearest whole number or 0, which a view refuses.
        let pixels =
            |length: f64| ((length / 72.0 * frame.dpi).round() as u32).min(View::LARGEST_PX);
        (
            pixels(Self::plot_width(frame)),
            pixels(frame.picture_mm * PT_PER_MM),
        )
    }

    fn plot_width(frame: &FigureFrame) -> f64 {
        frame.width_mm * PT_PER_MM - LEFT - RIGHT
    }
}
