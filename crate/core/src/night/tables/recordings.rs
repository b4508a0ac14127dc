//! A row a file: also those that could not be read, and copies.

use super::super::card::{Night, NightFile};
use super::super::content::{Content, Outcome, PassFacts};
use super::super::decisions::Decisions;
use super::super::list::passes;
use super::table::Column;
use super::table::Reading::{Count, Flag, Number, Text, Time};
use super::table::{Table, table};
use crate::pulse::Doubt;
use crate::recording::{Certainty, Label};

/// Parts what stands in one cell.
const PARTS: &str = "; ";

/// A file of a night, and what people decided about it.
struct Row<'a> {
    night: &'a Night,
    own: &'a NightFile,
    decisions: &'a Decisions,
}

/// All files of a night, in order of time. Where a file is broken or a copy, what would be counted is empty, so that sums of
/// columns are the night's totals.
#[must_use]
pub fn recordings(night: &Night, decisions: &Decisions) -> Table {
    let rows = night.files.iter().map(|own| Row {
        night,
        own,
        decisions,
    });
    table("Recordings of nights", &columns(), rows)
}

fn columns<'a>() -> Vec<Column<Row<'a>>> {
    let mut columns: Vec<Column<Row<'a>>> = vec![
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
            "SHA-256 of the file's bytes: the same for the same content",
            Text(|row| row.own.file.examined.sha256.clone()),
        ),
        Column(
            "bytes",
            "size of the file",
            Count(|row| Some(row.own.file.examined.bytes)),
        ),
    ];
    columns.extend(times());
    columns.extend(found());
    columns.extend(doubts());
    columns.extend(heard());
    columns.extend(decided());
    columns
}

fn times<'a>() -> [Column<Row<'a>>; 6] {
    [
        Column(
            "start",
            "when the recording began, with the clock's error taken off: ISO 8601 with the distance from UTC",
            Time(|row| Some((row.own.time.start, row.night.settings.utc_offset_min))),
        ),
        Column(
            "time_origin",
            "who says when it began: guano, bext, info (metadata of the file), file_name, file_date (weak: when the file was last written to)",
            Text(|row| row.own.time.origin.name().to_owned()),
        ),
        Column(
            "time_original",
            "what that says itself, untouched",
            Text(|row| row.own.time.original.clone()),
        ),
        Column(
            "duration_s",
            "real duration at the microphone",
            Number(3, |row| Some(row.content()?.duration_s)),
        ),
        Column(
            "rate_hz",
            "sampling rate at the microphone",
            Number(0, |row| Some(row.content()?.rate_hz)),
        ),
        Column(
            "expansion",
            "time expansion that was undone",
            Number(3, |row| Some(row.content()?.expansion)),
        ),
    ]
}

fn found<'a>() -> [Column<Row<'a>>; 8] {
    [
        Column(
            "verdict",
            "holds_pulses, unsure or probably_none, as the program judges; probably_none is no proof that no bat was there",
            Text(|row| {
                row.counted()
                    .map(|own| own.verdict.name().to_owned())
                    .unwrap_or_default()
            }),
        ),
        Column(
            "pulses",
            "pulses that may well be a bat's",
            Count(|row| Some(row.counted()?.pulses.into())),
        ),
        Column(
            "clipped_pulses",
            "those of them that reached the largest value that the file can hold",
            Count(|row| Some(row.counted()?.clipped_pulses.into())),
        ),
        Column(
            "passes",
            "sequences of at least as many pulses as the night's settings ask for: activity, and no number of animals",
            Count(|row| Some(row.passes()?.count() as u64)),
        ),
        Column(
            "buzzes",
            "feeding buzzes",
            Count(|row| Some(row.counted()?.buzzes.into())),
        ),
        Column(
            "best_snr_db",
            "largest signal-to-noise ratio of a pulse",
            Number(1, |row| row.counted()?.best_snr_db),
        ),
        Column(
            "loudest_peak_khz",
            "median peak frequency of the pass that stands highest above the noise",
            Number(2, |row| {
                let loudest = row.passes()?.max_by(|a, b| a.snr_db.total_cmp(&b.snr_db));
                Some(loudest?.peak_khz)
            }),
        ),
        Column(
            "tones_khz",
            "constant tones that were taken out before measuring: electronics, as a rule",
            Text(|row| {
                let tones = row.counted().map(|own| own.tones_khz.as_slice());
                joined(
                    tones
                        .unwrap_or_default()
                        .iter()
                        .map(|khz| format!("{khz:.1}")),
                )
            }),
        ),
    ]
}

/// A column for each reason of doubt.
fn doubts<'a>() -> [Column<Row<'a>>; 8] {
    [
        Column(
            "click_sounds",
            "sounds doubted as clicks",
            Count(|row| row.doubted(Doubt::Click)),
        ),
        Column(
            "insect_like_sounds",
            "sounds doubted as an insect's",
            Count(|row| row.doubted(Doubt::InsectLike)),
        ),
        Column(
            "wind_sounds",
            "sounds doubted as wind's or rain's",
            Count(|row| row.doubted(Doubt::Wind)),
        ),
        Column(
            "tone_sounds",
            "sounds doubted as tones",
            Count(|row| row.doubted(Doubt::Tone)),
        ),
        Column(
            "electronics_sounds",
            "sounds doubted as a machine's",
            Count(|row| row.doubted(Doubt::Electronics)),
        ),
        Column(
            "wandering_sounds",
            "sounds doubted since their frequency wanders",
            Count(|row| row.doubted(Doubt::Wandering)),
        ),
        Column(
            "faint_sounds",
            "sounds doubted as too faint",
            Count(|row| row.doubted(Doubt::Faint)),
        ),
        Column(
            "lone_sounds",
            "sounds doubted since they stand alone",
            Count(|row| row.doubted(Doubt::Lone)),
        ),
    ]
}

fn heard<'a>() -> [Column<Row<'a>>; 9] {
    [
        Column(
            "clipped_share",
            "share of the samples at the largest value that the file can hold",
            Number(6, |row| Some(row.counted()?.clipped_share)),
        ),
        Column(
            "cut_off",
            "whether sound is missing at its end",
            Flag(|row| Some(row.content()?.cut_off)),
        ),
        Column(
            "level_db",
            "largest sample, dB re full scale",
            Number(1, |row| row.counted()?.level_db),
        ),
        Column(
            "noise_20_khz_db",
            "noise floor from 20 to 30 kHz, dB re full scale",
            Number(1, |row| row.noise_db(2)),
        ),
        Column(
            "noise_40_khz_db",
            "noise floor from 40 to 50 kHz, dB re full scale",
            Number(1, |row| row.noise_db(4)),
        ),
        Column(
            "noise_80_khz_db",
            "noise floor from 80 to 90 kHz, dB re full scale",
            Number(1, |row| row.noise_db(8)),
        ),
        Column(
            "temperature_c",
            "temperature outside the recorder, as the file states it",
            Number(1, |row| row.content()?.temperature_c),
        ),
        Column(
            "temperature_inside_c",
            "temperature inside the recorder, as the file states it",
            Number(1, |row| row.content()?.temperature_inside_c),
        ),
        Column(
            "humidity_percent",
            "relative humidity, as the file states it",
            Number(0, |row| row.content()?.humidity_percent),
        ),
    ]
}

fn decided<'a>() -> [Column<Row<'a>>; 6] {
    [
        Column(
            "labels",
            "what people take it to be, in their words",
            Text(|row| joined(row.labels().iter().map(|label| label.text.clone()))),
        ),
        Column(
            "certainty",
            "how sure they are: sure, probable or possible, one for each label",
            Text(|row| {
                joined(
                    row.labels()
                        .iter()
                        .map(|label| certainty(label.certainty).to_owned()),
                )
            }),
        ),
        Column(
            "who",
            "who says so, one for each label",
            Text(|row| {
                let named = row.labels().iter().any(|label| !label.who.is_empty());
                let who = row.labels().iter().map(|label| label.who.clone());
                if named { joined(who) } else { String::new() }
            }),
        ),
        Column(
            "review",
            "what a person found who looked whether it holds a bat: bat, no_bat or unsure",
            Text(|row| {
                let review = row.decisions.reviews.get(&row.own.file.examined.sha256);
                review
                    .map(|review| review.verdict.name().to_owned())
                    .unwrap_or_default()
            }),
        ),
        Column(
            "copy_of",
            "path of the file with the same content that is counted instead of this one",
            Text(|row| row.own.copy_of.clone().unwrap_or_default()),
        ),
        Column(
            "fault",
            "why it could not be read",
            Text(|row| match &row.own.file.examined.outcome {
                Outcome::Broken { message, .. } => message.clone(),
                Outcome::Read(_) => String::new(),
            }),
        ),
    ]
}

impl<'a> Row<'a> {
    fn content(&self) -> Option<&'a Content> {
        self.own.file.examined.content()
    }

    fn counted(&self) -> Option<&'a Content> {
        self.own.counted()
    }

    fn passes(&self) -> Option<impl Iterator<Item = &'a PassFacts>> {
        Some(passes(self.counted()?, &self.night.settings))
    }

    fn doubted(&self, doubt: Doubt) -> Option<u64> {
        let counts = &self.counted()?.doubts;
        let of = counts.iter().find(|count| count.doubt == doubt);
        Some(of.map_or(0, |count| count.sounds as u64))
    }

    /// The noise floor in a band of 10 kHz; none where the recording does not reach so high.
    fn noise_db(&self, band: usize) -> Option<f64> {
        self.counted()?.noise_db.get(band).copied().map(f64::from)
    }

    fn labels(&self) -> &'a [Label] {
        self.decisions.labels_of(&self.own.file.examined)
    }
}

pub(super) fn joined(parts: impl Iterator<Item = String>) -> String {
    parts.collect::<Vec<_>>().join(PARTS)
}

/// The word for how sure a person is.
pub(super) fn certainty(certainty: Certainty) -> &'static str {
    match certainty {
        Certainty::Sure => "sure",
        Certainty::Probable => "probable",
        Certainty::Possible => "possible",
    }
}
