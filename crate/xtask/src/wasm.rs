//! Builds the core for the browser, with its JavaScript and TypeScript bindings.

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result};
use wasm_bindgen_cli_support::Bindgen;
use xshell::cmd;

use crate::fingerprint::Stamp;
use crate::progress::step;
use crate::toolchain::{TARGET, Toolchain};
use crate::workspace;

/// The name of the bindings' files.
const NAME: &str = "dusklens_web";

/// Which trade between build time and speed is wanted.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Quality {
    /// Small and fast, for people.
    Release,
    /// Soon there, for work on the code.
    Quick,
}

impl Quality {
    fn profile(self) -> &'static str {
        match self {
            Self::Release => "release",
            Self::Quick => "wasm-quick",
        }
    }
}

/// Where the bindings are written: beside the page's worker, and kept out of git.
pub(crate) fn bindings() -> PathBuf {
    workspace::www().join("src/core/wasm")
}

/// The wasm file in a folder of bindings.
pub(crate) fn file_in(bindings: &Path) -> PathBuf {
    bindings.join(format!("{NAME}_bg.wasm"))
}

/// Builds the bindings unless they are up to date.
///
/// # Errors
/// When the compiler or the generator fails.
pub(crate) fn build(toolchain: Toolchain, quality: Quality) -> Result<bool> {
    let stamp = Stamp {
        name: "wasm",
        inputs: sources(),
        circumstances: vec![
            toolchain.version()?,
            quality.profile().to_owned(),
            std::env::var("RUSTFLAGS").unwrap_or_default(),
        ],
        outputs: vec![bindings()],
    };
    stamp.run_if_stale(|| {
        let compiled = step("Building the core for the browser", || {
            compile(toolchain, quality, &[])
        })?;
        step("Writing its JavaScript and TypeScript bindings", || {
            let made = workspace::scratch().join("bindings");
            bind(&compiled, &made)?;
            if quality == Quality::Release {
                shrink(&file_in(&made))?;
            }
            replace(&made, &bindings())
        })
    })
}

/// Everything that decides what the wasm file is.
pub(crate) fn sources() -> Vec<PathBuf> {
    let root = workspace::root();
    [
        "Cargo.toml",
        "Cargo.lock",
        ".cargo/config.toml",
        "crate/core/Cargo.toml",
        "crate/core/src",
        "crate/web/Cargo.toml",
        "crate/web/src",
        "crate/xtask/Cargo.toml",
        "crate/xtask/src/wasm.rs",
        "crate/xtask/src/toolchain.rs",
        "www/package-lock.json",
    ]
    .iter()
    .map(|path| root.join(path))
    .collect()
}

/// Compiles the page's package with extra `features` and returns the wasm file.
///
/// # Errors
/// When it does not compile.
pub(crate) fn compile(
    toolchain: Toolchain,
    quality: Quality,
    features: &[&str],
) -> Result<PathBuf> {
    let target = workspace::target();
    workspace::run(
        toolchain
            .cargo("build", "std,panic_abort")
            .args(["--profile", quality.profile(), "--package", "dusklens-web"])
            .args([
                "--features",
                &features.join(","),
                "--locked",
                "--target-dir",
            ])
            .arg(&target)
            .current_dir(workspace::root()),
    )
    .context("the core did not compile for the browser (see above)")?;
    Ok(target
        .join(TARGET)
        .join(quality.profile())
        .join(format!("{NAME}.wasm")))
}

/// Writes the bindings of a wasm file into a folder of its own.
///
/// # Errors
/// When the file is not one of ours.
pub(crate) fn bind(compiled: &Path, folder: &Path) -> Result<()> {
    if folder.exists() {
        fs::remove_dir_all(folder)?;
    }
    Bindgen::new()
        .input_path(compiled)
        .web(true)?
        .typescript(true)
        // The default path would be made with `import.meta`, which the one-file page cannot have.
        .omit_default_module_path(true)
        .generate(folder)
}

/// Shrinks a wasm file in place, where the page's node modules bring the tool for it.
///
/// # Errors
/// When the file is missing.
pub(crate) fn shrink(file: &Path) -> Result<()> {
    let optimiser = workspace::www().join("node_modules/.bin/wasm-opt");
    if !optimiser.exists() {
        println!("    not shrunk: {} is missing", optimiser.display());
        return Ok(());
    }
    let before = fs::metadata(file)?.len();
    let smaller = file.with_extension("smaller");
    let shell = workspace::shell_in(workspace::root())?;
    let run = cmd!(shell, "{optimiser} -O3 -o {smaller} {file}")
        .quiet()
        .run();
    if let Err(error) = run {
        println!("    not shrunk: {error}");
        return Ok(());
    }
    fs::rename(&smaller, file)?;
    let after = fs::metadata(file)?.len();
    println!(
        "    wasm shrunk from {} kB to {} kB",
        before / 1000,
        after / 1000
    );
    Ok(())
}

/// Moves a finished folder to its place, so that a watching server never sees it half written.
fn replace(made: &Path, place: &Path) -> Result<()> {
    if place.exists() {
        fs::remove_dir_all(place)?;
    }
    if let Some(parent) = place.parent() {
        fs::create_dir_all(parent)?;
    }
    fs::rename(made, place)?;
    Ok(())
}
