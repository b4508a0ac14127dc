//! Writes an invented night of the Larkwater Fen survey with its truth and its faults.

use std::error::Error;
use std::io::Write;
use std::path::PathBuf;
use std::sync::Mutex;
use std::time::{Duration, Instant};

use clap::{Parser, ValueEnum};
use dusklens_core::teach::night::{Fault, NightOptions, NightPlan};
use dusklens_tests::night;

/// How often the progress line is drawn anew.
const REDRAWN: Duration = Duration::from_millis(500);

/// Writes a card of recordings that a night never filled, and what is true of it.
///
/// Faults: cut-off, foreign, twice, clock-jump, silent-gap, card-full, gain-high, gain-low,
/// moisture, microphone, tone, stuck, settings, rate-low, other-night, noise-triggers.
#[derive(Parser)]
#[command(name = "cargo xtask samples", bin_name = "cargo xtask samples")]
struct Arguments {
    /// Recordings that the trigger makes; what faults add comes besides
    #[arg(long, value_name = "N")]
    night: usize,
    /// Folder that gets the card and, beside it, night-truth.json
    #[arg(long, default_value = "target/night")]
    out: PathBuf,
    /// Everything random follows from it
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Length of the longest recordings, if not 5 s
    #[arg(long, value_name = "SECONDS", default_value_t = 5.0)]
    short: f64,
    /// Give every recording that length, instead of ending some earlier
    #[arg(long)]
    fixed_length: bool,
    /// Put this fault in, and others only where they are named too
    #[arg(long, value_name = "NAME", num_args = 1.., conflicts_with = "faults")]
    fault: Vec<Fault>,
    /// All faults that one night can show together, or none
    #[arg(long, value_enum, default_value = "all")]
    faults: Faults,
}

#[derive(Clone, Copy, ValueEnum)]
enum Faults {
    All,
    None,
}

fn main() -> Result<(), Box<dyn Error>> {
    let arguments = Arguments::parse();
    let faults = match (arguments.fault.is_empty(), arguments.faults) {
        (false, _) => arguments.fault.clone(),
        (true, Faults::All) => Fault::together(),
        (true, Faults::None) => Vec::new(),
    };
    let plan = NightPlan::new(&NightOptions {
        files: arguments.night,
        seed: arguments.seed,
        duration_s: arguments.short,
        fixed_length: arguments.fixed_length,
        faults,
    })?;
    let begun = Instant::now();
    let line = Line::new(plan.files.len());
    let bytes = night::write(&plan, &arguments.out, |files, bytes| {
        line.redraw(files, bytes);
    })?;
    let seconds = begun.elapsed().as_secs_f64();
    let names: Vec<_> = plan.truth.faults.iter().map(|f| f.name()).collect();
    eprintln!();
    println!(
        "{} files, {:.2} GB in {seconds:.1} s ({:.1} files/s) in {}",
        plan.files.len(),
        bytes as f64 / 1e9,
        plan.files.len() as f64 / seconds,
        arguments.out.display()
    );
    println!(
        "{} files with bats, {} passes, {} feeding buzzes; faults: {}",
        plan.truth.files_with_bats,
        plan.truth.passes,
        plan.truth.buzzes,
        if names.is_empty() {
            "none".into()
        } else {
            names.join(", ")
        }
    );
    Ok(())
}

/// One line on the screen that tells how far the work has come.
struct Line {
    files: usize,
    drawn: Mutex<Instant>,
}

impl Line {
    fn new(files: usize) -> Line {
        eprint!("making the long stretches of hiss, wind and insects ...");
        Line {
            files,
            drawn: Mutex::new(Instant::now()),
        }
    }

    fn redraw(&self, files: usize, bytes: u64) {
        // Whoever finds the line being drawn leaves it.
        let Ok(mut drawn) = self.drawn.try_lock() else {
            return;
        };
        if drawn.elapsed() < REDRAWN && files < self.files {
            return;
        }
        *drawn = Instant::now();
        let gigabytes = bytes as f64 / 1e9;
        eprint!(
            "\r{:<60}",
            format!("{files} of {} files, {gigabytes:.2} GB", self.files)
        );
        // A line that cannot be drawn is no reason to stop.
        let _ = std::io::stderr().flush();
    }
}
