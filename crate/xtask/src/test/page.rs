//! The steps on the page's TypeScript, and on the page itself.

use std::process::Command;

use anyhow::Result;

use super::browser::Browser;
use super::ensure_modules;
use crate::workspace::{self, run};

/// The TypeScript projects, seen from the workspace's folder.
const PROJECTS: [&str; 4] = [
    "www/tsconfig.json",
    "www/tsconfig.worker.json",
    "www/tsconfig.build.json",
    "tests/page/tsconfig.json",
];

pub(super) fn types() -> Result<()> {
    // The types of all that crosses from Rust are written with the bindings.
    crate::page::build_core()?;
    ensure_modules()?;
    for project in PROJECTS {
        println!("    {project}");
        run(tool("tsc").args(["--noEmit", "--project", project]))?;
    }
    Ok(())
}

pub(super) fn lint() -> Result<()> {
    ensure_modules()?;
    run(tool("oxlint").args([
        "--config",
        "www/.oxlintrc.json",
        "--deny-warnings",
        "www",
        "tests/page",
    ]))
}

/// Builds the page, if need be, and runs the browser tests on it.
pub(super) fn drive() -> Result<()> {
    super::rust::build_command_line()?;
    let mut playwright = playwright("playwright.config.ts")?;
    run(playwright.env("COMMAND_LINE_IS_BUILT", "true"))
}

/// Builds the page, if need be, and takes the time from a file to its pulses.
///
/// # Errors
/// When the page cannot be built, or does not measure.
pub(crate) fn bench() -> Result<()> {
    run(&mut playwright("bench/playwright.config.ts")?)
}

/// Playwright on the page, once that is built.
fn playwright(configuration: &str) -> Result<Command> {
    ensure_modules()?;
    let browser = Browser::ensure()?;
    crate::page::build()?;
    let mut command = Command::new("node");
    command
        .args(["node_modules/@playwright/test/cli.js", "test", "--config"])
        .arg(configuration)
        .env("CHROMIUM", browser.program)
        .current_dir(workspace::page_tests());
    Ok(command)
}

/// A program of the page's node modules, to be run in the workspace's folder.
fn tool(name: &str) -> Command {
    let mut command = Command::new(workspace::www().join("node_modules/.bin").join(name));
    command.current_dir(workspace::root());
    command
}
