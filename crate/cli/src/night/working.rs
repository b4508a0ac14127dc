//! Examining files on all cores.
//!
//! Each worker takes the next file when it is done with one, so that there are as many files in memory as workers; a file
//! above a bound is read piece by piece. Only one thread writes the journal.

use std::collections::HashMap;
use std::io::{self, Read as _};
use std::path::Path;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc;
use std::thread;

use dusklens_core::night::tables::pulse_rows;
use dusklens_core::night::{CardFile, Examination, ExamineOptions, Examined};
use dusklens_core::recording::{ReadError, Source};

use super::journal::Journal;
use super::progress::Progress;
use super::walk::{Found, FoundFile};
use super::{Options, Stop};
use crate::file::FileSource;
use crate::measure::complain;

/// Files up to this size are read in one go, bytes: reading twice, for the hash and for the sound, takes longer.
const WHOLE_BYTES: u64 = 32 << 20;

/// What came of it.
pub(super) struct Read {
    /// How many files were examined now.
    pub(super) examined: usize,
    /// How many were known.
    pub(super) known: usize,
    /// Files that the disk did not give, by their path in tables.
    pub(super) unreadable: HashMap<String, CardFile>,
}

/// What is left of a file, and its lines of the table of pulses.
type Outcome = Result<(Examined, String), ReadError>;

/// Examines all files that the journal does not know.
pub(super) fn examine(
    found: &Found,
    journal: &mut Journal,
    options: &Options,
) -> Result<Read, Stop> {
    let fresh: Vec<&FoundFile> = found
        .files
        .iter()
        .filter(|file| !journal.knows(file))
        .collect();
    let mut read = Read {
        examined: 0,
        known: found.files.len() - fresh.len(),
        unreadable: HashMap::new(),
    };
    let jobs = options.jobs().min(fresh.len());
    let mut progress = Progress::new(fresh.len());
    let next = AtomicUsize::new(0);
    let (sender, receiver) = mpsc::sync_channel::<(&FoundFile, Outcome)>(2 * jobs.max(1));
    let done = thread::scope(|scope| {
        // What was sent stops the workers when it is dropped: nobody waits for results that cannot be noted.
        let receiver = receiver;
        for _ in 0..jobs {
            let sender = sender.clone();
            let (fresh, next) = (&fresh, &next);
            let options = options.examine();
            scope.spawn(move || {
                while let Some(file) = fresh.get(next.fetch_add(1, Ordering::Relaxed)) {
                    if sender.send((*file, of_file(&file.path, options))).is_err() {
                        return;
                    }
                }
            });
        }
        drop(sender);
        for (file, outcome) in receiver {
            note(file, outcome, journal, &mut read)?;
            progress.step();
        }
        Ok(())
    });
    progress.finish();
    done.map(|()| read)
}

fn note(
    file: &FoundFile,
    outcome: Outcome,
    journal: &mut Journal,
    read: &mut Read,
) -> Result<(), Stop> {
    match outcome {
        Ok((examined, rows)) => {
            read.examined += 1;
            journal.note(file, examined, rows)
        }
        Err(error) => {
            complain(&format!(
                "{}: {error}. {}",
                file.path.display(),
                error.advice()
            ));
            let unreadable = CardFile::unreadable(
                file.shown.clone(),
                file.bytes,
                file.modified_ms,
                error.to_string(),
                error.advice().to_owned(),
            );
            read.unreadable.insert(file.shown.clone(), unreadable);
            Ok(())
        }
    }
}

fn of_file(path: &Path, options: ExamineOptions) -> Outcome {
    let source = FileSource::open(path).map_err(from_disk)?;
    if source.len() > WHOLE_BYTES {
        return finish(Examination::new(source, options));
    }
    let mut bytes = Vec::new();
    let mut file = std::fs::File::open(path).map_err(from_disk)?;
    file.read_to_end(&mut bytes).map_err(from_disk)?;
    finish(Examination::new(bytes, options))
}

fn finish<S: Source>(mut examination: Examination<S>) -> Outcome {
    while !examination.step()? {}
    let finished = examination.into_finished();
    let finished =
        finished.ok_or_else(|| from_disk(io::Error::other("the examination did not end")))?;
    let rows = pulse_rows(&finished.findings);
    Ok((finished.examined, rows))
}

fn from_disk(source: io::Error) -> ReadError {
    ReadError::Io { byte: 0, source }
}
