//! The steps that cargo runs.

use std::process::Command;

use anyhow::Result;
use xshell::cmd;

use super::browser::Browser;
use crate::toolchain::{self, Toolchain};
use crate::workspace::{self, run, shell_in};

/// The project's own tools. They are checked as they are used, which is without optimisation: their dependencies
/// would take minutes to compile otherwise.
const TOOLS: [&str; 2] = ["dusklens-xtask", "dusklens-wasm-test-runner"];

pub(super) fn format() -> Result<()> {
    let shell = shell_in(workspace::root())?;
    cmd!(shell, "cargo fmt --all --check").run()?;
    Ok(())
}

pub(super) fn lint() -> Result<()> {
    let shell = shell_in(workspace::root())?;
    let (excluded, included) = (tools_after("--exclude"), tools_after("--package"));
    cmd!(
        shell,
        "cargo clippy --workspace {excluded...} --all-targets --locked -- --deny warnings"
    )
    .run()?;
    cmd!(
        shell,
        "cargo clippy --profile tools {included...} --all-targets --locked -- --deny warnings"
    )
    .run()?;
    Ok(())
}

pub(super) fn test() -> Result<()> {
    let shell = shell_in(workspace::root())?;
    let excluded = tools_after("--exclude");
    cmd!(
        shell,
        "cargo test --workspace {excluded...} --locked --no-fail-fast"
    )
    .run()?;
    cmd!(
        shell,
        "cargo test --profile tools --package dusklens-xtask --locked"
    )
    .run()?;
    Ok(())
}

/// Builds the command line for the tests of the page, just as [`test`] has built it: with the same profile, and, as a dependency of
/// one of its own tests, with the same features. A plain `cargo build` would compile it and all that it needs anew.
pub(super) fn build_command_line() -> Result<()> {
    let shell = shell_in(workspace::root())?;
    let excluded = tools_after("--exclude");
    cmd!(
        shell,
        "cargo test --workspace {excluded...} --locked --no-run --quiet --test figure"
    )
    .run()?;
    Ok(())
}

pub(super) fn lint_for_browser() -> Result<()> {
    let toolchain = toolchain::ensure()?;
    if toolchain == Toolchain::Debian {
        println!("    not run: Debian's compiler for wasm comes without clippy");
        return Ok(());
    }
    run(for_browser(toolchain, "clippy").args([
        "--all-targets",
        "--locked",
        "--",
        "--deny",
        "warnings",
    ]))
}

pub(super) fn test_in_browser() -> Result<()> {
    let toolchain = toolchain::ensure()?;
    let browser = Browser::ensure()?;
    let shell = shell_in(workspace::root())?;
    let target = workspace::target();
    cmd!(
        shell,
        "cargo build --profile tools --package dusklens-wasm-test-runner --locked --target-dir {target}"
    )
    .run()?;
    let runner = target.join("tools/dusklens-wasm-test-runner");
    run(for_browser(toolchain, "test")
        // Compiling as for other tests would take longer than running these few does.
        .args(["--profile", "dev", "--lib", "--tests", "--locked"])
        .env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUNNER", runner)
        // The runner's own 20 seconds are too few on a busy machine, where the browser alone takes as long to start.
        .env("WASM_BINDGEN_TEST_TIMEOUT", "300")
        .env("CHROMEDRIVER", browser.driver))
}

/// A cargo command on the page's package, built for wasm.
fn for_browser(toolchain: Toolchain, verb: &str) -> Command {
    let mut cargo = toolchain.cargo(verb, "std,panic_abort,test");
    cargo
        .args(["--package", "dusklens-web"])
        .current_dir(workspace::root());
    cargo
}

fn tools_after(flag: &'static str) -> Vec<&'static str> {
    TOOLS.into_iter().flat_map(|tool| [flag, tool]).collect()
}
