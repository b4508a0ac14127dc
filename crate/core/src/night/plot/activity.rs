//! Passes, feeding buzzes and recordings in bins through a night.

use super::super::activity::{Activity, Bin};
use super::super::card::Night;
use super::super::frame::Frame;
use super::ground::{Ground, counts, heading};
use super::legend::{self, Entry, Shape, diamond};
use super::{Plot, PlotOrder, counted, drawing, geometry, path, px, thousands, width};
use crate::draw::Markup;

const TOP: f64 = 42.0;
const HEIGHT: f64 = 210.0;
/// The strip below with the recordings.
const STRIP: f64 = 26.0;

pub(super) fn draw(night: &Night, frame: &Frame, order: &PlotOrder) -> Plot {
    let activity = night.activity_within(order.bin_min, frame);
    let whole = Whole::of(&activity);
    let width = width(order);
    let zone = (frame, night.settings.utc_offset_min);
    let ground = Ground::new(zone, &activity, width, (TOP, TOP + HEIGHT));
    let axis_y = ground.bottom + STRIP;
    let mut entries = vec![
        Entry::new("bar", Shape::Block, "passes"),
        Entry::new("buzz", Shape::Diamond, "feeding buzzes"),
        Entry::new(
            "step",
            Shape::Line,
            format!("recordings (up to {})", thousands(whole.most_recordings)),
        ),
    ];
    entries.extend(legend::of_ground(frame.twilight.is_some()));
    let legend_top = axis_y + 30.0;
    let height = legend_top + legend::height(&entries, width);
    let svg = drawing(width, height, &words(night, &activity, frame), |svg| {
        heading(svg, &format!("Passes in {} minutes", activity.bin_min));
        ground.shade(svg);
        let (top, values) = counts(whole.most_passes.max(whole.most_buzzes), 6);
        let y = |count: u32| ground.bottom - ground.height() * f64::from(count) / top;
        bars(svg, &ground, &activity, &y);
        buzzes(svg, &ground, &activity, &y);
        recordings(svg, &ground, &activity, whole.most_recordings);
        ground.sun(svg, Some(TOP - 8.0));
        let values: Vec<_> = values
            .into_iter()
            .map(|value| (y(value), thousands(value)))
            .collect();
        ground.upright(svg, &values);
        ground.clock_axis(svg, axis_y);
        legend::draw(svg, &entries, width, legend_top);
    });
    Plot {
        svg,
        geometry: geometry(&ground, height),
    }
}

/// What scales are set by.
struct Whole {
    most_passes: u32,
    most_buzzes: u32,
    most_recordings: u32,
}

impl Whole {
    fn of(activity: &Activity) -> Self {
        let most = |of: fn(&Bin) -> u32| activity.bins.iter().map(of).max().unwrap_or(0);
        Self {
            most_passes: most(|bin| bin.passes),
            most_buzzes: most(|bin| bin.buzzes),
            most_recordings: most(|bin| bin.recordings),
        }
    }
}

pub(super) fn bars(
    svg: &mut Markup,
    ground: &Ground<'_>,
    activity: &Activity,
    y: &dyn Fn(u32) -> f64,
) {
    let width_s = f64::from(activity.bin_min) * 60.0;
    let bar = |bin: &Bin| {
        let (left, right) = (ground.x(bin.from), ground.x(bin.from.plus_s(width_s)));
        // A gap between bars, as long as they are wide enough.
        let gap = ((right - left) * 0.08).min(1.0);
        format!(
            "M{} {}V{}H{}V{}Z",
            px(left + gap),
            px(ground.bottom),
            px(y(bin.passes)),
            px(right - gap),
            px(ground.bottom)
        )
    };
    let with_passes = activity.bins.iter().filter(|bin| bin.passes > 0);
    path(svg, "bar", &with_passes.map(bar).collect::<String>());
}

fn buzzes(svg: &mut Markup, ground: &Ground<'_>, activity: &Activity, y: &dyn Fn(u32) -> f64) {
    let half_s = f64::from(activity.bin_min) * 30.0;
    let with_buzzes = activity.bins.iter().filter(|bin| bin.buzzes > 0);
    let marks = with_buzzes.map(|bin| diamond(ground.x(bin.from.plus_s(half_s)), y(bin.buzzes)));
    path(svg, "buzz", &marks.collect::<String>());
}

fn recordings(svg: &mut Markup, ground: &Ground<'_>, activity: &Activity, most: u32) {
    let floor = ground.bottom + STRIP;
    let height = STRIP - 6.0;
    let mut line = format!("M{} {}", px(ground.left), px(floor));
    let width_s = f64::from(activity.bin_min) * 60.0;
    for bin in &activity.bins {
        let y = floor - height * f64::from(bin.recordings) / f64::from(most.max(1));
        let right = ground.x(bin.from.plus_s(width_s));
        line.push_str(&format!("V{}H{}", px(y), px(right)));
    }
    line.push_str(&format!("V{}", px(floor)));
    path(svg, "step", &line);
}

/// The plot in a sentence or two.
fn words(night: &Night, activity: &Activity, frame: &Frame) -> String {
    let sum = |of: fn(&Bin) -> u32| activity.bins.iter().map(of).sum::<u32>();
    let watch_h = frame.watch().map_or(0.0, |watch| watch.hours());
    let offset_min = night.settings.utc_offset_min;
    let busiest = activity.bins.iter().rev().max_by_key(|bin| bin.passes);
    let busiest = busiest.filter(|bin| bin.passes > 0).map(|bin| {
        format!(
            " The most, {}, in the {} minutes from {}.",
            thousands(bin.passes),
            activity.bin_min,
            bin.from.clock(offset_min)
        )
    });
    format!(
        "Activity in the night of {}, recorder {}, {} to {}: {} and {} in {} and {watch_h:.1} hours of watch.{}",
        night.key.evening,
        night.key.recorder,
        activity.from.clock(offset_min),
        activity.to.clock(offset_min),
        counted(sum(|bin| bin.passes), "pass", "passes"),
        counted(sum(|bin| bin.buzzes), "feeding buzz", "feeding buzzes"),
        counted(sum(|bin| bin.recordings), "recording", "recordings"),
        busiest.unwrap_or_default()
    )
}
