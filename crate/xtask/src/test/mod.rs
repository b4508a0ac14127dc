//! `cargo xtask test`: everything that has to hold before a change is taken in.

mod browser;
pub(crate) mod page;
mod rust;

use std::time::Instant;

use anyhow::{Result, bail};
use clap::{Args, ValueEnum};

use crate::progress::{elapsed, step};
use crate::{licences, npm, workspace};

/// Which of the steps to run.
#[derive(Args)]
pub(crate) struct Options {
    /// Steps to run; all of them if none is named
    #[arg(value_enum)]
    only: Vec<Step>,
}

/// The steps, in the order in which they run: the quick and the basic first.
#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Step {
    /// Rust code is formatted
    Format,
    /// Licences of everything that is used fit ours
    Licences,
    /// Clippy finds nothing
    Lint,
    /// Rust tests, with those in the documentation
    Rust,
    /// Clippy finds nothing in the code for the browser
    LintWasm,
    /// Rust tests inside a browser
    Wasm,
    /// The page builds
    Page,
    /// TypeScript's types hold
    Types,
    /// The TypeScript linter finds nothing
    LintPage,
    /// The page does its work in a browser
    Browser,
}

impl Step {
    fn title(self) -> &'static str {
        match self {
            Self::Format => "Format of the Rust code",
            Self::Licences => "Licences",
            Self::Lint => "Clippy",
            Self::Rust => "Rust tests",
            Self::LintWasm => "Clippy, for the browser",
            Self::Wasm => "Rust tests in a browser",
            Self::Page => "Build of the page",
            Self::Types => "Types of the TypeScript code",
            Self::LintPage => "Linter of the TypeScript code",
            Self::Browser => "The page in a browser",
        }
    }

    fn run(self) -> Result<()> {
        match self {
            Self::Format => rust::format(),
            Self::Licences => licences::audit(),
            Self::Lint => rust::lint(),
            Self::Rust => rust::test(),
            Self::LintWasm => rust::lint_for_browser(),
            Self::Wasm => rust::test_in_browser(),
            Self::Page => crate::page::build(),
            Self::Types => page::types(),
            Self::LintPage => page::lint(),
            Self::Browser => page::drive(),
        }
    }
}

/// Runs the steps, all of them even where one fails, and closes with how many passed.
///
/// # Errors
/// When a step failed.
pub(crate) fn run(options: &Options) -> Result<()> {
    let begun = Instant::now();
    let mut failed = Vec::new();
    let mut passed = 0;
    for wanted in Step::value_variants() {
        if !options.only.is_empty() && !options.only.contains(wanted) {
            continue;
        }
        match step(wanted.title(), || wanted.run()) {
            Ok(()) => passed += 1,
            Err(error) => {
                println!("    {error:#}");
                failed.push(wanted.title());
            }
        }
    }
    for title in &failed {
        println!("Failed: {title}");
    }
    println!(
        "{passed} passed, {} failed (steps) in {}",
        failed.len(),
        elapsed(begun)
    );
    if failed.is_empty() {
        return Ok(());
    }
    bail!("not everything holds");
}

/// Installs the node modules of the page and of its tests where they are not those of the lock files.
fn ensure_modules() -> Result<()> {
    npm::ensure(&workspace::www())?;
    npm::ensure(&workspace::page_tests())
}
