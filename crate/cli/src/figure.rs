//! `dusklens figure`: a spectrogram for a report, as the page makes it.

use std::fs::OpenOptions as Files;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::Args;
use dusklens_core::draw::{
    ColourMap, Figure, FigureError, FigureFrame, FigureLines, FigureSound, FigureStyle, Look,
    Rendering, Scale, Subject,
};
use dusklens_core::pulse::{self, Settings};
use dusklens_core::recording::{OpenOptions, ReadError, Recording};

use crate::file::FileSource;
use crate::measure::{complain, parse_expansion};

/// Draw the spectrogram of a recording as SVG, with axes, contours, numbers and settings.
#[derive(Debug, Args)]
pub(crate) struct Options {
    /// The recording, in WAV, RF64 or BW64.
    #[arg(value_name = "FILE")]
    file: PathBuf,
    /// Where the figure goes; a file that is there already is left alone. Without it, it is printed.
    #[arg(short, long, value_name = "SVG")]
    output: Option<PathBuf>,
    /// Where it begins, seconds.
    #[arg(long, value_name = "S", default_value_t = 0.0)]
    from: f64,
    /// Where it ends, seconds; the end of the recording unless you say otherwise.
    #[arg(long, value_name = "S")]
    to: Option<f64>,
    /// Its lowest frequency, kHz; 0 unless you say otherwise.
    #[arg(long, value_name = "KHZ")]
    low: Option<f64>,
    /// Its highest frequency, kHz; half the sampling rate unless you say otherwise.
    #[arg(long, value_name = "KHZ")]
    high: Option<f64>,
    /// Let frequency run by equal ratios; the lowest is then six octaves below the highest unless you say otherwise.
    #[arg(long)]
    logarithmic: bool,
    /// Move energy to the time and frequency where it has its centre.
    #[arg(long)]
    sharpened: bool,
    /// Length of the window, ms; what suits the stretch unless you say otherwise.
    #[arg(long, value_name = "MS")]
    window: Option<f64>,
    /// Level of the first colour, dB re full scale; from the noise unless you say otherwise.
    #[arg(long, value_name = "DB", allow_negative_numbers = true)]
    floor: Option<f32>,
    /// From the first colour to the last, dB; from noise and calls unless you say otherwise.
    #[arg(long, value_name = "DB")]
    range: Option<f32>,
    /// Width of the figure, mm.
    #[arg(long, value_name = "MM", default_value_t = 160.0)]
    width: f64,
    /// Height of the spectrogram in it, mm.
    #[arg(long, value_name = "MM", default_value_t = 60.0)]
    height: f64,
    /// Resolution, dots per inch.
    #[arg(long, default_value_t = 300.0)]
    dpi: f64,
    /// Colours of the spectrogram: ink, paper, grey, magma, viridis, batlow, night.
    #[arg(long, value_name = "MAP", default_value = "ink", value_parser = colours)]
    colours: ColourMap,
    /// Draw contours and numbers in black, for print without colours.
    #[arg(long)]
    black: bool,
    /// Leave the contours out.
    #[arg(long)]
    no_contours: bool,
    /// Leave the numbers out.
    #[arg(long)]
    no_numbers: bool,
    /// What stands above it.
    #[arg(long, default_value = "")]
    title: String,
    /// What stands below it.
    #[arg(long, default_value = "")]
    note: String,
    /// Time expansion, where you know it better than the file.
    #[arg(long, value_name = "N", value_parser = parse_expansion)]
    expansion: Option<f64>,
    /// Channel, counted from 1.
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = clap::value_parser!(u16).range(1..))]
    channel: u16,
}

/// Why there is no figure.
enum Fault {
    Open(io::Error),
    Read(ReadError),
    Figure(FigureError),
}

/// Draws the figure and puts it where it shall go.
pub(crate) fn run(options: &Options) -> ExitCode {
    let svg = match draw(options) {
        Ok(svg) => svg,
        Err(fault) => {
            complain(&format!("{}: {}", options.file.display(), fault.text()));
            return ExitCode::FAILURE;
        }
    };
    let written = match &options.output {
        Some(path) => write_new(path, &svg),
        None => io::stdout().lock().write_all(svg.as_bytes()),
    };
    match written {
        Ok(()) => ExitCode::SUCCESS,
        // Whoever reads us has seen enough, as `head` does.
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => ExitCode::SUCCESS,
        Err(error) => {
            complain(&format!("the figure could not be written: {error}"));
            ExitCode::FAILURE
        }
    }
}

/// Never over a file that is there: it could be a recording.
fn write_new(path: &Path, svg: &str) -> io::Result<()> {
    let mut file = Files::new().write(true).create_new(true).open(path)?;
    file.write_all(svg.as_bytes())
}

fn draw(options: &Options) -> Result<String, Fault> {
    let source = FileSource::open(&options.file).map_err(Fault::Open)?;
    let choice = OpenOptions {
        expansion: options.expansion,
    };
    let recording = Recording::open(source, &choice).map_err(Fault::Read)?;
    let channel = options.channel - 1;
    let frame = frame(options, &recording);
    let mut figure = Figure::new(&frame, recording.facts()).map_err(Fault::Figure)?;
    let mut samples = Vec::new();
    while let Some(block) = figure.next_block() {
        recording
            .read(channel, block, &mut samples)
            .map_err(Fault::Read)?;
        figure.feed(&samples);
    }
    let findings =
        pulse::measure(&recording, channel, &Settings::default()).map_err(Fault::Read)?;
    let sounds: Vec<FigureSound> = (1..)
        .zip(findings.pulses)
        .map(|(number, pulse)| FigureSound {
            name: format!("{number}"),
            pulse,
        })
        .collect();
    let name = options.file.file_name().unwrap_or_default();
    let subject = Subject {
        file: &name.to_string_lossy(),
        facts: recording.facts(),
        sounds: &sounds,
    };
    figure.svg(&style(options), &subject).map_err(Fault::Figure)
}

fn frame(options: &Options, recording: &Recording<FileSource>) -> FigureFrame {
    let facts = recording.facts();
    let high_khz = options.high.unwrap_or(facts.rate_hz / 2000.0);
    let (scale, lowest_khz) = if options.logarithmic {
        (Scale::Logarithmic, high_khz / 64.0)
    } else {
        (Scale::Linear, 0.0)
    };
    FigureFrame {
        channel: options.channel - 1,
        start_s: options.from,
        end_s: options.to.unwrap_or(facts.duration_s),
        low_khz: options.low.unwrap_or(lowest_khz),
        high_khz,
        rendering: Rendering {
            scale,
            window_ms: options.window,
            sharpened: options.sharpened,
            ..Rendering::default()
        },
        width_mm: options.width,
        picture_mm: options.height,
        dpi: options.dpi,
    }
}

fn style(options: &Options) -> FigureStyle {
    FigureStyle {
        look: Look {
            map: options.colours,
            floor_db: options.floor,
            range_db: options.range,
        },
        lines: if options.black {
            FigureLines::Black
        } else {
            FigureLines::Red
        },
        contours: !options.no_contours,
        numbers: !options.no_numbers,
        scale_bar: true,
        source: true,
        title: options.title.clone(),
        note: options.note.clone(),
    }
}

impl Fault {
    /// The fault and what to do about it.
    fn text(&self) -> String {
        match self {
            Self::Open(error) => format!("the file could not be opened: {error}"),
            Self::Read(error) => format!("{error}. {}", error.advice()),
            Self::Figure(error) => format!("{error}."),
        }
    }
}

/// A colour map by the word that it is serialised as.
fn colours(text: &str) -> Result<ColourMap, String> {
    serde_json::from_value(serde_json::Value::String(text.to_owned()))
        .map_err(|_| "there are ink, paper, grey, magma, viridis, batlow and night".to_owned())
}
