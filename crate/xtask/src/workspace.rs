//! Where things lie, and how commands are started there.

use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, bail};
use xshell::Shell;

/// The folder that holds the workspace's `Cargo.toml`.
pub(crate) fn root() -> PathBuf {
    // Two levels above this package, which is where it was compiled.
    let package = Path::new(env!("CARGO_MANIFEST_DIR"));
    package.ancestors().nth(2).unwrap_or(package).to_path_buf()
}

/// The folder of the page's TypeScript.
pub(crate) fn www() -> PathBuf {
    root().join("www")
}

/// Where this program keeps its stamps and what it makes on the way.
pub(crate) fn scratch() -> PathBuf {
    target().join("xtask")
}

/// The folder of the tests that drive the page.
pub(crate) fn page_tests() -> PathBuf {
    root().join("tests/page")
}

/// Cargo's target folder, passed on wherever the place of what is built has to be known.
pub(crate) fn target() -> PathBuf {
    root().join("target")
}

/// A shell whose commands run in `folder`.
pub(crate) fn shell_in(folder: impl AsRef<Path>) -> Result<Shell> {
    let shell = Shell::new()?;
    shell.change_dir(folder);
    Ok(shell)
}

/// Runs a command whose output the person sees.
///
/// # Errors
/// When it cannot be started or does not succeed; the message names it.
pub(crate) fn run(command: &mut Command) -> Result<()> {
    let name = command.get_program().to_string_lossy().into_owned();
    let status = command
        .status()
        .with_context(|| format!("could not start {name}"))?;
    if status.success() {
        return Ok(());
    }
    bail!("{name} ended with {status}")
}

/// Where a program lies that can be started by its name.
pub(crate) fn path_of(program: &str) -> Option<PathBuf> {
    let folders = std::env::var_os("PATH")?;
    std::env::split_paths(&folders)
        .map(|folder| folder.join(program))
        .find(|path| path.is_file())
}
