//! The project's own commands: `cargo xtask page`, `cargo xtask test` and their smaller kin.

mod bench;
mod fingerprint;
mod helper;
mod licences;
mod npm;
mod packages;
mod page;
mod progress;
mod test;
mod toolchain;
mod wasm;
mod workspace;

use std::process::ExitCode;

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
    /// Make the sample recordings anew, or an invented night of N recordings: --night N
    Samples(helper::Options),
    /// Measure synthetic calls, compare with what is known of them, and write a report page
    Truth(helper::Options),
    /// Time the core, natively and in wasm
    Bench(bench::Options),
    /// Check the licences of everything that is used
    Licences,
    /// Run every check and test
    Test(test::Options),
}

fn main() -> ExitCode {
    let result = match Arguments::parse().task {
        Task::Page(options) => page::run(&options),
        Task::Samples(options) => helper::samples(&options),
        Task::Truth(options) => helper::run("truth", &options),
        Task::Bench(options) => bench::run_all(&options),
        Task::Licences => licences::audit(),
        Task::Test(options) => test::run(&options),
    };
    if let Err(error) = result {
        eprintln!("{error:#}");
        return ExitCode::FAILURE;
    }
    ExitCode::SUCCESS
}
