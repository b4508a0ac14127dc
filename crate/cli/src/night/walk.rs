//! Folders -> recordings, wherever they lie in them.

use std::collections::{BTreeMap, HashSet};
use std::path::{Path, PathBuf};
use std::time::UNIX_EPOCH;

use walkdir::{DirEntry, WalkDir};

use super::Stop;
use super::output::Output;
use crate::measure::complain;
use crate::report::printable;

/// Endings of names that recordings have, in small letters.
const ENDINGS: [&str; 4] = ["wav", "wave", "bwf", "rf64"];
/// So many other files are named in the summary.
const NAMED: usize = 3;

/// A recording on the disk.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct FoundFile {
    /// Where it is, without links: what it is known by.
    pub(super) path: PathBuf,
    /// Its path in tables: from the folder that was named on, with `/`.
    pub(super) shown: String,
    pub(super) bytes: u64,
    /// When it was last written to, milliseconds since 1970 UTC.
    pub(super) modified_ms: Option<f64>,
}

/// What lies in the folders.
#[derive(Debug)]
pub(super) struct Found {
    /// Recordings, each once, by folders and names.
    pub(super) files: Vec<FoundFile>,
    others: usize,
    other_names: Vec<String>,
    /// Whether all folders could be read.
    pub(super) all_good: bool,
}

/// Searches all folders to their bottom. Links are followed; what leads back to where it came from is left.
pub(super) fn walk(folders: &[PathBuf], output: &Output) -> Result<Found, Stop> {
    let mut found = Found {
        files: Vec::new(),
        others: 0,
        other_names: Vec::new(),
        all_good: true,
    };
    let mut seen = HashSet::new();
    for (folder, name) in folders.iter().zip(names(folders)) {
        if !folder.is_dir() {
            return Err(Stop::Usage(format!(
                "{}: there is no such folder",
                folder.display()
            )));
        }
        found.search(folder, &name, output, &mut seen);
    }
    Ok(found)
}

/// What each folder is called in tables: its own name; of those that have the same, the second is `name (2)`.
fn names(folders: &[PathBuf]) -> Vec<String> {
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    let own_name = |folder: &PathBuf| {
        let whole = folder.canonicalize().unwrap_or_else(|_| folder.clone());
        let name = whole
            .file_name()
            .map(|name| name.to_string_lossy().into_owned());
        name.unwrap_or_default()
    };
    let mut numbered = |name: String| {
        let count = counts.entry(name.clone()).or_default();
        *count += 1;
        if *count == 1 {
            name
        } else {
            format!("{name} ({count})")
        }
    };
    folders
        .iter()
        .map(|folder| numbered(own_name(folder)))
        .collect()
}

impl Found {
    fn search(&mut self, folder: &Path, name: &str, output: &Output, seen: &mut HashSet<PathBuf>) {
        let is_output = |entry: &DirEntry| {
            entry.file_type().is_dir()
                && entry
                    .path()
                    .canonicalize()
                    .is_ok_and(|path| path == output.folder)
        };
        let mut skipped = false;
        let entries = WalkDir::new(folder).follow_links(true).sort_by_file_name();
        let entries = entries.into_iter().filter_entry(|entry| {
            skipped |= is_output(entry);
            !is_output(entry)
        });
        for entry in entries {
            match entry {
                Ok(entry) if entry.file_type().is_file() => self.take(&entry, folder, name, seen),
                Ok(_) => {}
                // A link that leads back: all that lies there is found without it.
                Err(error) if error.loop_ancestor().is_some() => {}
                Err(error) => {
                    self.all_good = false;
                    complain(&format!("{error}"));
                }
            }
        }
        if skipped {
            complain(&format!(
                "{}: the results' own folder in it is passed over",
                folder.display()
            ));
        }
    }

    fn take(&mut self, entry: &DirEntry, folder: &Path, name: &str, seen: &mut HashSet<PathBuf>) {
        let path = entry.path();
        if !is_recording(path) {
            self.others += 1;
            if self.other_names.len() < NAMED {
                self.other_names
                    .push(entry.file_name().to_string_lossy().into_owned());
            }
            return;
        }
        let (path, metadata) = match path
            .canonicalize()
            .and_then(|path| Ok((path, entry.metadata()?)))
        {
            Ok(both) => both,
            Err(error) => {
                self.all_good = false;
                complain(&format!("{}: {error}", path.display()));
                return;
            }
        };
        if !seen.insert(path.clone()) {
            return;
        }
        let since = metadata
            .modified()
            .ok()
            .and_then(|at| at.duration_since(UNIX_EPOCH).ok());
        self.files.push(FoundFile {
            path,
            shown: shown(entry.path(), folder, name),
            bytes: metadata.len(),
            // Whole milliseconds: the same number whenever it is read back from a text.
            modified_ms: since.map(|since| since.as_millis() as f64),
        });
    }

    /// What was found and done, for people.
    pub(super) fn in_words(&self, examined: usize, known: usize) -> Vec<String> {
        let mut lines = vec![format!("{examined} files examined, {known} already known")];
        if self.others > 0 {
            let names = self.other_names.join(", ");
            let more = if self.others > self.other_names.len() {
                ", ..."
            } else {
                ""
            };
            lines.push(printable(&format!(
                "{} other files are no recordings by their names: {names}{more}",
                self.others
            )));
        }
        lines
    }
}

fn is_recording(path: &Path) -> bool {
    // Some systems leave a second file beside each on foreign disks, with the same ending.
    let name = path.file_name().map(|name| name.to_string_lossy());
    let is_shadow = name.is_some_and(|name| name.starts_with("._"));
    let ending = path
        .extension()
        .map(|ending| ending.to_string_lossy().to_lowercase());
    !is_shadow && ending.is_some_and(|ending| ENDINGS.contains(&ending.as_str()))
}

fn shown(path: &Path, folder: &Path, name: &str) -> String {
    let within = path.strip_prefix(folder).unwrap_or(path);
    let parts = within
        .components()
        .map(|part| part.as_os_str().to_string_lossy());
    std::iter::once(name.into())
        .chain(parts)
        .filter(|part| !part.is_empty())
        .collect::<Vec<std::borrow::Cow<'_, str>>>()
        .join("/")
}
