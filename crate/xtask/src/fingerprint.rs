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

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

    use std::cell::Cell;
    use std::fs;
    use std::path::PathBuf;
    use std::process;
    use std::sync::atomic::{AtomicU32, Ordering};

    use anyhow::bail;

    use super::Stamp;

    /// A step that copies `in/a.txt` to `out/a.txt`, in a folder of its own.
    struct Fixture {
        folder: PathBuf,
        runs: Cell<u32>,
    }

    impl Fixture {
        fn new() -> Self {
            static MADE: AtomicU32 = AtomicU32::new(0);
            let number = MADE.fetch_add(1, Ordering::Relaxed);
            let name = format!("dusklens-fingerprint-{}-{number}", process::id());
            let fixture = Self {
                folder: std::env::temp_dir().join(name),
                runs: Cell::new(0),
            };
            fixture.write("in/a.txt", "first");
            fixture
        }

        fn write(&self, name: &str, content: &str) {
            let path = self.folder.join(name);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, content).unwrap();
        }

        /// How often the step has run after having been asked once more.
        fn ask(&self, compiler: &str) -> u32 {
            let path = &self.folder;
            let stamp = Stamp {
                name: "copy",
                inputs: vec![path.join("in"), path.join("absent")],
                circumstances: vec![compiler.to_owned()],
                outputs: vec![path.join("out")],
            };
            let work = || {
                self.runs.set(self.runs.get() + 1);
                fs::create_dir_all(path.join("out"))?;
                fs::copy(path.join("in/a.txt"), path.join("out/a.txt"))?;
                Ok(())
            };
            let before = self.runs.get();
            let ran = stamp.run_if_stale_at(&path.join("stamp"), work).unwrap();
            assert_eq!(ran, self.runs.get() > before);
            self.runs.get()
        }
    }

    impl Drop for Fixture {
        fn drop(&mut self) {
            fs::remove_dir_all(&self.folder).unwrap();
        }
    }

    #[test]
    fn a_step_runs_once_while_nothing_changes() {
        let fixture = Fixture::new();
        assert_eq!(fixture.ask("1.0"), 1);
        assert_eq!(fixture.ask("1.0"), 1);
    }

    #[test]
    fn the_time_of_a_file_does_not_count_but_its_content_does() {
        let fixture = Fixture::new();
        fixture.ask("1.0");
        fixture.write("in/a.txt", "first");
        assert_eq!(fixture.ask("1.0"), 1);
        fixture.write("in/a.txt", "second");
        assert_eq!(fixture.ask("1.0"), 2);
    }

    #[test]
    fn new_moved_and_removed_inputs_count() {
        let fixture = Fixture::new();
        fixture.ask("1.0");
        fixture.write("in/deep/b.txt", "more");
        assert_eq!(fixture.ask("1.0"), 2);
        let path = &fixture.folder;
        fs::rename(path.join("in/deep/b.txt"), path.join("in/deep/c.txt")).unwrap();
        assert_eq!(fixture.ask("1.0"), 3);
        fs::remove_file(path.join("in/deep/c.txt")).unwrap();
        assert_eq!(fixture.ask("1.0"), 4);
        fixture.write("absent", "now here");
        assert_eq!(fixture.ask("1.0"), 5);
    }

    #[test]
    fn another_compiler_counts() {
        let fixture = Fixture::new();
        fixture.ask("1.0");
        assert_eq!(fixture.ask("1.1"), 2);
    }

    #[test]
    fn changed_and_missing_outputs_are_made_anew() {
        let fixture = Fixture::new();
        fixture.ask("1.0");
        fixture.write("out/a.txt", "meddled with");
        assert_eq!(fixture.ask("1.0"), 2);
        fs::remove_dir_all(fixture.folder.join("out")).unwrap();
        assert_eq!(fixture.ask("1.0"), 3);
    }

    #[test]
    fn what_builds_leave_inside_an_input_does_not_count() {
        let fixture = Fixture::new();
        fixture.ask("1.0");
        fixture.write("in/node_modules/x.js", "installed");
        assert_eq!(fixture.ask("1.0"), 1);
    }

    #[test]
    fn a_step_that_failed_runs_again_though_nothing_changed() {
        let fixture = Fixture::new();
        fixture.ask("1.0");
        let path = &fixture.folder;
        let stamp = Stamp {
            name: "copy",
            inputs: vec![path.join("in"), path.join("absent")],
            circumstances: vec!["2.0".to_owned()],
            outputs: vec![path.join("out")],
        };
        let failed = stamp.run_if_stale_at(&path.join("stamp"), || bail!("no room left"));
        assert!(failed.is_err());
        assert_eq!(fixture.ask("1.0"), 2);
    }

    #[test]
    fn names_and_contents_do_not_run_together() {
        let one = super::hash_of(&[], &["ab".to_owned(), "c".to_owned()]).unwrap();
        let other = super::hash_of(&[], &["a".to_owned(), "bc".to_owned()]).unwrap();
        assert_ne!(one, other);
    }
}
