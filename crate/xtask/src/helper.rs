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

/// Runs a program of the tests' package, optimised.
///
/// # Errors
/// When it does not compile or does not succeed.
pub(crate) fn run(program: &str, options: &Options) -> Result<()> {
    run_command(
        Command::new("cargo")
            .args(["run", "--release", "--package", "dusklens-tests"])
            .args(["--bin", program, "--"])
            .args(&options.arguments)
            .current_dir(workspace::root()),
    )
}
