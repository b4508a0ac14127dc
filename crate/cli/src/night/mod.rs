//! `dusklens night`: the recordings of whole nights, worked through on all cores, and tables of them.
//!
//! ```text
//! folders -> walk -> files; those that the journal knows are not read again
//! files   -> working (all cores) -> journal, a line a file
//! journal -> Card -> nights -> results
//! ```

mod arguments;
mod journal;
mod keep_file;
mod output;
mod parquet;
mod progress;
mod pulses;
mod results;
mod walk;
mod working;

use std::io::{self, Write};
use std::path::PathBuf;
use std::process::ExitCode;

use clap::Args;
use dusklens_core::night::tables::darwin::{PlaceSharing, Sharing};
use dusklens_core::night::{
    Card, ClockError, Decisions, ExamineOptions, NightSettings, Position, Timer,
};

use crate::measure::{complain, parse_expansion};
use journal::Journal;
use output::Output;
use walk::Found;

/// Examine the recordings of whole nights, and write tables of them.
///
/// Folders are searched to their bottom. Every file that is examined is noted in DIR/examined.jsonl at once: when the
/// command is stopped and given again, it goes on where it was. Files that cannot be read as recordings are listed in the
/// tables. The exit code is 1 where something could not be had from the disk or written to it.
#[derive(Debug, Args)]
pub(crate) struct Options {
    /// Folders with recordings.
    #[arg(required = true, value_name = "FOLDER")]
    folders: Vec<PathBuf>,
    /// Where the results go; made where it is not there.
    #[arg(long, value_name = "DIR")]
    out: PathBuf,
    /// Name of the site.
    #[arg(long, value_name = "NAME", default_value = "")]
    site: String,
    /// How far local time is ahead of UTC. Clocks of recorders that do not say run in it, and times are given in it.
    #[arg(long, value_name = "+HH:MM", default_value = "+00:00", allow_hyphen_values = true, value_parser = arguments::utc_offset)]
    utc_offset: i32,
    /// How many seconds the recorder's clock was fast when it was set up; negative where it was slow.
    #[arg(long, value_name = "S", default_value_t = 0.0, allow_hyphen_values = true, value_parser = arguments::seconds)]
    clock_error: f64,
    /// The same when it was collected, where that is another; in between it is taken to drift evenly.
    #[arg(long, value_name = "S", allow_hyphen_values = true, value_parser = arguments::seconds)]
    clock_error_at_end: Option<f64>,
    /// How date and time stand in the names of files, where they are not recognised.
    #[arg(long, value_name = "PATTERN", value_parser = arguments::name_pattern)]
    name_pattern: Option<String>,
    /// Where the recorder stood, degrees north and east.
    #[arg(long, value_name = "LAT,LON", allow_hyphen_values = true, value_parser = arguments::position)]
    position: Option<Position>,
    /// When the recorder was meant to run: 20:50-05:10, or sunset-30..sunrise+30 in minutes.
    #[arg(long, value_name = "FROM-TO", value_parser = arguments::timer)]
    timer: Option<Timer>,
    /// The fewest pulses that make a pass.
    #[arg(long, value_name = "N", default_value_t = 2, value_parser = clap::value_parser!(u32).range(1..=1000))]
    pass_pulses: u32,
    /// Width of the bins of activity, minutes.
    #[arg(long, value_name = "MIN", default_value_t = 10, value_parser = clap::value_parser!(u32).range(1..=120))]
    bin: u32,
    /// Who answers for the survey.
    #[arg(long, value_name = "NAME", default_value = "")]
    who: String,
    /// The weather, in your words.
    #[arg(long, value_name = "WORDS", default_value = "")]
    weather: String,
    /// Time expansion, where you know it better than the files.
    #[arg(long, value_name = "N", value_parser = parse_expansion)]
    expansion: Option<f64>,
    /// Channel to examine, counted from 1; of a file that has fewer, the last.
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = clap::value_parser!(u16).range(1..))]
    channel: u16,
    /// A keep file that the page wrote: its labels go into the tables.
    #[arg(long, value_name = "FILE")]
    labels: Option<PathBuf>,
    /// How exactly the place is given in the tables of events.
    #[arg(long, value_enum, default_value_t = arguments::Place::Exact)]
    place: arguments::Place,
    /// How many files are examined at once; as many as there are cores unless you say.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024))]
    jobs: Option<u16>,
}

/// What stops the command before it has results.
pub(crate) enum Stop {
    /// It was asked for something that cannot be.
    Usage(String),
    /// The disk did not do what it was told to.
    Disk(String),
}

/// Examines what is not known yet, and writes all results.
pub(crate) fn run(options: &Options) -> ExitCode {
    match work(options) {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(Stop::Usage(text)) => {
            complain(&text);
            ExitCode::from(2)
        }
        Err(Stop::Disk(text)) => {
            complain(&text);
            ExitCode::FAILURE
        }
    }
}

/// Whether everything could be had from the disk.
fn work(options: &Options) -> Result<bool, Stop> {
    let decisions = match &options.labels {
        Some(path) => keep_file::read(path)?,
        None => Decisions::default(),
    };
    let output = Output::prepare(&options.out, &options.folders)?;
    let found = walk::walk(&options.folders, &output)?;
    let mut journal = Journal::open(&output, options.examine())?;
    let read = working::examine(&found, &mut journal, options)?;
    for line in found.in_words(read.examined, read.known) {
        tell(&line);
    }
    let all_good = found.all_good && read.unreadable.is_empty();
    let card = gather(&found, &journal, &read);
    let settings = options.settings();
    let (nights, unplaced) = card.nights(&settings);
    let hand_in = results::HandIn {
        nights: &nights,
        unplaced: &unplaced,
        decisions: &decisions,
        sharing: options.sharing(),
        examined_with: options.examine(),
    };
    hand_in.write(&output, &found, &mut journal)?;
    for line in hand_in.in_words() {
        tell(&line);
    }
    Ok(all_good)
}

/// A line for people. Whoever reads us may have seen enough.
fn tell(line: &str) {
    let _ = writeln!(io::stdout(), "{line}");
}

/// All files that were found, with what is known of each.
fn gather(found: &Found, journal: &Journal, read: &working::Read) -> Card {
    let mut card = Card::default();
    for file in &found.files {
        let known = journal.card_file(file);
        let unreadable = || read.unreadable.get(&file.shown).cloned();
        if let Some(file) = known.or_else(unreadable) {
            card.take(file);
        }
    }
    card
}

impl Options {
    fn examine(&self) -> ExamineOptions {
        ExamineOptions {
            expansion: self.expansion,
            channel: self.channel - 1,
        }
    }

    fn sharing(&self) -> Sharing {
        Sharing {
            place: match self.place {
                arguments::Place::Exact => PlaceSharing::Exact,
                arguments::Place::Rounded => PlaceSharing::Rounded,
                arguments::Place::Withheld => PlaceSharing::Withheld,
            },
        }
    }

    fn settings(&self) -> NightSettings {
        NightSettings {
            site: self.site.clone(),
            utc_offset_min: self.utc_offset,
            clock: ClockError {
                at_setup_s: self.clock_error,
                at_collection_s: self.clock_error_at_end,
            },
            name_pattern: self.name_pattern.clone(),
            position: self.position,
            timer: self.timer,
            pass_min_pulses: self.pass_pulses,
            bin_min: self.bin,
            who: self.who.clone(),
            weather: self.weather.clone(),
            remarks: String::new(),
        }
    }

    fn jobs(&self) -> usize {
        let cores = || std::thread::available_parallelism().map_or(1, usize::from);
        self.jobs.map_or_else(cores, usize::from)
    }
}
