//! What all plots stand on: the night's light, the hours outside the watch, and the clock.

use super::super::activity::Activity;
use super::super::frame::{Frame, Stretch};
use super::super::moment::Moment;
use super::{path, px};
use crate::draw::Markup;

/// Room for the labels of an upright axis.
const LEFT: f64 = 52.0;
const RIGHT: f64 = 14.0;
/// Distance of hatching lines.
const HATCH: f64 = 9.0;
/// The least distance of times on the clock.
const CLOCK_ROOM: f64 = 54.0;
/// Steps of the clock, minutes.
const CLOCK_STEPS_MIN: [u32; 9] = [5, 10, 15, 30, 60, 120, 180, 240, 360];
/// The longest label of the sun.
const SUN_ROOM: f64 = 92.0;

/// A stretch of a night on paper. Lengths are pixels.
pub(super) struct Ground<'a> {
    pub(super) frame: &'a Frame,
    pub(super) offset_min: i32,
    pub(super) width: f64,
    pub(super) left: f64,
    pub(super) right: f64,
    pub(super) top: f64,
    pub(super) bottom: f64,
    pub(super) from: Moment,
    pub(super) to: Moment,
}

impl<'a> Ground<'a> {
    /// Ground for a night's activity, of a width, from an upper to a lower edge.
    pub(super) fn new(
        (frame, offset_min): (&'a Frame, i32),
        activity: &Activity,
        width: f64,
        (top, bottom): (f64, f64),
    ) -> Self {
        Self {
            frame,
            offset_min,
            width,
            left: LEFT,
            right: width - RIGHT,
            top,
            bottom,
            from: activity.from,
            to: activity.to,
        }
    }

    /// Where a moment lies; one that is not shown lies at the end next to it.
    pub(super) fn x(&self, at: Moment) -> f64 {
        let length_s = self.to.since_s(self.from).max(1.0);
        let share = (at.since_s(self.from) / length_s).clamp(0.0, 1.0);
        self.left + (self.right - self.left) * share
    }

    pub(super) fn height(&self) -> f64 {
        self.bottom - self.top
    }

    /// Night and twilight in steps, and hatching where nobody listened.
    pub(super) fn shade(&self, svg: &mut Markup) {
        let light = self.frame.twilight.unwrap_or_default();
        // Where the sun sets, but it gets no darker than this.
        let no_dark = Moment::from_utc_s(f64::INFINITY);
        let ends = |from: Option<Moment>, to: Option<Moment>| from.zip(to);
        let outer = ends(light.sunset, light.sunrise);
        let civil = ends(light.civil_dusk, light.civil_dawn);
        let nautical = ends(light.nautical_dusk, light.nautical_dawn);
        let steps = [
            ("shade civil", outer, civil),
            ("shade nautical", civil, nautical),
            ("shade dark", nautical, None),
        ];
        for (class, whole, inner) in steps {
            let Some((from, to)) = whole else { continue };
            let (dusk, dawn) = inner.unwrap_or((no_dark, no_dark));
            let ends = if inner.is_some() {
                vec![(from, dusk), (dawn, to)]
            } else {
                vec![(from, to)]
            };
            let d: String = ends
                .iter()
                .map(|&(from, to)| self.block(from, to))
                .collect();
            path(svg, class, &d);
        }
        self.hatch(svg);
    }

    /// The path of a rectangle over the whole height.
    fn block(&self, from: Moment, to: Moment) -> String {
        let (left, right) = (self.x(from), self.x(to));
        if right <= left {
            return String::new();
        }
        format!(
            "M{} {}H{}V{}H{}Z",
            px(left),
            px(self.top),
            px(right),
            px(self.bottom),
            px(left)
        )
    }

    fn hatch(&self, svg: &mut Markup) {
        let Some(Stretch { from, to }) = self.frame.watch() else {
            return path(svg, "hatch", &self.hatched(self.left, self.right));
        };
        let before = self.hatched(self.left, self.x(from));
        let after = self.hatched(self.x(to), self.right);
        path(svg, "hatch", &(before + &after));
    }

    /// Slanting lines from one place to another, cut off at the edges.
    fn hatched(&self, left: f64, right: f64) -> String {
        let (width, height) = (right - left, self.height());
        if width < 1.0 {
            return String::new();
        }
        let count = ((width + height) / HATCH).ceil() as i32;
        let line = |number: i32| {
            let foot = f64::from(number) * HATCH - height;
            let (from, to) = (foot.max(0.0), (foot + height).min(width));
            (to > from).then(|| {
                format!(
                    "M{} {}L{} {}",
                    px(left + from),
                    px(self.bottom - (from - foot)),
                    px(left + to),
                    px(self.bottom - (to - foot))
                )
            })
        };
        (0..count).filter_map(line).collect()
    }

    /// Lines at sunset and sunrise with their times above, where `labels_y` says.
    pub(super) fn sun(&self, svg: &mut Markup, labels_y: Option<f64>) {
        let light = self.frame.twilight.unwrap_or_default();
        let shown = |at: &Moment| *at >= self.from && *at <= self.to;
        let sunset = light.sunset.filter(shown);
        let sunrise = light.sunrise.filter(shown);
        let line = |at: Moment| {
            let x = px(self.x(at));
            format!("M{x} {}V{}", px(self.top), px(self.bottom))
        };
        let lines: String = sunset.into_iter().chain(sunrise).map(line).collect();
        path(svg, "sun", &lines);
        let Some(y) = labels_y else { return };
        let words = |what: &str, at: Moment| format!("{what} {}", self.clock(at));
        let place = |x: f64| {
            if x + SUN_ROOM < self.width {
                (x, "start")
            } else {
                (x, "end")
            }
        };
        match (sunset, sunrise) {
            (Some(set), Some(rise)) if self.x(rise) - self.x(set) < 2.0 * SUN_ROOM => {
                let both = format!("{}, {}", words("sunset", set), words("sunrise", rise));
                let middle = (self.x(set) + self.x(rise)) / 2.0;
                let middle = middle.clamp(SUN_ROOM, self.width - SUN_ROOM);
                label(svg, middle, y, "middle", &both);
            }
            (Some(set), Some(rise)) => {
                label(svg, self.x(set), y, "start", &words("sunset", set));
                label(svg, self.x(rise), y, "end", &words("sunrise", rise));
            }
            (Some(set), None) => {
                let (x, anchor) = place(self.x(set));
                label(svg, x, y, anchor, &words("sunset", set));
            }
            (None, Some(rise)) => {
                let (x, anchor) = place(self.x(rise));
                label(svg, x, y, anchor, &words("sunrise", rise));
            }
            (None, None) => {}
        }
    }

    /// The time of day to the nearest minute.
    pub(super) fn clock(&self, at: Moment) -> String {
        at.plus_s(30.0).clock(self.offset_min)
    }

    /// The clock below, and the frame around the plot.
    pub(super) fn clock_axis(&self, svg: &mut Markup, y: f64) {
        let per_min = (self.right - self.left) * 60.0 / self.to.since_s(self.from).max(60.0);
        let step_min = CLOCK_STEPS_MIN
            .into_iter()
            .find(|&step| f64::from(step) * per_min >= CLOCK_ROOM)
            .unwrap_or(720);
        let step_s = f64::from(step_min) * 60.0;
        // On the clock of the wall and not of UTC.
        let zone_s = f64::from(self.offset_min) * 60.0;
        let first = ((self.from.utc_s() + zone_s) / step_s - 1e-6).ceil() * step_s - zone_s;
        let mut ticks = String::new();
        for number in 0..288 {
            let at = Moment::from_utc_s(first + f64::from(number) * step_s);
            if at > self.to {
                break;
            }
            let x = self.x(at);
            ticks.push_str(&format!("M{} {}v5", px(x), px(y)));
            // The first and the last one must not be cut off.
            let x = x.clamp(20.0, self.width - 20.0);
            label(svg, x, y + 18.0, "middle", &at.clock(self.offset_min));
        }
        let (left, right, top, bottom) =
            (px(self.left), px(self.right), px(self.top), px(self.bottom));
        path(
            svg,
            "axis",
            &format!(
                "{ticks}M{left} {top}V{bottom}H{right}M{left} {}H{right}",
                px(y)
            ),
        );
    }

    /// Values beside the plot, with where they lie.
    pub(super) fn upright(&self, svg: &mut Markup, values: &[(f64, String)]) {
        let mut ticks = String::new();
        for (y, text) in values {
            ticks.push_str(&format!("M{} {}h-5", px(self.left), px(*y)));
            label(svg, self.left - 8.0, y + 4.5, "end", text);
        }
        path(svg, "axis", &ticks);
    }
}

pub(super) fn label(svg: &mut Markup, x: f64, y: f64, anchor: &str, text: &str) {
    svg.text(
        "text",
        &[("x", &px(x)), ("y", &px(y)), ("text-anchor", &anchor)],
        text,
    );
}

/// What stands above a plot.
pub(super) fn heading(svg: &mut Markup, text: &str) {
    svg.text("text", &[("class", &"head"), ("x", &2), ("y", &14)], text);
}

/// Whole numbers from 0 up to at least `most`, so many at the most, and the value at the upper edge.
pub(super) fn counts(most: u32, at_most: u32) -> (f64, Vec<u32>) {
    let most = most.max(4);
    let steps = (0..9).flat_map(|power| [1, 2, 5].map(|digit| digit * 10u32.pow(power)));
    let step = steps
        .into_iter()
        .find(|step| most.div_ceil(*step) <= at_most);
    let step = step.unwrap_or(most);
    let count = most.div_ceil(step);
    (
        f64::from(step) * f64::from(count),
        (0..=count).map(|number| number * step).collect(),
    )
}
