//! Plots of a night as SVG: the one source of them for the page, the report and the command line.
//!
//! All plots of a night have the same time axis and the same margins, so that they line up below each other. Colours come
//! from custom properties with fallbacks, so that whoever shows a plot can colour it; nothing is told by colour alone.
//! Twenty thousand passes are two path elements, with one dot where several lie on the same half pixel.
//!
//! A plot of activity shows what was heard and no number of animals.

mod activity;
mod frequency;
mod ground;
mod legend;
mod several;
mod strip;

pub use several::{PlotRow, PlotsOfNights, plots_of_nights};

use serde::{Deserialize, Serialize};

use self::ground::Ground;
use super::card::Night;
use super::frame::Frame;
use super::moment::Moment;
use crate::draw::{Markup, Scale};

const STYLE: &str = include_str!("plot.css");
/// Widths that plots are drawn in, pixels.
const WIDTHS_PX: (f64, f64) = (280.0, 4000.0);
/// What separates thousands: a thin space.
const THOUSANDS: char = '\u{2009}';

/// What is to be drawn, and how.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(default)]
pub struct PlotOrder {
    /// What is to be drawn.
    pub kind: PlotKind,
    /// Width, pixels; letters keep their size.
    pub width_px: f64,
    /// Width of the bins, minutes.
    pub bin_min: u32,
    /// Scale of the frequency axis.
    pub scale: Scale,
}

impl Default for PlotOrder {
    fn default() -> Self {
        Self {
            kind: PlotKind::Activity,
            width_px: 720.0,
            bin_min: 10,
            scale: Scale::Logarithmic,
        }
    }
}

/// What a plot shows against the time of night.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(rename_all = "snake_case")]
pub enum PlotKind {
    /// Passes, feeding buzzes and recordings in bins.
    Activity,
    /// The characteristic frequency of each pass.
    Frequency,
    /// Temperature, where files state it.
    Temperature,
    /// The noise floor from 20 to 60 kHz.
    Noise,
}

/// A plot.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct Plot {
    /// The drawing, one `svg` element.
    pub svg: String,
    /// Where things lie in it.
    pub geometry: PlotGeometry,
}

/// Where the time and frequency axes of a plot lie. Lengths are pixels of the drawing from its upper left corner.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct PlotGeometry {
    /// Width of the drawing.
    pub width_px: f64,
    /// Height of the drawing.
    pub height_px: f64,
    /// Where `from` lies.
    pub left_px: f64,
    /// Where `to` lies.
    pub right_px: f64,
    /// The upper edge of the plot: `high_khz`, where there is a frequency axis.
    pub top_px: f64,
    /// The lower edge: `low_khz`.
    pub bottom_px: f64,
    /// Start of the time axis.
    pub from: Moment,
    /// End of the time axis.
    pub to: Moment,
    /// The lowest frequency, kilohertz; none where there is no frequency axis.
    pub low_khz: Option<f64>,
    /// The highest one.
    pub high_khz: Option<f64>,
    /// Scale of the frequency axis.
    pub scale: Scale,
}

/// A plot of a night.
#[must_use]
pub fn plots(night: &Night, frame: &Frame, order: &PlotOrder) -> Plot {
    match order.kind {
        PlotKind::Activity => activity::draw(night, frame, order),
        PlotKind::Frequency => frequency::draw(night, frame, order),
        PlotKind::Temperature => strip::temperature(night, frame, order),
        PlotKind::Noise => strip::noise(night, frame, order),
    }
}

fn width(order: &PlotOrder) -> f64 {
    if order.width_px.is_finite() {
        order.width_px.clamp(WIDTHS_PX.0, WIDTHS_PX.1).round()
    } else {
        PlotOrder::default().width_px
    }
}

/// A drawing of a size, with what is said in place of it to who does not see it.
fn drawing(width: f64, height: f64, words: &str, content: impl FnOnce(&mut Markup)) -> String {
    let mut svg = Markup::default();
    svg.open(
        "svg",
        &[
            ("xmlns", &"http://www.w3.org/2000/svg"),
            ("class", &"night-plot"),
            ("width", &width),
            ("height", &height),
            ("viewBox", &format!("0 0 {width} {height}")),
            ("role", &"img"),
            ("aria-label", &words),
        ],
    );
    svg.text("desc", &[], words);
    svg.open("style", &[]);
    svg.verbatim(STYLE);
    svg.close();
    content(&mut svg);
    svg.into_string()
}

/// A path of one class, where there is anything to it.
fn path(svg: &mut Markup, class: &str, d: &str) {
    if !d.is_empty() {
        svg.empty("path", &[("class", &class), ("d", &d)]);
    }
}

/// A length with as many decimals as can be seen.
fn px(value: f64) -> String {
    let text = format!("{value:.1}");
    text.strip_suffix(".0").unwrap_or(&text).to_owned()
}

/// `12 345`.
pub(super) fn thousands(number: u32) -> String {
    let digits = number.to_string();
    let mut text = String::new();
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) {
            text.push(THOUSANDS);
        }
        text.push(digit);
    }
    text
}

/// `1 pass`, `12 passes`.
pub(super) fn counted(number: u32, one: &str, many: &str) -> String {
    format!(
        "{} {}",
        thousands(number),
        if number == 1 { one } else { many }
    )
}

fn geometry(ground: &Ground<'_>, height: f64) -> PlotGeometry {
    PlotGeometry {
        width_px: ground.width,
        height_px: height,
        left_px: ground.left,
        right_px: ground.right,
        top_px: ground.top,
        bottom_px: ground.bottom,
        from: ground.from,
        to: ground.to,
        low_khz: None,
        high_khz: None,
        scale: Scale::Linear,
    }
}

#[cfg(test)]
pub(super) mod tests;
