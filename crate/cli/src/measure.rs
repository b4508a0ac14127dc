//! `dusklens measure`: every pulse of every file, with its numbers.

use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::Args;
use dusklens_core::pulse::{self, Findings, Settings};
use dusklens_core::recording::{Facts, OpenOptions, ReadError, Recording};

use crate::file::FileSource;
use crate::report::{self, Report};

/// Find and measure every pulse, and print the numbers.
///
/// Files that cannot be read are reported on standard error, the others are measured
/// all the same; the exit code is then 1.
#[derive(Debug, Args)]
pub(crate) struct Options {
    /// Recordings, in WAV, RF64 or BW64.
    #[arg(required = true, value_name = "FILE")]
    files: Vec<PathBuf>,
    /// Print one JSON object with all recordings, their facts and pulses.
    #[arg(long, conflicts_with = "csv")]
    json: bool,
    /// Print one table of comma-separated values, a row a pulse.
    #[arg(long)]
    csv: bool,
    /// Write lines that begin with # into the table: what its columns mean, how was measured, what each recording is.
    #[arg(long, requires = "csv")]
    about: bool,
    /// Time expansion, where you know it better than the files: 1 for real time, 10 for
    /// recordings that were slowed down ten times.
    #[arg(long, value_name = "N", value_parser = parse_expansion)]
    expansion: Option<f64>,
    /// Channel to measure, counted from 1.
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = clap::value_parser!(u16).range(1..))]
    channel: u16,
    /// Add each pulse's contour to the JSON.
    #[arg(long, requires = "json")]
    contours: bool,
}

/// One recording, measured.
#[derive(Debug)]
pub(crate) struct Measured {
    /// The file as it was named.
    pub(crate) file: String,
    /// Channel that was measured, counted from 1.
    pub(crate) channel: u16,
    pub(crate) facts: Facts,
    pub(crate) findings: Findings,
}

/// Why a file gave nothing.
enum Fault {
    Open(io::Error),
    Read(ReadError),
}

/// Measures all files in their order.
pub(crate) fn run(options: &Options) -> ExitCode {
    let mut report: Box<dyn Report> = if options.json {
        Box::new(report::Json::new(options.contours))
    } else if options.csv {
        Box::new(report::Csv::new(options.about))
    } else {
        Box::new(report::People)
    };
    match write_all(options, report.as_mut(), &mut io::stdout().lock()) {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        // Whoever reads us has seen enough, as `head` does.
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => ExitCode::SUCCESS,
        Err(error) => {
            complain(&format!("the numbers could not be written: {error}"));
            ExitCode::FAILURE
        }
    }
}

/// Whether every file could be measured; fails where the report cannot be written.
fn write_all(options: &Options, report: &mut dyn Report, out: &mut dyn Write) -> io::Result<bool> {
    let mut all_good = true;
    report.begin(out)?;
    for path in &options.files {
        match measure(path, options) {
            Ok(measured) => report.recording(&measured, out)?,
            Err(fault) => {
                all_good = false;
                complain(&format!("{}: {}", path.display(), fault.text()));
            }
        }
    }
    report.end(out)?;
    out.flush()?;
    Ok(all_good)
}

fn measure(path: &Path, options: &Options) -> Result<Measured, Fault> {
    let source = FileSource::open(path).map_err(Fault::Open)?;
    let choice = OpenOptions {
        expansion: options.expansion,
    };
    let recording = Recording::open(source, &choice).map_err(Fault::Read)?;
    let findings = pulse::measure(&recording, options.channel - 1, &Settings::default())
        .map_err(Fault::Read)?;
    Ok(Measured {
        file: path.display().to_string(),
        channel: options.channel,
        facts: recording.facts().clone(),
        findings,
    })
}

impl Fault {
    /// The fault and what to do about it.
    fn text(&self) -> String {
        match self {
            Self::Open(error) => format!("the file could not be opened: {error}"),
            Self::Read(error) => format!("{error}. {}", error.advice()),
        }
    }
}

/// A line on standard error. Where even that fails, nothing more can be said.
pub(crate) fn complain(text: &str) {
    let _ = writeln!(io::stderr(), "dusklens: {}", report::printable(text));
}

pub(crate) fn parse_expansion(text: &str) -> Result<f64, String> {
    text.parse()
        .ok()
        .filter(|factor| (1.0..=1000.0).contains(factor))
        .ok_or_else(|| "give a number from 1 to 1000".to_owned())
}
