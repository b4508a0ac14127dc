//! Contours, numbers and the scale bar, over the spectrogram.

use super::super::ColourMap;
use super::caption::width_em;
use super::layout::{Area, LABEL_PT};
use super::markup::{Markup, points};
use super::ticks::round_step;
use super::{FigureFrame, FigureLines, FigureSound, FigureStyle};
use crate::pulse::{Contour, Pulse};
use std::fmt::Write;

/// A colour of lines and the one around them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Pen {
    pub(super) line: &'static str,
    pub(super) halo: &'static str,
}

impl Pen {
    /// Dark lines over light grounds, white ones over dark grounds; the halo parts them from loud sounds.
    pub(super) fn of(map: ColourMap, lines: FigureLines) -> Self {
        match (map, lines) {
            (ColourMap::Paper | ColourMap::Ink, FigureLines::Red) => Self {
                line: "#a5311f",
                halo: "#ffffff",
            },
            (ColourMap::Paper | ColourMap::Ink, FigureLines::Black) => Self {
                line: "#000000",
                halo: "#ffffff",
            },
            _ => Self {
                line: "#ffffff",
                halo: "#000000",
            },
        }
    }
}

/// Below it nothing is heard nor drawn; a logarithm needs something above 0.
const LEAST_KHZ: f64 = 1e-3;

/// Where values lie in the plot.
#[derive(Debug, Clone, Copy)]
pub(super) struct Scale {
    pub(super) frame: FigureFrame,
    pub(super) plot: Area,
}

impl Scale {
    pub(super) fn x(&self, time_s: f64) -> f64 {
        let FigureFrame { start_s, end_s, .. } = self.frame;
        self.plot.left + (time_s - start_s) / (end_s - start_s) * self.plot.width
    }

    pub(super) fn y(&self, khz: f64) -> f64 {
        // What lies below all that can be shown on a logarithmic axis lies far below the plot.
        let share = self.frame.height_axis().position_px(khz.max(LEAST_KHZ));
        self.plot.top + share * self.plot.height
    }

    fn shows(&self, pulse: &Pulse) -> bool {
        pulse.end_s >= self.frame.start_s && pulse.start_s <= self.frame.end_s
    }
}

/// Width of lines, and of their halo.
const LINE: f64 = 0.9;
const HALO: f64 = 2.4;
/// A contour narrower than this is a hairline without a halo, which would cover the sound.
const NARROW: f64 = 10.0;
const HAIRLINE: f64 = 0.5;
/// Dashes of a doubted sound's contour; with round ends they are dots.
const DOTS: &str = "0.1 2.4";
/// Between a number and its contour.
const GAP: f64 = 3.0;
/// Contours are drawn with a point at least every so many points.
const FINENESS: f64 = 0.25;

/// Draws contours and numbers. Numbers that would lie on one another are left out, those of doubted sounds first.
pub(super) fn draw(
    markup: &mut Markup,
    scale: &Scale,
    style: &FigureStyle,
    sounds: &[FigureSound],
    pen: Pen,
) {
    if style.contours {
        contours(markup, scale, sounds, pen);
    }
    if style.numbers {
        numbers(markup, scale, sounds, pen);
    }
    if style.scale_bar {
        scale_bar(markup, scale, pen);
    }
}

fn contours(markup: &mut Markup, scale: &Scale, sounds: &[FigureSound], pen: Pen) {
    markup.open(
        "g",
        &[
            ("class", &"contours"),
            ("clip-path", &"url(#plot)"),
            ("fill", &"none"),
            ("stroke-linejoin", &"round"),
            ("stroke-linecap", &"round"),
        ],
    );
    let shown = || {
        sounds
            .iter()
            .map(|sound| &sound.pulse)
            .filter(|pulse| scale.shows(pulse))
    };
    let is_narrow = |pulse: &&Pulse| scale.x(pulse.end_s) - scale.x(pulse.start_s) < NARROW;
    paths(
        markup,
        scale,
        (pen.line, HAIRLINE),
        shown().filter(is_narrow),
    );
    for stroke in [(pen.halo, HALO), (pen.line, LINE)] {
        paths(
            markup,
            scale,
            stroke,
            shown().filter(|pulse| !is_narrow(pulse)),
        );
    }
    markup.close();
}

/// Contours in a colour and a width; those of doubted sounds are dotted.
fn paths<'a>(
    markup: &mut Markup,
    scale: &Scale,
    (stroke, width): (&str, f64),
    pulses: impl Iterator<Item = &'a Pulse>,
) {
    markup.open("g", &[("stroke", &stroke), ("stroke-width", &width)]);
    for pulse in pulses {
        let path = path(&pulse.contour, scale);
        if pulse.doubt.is_some() {
            markup.empty("path", &[("d", &path), ("stroke-dasharray", &DOTS)]);
        } else {
            markup.empty("path", &[("d", &path)]);
        }
    }
    markup.close();
}

/// A contour with no more points than can be seen.
fn path(contour: &Contour, scale: &Scale) -> String {
    let step_pt = (scale.x(contour.step_s) - scale.x(0.0)).max(1e-6);
    let stride = ((FINENESS / step_pt) as usize).max(1);
    let last = contour.khz.len().saturating_sub(1);
    let mut path = String::new();
    for (index, &khz) in contour.khz.iter().enumerate() {
        if index % stride == 0 || index == last {
            let x = scale.x(contour.start_s + index as f64 * contour.step_s);
            let sign = if index == 0 { 'M' } else { 'L' };
            // Writing to a string cannot fail.
            let _ = write!(
                path,
                "{sign}{} {}",
                points(x),
                points(scale.y(f64::from(khz)))
            );
        }
    }
    path
}

fn numbers(markup: &mut Markup, scale: &Scale, sounds: &[FigureSound], pen: Pen) {
    let mut taken: Vec<(f64, f64)> = Vec::new();
    markup.open(
        "g",
        &[
            ("class", &"numbers"),
            ("font-size", &LABEL_PT),
            ("font-weight", &"bold"),
            ("text-anchor", &"middle"),
        ],
    );
    for doubted in [false, true] {
        let wanted = |sound: &&FigureSound| sound.pulse.doubt.is_some() == doubted;
        for FigureSound { name, pulse } in sounds.iter().filter(wanted) {
            let x = scale.x((pulse.start_s + pulse.end_s) / 2.0);
            let half = (width_em(name) * LABEL_PT + GAP) / 2.0;
            let (from, to) = (x - half, x + half);
            let is_inside = from >= scale.plot.left && to <= scale.plot.right();
            let is_free = taken
                .iter()
                .all(|&(left, right)| to <= left || from >= right);
            if scale.shows(pulse) && is_inside && is_free {
                taken.push((from, to));
                let lowest = scale.plot.bottom() - GAP;
                let y = (scale.y(pulse.high_khz) - GAP).clamp(scale.plot.top + LABEL_PT, lowest);
                haloed(markup, name, (x, y), pen);
            }
        }
    }
    markup.close();
}

/// Text with a halo. It is set twice, since not everything that shows SVG paints strokes first when asked to.
fn haloed(markup: &mut Markup, text: &str, (x, y): (f64, f64), pen: Pen) {
    let (x, y) = (points(x), points(y));
    markup.text(
        "text",
        &[
            ("x", &x),
            ("y", &y),
            ("aria-hidden", &"true"),
            ("fill", &pen.halo),
            ("stroke", &pen.halo),
            ("stroke-width", &HALO),
            ("stroke-linejoin", &"round"),
        ],
        text,
    );
    markup.text("text", &[("x", &x), ("y", &y), ("fill", &pen.line)], text);
}

/// A bar of about a sixth of the width, and the time that it spans.
fn scale_bar(markup: &mut Markup, scale: &Scale, pen: Pen) {
    let span_s = scale.frame.end_s - scale.frame.start_s;
    let (digit, exponent) = round_step(span_s / 6.0);
    let length_s = f64::from(digit) * 10f64.powi(exponent);
    let label = duration(length_s);
    let right = scale.plot.right() - 8.0;
    let left = right - length_s / span_s * scale.plot.width;
    let y = scale.plot.bottom() - 7.0;
    let path = format!("M{} {y:.2}H{}", points(left), points(right));
    markup.open("g", &[("class", &"scale-bar"), ("fill", &"none")]);
    markup.empty(
        "path",
        &[("d", &path), ("stroke", &pen.halo), ("stroke-width", &4.4)],
    );
    markup.empty(
        "path",
        &[("d", &path), ("stroke", &pen.line), ("stroke-width", &2.0)],
    );
    markup.close();
    markup.open("g", &[("font-size", &LABEL_PT), ("text-anchor", &"middle")]);
    haloed(markup, &label, ((left + right) / 2.0, y - 4.0), pen);
    markup.close();
}

/// A round stretch of time in the unit that suits it.
fn duration(length_s: f64) -> String {
    match length_s {
        length if length < 0.9e-3 => format!("{:.0} \u{b5}s", length * 1e6),
        length if length < 0.9 => format!("{:.0} ms", length * 1e3),
        length => format!("{length:.0} s"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_and_halos_part_in_black_and_white() {
        // Relative luminance and contrast as WCAG 2.2 defines them; 4.5 is asked of text.
        let luminance = |colour: &str| {
            let channel = |at: usize| {
                let value = u8::from_str_radix(&colour[at..at + 2], 16).unwrap_or(0);
                let value = f64::from(value) / 255.0;
                if value <= 0.04045 {
                    value / 12.92
                } else {
                    ((value + 0.055) / 1.055).powf(2.4)
                }
            };
            0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5)
        };
        for map in ColourMap::ALL {
            for lines in [FigureLines::Red, FigureLines::Black] {
                let pen = Pen::of(map, lines);
                let (one, other) = (luminance(pen.line), luminance(pen.halo));
                let contrast = (one.max(other) + 0.05) / (one.min(other) + 0.05);
                assert!(contrast > 4.5, "{map:?} {lines:?}: {contrast}");
            }
        }
    }

    #[test]
    fn round_durations_are_written_in_their_unit() {
        assert_eq!(duration(5e-4), "500 \u{b5}s");
        assert_eq!(duration(1e-3), "1 ms");
        assert_eq!(duration(0.5), "500 ms");
        assert_eq!(duration(1.0), "1 s");
        assert_eq!(duration(200.0), "200 s");
    }
}
