//! The characteristic frequency of each pass against the time of night.

use std::collections::BTreeSet;

use super::super::activity::PassMark;
use super::super::card::Night;
use super::super::frame::Frame;
use super::ground::{Ground, heading};
use super::legend::{self, Entry, Shape, diamond, dot};
use super::{Plot, PlotGeometry, PlotOrder, counted, drawing, geometry, path, width};
use crate::draw::Scale;

const TOP: f64 = 42.0;
const HEIGHT: f64 = 300.0;
/// The axis is at least so wide, kilohertz.
const LOW_KHZ: f64 = 8.0;
const HIGH_KHZ: f64 = 120.0;
/// No call lies above, kilohertz.
const MOST_KHZ: f64 = 250.0;
/// Values of the axis, those first that matter most.
const VALUES_KHZ: [f64; 20] = [
    20.0, 50.0, 10.0, 30.0, 100.0, 40.0, 15.0, 70.0, 25.0, 150.0, 200.0, 60.0, 80.0, 250.0, 120.0,
    35.0, 45.0, 8.0, 55.0, 12.0,
];
/// The least distance of values.
const ROOM: f64 = 19.0;

pub(super) fn draw(night: &Night, frame: &Frame, order: &PlotOrder) -> Plot {
    let activity = night.activity_within(order.bin_min, frame);
    let marks = night.marks();
    let width = width(order);
    let zone = (frame, night.settings.utc_offset_min);
    let ground = Ground::new(zone, &activity, width, (TOP, TOP + HEIGHT));
    let axis = Axis::of(&marks, order.scale);
    let mut entries = vec![
        Entry::new("dot", Shape::Dot, "a pass"),
        Entry::new("buzz", Shape::Diamond, "a pass with a feeding buzz"),
    ];
    entries.extend(legend::of_ground(frame.twilight.is_some()));
    let legend_top = ground.bottom + 30.0;
    let height = legend_top + legend::height(&entries, width);
    let svg = drawing(width, height, &words(night, &marks), |svg| {
        heading(svg, "Characteristic frequency of passes, kHz");
        ground.shade(svg);
        ground.sun(svg, Some(TOP - 8.0));
        let places = |has_buzz: bool| -> BTreeSet<(i64, i64)> {
            let own = marks.iter().filter(|mark| mark.has_buzz == has_buzz);
            let own = own.filter(|mark| mark.characteristic_khz.is_finite());
            // Half a pixel is as fine as anybody sees.
            let half = |value: f64| (value * 2.0).round() as i64;
            own.map(|mark| {
                let y = axis.y(&ground, mark.characteristic_khz);
                (half(ground.x(mark.at)), half(y))
            })
            .collect()
        };
        let shapes = |places: BTreeSet<(i64, i64)>, shape: fn(f64, f64) -> String| -> String {
            let places = places.into_iter();
            places
                .map(|(x, y)| shape(x as f64 / 2.0, y as f64 / 2.0))
                .collect()
        };
        path(svg, "dot", &shapes(places(false), dot));
        path(svg, "buzz", &shapes(places(true), diamond));
        ground.upright(svg, &axis.values(&ground));
        ground.clock_axis(svg, ground.bottom);
        legend::draw(svg, &entries, width, legend_top);
    });
    Plot {
        svg,
        geometry: PlotGeometry {
            low_khz: Some(axis.low_khz),
            high_khz: Some(axis.high_khz),
            scale: axis.scale,
            ..geometry(&ground, height)
        },
    }
}

struct Axis {
    low_khz: f64,
    high_khz: f64,
    scale: Scale,
}

impl Axis {
    fn of(marks: &[PassMark], scale: Scale) -> Self {
        let khz = || {
            let all = marks.iter().map(|mark| mark.characteristic_khz);
            all.filter(|khz| khz.is_finite())
        };
        let highest = khz().fold(HIGH_KHZ, |high, khz| high.max(khz * 1.05));
        let lowest = khz().fold(LOW_KHZ, |low, khz| low.min(khz * 0.95));
        Self {
            low_khz: lowest.max(1.0),
            high_khz: highest.min(MOST_KHZ),
            scale,
        }
    }

    fn y(&self, ground: &Ground<'_>, khz: f64) -> f64 {
        let khz = khz.clamp(self.low_khz, self.high_khz);
        let share = match self.scale {
            Scale::Linear => (khz - self.low_khz) / (self.high_khz - self.low_khz),
            Scale::Logarithmic => {
                libm::log(khz / self.low_khz) / libm::log(self.high_khz / self.low_khz)
            }
        };
        ground.bottom - ground.height() * share
    }

    fn values(&self, ground: &Ground<'_>) -> Vec<(f64, String)> {
        let mut values: Vec<(f64, String)> = Vec::new();
        for khz in VALUES_KHZ {
            let y = self.y(ground, khz);
            let is_shown = (self.low_khz..=self.high_khz).contains(&khz);
            if is_shown && values.iter().all(|(other, _)| (other - y).abs() >= ROOM) {
                values.push((y, format!("{khz}")));
            }
        }
        values
    }
}

fn words(night: &Night, marks: &[PassMark]) -> String {
    let crowds = super::super::crowds::crowds(marks);
    let crowds: Vec<String> = crowds
        .iter()
        .map(|crowd| {
            let passes = counted(crowd.passes, "pass", "passes");
            format!("{passes} around {:.0} kHz", crowd.median_khz)
        })
        .collect();
    let crowds = if crowds.is_empty() {
        String::new()
    } else {
        format!(": {}", crowds.join(", "))
    };
    format!(
        "Characteristic frequency of {} against the time of night, {}, recorder {}{crowds}.",
        counted(marks.len() as u32, "pass", "passes"),
        night.key.evening,
        night.key.recorder
    )
}
