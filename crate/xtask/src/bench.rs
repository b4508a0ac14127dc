//! `cargo xtask bench`: how fast the core is natively, in wasm beside a known yardstick, and on the page.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, bail};
use clap::{Args, ValueEnum};
use serde_json::Value;
use xshell::cmd;

use crate::progress::step;
use crate::test::page;
use crate::wasm::{self, Quality};
use crate::workspace::{self, path_of, run, shell_in};
use crate::{npm, toolchain};

/// Five seconds at 500 kHz.
const SAMPLES: usize = 2_500_000;

/// How often both take their turn, so that a slow moment of the machine meets both.
const ROUNDS: usize = 5;

/// Timed runs in each turn.
const RUNS: usize = 5;

/// What to measure.
#[derive(Args)]
pub(crate) struct Options {
    /// Only this one; all of them if none is named
    #[arg(long, value_enum)]
    only: Option<Bench>,
    /// A Python with numpy and scipy; without it, one is set up
    #[arg(long, value_name = "PROGRAM")]
    python: Option<PathBuf>,
}

/// What can be timed.
#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Bench {
    /// Transform, finding and measuring, natively
    Native,
    /// The transform in wasm and in scipy, by turns
    Wasm,
    /// From a chosen file to its picture and its pulses, in a browser
    Page,
}

/// Runs the benches.
///
/// # Errors
/// When one fails, or the two transforms do not give the same powers.
pub(crate) fn run_all(options: &Options) -> Result<()> {
    let wanted = |bench| options.only.is_none_or(|only| only == bench);
    if wanted(Bench::Native) {
        native()?;
    }
    if wanted(Bench::Wasm) {
        wasm_and_scipy(options)?;
    }
    if wanted(Bench::Page) {
        step("From a file to its pulses, in a browser", page::bench)?;
    }
    Ok(())
}

fn native() -> Result<()> {
    run(Command::new("cargo")
        .args(["bench", "--package", "dusklens-core", "--benches"])
        .current_dir(workspace::root()))
}

fn wasm_and_scipy(options: &Options) -> Result<()> {
    npm::ensure(&workspace::www())?;
    let bindings = workspace::scratch().join("bench-bindings");
    step("Building the transform for wasm", || {
        let compiled = wasm::compile(toolchain::ensure()?, Quality::Release, &["bench"])?;
        wasm::bind(&compiled, &bindings)?;
        wasm::shrink(&wasm::file_in(&bindings))
    })?;
    step("Measuring beside the transform, in wasm", || {
        run(Command::new("node")
            .arg(workspace::root().join("crate/web/bench/measure.mjs"))
            .arg(&bindings)
            .arg((ROUNDS * RUNS).to_string()))
    })?;
    let python = match &options.python {
        Some(python) => python.clone(),
        None => step("Setting up Python with scipy", ensure_python)?,
    };
    let input = workspace::scratch().join("bench-input.f32");
    fs::write(&input, signal())?;
    step("Transform in wasm and in scipy, by turns", || {
        compare(&bindings, &python, &input)
    })
}

fn compare(bindings: &Path, python: &Path, input: &Path) -> Result<()> {
    let scripts = workspace::root().join("crate/web/bench");
    let (mut ours, mut theirs) = (Timing::default(), Timing::default());
    for _ in 0..ROUNDS {
        ours.add(
            Command::new("node")
                .arg(scripts.join("transform.mjs"))
                .arg(bindings)
                .arg(input)
                .arg(RUNS.to_string()),
        )?;
        theirs.add(
            Command::new(python)
                .arg(scripts.join("transform.py"))
                .arg(input)
                .arg(RUNS.to_string())
                .envs(["OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"].map(|name| (name, "1"))),
        )?;
    }
    let off = (ours.total / theirs.total - 1.0).abs();
    if off.is_nan() || off > 1e-3 {
        bail!(
            "the two did not do the same work: powers of {} and {} in all",
            ours.total,
            theirs.total
        );
    }
    let (wasm, scipy) = (ours.median(), theirs.median());
    println!(
        "    wasm {wasm:.1} ms, scipy {scipy:.1} ms (medians of {} runs each)",
        ROUNDS * RUNS
    );
    println!("    wasm takes {:.2} of scipy's time", wasm / scipy);
    Ok(())
}

/// The times of one side, and what its powers add up to.
#[derive(Default)]
struct Timing {
    ms: Vec<f64>,
    total: f64,
}

impl Timing {
    /// Runs a script and takes its figures in.
    fn add(&mut self, script: &mut Command) -> Result<()> {
        let output = script.output().context("could not start the bench")?;
        if !output.status.success() {
            bail!("{}", String::from_utf8_lossy(&output.stderr));
        }
        let figures: Value = serde_json::from_slice(&output.stdout)?;
        let ms = figures["ms"]
            .as_array()
            .context("the bench printed no times")?;
        self.ms.extend(ms.iter().filter_map(Value::as_f64));
        self.total = figures["total"]
            .as_f64()
            .context("the bench printed no total")?;
        Ok(())
    }

    fn median(&self) -> f64 {
        let mut sorted = self.ms.clone();
        sorted.sort_by(f64::total_cmp);
        sorted.get(sorted.len() / 2).copied().unwrap_or(f64::NAN)
    }
}

/// A sweep in noise as 32-bit floats. Both sides read this same file.
fn signal() -> Vec<u8> {
    let mut state = 1_u32;
    (0..SAMPLES)
        .flat_map(|n| {
            // Numerical Recipes' linear congruential generator: plain, and the same everywhere.
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            let noise = f64::from(state) / f64::from(u32::MAX) - 0.5;
            let t = n as f64 / 500_000.0;
            let sweep = (std::f64::consts::TAU * (20_000.0 + 8_000.0 * t) * t).sin();
            ((0.5 * sweep + 0.1 * noise) as f32).to_le_bytes()
        })
        .collect()
}

/// A Python of our own with the packages that the bench's list names.
fn ensure_python() -> Result<PathBuf> {
    let folder = workspace::scratch().join("python");
    let python = folder.join("bin/python");
    let list = workspace::root().join("crate/web/bench/requirements.txt");
    let shell = shell_in(workspace::root())?;
    if !python.exists() {
        if path_of("python3").is_none() {
            bail!("Python is needed: apt-get install python3-venv, or name one with --python");
        }
        cmd!(shell, "python3 -m venv {folder}")
            .run()
            .context("Python cannot make an environment: apt-get install python3-venv")?;
    }
    cmd!(
        shell,
        "{python} -m pip install --quiet --disable-pip-version-check --requirement {list}"
    )
    .run()?;
    Ok(python)
}

#[cfg(test)]
mod tests {
    use super::Timing;

    #[test]
    fn the_median_does_not_depend_on_order() {
        let timing = Timing {
            ms: vec![9.0, 1.0, 5.0, 100.0, 2.0],
            total: 0.0,
        };
        assert!((timing.median() - 5.0).abs() < f64::EPSILON);
    }
}
