//! The folder that results go to.

use std::fs::{self, File};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use super::Stop;

/// What is known of every file that was examined.
pub(super) const JOURNAL: &str = "examined.jsonl";
/// What is written; a file of such a name that we did not write is never written over.
pub(super) const RECORDINGS: &str = "recordings.csv";
pub(super) const PULSES: &str = "pulses.csv";
pub(super) const PASSES: &str = "passes.csv";
pub(super) const HOURS: &str = "passes_per_hour.csv";
pub(super) const CHECKS: &str = "checks.csv";
pub(super) const EVENTS: &str = "event.csv";
pub(super) const OCCURRENCES: &str = "occurrence.csv";
pub(super) const META: &str = "meta.xml";
pub(super) const SUMMARY: &str = "night.json";
pub(super) const REPORT: &str = "report.html";
pub(super) const RECORDINGS_PARQUET: &str = "recordings.parquet";
pub(super) const PULSES_PARQUET: &str = "pulses.parquet";
pub(super) const PASSES_PARQUET: &str = "passes.parquet";
const RESULTS: [&str; 13] = [
    RECORDINGS,
    PULSES,
    PASSES,
    HOURS,
    CHECKS,
    EVENTS,
    OCCURRENCES,
    META,
    SUMMARY,
    REPORT,
    RECORDINGS_PARQUET,
    PULSES_PARQUET,
    PASSES_PARQUET,
];

/// The folder that results go to.
pub(super) struct Output {
    /// Its path without links.
    pub(super) folder: PathBuf,
}

impl Output {
    /// Makes the folder where it is not there, and looks that nothing of somebody else's is in the way.
    pub(super) fn prepare(folder: &Path, walked: &[PathBuf]) -> Result<Self, Stop> {
        let shown = folder.display();
        let failed = |error: io::Error| {
            Stop::Disk(format!(
                "{shown}: the folder for the results cannot be used: {error}"
            ))
        };
        fs::create_dir_all(folder).map_err(failed)?;
        let folder = folder.canonicalize().map_err(failed)?;
        let is_walked = |other: &&PathBuf| other.canonicalize().is_ok_and(|other| other == folder);
        if walked.iter().any(|other| is_walked(&other)) {
            return Err(Stop::Usage(format!(
                "{shown}: results do not go into the folder with the recordings; name another one with --out"
            )));
        }
        let strange = RESULTS.iter().find(|name| folder.join(name).exists());
        if let Some(name) = strange.filter(|_| !folder.join(JOURNAL).exists()) {
            return Err(Stop::Usage(format!(
                "{shown}: there is a {name} in it that this command did not write; name another folder with --out"
            )));
        }
        Ok(Self { folder })
    }

    /// Writes a file as a whole: until it is complete, the one from before stays.
    pub(super) fn write(
        &self,
        name: &str,
        fill: impl FnOnce(BufWriter<File>) -> io::Result<()>,
    ) -> Result<(), Stop> {
        let whole = self.folder.join(name);
        let part = self.folder.join(format!("{name}.part"));
        let written = File::create(&part)
            .and_then(|file| fill(BufWriter::new(file)))
            .and_then(|()| fs::rename(&part, &whole));
        written.map_err(|error| {
            Stop::Disk(format!(
                "{}: it could not be written: {error}",
                whole.display()
            ))
        })
    }

    /// Writes a text.
    pub(super) fn write_text(&self, name: &str, text: &str) -> Result<(), Stop> {
        self.write(name, |mut file| {
            file.write_all(text.as_bytes())?;
            file.flush()
        })
    }
}
