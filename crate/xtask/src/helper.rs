//! `cargo xtask samples` and `cargo xtask truth`: programs of the tests' package, run by a shorter name.

use std::process::Command;

use anyhow::Result;
use clap::Args;

use crate::workspace::{self, run as run_command};

/// What the program itself is told.
#[derive(Args)]
pub(crate) struct Options {
    /// Passed on as it is; `--help` shows what the program takes
    #[arg(trailing_var_arg = true, allow_hyphen_values = true)]
    arguments: Vec<String>,
}

/// The profile of programs whose figures are kept, or whose time counts.
const OPTIMISED: &str = "release";
/// The profile of programs that are built sooner and run nearly as fast.
const QUICK: &str = "quick";

/// Runs a program of the tests' package, optimised.
///
/// # Errors
/// When it does not compile or does not succeed.
pub(crate) fn run(program: &str, options: &Options) -> Result<()> {
    run_as(OPTIMISED, program, options)
}

/// Makes the sample recordings, or a whole night of them with `--night`.
///
/// # Errors
/// As [`run`].
pub(crate) fn samples(options: &Options) -> Result<()> {
    let night = |argument: &String| argument == "--night" || argument.starts_with("--night=");
    if options.arguments.iter().any(night) {
        run_as(QUICK, "night", options)
    } else {
        run("samples", options)
    }
}

fn run_as(profile: &str, program: &str, options: &Options) -> Result<()> {
    run_command(
        Command::new("cargo")
            .args(["run", "--profile", profile, "--package", "dusklens-tests"])
            .args(["--bin", program, "--"])
            .args(&options.arguments)
            .current_dir(workspace::root()),
    )
}
