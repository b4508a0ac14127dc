//! Prints the truth table: how well synthetic recordings are found and measured.

use std::error::Error;
use std::fs;
use std::path::PathBuf;

use clap::Parser;
use dusklens_tests::truth::draw::Set;
use dusklens_tests::truth::run::{Outcome, file};
use dusklens_tests::truth::{Amount, jobs, names, report, table};

/// Draws recordings with fixed seeds, measures them, and compares with their truth.
#[derive(Debug, Parser)]
struct Arguments {
    /// The draw: `tune` to work on the measurement, `report` to say how good it is.
    #[arg(long, value_enum, default_value = "report")]
    set: Set,
    /// Only this shape, case or kind of background.
    #[arg(long, value_name = "NAME")]
    only: Option<String>,
    /// Recordings of each shape and case with bats.
    #[arg(long, default_value_t = Amount::FULL.bats)]
    bats: u64,
    /// Recordings of each kind of background without bats.
    #[arg(long, default_value_t = Amount::FULL.silence)]
    silence: u64,
    /// List what was missed, far off or extra.
    #[arg(long)]
    list_misses: bool,
    /// Write the recordings of listed misses into this folder.
    #[arg(long, value_name = "FOLDER")]
    save: Option<PathBuf>,
    /// Print the figures as JSON instead of tables.
    #[arg(long)]
    json: bool,
}

fn main() -> Result<(), Box<dyn Error + Send + Sync>> {
    let arguments = Arguments::parse();
    let amount = Amount {
        bats: arguments.bats,
        silence: arguments.silence,
    };
    let jobs = jobs(amount, arguments.only.as_deref());
    if jobs.is_empty() {
        return Err(format!("nothing of that name; choose from {}", names().join(", ")).into());
    }
    let (outcomes, tally) = table(arguments.set, &jobs)?;
    if arguments.json {
        println!("{}", serde_json::to_string_pretty(&tally)?);
    } else {
        print!("{}", report::report(arguments.set, &tally));
    }
    for outcome in &outcomes {
        let misses = report::misses(outcome);
        if arguments.list_misses {
            misses.iter().for_each(|line| println!("{line}"));
        }
        if let (Some(folder), false) = (&arguments.save, misses.is_empty()) {
            save(folder, arguments.set, outcome)?;
        }
    }
    Ok(())
}

fn save(folder: &PathBuf, set: Set, outcome: &Outcome) -> Result<(), Box<dyn Error + Send + Sync>> {
    fs::create_dir_all(folder)?;
    let scene = outcome.job.scene(set);
    let bytes = file(&scene, &scene.render())?;
    fs::write(folder.join(outcome.job.name() + ".wav"), bytes)?;
    Ok(())
}
