//! Several nights or recorders below each other, on one clock and one scale.

use serde::{Deserialize, Serialize};

use super::super::activity::Activity;
use super::super::card::{Night, NightKey};
use super::super::frame::Frame;
use super::super::moment::Moment;
use super::activity::bars;
use super::ground::{Ground, counts, heading};
use super::legend::{self, Entry, Shape};
use super::{PlotOrder, counted, drawing, px, thousands, width};

/// What a row takes: its name, its bars, and a gap.
const NAME: f64 = 27.0;
const BARS: f64 = 56.0;
const ROW: f64 = NAME + BARS + 14.0;
const TOP: f64 = 24.0;
const DAY_S: f64 = 24.0 * 3600.0;

/// Nights below each other.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct PlotsOfNights {
    /// The drawing, one `svg` element.
    pub svg: String,
    /// Width of the drawing, pixels.
    pub width_px: f64,
    /// Height of the drawing, pixels.
    pub height_px: f64,
    /// Where each night lies, in the order in which they were given.
    pub rows: Vec<PlotRow>,
}

/// Where a night lies among others, pixels from the upper left corner.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct PlotRow {
    /// Which night.
    pub key: NightKey,
    /// Where `from` lies.
    pub left_px: f64,
    /// Where `to` lies.
    pub right_px: f64,
    /// Upper edge, its name included.
    pub top_px: f64,
    /// Lower edge.
    pub bottom_px: f64,
    /// Start of the time axis in this night.
    pub from: Moment,
    /// End of the time axis in this night.
    pub to: Moment,
}

/// Activity of several nights as rows with the same time of night above each other and the same scale. Of the order, the
/// width and the bins matter.
#[must_use]
pub fn plots_of_nights(nights: &[(&Night, &Frame)], order: &PlotOrder) -> PlotsOfNights {
    let all: Vec<Activity> = nights
        .iter()
        .map(|(night, frame)| night.activity_within(order.bin_min, frame))
        .collect();
    let width = width(order);
    let bins = || all.iter().flat_map(|activity| &activity.bins);
    let most = bins().map(|bin| bin.passes).max().unwrap_or(0);
    let (from_s, to_s) = common(nights, &all);
    let mut entries = vec![Entry::new("bar", Shape::Block, "passes")];
    let has_sun = nights.iter().any(|(_, frame)| frame.twilight.is_some());
    entries.extend(legend::of_ground(has_sun));
    let legend_top = TOP + ROW * nights.len() as f64 + 22.0;
    let height = legend_top + legend::height(&entries, width);
    let mut rows = Vec::new();
    let bin_min = all.first().map_or(order.bin_min, |first| first.bin_min);
    let svg = drawing(width, height, &words(nights), |svg| {
        heading(svg, &format!("Passes in {bin_min} minutes"));
        let (highest, values) = counts(most, 2);
        for (number, ((night, frame), activity)) in nights.iter().zip(&all).enumerate() {
            let top = TOP + ROW * number as f64;
            let zone = (*frame, night.settings.utc_offset_min);
            let edges = (top + NAME, top + NAME + BARS);
            let noon = activity.from.plus_s(-after_noon_s(night, activity.from));
            let ground = Ground {
                from: noon.plus_s(from_s),
                to: noon.plus_s(to_s),
                ..Ground::new(zone, activity, width, edges)
            };
            let y = |count: u32| ground.bottom - BARS * f64::from(count) / highest;
            svg.text(
                "text",
                &[("x", &2), ("y", &px(top + 14.0))],
                &name(night, width),
            );
            ground.shade(svg);
            bars(svg, &ground, activity, &y);
            ground.sun(svg, None);
            let ends = values.iter().map(|&value| (y(value), thousands(value)));
            ground.upright(svg, &ends.collect::<Vec<_>>());
            if number + 1 == nights.len() {
                ground.clock_axis(svg, ground.bottom);
            }
            rows.push(PlotRow {
                key: night.key.clone(),
                left_px: ground.left,
                right_px: ground.right,
                top_px: top,
                bottom_px: ground.bottom,
                from: ground.from,
                to: ground.to,
            });
        }
        legend::draw(svg, &entries, width, legend_top);
    });
    PlotsOfNights {
        svg,
        width_px: width,
        height_px: height,
        rows,
    }
}

/// The hours that any of the nights shows, seconds after noon.
fn common(nights: &[(&Night, &Frame)], all: &[Activity]) -> (f64, f64) {
    let spans = nights.iter().zip(all).map(|((night, _), activity)| {
        let from_s = after_noon_s(night, activity.from);
        (from_s, from_s + activity.to.since_s(activity.from))
    });
    let joined = spans.reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)));
    joined.unwrap_or((0.0, DAY_S))
}

/// Seconds since the last noon on the night's own clock.
fn after_noon_s(night: &Night, at: Moment) -> f64 {
    let zone_s = f64::from(night.settings.utc_offset_min) * 60.0;
    (at.utc_s() + zone_s - DAY_S / 2.0).rem_euclid(DAY_S)
}

/// What a row is called, and what it comes to: shorter where there is less room.
fn name(night: &Night, width: f64) -> String {
    let totals = night.totals();
    let passes = counted(totals.passes, "pass", "passes");
    let own = format!("{} \u{b7} {}", night.key.evening, night.key.recorder);
    if width < 520.0 {
        return format!("{own}: {passes}, {:.1} h", totals.watch_h);
    }
    let buzzes = counted(totals.buzzes, "feeding buzz", "feeding buzzes");
    format!("{own}: {passes}, {buzzes} in {:.1} h", totals.watch_h)
}

fn words(nights: &[(&Night, &Frame)]) -> String {
    let names: Vec<String> = nights
        .iter()
        .map(|(night, _)| name(night, f64::INFINITY))
        .collect();
    format!(
        "Activity of nights on one clock and one scale. {}.",
        names.join("; ")
    )
}
