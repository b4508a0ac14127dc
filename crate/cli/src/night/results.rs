//! What is handed in: tables as text and as Parquet, Darwin Core, and the summary of it all.

use std::collections::HashMap;
use std::io::{self, Write};
use std::time::{SystemTime, UNIX_EPOCH};

use dusklens_core::night::report::{ReportOrder, report};
use dusklens_core::night::tables::darwin::{self, Sharing};
use dusklens_core::night::tables::{self, Table, pulses_csv_header, with_path};
use dusklens_core::night::{
    Check, Decisions, ExamineOptions, FORM, Frame, Moment, Night, NightKey, NightSettings, Totals,
    Unplaced, checks,
};
use serde::Serialize;

use super::Stop;
use super::journal::Journal;
use super::output::{
    CHECKS, EVENTS, HOURS, META, OCCURRENCES, Output, PASSES, PASSES_PARQUET, PULSES,
    PULSES_PARQUET, RECORDINGS, RECORDINGS_PARQUET, REPORT, SUMMARY,
};
use super::parquet::{MOST_ROWS, Writer, columns_of, to_io};
use super::pulses;
use super::walk::{Found, FoundFile};
use crate::measure::complain;
use crate::report::printable;

/// Nights, and all that is said of them.
pub(super) struct HandIn<'a> {
    pub(super) nights: &'a [Night],
    pub(super) unplaced: &'a Unplaced,
    pub(super) decisions: &'a Decisions,
    pub(super) sharing: Sharing,
    pub(super) examined_with: ExamineOptions,
}

/// The summary of it all, as JSON.
#[derive(Serialize)]
struct Summary<'a> {
    by: String,
    form: u32,
    examined_with: ExamineOptions,
    settings: Option<&'a NightSettings>,
    sharing: Sharing,
    cautions: [&'static str; 2],
    nights: Vec<NightSummary<'a>>,
    /// Files that nothing places in time; they are in no table.
    unplaced: Vec<&'a str>,
}

#[derive(Serialize)]
struct NightSummary<'a> {
    key: &'a NightKey,
    totals: Totals,
    /// Where the night lies between, and what was watched.
    frame: Frame,
    checks: Vec<Check>,
}

/// A report of more nights than this is not read by anybody.
const MOST_REPORTED: usize = 60;

const CAUTIONS: [&str; 2] = [
    "A pass is activity and no number of animals.",
    "A recording in which no pulse was found is no proof that no bat was there.",
];

impl HandIn<'_> {
    /// Writes all results.
    pub(super) fn write(
        &self,
        output: &Output,
        found: &Found,
        journal: &mut Journal,
    ) -> Result<(), Stop> {
        let recordings = |night: &Night| tables::recordings(night, self.decisions);
        let passes = |night: &Night| tables::passes(night, self.decisions);
        self.text(output, RECORDINGS, recordings)?;
        self.text(output, PASSES, passes)?;
        self.text(output, HOURS, tables::passes_per_hour)?;
        self.text(output, CHECKS, tables::night_checks)?;
        self.text(output, EVENTS, |night| darwin::events(night, self.sharing))?;
        self.text(output, OCCURRENCES, |night| {
            darwin::occurrences(night, self.decisions)
        })?;
        output.write_text(META, &darwin::meta_xml())?;
        self.typed(output, RECORDINGS_PARQUET, recordings)?;
        self.typed(output, PASSES_PARQUET, passes)?;
        let files: HashMap<&str, &FoundFile> = found
            .files
            .iter()
            .map(|file| (file.shown.as_str(), file))
            .collect();
        self.pulses(output, &files, journal)?;
        self.typed_pulses(output, &files, journal)?;
        self.summary(output)?;
        self.report(output)
    }

    /// A table as text, night after night.
    fn text(&self, output: &Output, name: &str, of: impl Fn(&Night) -> Table) -> Result<(), Stop> {
        output.write(name, |mut file| {
            file.write_all(of(&nothing()).csv_header().as_bytes())?;
            for night in self.nights {
                file.write_all(of(night).csv_rows().as_bytes())?;
            }
            file.flush()
        })
    }

    /// The same with types.
    fn typed(&self, output: &Output, name: &str, of: impl Fn(&Night) -> Table) -> Result<(), Stop> {
        output.write(name, |file| {
            let columns = columns_of(&of(&nothing()));
            let mut writer = Writer::new(file, columns).map_err(to_io)?;
            for night in self.nights {
                writer.add(&of(night).rows).map_err(to_io)?;
            }
            writer.finish().map_err(to_io)
        })
    }

    fn pulses(
        &self,
        output: &Output,
        files: &HashMap<&str, &FoundFile>,
        journal: &mut Journal,
    ) -> Result<(), Stop> {
        output.write(PULSES, |mut file| {
            file.write_all(pulses_csv_header().as_bytes())?;
            for own in self.nights.iter().flat_map(|night| &night.files) {
                let rows = rows(own, files, journal)?;
                file.write_all(with_path(&rows, &own.file.path).as_bytes())?;
            }
            file.flush()
        })
    }

    fn typed_pulses(
        &self,
        output: &Output,
        files: &HashMap<&str, &FoundFile>,
        journal: &mut Journal,
    ) -> Result<(), Stop> {
        output.write(PULSES_PARQUET, |file| {
            let columns = pulses::columns();
            let mut writer = Writer::new(file, columns.clone()).map_err(to_io)?;
            for night in self.nights {
                let mut gathered = Vec::new();
                for own in &night.files {
                    let rows = rows(own, files, journal)?;
                    gathered.extend(pulses::typed(night, own, &rows, &columns));
                    if gathered.len() >= MOST_ROWS {
                        writer.add(&gathered).map_err(to_io)?;
                        gathered.clear();
                    }
                }
                writer.add(&gathered).map_err(to_io)?;
            }
            writer.finish().map_err(to_io)
        })
    }

    /// The report of the nights, as long as somebody may read it.
    fn report(&self, output: &Output) -> Result<(), Stop> {
        let count = self.nights.len();
        if count > MOST_REPORTED {
            complain(&format!(
                "{count} nights are too many for one report: {REPORT} was not written; give some of the folders alone"
            ));
            return Ok(());
        }
        let now = SystemTime::now().duration_since(UNIX_EPOCH);
        let now = Moment::from_utc_s(now.map_or(0.0, |since| since.as_secs_f64()));
        let settings = self.nights.first().map(|night| &night.settings);
        let order = ReportOrder {
            written: now.date(settings.map_or(0, |settings| settings.utc_offset_min)),
            place: self.sharing.place,
            ..ReportOrder::default()
        };
        let nights: Vec<&Night> = self.nights.iter().collect();
        output.write_text(REPORT, &report(&nights, self.decisions, &order))
    }

    /// What each night came to, for people.
    pub(super) fn in_words(&self) -> Vec<String> {
        let line = |night: &Night| {
            let totals = night.totals();
            printable(&format!(
                "{} {}: {} recordings, {} with bat pulses, {} unsure, {} probably none; {} passes in {:.1} h watched; {} files broken, {} copies",
                night.key.evening,
                night.key.recorder,
                totals.recordings,
                totals.holding_pulses,
                totals.unsure,
                totals.probably_none,
                totals.passes,
                totals.watch_h,
                totals.broken,
                totals.copies
            ))
        };
        self.nights.iter().map(line).collect()
    }

    fn summary(&self, output: &Output) -> Result<(), Stop> {
        let nights = self.nights.iter().map(|night| {
            let frame = night.frame();
            NightSummary {
                key: &night.key,
                totals: night.totals(),
                checks: checks(night, &frame),
                frame,
            }
        });
        let summary = Summary {
            by: format!("Dusklens {}", env!("CARGO_PKG_VERSION")),
            form: FORM,
            examined_with: self.examined_with,
            settings: self.nights.first().map(|night| &night.settings),
            sharing: self.sharing,
            cautions: CAUTIONS,
            nights: nights.collect(),
            unplaced: self
                .unplaced
                .iter()
                .map(|file| file.path.as_str())
                .collect(),
        };
        output.write(SUMMARY, |mut file| {
            serde_json::to_writer_pretty(&mut file, &summary)?;
            writeln!(file)?;
            file.flush()
        })
    }
}

/// A night without a file: columns are the same for every night, and for none.
fn nothing() -> Night {
    Night {
        key: NightKey {
            evening: String::new(),
            recorder: String::new(),
        },
        files: Vec::new(),
        settings: NightSettings::default(),
    }
}

/// The lines of the table of pulses of a file; of a copy none, since they are those of the other.
fn rows(
    own: &dusklens_core::night::NightFile,
    files: &HashMap<&str, &FoundFile>,
    journal: &mut Journal,
) -> io::Result<String> {
    let file = files.get(own.file.path.as_str());
    match file.filter(|_| own.copy_of.is_none()) {
        Some(file) => journal.rows(file),
        None => Ok(String::new()),
    }
}
