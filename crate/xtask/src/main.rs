//! The project's own commands: `cargo xtask page`, `cargo xtask test` and their smaller kin.

mod fingerprint;
mod npm;
mod page;
mod progress;
mod toolchain;
mod wasm;
mod workspace;

use anyhow::Result;
use clap::{Parser, Subcommand};

/// Builds, serves, tests and measures Dusklens.
#[derive(Parser)]
#[command(name = "cargo xtask", bin_name = "cargo xtask")]
struct Arguments {
    #[command(subcommand)]
    task: Task,
}

#[derive(Subcommand)]
enum Task {
    /// Build the page and serve it on this machine
    Page(page::Options),
}

fn main() -> Result<()> {
    match Arguments::parse().task {
        Task::Page(options) => page::run(&options),
    }
}
