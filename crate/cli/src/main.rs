//! `dusklens`: the core on a command line.

mod figure;
mod file;
mod measure;
mod night;
mod report;

use std::process::ExitCode;

use clap::{Parser, Subcommand};

/// Measures recordings of bats. Nothing leaves this machine, and no recording is changed.
#[derive(Debug, Parser)]
#[command(version, about, arg_required_else_help = true)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    Figure(figure::Options),
    Measure(measure::Options),
    Night(Box<night::Options>),
}

fn main() -> ExitCode {
    match Arguments::parse().command {
        Command::Figure(options) => figure::run(&options),
        Command::Measure(options) => measure::run(&options),
        Command::Night(options) => night::run(&options),
    }
}
