//! Axes with their ticks and words, beside and below the spectrogram.

use super::super::Scale as FrequencyScale;
use super::super::levels::Shades;
use super::FigureFrame;
use super::layout::{Area, EDGE, LABEL_PT};
use super::marks::Scale;
use super::markup::{Markup, points};
use super::ticks::{self, Ticks};

/// Room that a label of the time axis and of an upright axis needs, points.
const TIME_ROOM: f64 = 56.0;
const UPRIGHT_ROOM: f64 = 30.0;
/// Length of a tick, points.
const TICK: f64 = 4.0;

/// An axis's ticks as they are written: in which unit, and how many seconds that has.
struct TimeUnit {
    name: &'static str,
    seconds: f64,
}

/// The axes of time and of frequency, and the frame around the plot.
pub(super) fn draw(markup: &mut Markup, scale: &Scale) {
    let FigureFrame {
        start_s,
        end_s,
        low_khz,
        high_khz,
        ..
    } = scale.frame;
    let plot = scale.plot;
    let unit = time_unit(end_s - start_s);
    markup.open(
        "g",
        &[
            ("class", &"time-axis"),
            ("font-size", &LABEL_PT),
            ("text-anchor", &"middle"),
        ],
    );
    let ticks = Ticks::new(
        start_s / unit.seconds,
        end_s / unit.seconds,
        (plot.width / TIME_ROOM).max(2.0).floor(),
    );
    for value in ticks.values() {
        let x = points(scale.x(value * unit.seconds));
        let (from, to) = (points(plot.bottom()), points(plot.bottom() + TICK));
        markup.empty(
            "line",
            &[
                ("x1", &x),
                ("x2", &x),
                ("y1", &from),
                ("y2", &to),
                ("stroke", &"#000000"),
                ("stroke-width", &0.6),
            ],
        );
        markup.text(
            "text",
            &[
                ("x", &x),
                ("y", &points(plot.bottom() + TICK + 1.2 + LABEL_PT)),
            ],
            &ticks.label(value),
        );
    }
    let middle = points(plot.left + plot.width / 2.0);
    markup.text(
        "text",
        &[
            ("x", &middle),
            ("y", &points(plot.bottom() + TICK + 2.6 * LABEL_PT)),
        ],
        &format!("Time, {}", unit.name),
    );
    markup.close();
    upright(
        markup,
        "frequency-axis",
        &Upright {
            ticks: match scale.frame.rendering.scale {
                FrequencyScale::Linear => {
                    Ticks::new(low_khz, high_khz, ticks_along(plot.height)).written()
                }
                FrequencyScale::Logarithmic => {
                    ticks::by_ratio(low_khz, high_khz, ticks_along(plot.height))
                }
            },
            place: &|khz| scale.y(khz),
            edge: plot.left,
            outward: -1.0,
            title: "Frequency, kHz",
            middle: plot.top + plot.height / 2.0,
            title_at: EDGE + LABEL_PT * 0.8,
        },
    );
    frame_of(markup, &plot);
}

/// How many ticks have room along an upright axis.
fn ticks_along(height: f64) -> f64 {
    (height / UPRIGHT_ROOM).max(2.0).floor()
}

/// Minutes for much sound, seconds for most, milliseconds from close by.
fn time_unit(length_s: f64) -> TimeUnit {
    let (name, seconds) = match length_s {
        length if length > 300.0 => ("min", 60.0),
        length if length > 0.5 => ("s", 1.0),
        _ => ("ms", 1e-3),
    };
    TimeUnit { name, seconds }
}

/// An axis that runs upwards.
struct Upright<'a> {
    /// Values and how they are written.
    ticks: Vec<(f64, String)>,
    place: &'a dyn Fn(f64) -> f64,
    /// Where the ticks begin, and the direction that they go.
    edge: f64,
    outward: f64,
    title: &'a str,
    middle: f64,
    title_at: f64,
}

fn upright(markup: &mut Markup, class: &'static str, axis: &Upright<'_>) {
    let anchor = if axis.outward < 0.0 { "end" } else { "start" };
    markup.open(
        "g",
        &[
            ("class", &class),
            ("font-size", &LABEL_PT),
            ("text-anchor", &anchor),
        ],
    );
    let from = points(axis.edge);
    let to = points(axis.edge + axis.outward * TICK);
    let label_at = points(axis.edge + axis.outward * (TICK + 2.0));
    for (value, label) in &axis.ticks {
        let y = (axis.place)(*value);
        let at = points(y);
        markup.empty(
            "line",
            &[
                ("x1", &from),
                ("x2", &to),
                ("y1", &at),
                ("y2", &at),
                ("stroke", &"#000000"),
                ("stroke-width", &0.6),
            ],
        );
        // A third of the size of type puts the middle of digits on the tick.
        markup.text(
            "text",
            &[("x", &label_at), ("y", &points(y + LABEL_PT * 0.35))],
            label,
        );
    }
    let (x, y) = (points(axis.title_at), points(axis.middle));
    let turned = format!("rotate(-90 {x} {y})");
    markup.text(
        "text",
        &[
            ("x", &x),
            ("y", &y),
            ("text-anchor", &"middle"),
            ("transform", &turned),
        ],
        axis.title,
    );
    markup.close();
}

fn frame_of(markup: &mut Markup, area: &Area) {
    markup.empty(
        "rect",
        &[
            ("x", &points(area.left)),
            ("y", &points(area.top)),
            ("width", &points(area.width)),
            ("height", &points(area.height)),
            ("fill", &"none"),
            ("stroke", &"#000000"),
            ("stroke-width", &0.6),
        ],
    );
}

/// The colour bar with its levels.
pub(super) fn legend(markup: &mut Markup, bar: &Area, image: &str, shades: Shades) {
    let (floor, top) = (f64::from(shades.floor_db), f64::from(shades.top_db));
    markup.empty(
        "image",
        &[
            ("x", &points(bar.left)),
            ("y", &points(bar.top)),
            ("width", &points(bar.width)),
            ("height", &points(bar.height)),
            ("preserveAspectRatio", &"none"),
            ("href", &image),
        ],
    );
    upright(
        markup,
        "level-legend",
        &Upright {
            ticks: Ticks::new(floor, top, ticks_along(bar.height)).written(),
            place: &|level| bar.top + (top - level) / (top - floor) * bar.height,
            edge: bar.right(),
            outward: 1.0,
            title: "Level, dB re full scale",
            middle: bar.top + bar.height / 2.0,
            title_at: bar.right() + 33.0,
        },
    );
    frame_of(markup, bar);
}
