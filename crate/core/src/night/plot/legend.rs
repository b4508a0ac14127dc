//! What the marks of a plot mean, in lines as long as there is room.

use super::ground::label;
use super::{path, px};
use crate::draw::Markup;

/// The width of a letter on the average, of the size that plots have.
const LETTER: f64 = 6.9;
const LINE: f64 = 20.0;
const MARK: f64 = 24.0;
const GAP: f64 = 16.0;

/// A mark: its class and its shape around the middle of its place.
pub(super) struct Entry {
    pub(super) class: &'static str,
    pub(super) shape: Shape,
    pub(super) text: String,
}

#[derive(Clone, Copy)]
pub(super) enum Shape {
    Block,
    Diamond,
    Dot,
    Line,
    Hatch,
}

impl Entry {
    pub(super) fn new(class: &'static str, shape: Shape, text: impl Into<String>) -> Self {
        Self {
            class,
            shape,
            text: text.into(),
        }
    }

    fn width(&self) -> f64 {
        MARK + LETTER * self.text.chars().count() as f64 + GAP
    }
}

/// What the ground of plots means. Without the sun's times, there are no twilights on it.
pub(super) fn of_ground(has_sun: bool) -> Vec<Entry> {
    let light = [
        Entry::new("shade civil", Shape::Block, "civil twilight"),
        Entry::new("shade nautical", Shape::Block, "nautical twilight"),
        Entry::new("shade dark", Shape::Block, "darker"),
    ];
    let watch = Entry::new("hatch", Shape::Hatch, "outside the watch");
    let light = light.into_iter().filter(|_| has_sun);
    light.chain([watch]).collect()
}

/// Where each entry lies, and how high all are.
fn places(entries: &[Entry], width: f64) -> (Vec<(f64, f64)>, f64) {
    let (mut x, mut y) = (2.0, 0.0);
    let mut places = Vec::new();
    for entry in entries {
        if x > 2.0 && x + entry.width() - GAP > width {
            (x, y) = (2.0, y + LINE);
        }
        places.push((x, y));
        x += entry.width();
    }
    (places, y + LINE)
}

/// How high a legend is.
pub(super) fn height(entries: &[Entry], width: f64) -> f64 {
    places(entries, width).1
}

/// Draws it below `top`.
pub(super) fn draw(svg: &mut Markup, entries: &[Entry], width: f64, top: f64) {
    let (places, _) = places(entries, width);
    for (entry, (x, y)) in entries.iter().zip(places) {
        let (x, middle) = (x + MARK / 2.0 - 3.0, top + y + LINE / 2.0);
        path(svg, entry.class, &shape(entry.shape, x, middle));
        label(
            svg,
            x + MARK / 2.0 + 3.0,
            middle + 4.5,
            "start",
            &entry.text,
        );
    }
}

fn shape(shape: Shape, x: f64, y: f64) -> String {
    match shape {
        Shape::Block => format!("M{} {}h16v12h-16Z", px(x - 8.0), px(y - 6.0)),
        Shape::Diamond => diamond(x, y),
        Shape::Dot => dot(x, y),
        Shape::Line => format!("M{} {}h16", px(x - 8.0), px(y)),
        Shape::Hatch => format!(
            "M{0} {2}l12 -12M{1} {2}l6 -6M{0} {3}l6 -6",
            px(x - 6.0),
            px(x),
            px(y + 6.0),
            px(y)
        ),
    }
}

pub(super) fn diamond(x: f64, y: f64) -> String {
    format!("M{} {}l4 4.5l-4 4.5l-4 -4.5Z", px(x), px(y - 4.5))
}

pub(super) fn dot(x: f64, y: f64) -> String {
    format!("M{} {}h0", px(x), px(y))
}
