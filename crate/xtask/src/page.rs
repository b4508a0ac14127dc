//! `cargo xtask page`: from the sources to a page that a browser shows.

use std::path::{Path, PathBuf};
use std::process::{Child, Command};
use std::thread;
use std::time::Duration;

use anyhow::{Context, Result, bail};
use clap::Args;

use crate::fingerprint::Stamp;
use crate::progress::step;
use crate::toolchain::{self, Toolchain};
use crate::wasm::{self, Quality};
use crate::{npm, workspace};

/// How often the Rust sources are looked at for a change.
const WATCH_EVERY: Duration = Duration::from_millis(500);

/// How the page is to be built and shown.
#[derive(Args)]
pub(crate) struct Options {
    /// Only build; serve nothing
    #[arg(long, conflicts_with_all = ["dev", "port"])]
    no_serve: bool,
    /// Serve the sources with live reload, and rebuild the wasm when the Rust code changes
    #[arg(long)]
    dev: bool,
    /// Port to serve on; where it is taken, the next free one is used
    #[arg(long, default_value_t = 4173)]
    port: u16,
}

/// Builds the page and, unless told otherwise, serves it.
///
/// # Errors
/// When a step fails; what to do about it is in the message.
pub(crate) fn run(options: &Options) -> Result<()> {
    if options.dev {
        return serve_sources(options.port);
    }
    build()?;
    println!("\nThe page in one file: {}", one_file().display());
    if options.no_serve {
        println!("The static site:      {}", site().display());
        return Ok(());
    }
    let status = vite(&["preview", "--port", &options.port.to_string()]).status()?;
    if !status.success() {
        bail!("the server ended with {status}");
    }
    Ok(())
}

/// Builds both shapes of the page unless they are up to date.
///
/// # Errors
/// When a step fails.
pub(crate) fn build() -> Result<()> {
    build_core()?;
    let stamp = Stamp {
        name: "page",
        inputs: vec![workspace::www(), workspace::root().join("sample-calls")],
        circumstances: vec![npm::node_version()?],
        outputs: vec![site()],
    };
    let built = stamp.run_if_stale(|| {
        step("Bundling the static site", || bundle("production"))?;
        step("Bundling the one-file page", || bundle("one-file"))
    })?;
    if !built {
        println!("==> The page is up to date");
    }
    Ok(())
}

/// Builds the wasm and its bindings, which the page's types come from, unless they are up to date.
///
/// # Errors
/// When a step fails.
pub(crate) fn build_core() -> Result<()> {
    let toolchain = toolchain::ensure()?;
    npm::ensure(&workspace::www())?;
    if !wasm::build(toolchain, Quality::Release)? {
        println!("==> The wasm is up to date");
    }
    Ok(())
}

fn site() -> PathBuf {
    workspace::www().join("dist")
}

fn one_file() -> PathBuf {
    site().join("dusklens.html")
}

fn bundle(mode: &str) -> Result<()> {
    let output = vite(&["build", "--mode", mode, "--logLevel", "warn"]).status()?;
    if !output.success() {
        bail!("Vite could not bundle the page (see above)");
    }
    Ok(())
}

/// The Vite of the page's node modules, to be run there.
fn vite(arguments: &[&str]) -> Command {
    let mut command = Command::new("node");
    command
        .arg(Path::new("node_modules/vite/bin/vite.js"))
        .args(arguments)
        .current_dir(workspace::www());
    command
}

/// Serves the sources through Vite and rebuilds the wasm as often as the Rust sources change.
fn serve_sources(port: u16) -> Result<()> {
    let toolchain = toolchain::ensure()?;
    npm::ensure(&workspace::www())?;
    wasm::build(toolchain, Quality::Quick)?;
    let mut server = vite(&["--port", &port.to_string()])
        .spawn()
        .context("could not start Vite")?;
    watch(toolchain, &mut server)
}

fn watch(toolchain: Toolchain, server: &mut Child) -> Result<()> {
    let sources = Stamp {
        name: "watch",
        inputs: wasm::sources(),
        circumstances: Vec::new(),
        outputs: Vec::new(),
    };
    let mut seen = sources.hash_of_inputs()?;
    loop {
        if let Some(status) = server.try_wait()? {
            bail!("the server ended with {status}");
        }
        thread::sleep(WATCH_EVERY);
        // A file that is just being replaced cannot be read; the next look will see it.
        let Ok(now) = sources.hash_of_inputs() else {
            continue;
        };
        if now == seen {
            continue;
        }
        seen = now;
        if let Err(error) = wasm::build(toolchain, Quality::Quick) {
            println!("    {error:#}. Waiting for the next change");
        }
    }
}
