//! What a page is made of.

/// A part of the page with a heading.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Section {
    /// Where links point to: a word of small letters.
    pub id: &'static str,
    /// The heading.
    pub title: String,
    /// Paragraphs before figures and tables.
    pub text: Vec<String>,
    /// Figures, side by side where there is room.
    pub figures: Vec<Figure>,
    /// Pictures of recordings.
    pub pictures: Vec<Picture>,
    /// Tables, one below the other.
    pub tables: Vec<Table>,
    /// Items of a list that is shut at first.
    pub list: Vec<String>,
}

/// Points of a line, pixels from the left and from above.
pub type Line = Vec<(f64, f64)>;

/// A piece of a recording with what is true of it and what was measured.
#[derive(Debug, Clone, PartialEq)]
pub struct Picture {
    /// What failed.
    pub caption: String,
    /// From and to in time and frequency.
    pub axes: String,
    /// The spectrogram as a PNG file in base64.
    pub png: String,
    /// Its width and height, pixels.
    pub size_px: (u32, u32),
    /// The laws of true calls.
    pub laws: Vec<Line>,
    /// The contours that were measured.
    pub contours: Vec<Line>,
}

/// A table of texts.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Table {
    /// What it shows.
    pub caption: String,
    /// The columns' headings, with units.
    pub columns: Vec<String>,
    /// The rows; the first cell of each is its heading.
    pub rows: Vec<Vec<String>>,
    /// Whether it is shut at first, because it is long.
    pub shut: bool,
    /// Whether cells are words, set to the left and broken into lines, and not figures.
    pub words: bool,
}

impl Table {
    /// An empty table with these columns.
    pub fn new(caption: impl Into<String>, columns: &[&str]) -> Table {
        Table {
            caption: caption.into(),
            columns: columns.iter().map(|&c| c.to_owned()).collect(),
            ..Table::default()
        }
    }

    /// The same with rows.
    #[must_use]
    pub fn rows(mut self, rows: impl IntoIterator<Item = Vec<String>>) -> Table {
        self.rows.extend(rows);
        self
    }

    /// The same, shut at first.
    #[must_use]
    pub fn shut(self) -> Table {
        Table { shut: true, ..self }
    }

    /// The same with cells of words.
    #[must_use]
    pub fn words(self) -> Table {
        Table {
            words: true,
            ..self
        }
    }
}

/// A plot of lines.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// What it shows; also what a screen reader says.
    pub title: String,
    /// To the right.
    pub x: Axis,
    /// Upwards.
    pub y: Axis,
    /// The lines; their order decides their marks.
    pub series: Vec<Series>,
}

/// An axis of a plot.
#[derive(Debug, Clone, PartialEq)]
pub struct Axis {
    /// What it counts, with its unit.
    pub label: String,
    /// From and to; what the values need where none is given.
    pub range: Option<(f64, f64)>,
    /// Whether equal steps are equal factors.
    pub logarithmic: bool,
}

impl Axis {
    /// An even axis that fits the values.
    pub fn new(label: impl Into<String>) -> Axis {
        Axis {
            label: label.into(),
            range: None,
            logarithmic: false,
        }
    }

    /// The same from and to.
    #[must_use]
    pub fn range(self, from: f64, to: f64) -> Axis {
        Axis {
            range: Some((from, to)),
            ..self
        }
    }

    /// The same with equal steps for equal factors.
    #[must_use]
    pub fn logarithmic(self) -> Axis {
        Axis {
            logarithmic: true,
            ..self
        }
    }
}

/// One line of a plot.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Series {
    /// Its name in the legend; none is shown where it is empty.
    pub name: String,
    /// Its points.
    pub points: Vec<(f64, f64)>,
    /// A band as place, lower and upper end.
    pub band: Vec<(f64, f64, f64)>,
    /// Whether it is a reference (equality, a bound): thin and dashed, with small marks if it
    /// is like another series and none if not.
    pub reference: bool,
    /// The series whose colour and dashes it takes, where not those of its own place.
    pub like: Option<usize>,
}

impl Series {
    /// A named line.
    pub fn new(name: impl Into<String>, points: impl IntoIterator<Item = (f64, f64)>) -> Series {
        Series {
            name: name.into(),
            points: points.into_iter().collect(),
            ..Series::default()
        }
    }
}
