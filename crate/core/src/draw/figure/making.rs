//! A figure in the making.

use super::super::Drawing;
use super::layout::{Area, EDGE, LEADING, Layout, TITLE_PT, WORDS_PT};
use super::marks::{self, Pen, Scale};
use super::markup::{Markup, points};
use super::{FigureError, FigureFrame, FigureSound, FigureStyle, axes, caption, embed};
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

const FONT: &str = "Helvetica, Arial, 'Liberation Sans', sans-serif";

impl Figure {
    /// Begins a figure of a recording.
    ///
    /// # Errors
    /// [`FigureError`] where it cannot be drawn.
    pub fn new(frame: &FigureFrame, facts: &Facts) -> Result<Self, FigureError> {
        frame.check()?;
        let drawing = Drawing::rendered(
            &frame.view(),
            &frame.rendering,
            facts.channels,
            facts.rate_hz,
            facts.frames,
        )?;
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
        let words: Vec<String> =
            caption::paragraphs(&self.drawing, &self.frame.rendering, shades, style, subject)
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
        axes::draw(&mut markup, &scale);
        axes::legend(
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
        let name = match (style.title.trim(), style.source) {
            ("", true) => subject.file,
            ("", false) => "Spectrogram",
            (title, _) => title,
        };
        markup.text("title", &[("id", &"name")], name);
        let what = caption::description(&self.drawing, style, subject);
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
