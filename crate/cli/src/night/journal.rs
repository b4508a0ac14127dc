//! What is known of every file that was examined: a line of JSON for each, written as soon as it is examined.
//!
//! Lines are only ever added. A command that was stopped leaves its last line torn at worst; it is passed over, and that file
//! is examined again. Of several lines about a file the last holds. A line of another version, of other options, or of a file
//! that has changed since is as good as none.

use std::collections::HashMap;
use std::fs::{File, OpenOptions};
use std::io::{self, BufRead, BufReader, Read, Seek, SeekFrom, Write};
use std::path::PathBuf;

use dusklens_core::night::{CardFile, ExamineOptions, Examined, FORM};
use serde::{Deserialize, Serialize};

use super::Stop;
use super::output::{JOURNAL, Output};
use super::walk::FoundFile;

/// A line of the journal.
#[derive(Serialize, Deserialize)]
struct Line {
    /// The program's version: another one may measure otherwise.
    by: String,
    options: ExamineOptions,
    key: Key,
    examined: Examined,
    /// Lines of the table of pulses, without a path.
    rows: String,
}

/// What a file is known by, as long as it does not change.
#[derive(Serialize, Deserialize, PartialEq)]
struct Key {
    path: String,
    bytes: u64,
    modified_ms: Option<f64>,
}

/// What is kept in memory of a line.
struct Known {
    bytes: u64,
    modified_ms: Option<f64>,
    examined: Examined,
    at: u64,
    length: usize,
}

/// The journal of a folder of results.
pub(super) struct Journal {
    path: PathBuf,
    file: File,
    end: u64,
    options: ExamineOptions,
    known: HashMap<String, Known>,
}

impl Journal {
    /// Opens the journal, makes it where there is none, and reads what is known.
    pub(super) fn open(output: &Output, options: ExamineOptions) -> Result<Self, Stop> {
        let path = output.folder.join(JOURNAL);
        let opened = OpenOptions::new()
            .read(true)
            .append(true)
            .create(true)
            .open(&path);
        let journal = opened.and_then(|file| {
            let mut journal = Self {
                path: path.clone(),
                file,
                end: 0,
                options,
                known: HashMap::new(),
            };
            journal.read()?;
            Ok(journal)
        });
        journal.map_err(|error| failed(&path, &error))
    }

    fn read(&mut self) -> io::Result<()> {
        let mut reader = BufReader::new(self.file.try_clone()?);
        let mut bytes = Vec::new();
        loop {
            bytes.clear();
            let length = reader.read_until(b'\n', &mut bytes)?;
            if length == 0 {
                return Ok(());
            }
            let at = self.end;
            self.end += length as u64;
            if bytes.last() != Some(&b'\n') {
                // What comes next begins a line of its own.
                return self.append(b"\n");
            }
            if let Ok(line) = serde_json::from_slice(&bytes) {
                self.learn(line, at, length);
            }
        }
    }

    fn learn(&mut self, line: Line, at: u64, length: usize) {
        if line.by != version() || line.options != self.options || line.examined.form != FORM {
            return;
        }
        let known = Known {
            bytes: line.key.bytes,
            modified_ms: line.key.modified_ms,
            examined: line.examined,
            at,
            length,
        };
        self.known.insert(line.key.path, known);
    }

    fn append(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.file.write_all(bytes)?;
        self.file.flush()?;
        self.end += bytes.len() as u64;
        Ok(())
    }

    /// Whether the file is known as it is now.
    pub(super) fn knows(&self, file: &FoundFile) -> bool {
        self.of(file).is_some()
    }

    fn of(&self, file: &FoundFile) -> Option<&Known> {
        let known = self.known.get(&key_path(file))?;
        (known.bytes == file.bytes && known.modified_ms == file.modified_ms).then_some(known)
    }

    /// What is known of the file, where it lies.
    pub(super) fn card_file(&self, file: &FoundFile) -> Option<CardFile> {
        Some(CardFile {
            path: file.shown.clone(),
            modified_ms: file.modified_ms,
            examined: self.of(file)?.examined.clone(),
        })
    }

    /// Notes what a file came to.
    pub(super) fn note(
        &mut self,
        file: &FoundFile,
        examined: Examined,
        rows: String,
    ) -> Result<(), Stop> {
        let line = Line {
            by: version().to_owned(),
            options: self.options,
            key: Key {
                path: key_path(file),
                bytes: file.bytes,
                modified_ms: file.modified_ms,
            },
            examined,
            rows,
        };
        let at = self.end;
        let written = serde_json::to_vec(&line)
            .map_err(io::Error::from)
            .and_then(|mut bytes| {
                bytes.push(b'\n');
                self.append(&bytes)?;
                Ok(bytes.len())
            });
        let length = written.map_err(|error| failed(&self.path, &error))?;
        self.learn(line, at, length);
        Ok(())
    }

    /// The file's lines of the table of pulses, without a path.
    pub(super) fn rows(&mut self, file: &FoundFile) -> io::Result<String> {
        let Some((at, length)) = self.of(file).map(|known| (known.at, known.length)) else {
            return Ok(String::new());
        };
        let mut bytes = vec![0; length];
        self.file.seek(SeekFrom::Start(at))?;
        self.file.read_exact(&mut bytes)?;
        let line: Line = serde_json::from_slice(&bytes)?;
        Ok(line.rows)
    }
}

fn version() -> &'static str {
    env!("CARGO_PKG_VERSION")
}

fn key_path(file: &FoundFile) -> String {
    file.path.to_string_lossy().into_owned()
}

fn failed(path: &std::path::Path, error: &io::Error) -> Stop {
    Stop::Disk(format!(
        "{}: what is known could not be kept: {error}",
        path.display()
    ))
}
