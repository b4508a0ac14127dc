//! Keeps the node modules of a folder in step with its lock file.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, bail};
use sha2::{Digest, Sha256};

use crate::progress::step;

/// The oldest Node that the page's tools run on.
const OLDEST_NODE: (u32, u32) = (20, 19);

/// Installs the modules of `folder` unless they are those of its lock file.
///
/// # Errors
/// When Node is missing or too old, or npm fails.
pub(crate) fn ensure(folder: &Path) -> Result<()> {
    if is_current(folder) {
        return Ok(());
    }
    step(
        &format!("Installing the node modules of {}", folder.display()),
        || install(folder),
    )
}

/// Whether the modules in `folder` come from its lock file as it is now.
fn is_current(folder: &Path) -> bool {
    let Ok(wanted) = hash_of_lock(folder) else {
        return false;
    };
    fs::read_to_string(stamp_in(folder)).is_ok_and(|installed| installed == wanted)
}

/// Installs into `folder` exactly what its lock file says.
fn install(folder: &Path) -> Result<()> {
    check_node()?;
    let wanted = hash_of_lock(folder)?;
    let output = Command::new("npm")
        .args(["ci", "--no-audit", "--no-fund", "--loglevel=error"])
        .current_dir(folder)
        .output()
        .context("could not start npm, which comes with Node")?;
    if !output.status.success() {
        bail!(
            "npm ci failed in {}:\n{}{}",
            folder.display(),
            String::from_utf8_lossy(&output.stdout),
            String::from_utf8_lossy(&output.stderr)
        );
    }
    fs::write(stamp_in(folder), wanted)?;
    Ok(())
}

/// Inside the modules' folder, so that it goes when they go.
fn stamp_in(folder: &Path) -> PathBuf {
    folder.join("node_modules/.installed-from")
}

fn hash_of_lock(folder: &Path) -> Result<String> {
    let lock = fs::read(folder.join("package-lock.json"))
        .with_context(|| format!("{} has no package-lock.json", folder.display()))?;
    Ok(format!("{:x?}", Sha256::digest(&lock).as_slice()))
}

/// Node's version as it prints it.
///
/// # Errors
/// When there is no Node.
pub(crate) fn node_version() -> Result<String> {
    let output = Command::new("node")
        .arg("--version")
        .output()
        .context("could not start Node. Please install Node 20.19 or later (it brings npm)")?;
    Ok(String::from_utf8_lossy(&output.stdout).trim().to_owned())
}

fn check_node() -> Result<()> {
    let version = node_version()?;
    if is_recent_enough(&version) {
        return Ok(());
    }
    bail!(
        "Node {version} is too old; please install {}.{} or later",
        OLDEST_NODE.0,
        OLDEST_NODE.1
    )
}

fn is_recent_enough(version: &str) -> bool {
    let mut numbers = version
        .trim_start_matches('v')
        .split('.')
        .map_while(|part| part.parse::<u32>().ok());
    match (numbers.next(), numbers.next()) {
        (Some(major), Some(minor)) => (major, minor) >= OLDEST_NODE,
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::is_recent_enough;

    #[test]
    fn node_is_compared_by_number_and_not_by_letter() {
        assert!(is_recent_enough("v20.19.0"));
        assert!(is_recent_enough("v20.20.2"));
        assert!(is_recent_enough("v100.0.0"));
        assert!(!is_recent_enough("v20.9.1"));
        assert!(!is_recent_enough("v18.20.4"));
        assert!(!is_recent_enough("unknown"));
    }
}
