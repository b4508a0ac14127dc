//! Where things lie, and how commands are started there.

use std::path::{Path, PathBuf};

use anyhow::Result;
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
    root().join("target/xtask")
}

/// A shell whose commands run in `folder`.
pub(crate) fn shell_in(folder: impl AsRef<Path>) -> Result<Shell> {
    let shell = Shell::new()?;
    shell.change_dir(folder);
    Ok(shell)
}
