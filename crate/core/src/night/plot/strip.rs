//! A value through the night as a thin line: temperature, noise.

use super::super::activity::Activity;
use super::super::card::Night;
use super::super::content::Content;
use super::super::frame::Frame;
use super::super::moment::Moment;
use super::ground::{Ground, heading, label};
use super::{Plot, PlotOrder, drawing, geometry, path, px, width};
use crate::pulse::order::median;

const TOP: f64 = 26.0;
const HEIGHT: f64 = 70.0;
/// Noise bands of 10 kHz from 20 to 60 kHz.
const BANDS: std::ops::Range<usize> = 2..6;

/// What is drawn: values at moments.
struct Line {
    name: String,
    unit: &'static str,
    values: Vec<(Moment, f64)>,
    /// What is said where there is none.
    none: &'static str,
    /// The axis is a multiple of this.
    step: f64,
}

pub(super) fn temperature(night: &Night, frame: &Frame, order: &PlotOrder) -> Plot {
    let (marks, is_inside) = night.temperatures();
    let place = if is_inside && !marks.is_empty() {
        "inside the recorder"
    } else {
        "outside"
    };
    let line = Line {
        name: format!("Temperature {place}"),
        unit: "\u{b0}C",
        values: marks.iter().map(|mark| (mark.at, mark.celsius)).collect(),
        none: "No file states a temperature.",
        step: 5.0,
    };
    draw(night, frame, order, &line)
}

pub(super) fn noise(night: &Night, frame: &Frame, order: &PlotOrder) -> Plot {
    let recordings = night.recordings();
    let values = recordings.filter_map(|(_, own, content)| Some((own.time.start, floor(content)?)));
    let line = Line {
        name: "Noise floor, 20 to 60 kHz".to_owned(),
        unit: "dB re full scale",
        values: values.collect(),
        none: "No recording tells of its noise.",
        step: 10.0,
    };
    draw(night, frame, order, &line)
}

/// The noise of a recording in the middle of its bands, decibels.
fn floor(content: &Content) -> Option<f64> {
    let bands = content.noise_db.get(BANDS)?;
    let finite = bands.iter().copied().filter(|level| level.is_finite());
    let mut levels: Vec<f64> = finite.map(f64::from).collect();
    median(&mut levels, f64::total_cmp)
}

fn draw(night: &Night, frame: &Frame, order: &PlotOrder, line: &Line) -> Plot {
    let activity = night.activity_within(order.bin_min, frame);
    let width = width(order);
    let zone = (frame, night.settings.utc_offset_min);
    let ground = Ground::new(zone, &activity, width, (TOP, TOP + HEIGHT));
    let medians = medians(&activity, &line.values);
    let levels = || medians.iter().flatten().copied();
    let span = levels().reduce(f64::min).zip(levels().reduce(f64::max));
    let height = ground.bottom + 28.0;
    let words = match span {
        Some((low, high)) => format!(
            "{} in the night of {}, recorder {}: {} to {} {}.",
            line.name,
            night.key.evening,
            night.key.recorder,
            number(low),
            number(high),
            line.unit
        ),
        None => line.none.to_owned(),
    };
    let svg = drawing(width, height, &words, |svg| {
        heading(svg, &format!("{}, {}", line.name, line.unit));
        if let Some((low, high)) = span {
            ground.shade(svg);
            ground.sun(svg, None);
            let low = (low / line.step).floor() * line.step;
            let high = ((high / line.step).ceil() * line.step).max(low + line.step);
            let y = |value: f64| ground.bottom - ground.height() * (value - low) / (high - low);
            path(svg, "line", &drawn(&ground, &activity, &medians, &y));
            let ends = [low, high].map(|value| (y(value), number(value)));
            ground.upright(svg, &ends);
        } else {
            let middle = (ground.left + ground.right) / 2.0;
            label(svg, middle, ground.top + HEIGHT / 2.0, "middle", line.none);
        }
        ground.clock_axis(svg, ground.bottom);
    });
    Plot {
        svg,
        geometry: geometry(&ground, height),
    }
}

/// The middle value of each bin.
fn medians(activity: &Activity, values: &[(Moment, f64)]) -> Vec<Option<f64>> {
    let mut bins: Vec<Vec<f64>> = vec![Vec::new(); activity.bins.len()];
    let width_s = f64::from(activity.bin_min) * 60.0;
    for (at, value) in values {
        let bin = (at.since_s(activity.from) / width_s) as usize;
        if let Some(own) = bins.get_mut(bin) {
            own.push(*value);
        }
    }
    let middle = |mut own: Vec<f64>| median(&mut own, f64::total_cmp);
    bins.into_iter().map(middle).collect()
}

/// A line from bin to bin; one without neighbours is a dot.
fn drawn(
    ground: &Ground<'_>,
    activity: &Activity,
    medians: &[Option<f64>],
    y: &dyn Fn(f64) -> f64,
) -> String {
    let mut line = String::new();
    let mut is_going = false;
    for (bin, value) in activity.bins.iter().zip(medians) {
        let Some(value) = value else {
            is_going = false;
            continue;
        };
        let x = px(ground.x(bin.from.plus_s(f64::from(activity.bin_min) * 30.0)));
        let step = if is_going { "L" } else { "M" };
        line.push_str(&format!("{step}{x} {}", px(y(*value))));
        if !is_going {
            line.push_str("h0");
        }
        is_going = true;
    }
    line
}

fn number(value: f64) -> String {
    format!("{:.0}", value + 0.0).replace('-', "\u{2212}")
}
