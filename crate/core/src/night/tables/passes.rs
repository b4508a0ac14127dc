//! A row a pass, and a row an hour.

use super::super::activity::Hour;
use super::super::card::{Night, NightFile};
use super::super::content::{Content, PassFacts};
use super::super::decisions::Decisions;
use super::super::list::passes as that_count;
use super::recordings::joined;
use super::table::Column;
use super::table::Reading::{Count, Number, Text, Time};
use super::table::{Table, table};

/// A pass of a night.
struct Pass<'a> {
    night: &'a Night,
    own: &'a NightFile,
    decisions: &'a Decisions,
    /// Its number among the sequences of its file, counted from 1.
    sequence: u64,
    facts: &'a PassFacts,
}

/// All passes of a night, in order of their files' times. A pass is activity, and no number of animals.
#[must_use]
pub fn passes(night: &Night, decisions: &Decisions) -> Table {
    let of_file = |own| {
        let content = NightFile::counted(own);
        content.map_or_else(Vec::new, |content| {
            of_recording(night, own, content, decisions)
        })
    };
    let rows = night.files.iter().flat_map(of_file);
    table(
        "Passes: activity and no number of animals",
        &pass_columns(),
        rows,
    )
}

fn of_recording<'a>(
    night: &'a Night,
    own: &'a NightFile,
    content: &'a Content,
    decisions: &'a Decisions,
) -> Vec<Pass<'a>> {
    let pass = |facts: &'a PassFacts| {
        let mut sequences = content.passes.iter();
        let before = sequences.position(|other| std::ptr::eq(other, facts));
        Pass {
            night,
            own,
            decisions,
            sequence: before.unwrap_or(0) as u64 + 1,
            facts,
        }
    };
    that_count(content, &night.settings).map(pass).collect()
}

fn pass_columns<'a>() -> Vec<Column<Pass<'a>>> {
    vec![
        Column(
            "night",
            "date of the evening; nights run from noon to noon",
            Text(|row| row.night.key.evening.clone()),
        ),
        Column(
            "site",
            "where the recorder stood, in the person's words",
            Text(|row| row.night.settings.site.clone()),
        ),
        Column(
            "recorder",
            "its serial number, else the folder that its files lie in",
            Text(|row| row.night.key.recorder.clone()),
        ),
        Column(
            "path",
            "of the file, from the chosen folder on",
            Text(|row| row.own.file.path.clone()),
        ),
        Column(
            "sha256",
            "SHA-256 of the file's bytes",
            Text(|row| row.own.file.examined.sha256.clone()),
        ),
        Column(
            "sequence",
            "its number in the file, as the table of pulses has it",
            Count(|row| Some(row.sequence)),
        ),
        Column(
            "start",
            "when its first pulse began: ISO 8601 with the distance from UTC",
            Time(|row| {
                let start = row.own.time.start.plus_s(row.facts.start_s);
                Some((start, row.night.settings.utc_offset_min))
            }),
        ),
        Column(
            "start_s",
            "start of its first pulse from the beginning of the recording",
            Number(3, |row| Some(row.facts.start_s)),
        ),
        Column(
            "end_s",
            "end of its last pulse from the beginning of the recording",
            Number(3, |row| Some(row.facts.end_s)),
        ),
        Column(
            "pulses",
            "how many pulses it has",
            Count(|row| Some(row.facts.pulses.into())),
        ),
        Column(
            "interval_ms",
            "median interval",
            Number(1, |row| row.facts.interval_ms),
        ),
        Column(
            "peak_khz",
            "median peak frequency",
            Number(2, |row| Some(row.facts.peak_khz)),
        ),
        Column(
            "characteristic_khz",
            "median characteristic frequency",
            Number(2, |row| Some(row.facts.characteristic_khz)),
        ),
        Column(
            "end_khz",
            "median end frequency",
            Number(2, |row| Some(row.facts.end_khz)),
        ),
        Column(
            "pulse_duration_ms",
            "median duration of its pulses",
            Number(2, |row| Some(row.facts.duration_ms)),
        ),
        Column(
            "best_snr_db",
            "largest signal-to-noise ratio of its pulses",
            Number(1, |row| Some(row.facts.snr_db)),
        ),
        Column(
            "buzzes",
            "feeding buzzes in it",
            Count(|row| Some(row.facts.buzzes.into())),
        ),
        Column(
            "labels",
            "what people take the recording, or some of its pulses, to be, in their words",
            Text(|row| {
                joined(
                    row.decisions
                        .labels_of(&row.own.file.examined)
                        .iter()
                        .map(|label| label.text.clone()),
                )
            }),
        ),
    ]
}

/// An hour of a night.
struct Row<'a> {
    night: &'a Night,
    hour: Hour,
    /// How much of it lies between the night's first and last recording, minutes.
    recorded_min: f64,
}

/// Activity by hours of the clock, those with nothing too. Beside each count stands how long the recorder was meant to run, and
/// how long recordings show that it did: nothing in an hour that was watched is a zero, nothing in one that was not says nothing.
#[must_use]
pub fn passes_per_hour(night: &Night) -> Table {
    let recorded = night.frame().recorded;
    let row = |hour: Hour| Row {
        night,
        recorded_min: recorded.map_or(0.0, |stretch| {
            stretch.overlap_s(hour.from, hour.from.plus_s(3600.0)) / 60.0
        }),
        hour,
    };
    let rows = night.hours().into_iter().map(row);
    table("Activity by hours", &hour_columns(), rows)
}

fn hour_columns<'a>() -> Vec<Column<Row<'a>>> {
    vec![
        Column(
            "night",
            "date of the evening; nights run from noon to noon",
            Text(|row| row.night.key.evening.clone()),
        ),
        Column(
            "site",
            "where the recorder stood, in the person's words",
            Text(|row| row.night.settings.site.clone()),
        ),
        Column(
            "recorder",
            "its serial number, else the folder that its files lie in",
            Text(|row| row.night.key.recorder.clone()),
        ),
        Column(
            "from",
            "start of the hour: ISO 8601 with the distance from UTC",
            Time(|row| Some((row.hour.from, row.night.settings.utc_offset_min))),
        ),
        Column(
            "to",
            "end of the hour",
            Time(|row| {
                Some((
                    row.hour.from.plus_s(3600.0),
                    row.night.settings.utc_offset_min,
                ))
            }),
        ),
        Column(
            "watched_min",
            "minutes of it that the recorder was meant to run; where nobody says, minutes from its first to its last recording",
            Number(1, |row| Some(row.hour.watched_min)),
        ),
        Column(
            "recorded_min",
            "minutes of it between the night's first and last recording: only these are sure to have been watched",
            Number(1, |row| Some(row.recorded_min)),
        ),
        Column(
            "recordings",
            "recordings that began in it",
            Count(|row| Some(row.hour.recordings.into())),
        ),
        Column(
            "bat_recordings",
            "those of them that hold bat pulses",
            Count(|row| Some(row.hour.bat_recordings.into())),
        ),
        Column(
            "passes",
            "passes that began in it: activity, and no number of animals",
            Count(|row| Some(row.hour.passes.into())),
        ),
        Column(
            "buzzes",
            "feeding buzzes of the sequences that began in it",
            Count(|row| Some(row.hour.buzzes.into())),
        ),
        Column(
            "passes_per_watched_h",
            "passes over the watched part of the hour; empty where no recording shows that anything was",
            Number(2, |row| {
                let watched_h = row.hour.watched_min / 60.0;
                (watched_h > 0.0 && row.recorded_min > 0.0)
                    .then(|| f64::from(row.hour.passes) / watched_h)
            }),
        ),
    ]
}
