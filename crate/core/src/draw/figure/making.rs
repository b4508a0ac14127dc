//! A figure in the making.

use super::super::Drawing;
use super::super::levels::Shades;
use super::layout::{Area, EDGE, LABEL_PT, LEADING, Layout, TITLE_PT, WORDS_PT};
use super::marks::{self, Pen, Scale};
use super::markup::{Markup, points};
use super::ticks::Ticks;
use super::{FigureError, FigureFrame, FigureSound, FigureStyle, caption, embed};
use crate::recording::Facts;
use std::ops::Range;

/// A figure in the making, advanced in steps of bounded work like a [`Drawing`].
pub struct Figure {
    frame: FigureFrame,
    pub(super) drawing: Drawing,
}

/// What a figure is about.
#[derive(Debug, Clone, Copy)]
pub struct Subject<'a> {
    /// The recording's name.
    pub file: &'a str,
    /// What the recording says of itself.
    pub facts: &'a Facts,
    /// The measured sounds that may be marked.
    pub sounds: &'a [FigureSound],
}

/// Room that a label of the time axis and of an upright axis needs, points.
const TIME_ROOM: f64 = 56.0;
const UPRIGHT_ROOM: f64 = 30.0;
/// Length of a tick, points.
const TICK: f64 = 4.0;
const FONT: &str = "Helvetica, Arial, 'Liberation Sans', sans-serif";

/// An axis's ticks as they are written: in which unit, and how many seconds that has.
struct TimeUnit {
    name: &'static str,
    seconds: f64,
}

impl Figure {
    /// Begins a figure of a recording.
    ///
    /// # Errors
    /// [`FigureError`] where it cannot be drawn.
    pub fn new(frame: &FigureFrame, facts: &Facts) -> Result<Self, FigureError> {
        frame.check()?;
        let drawing = Drawing::new(&frame.view(), facts.channels, facts.rate_hz, facts.frames)?;
        Ok(Self {
            frame: *frame,
            drawing,
        })
    }

    /// The samples of its channel that the next step needs; none when it is done.
    #[must_use]
    pub fn next_block(&self) -> Option<Range<u64>> {
        self.drawing.next_block()
    }

    /// Takes the samples of [`next_block`](Self::next_block).
    pub fn feed(&mut self, samples: &[f32]) {
        self.drawing.feed(samples);
    }

    /// How much of it is done, 0 to 1.
    #[must_use]
    pub fn done_fraction(&self) -> f64 {
        self.drawing.done_fraction()
    }

    /// What it shows.
    #[must_use]
    pub fn frame(&self) -> &FigureFrame {
        &self.frame
    }

    /// The figure as far as it is drawn, as SVG.
    ///
    /// # Errors
    /// [`FigureError`] where the look makes no sense.
    pub fn svg(&self, style: &FigureStyle, subject: &Subject<'_>) -> Result<String, FigureError> {
        let (image, shades) = embed::picture(self.drawing.raster(), &style.look)?;
        let width = Layout::words_width(&self.frame);
        let title = caption::lines(&style.title, TITLE_PT, width);
        let words: Vec<String> = caption::paragraphs(&self.drawing, shades, style, subject)
            .iter()
            .flat_map(|paragraph| caption::lines(paragraph, WORDS_PT, width))
            .collect();
        let layout = Layout::new(&self.frame, title.len(), words.len());
        let mut markup = Markup::default();
        self.begin(&mut markup, &layout, style, subject);
        write_lines(&mut markup, "title", &title, TITLE_PT, TITLE_PT + EDGE);
        self.picture(&mut markup, &layout, &image);
        let scale = Scale {
            frame: self.frame,
            plot: layout.plot,
        };
        let pen = Pen::of(style.look.map, style.lines);
        marks::draw(&mut markup, &scale, style, subject.sounds, pen);
        self.axes(&mut markup, &scale);
        legend(
            &mut markup,
            &layout.bar,
            &embed::bar(style.look.map)?,
            shades,
        );
        write_lines(&mut markup, "words", &words, WORDS_PT, layout.words_from);
        Ok(markup.into_string())
    }

    fn begin(
        &self,
        markup: &mut Markup,
        layout: &Layout,
        style: &FigureStyle,
        subject: &Subject<'_>,
    ) {
        let (width, height) = (points(layout.width), points(layout.height));
        let millimetres = |length: f64| format!("{}mm", points(length / super::layout::PT_PER_MM));
        markup.open(
            "svg",
            &[
                ("xmlns", &"http://www.w3.org/2000/svg"),
                ("width", &millimetres(layout.width)),
                ("height", &millimetres(layout.height)),
                ("viewBox", &format!("0 0 {width} {height}")),
                ("role", &"img"),
                ("aria-labelledby", &"name what"),
                ("font-family", &FONT),
                ("fill", &"#000000"),
            ],
        );
        let name = if style.title.trim().is_empty() {
            subject.file
        } else {
            &style.title
        };
        markup.text("title", &[("id", &"name")], name);
        let what = caption::description(&self.drawing, subject);
        markup.text("desc", &[("id", &"what")], &what);
        markup.empty(
            "rect",
            &[("width", &width), ("height", &height), ("fill", &"#ffffff")],
        );
    }

    fn picture(&self, markup: &mut Markup, layout: &Layout, image: &str) {
        let Area {
            left,
            top,
            width,
            height,
        } = layout.plot;
        let place = [points(left), points(top), points(width), points(height)];
        let [x, y, width, height] = &place;
        markup.open("clipPath", &[("id", &"plot")]);
        markup.empty(
            "rect",
            &[("x", x), ("y", y), ("width", width), ("height", height)],
        );
        markup.close();
        markup.empty(
            "image",
            &[
                ("x", x),
                ("y", y),
                ("width", width),
                ("height", height),
                ("preserveAspectRatio", &"none"),
                ("href", &image),
            ],
        );
    }

    fn axes(&self, markup: &mut Markup, scale: &Scale) {
        let FigureFrame {
            start_s,
            end_s,
            low_khz,
            high_khz,
            ..
        } = self.frame;
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
                ticks: Ticks::new(
                    low_khz,
                    high_khz,
                    (plot.height / UPRIGHT_ROOM).max(2.0).floor(),
                ),
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
    ticks: Ticks,
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
    for value in axis.ticks.values() {
        let y = (axis.place)(value);
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
            &axis.ticks.label(value),
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
fn legend(markup: &mut Markup, bar: &Area, image: &str, shades: Shades) {
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
            ticks: Ticks::new(floor, top, (bar.height / UPRIGHT_ROOM).max(2.0).floor()),
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

/// Lines of text, one below the other.
fn write_lines(markup: &mut Markup, class: &'static str, lines: &[String], size: f64, from: f64) {
    if lines.is_empty() {
        return;
    }
    markup.open(
        "g",
        &[
            ("class", &class),
            ("font-size", &size),
            (
                "font-weight",
                &(if class == "title" { "bold" } else { "normal" }),
            ),
        ],
    );
    for (index, line) in lines.iter().enumerate() {
        let y = from + index as f64 * size * LEADING;
        markup.text("text", &[("x", &points(EDGE)), ("y", &points(y))], line);
    }
    markup.close();
}
