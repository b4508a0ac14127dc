//! Decides by content whether a step has to run again.
//!
//! A stamp holds a hash of everything a step reads and of everything it wrote. Times of files are not looked at: a
//! checkout or a copy changes them without changing the content.

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result};
use sha2::{Digest, Sha256};
use walkdir::{DirEntry, WalkDir};

use crate::workspace;

/// Folders that builds fill, which are never an input.
const MADE_BY_BUILDS: [&str; 3] = ["node_modules", "dist", "target"];

/// A step's inputs and outputs. A path may be a file or a folder; one that does not exist counts as absent.
pub(crate) struct Stamp {
    /// Names the file that keeps the stamp.
    pub(crate) name: &'static str,
    /// What the step reads.
    pub(crate) inputs: Vec<PathBuf>,
    /// What else decides the result, such as a compiler's version.
    pub(crate) circumstances: Vec<String>,
    /// What the step writes.
    pub(crate) outputs: Vec<PathBuf>,
}

impl Stamp {
    /// Runs `work` unless neither inputs nor outputs have changed since it last succeeded. Says whether it ran.
    ///
    /// # Errors
    /// Those of `work`, and of reading the files. A step that failed leaves no stamp.
    pub(crate) fn run_if_stale(&self, work: impl FnOnce() -> Result<()>) -> Result<bool> {
        let kept = workspace::scratch().join("stamps").join(self.name);
        self.run_if_stale_at(&kept, work)
    }

    fn run_if_stale_at(&self, kept: &Path, work: impl FnOnce() -> Result<()>) -> Result<bool> {
        let inputs = self.hash_of_inputs()?;
        let before = format!("{inputs}\n{}\n", hash_of(&self.outputs, &[])?);
        if fs::read_to_string(kept).is_ok_and(|stamp| stamp == before) && self.outputs_exist() {
            return Ok(false);
        }
        // Taken away first: a step that is cut short must run again.
        if kept.exists() {
            fs::remove_file(kept)?;
        }
        work()?;
        if let Some(folder) = kept.parent() {
            fs::create_dir_all(folder)?;
        }
        let after = format!("{inputs}\n{}\n", hash_of(&self.outputs, &[])?);
        fs::write(kept, after)?;
        Ok(true)
    }

    /// One hash over everything that the step reads.
    pub(crate) fn hash_of_inputs(&self) -> Result<String> {
        hash_of(&self.inputs, &self.circumstances)
    }

    fn outputs_exist(&self) -> bool {
        self.outputs.iter().all(|output| output.exists())
    }
}

/// One hash over the names and contents of all files under `paths`, and over `words`.
fn hash_of(paths: &[PathBuf], words: &[String]) -> Result<String> {
    let mut hash = Sha256::new();
    for word in words {
        add(&mut hash, word.as_bytes());
    }
    for path in paths {
        add(&mut hash, path.to_string_lossy().as_bytes());
        if path.exists() {
            add_files(&mut hash, path)?;
        }
    }
    Ok(hash
        .finalize()
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect())
}

fn add_files(hash: &mut Sha256, path: &Path) -> Result<()> {
    for entry in WalkDir::new(path)
        .sort_by_file_name()
        .into_iter()
        .filter_entry(is_input)
    {
        let entry = entry?;
        if !entry.file_type().is_file() {
            continue;
        }
        let content = fs::read(entry.path())
            .with_context(|| format!("could not read {}", entry.path().display()))?;
        let name = entry.path().strip_prefix(path)?;
        add(hash, name.to_string_lossy().as_bytes());
        add(hash, &content);
    }
    Ok(())
}

/// The root of a walk is always meant, also where it is a folder that builds fill.
fn is_input(entry: &DirEntry) -> bool {
    entry.depth() == 0 || !MADE_BY_BUILDS.iter().any(|name| entry.file_name() == *name)
}

/// Adds a part with its length, so that no two lists of parts run together into the same bytes.
fn add(hash: &mut Sha256, part: &[u8]) {
    hash.update((part.len() as u64).to_le_bytes());
    hash.update(part);
}
