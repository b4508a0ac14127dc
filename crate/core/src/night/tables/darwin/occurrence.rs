//! Occurrences: what people's labels say, else what was measured.

use super::super::super::card::{Night, NightFile};
use super::super::super::content::Content;
use super::super::super::decisions::{Decisions, Review, ReviewVerdict};
use super::super::super::list::passes;
use super::super::recordings::certainty;
use super::super::table::Column;
use super::super::table::Reading::{Count, Text};
use super::super::table::{Table, table};
use super::name::{Said, said};
use super::{file_name, recording_id};
use crate::pulse::Verdict;
use crate::recording::{Certainty, Label};

const BATS: &str = "Chiroptera";

/// An occurrence in the terms of Darwin Core.
#[derive(Default)]
pub(super) struct Occurrence {
    id: String,
    event: String,
    recorded_by: String,
    media: String,
    passes: Option<u64>,
    remarks: String,
    name: String,
    rank: &'static str,
    verbatim: String,
    qualifier: String,
    identified_by: String,
    identified: String,
    status: &'static str,
    identification_remarks: String,
}

/// The occurrences of a night, in order of time. Absences are not stated.
#[must_use]
pub fn occurrences(night: &Night, decisions: &Decisions) -> Table {
    let rows = night.files.iter().flat_map(|own| {
        let content = own.counted();
        content.map_or_else(Vec::new, |content| {
            of_recording(night, own, content, decisions)
        })
    });
    table("Occurrences in terms of Darwin Core", &columns(), rows)
}

fn of_recording(
    night: &Night,
    own: &NightFile,
    content: &Content,
    decisions: &Decisions,
) -> Vec<Occurrence> {
    let labels = decisions.labels_of(&own.file.examined);
    let common = || Occurrence {
        event: recording_id(own),
        recorded_by: night.settings.who.clone(),
        media: file_name(own),
        remarks: "The quantity is passes: activity, and no number of animals".to_owned(),
        ..Occurrence::default()
    };
    if labels.is_empty() {
        let review = decisions.reviews.get(&own.file.examined.sha256);
        let passes = count_passes(night, content);
        return unlabelled(common(), content, review, passes)
            .into_iter()
            .collect();
    }
    let labels: Vec<(&Label, Said)> = labels
        .iter()
        .map(|label| (label, said(&label.text)))
        .filter(|(_, said)| *said != Said::NoBat)
        .collect();
    // Passes of a recording belong to its label only where there is one, and it is about all of it.
    let passes = match labels.as_slice() {
        [(only, _)] if only.about.is_empty() => count_passes(night, content),
        _ => None,
    };
    let row = |(label, said)| Occurrence {
        passes,
        ..labelled(common(), label, said)
    };
    labels.into_iter().map(row).collect()
}

/// How many passes a recording has, where it has any.
fn count_passes(night: &Night, content: &Content) -> Option<u64> {
    let count = passes(content, &night.settings).count();
    (count > 0).then_some(count as u64)
}

/// A recording that nobody labelled: an occurrence of the order, where a person or the measurement says that it holds one.
fn unlabelled(
    common: Occurrence,
    content: &Content,
    review: Option<&Review>,
    passes: Option<u64>,
) -> Option<Occurrence> {
    let verdict = review.map(|review| review.verdict);
    let holds = content.verdict == Verdict::HoldsPulses;
    let (status, remarks) = match verdict {
        Some(ReviewVerdict::NoBat) => return None,
        Some(ReviewVerdict::Bat) => (
            "seen by a person",
            "a person found a bat in it; no species was named",
        ),
        Some(ReviewVerdict::Unsure) if holds => (
            "unverified",
            "automatic, pulses like a bat's; a person who looked could not tell",
        ),
        None if holds => ("unverified", "automatic, pulses like a bat's, not verified"),
        _ => return None,
    };
    let person = review.filter(|review| review.verdict == ReviewVerdict::Bat);
    let program = format!("Dusklens {}", env!("CARGO_PKG_VERSION"));
    Some(Occurrence {
        id: format!("{}:unlabelled", common.event),
        passes,
        name: BATS.to_owned(),
        rank: "order",
        qualifier: "to order only".to_owned(),
        identified_by: person.map_or(program, |review| review.who.clone()),
        identified: person.map(|review| review.when.clone()).unwrap_or_default(),
        status,
        identification_remarks: remarks.to_owned(),
        ..common
    })
}

fn labelled(common: Occurrence, label: &Label, said: Said) -> Occurrence {
    let (name, rank, doubt) = match said {
        Said::Name {
            name,
            rank,
            qualifier,
        } => (name, rank, qualifier),
        _ => (BATS.to_owned(), "order", "to order only".to_owned()),
    };
    let sure = match label.certainty {
        Certainty::Sure => String::new(),
        unsure => certainty(unsure).to_owned(),
    };
    let parts = [doubt, sure].into_iter().filter(|part| !part.is_empty());
    let about = match label.about.len() {
        0 => "about the whole recording",
        _ => "about some of its pulses",
    };
    let mut remarks = format!("certainty: {}; {about}", certainty(label.certainty));
    if !label.note.is_empty() {
        remarks.push_str(&format!("; {}", label.note));
    }
    Occurrence {
        id: format!("{}:label:{}", common.event, label.id),
        name,
        rank,
        verbatim: label.text.clone(),
        qualifier: parts.collect::<Vec<_>>().join("; "),
        identified_by: label.who.clone(),
        identified: label.when.clone(),
        status: "identified by one person",
        identification_remarks: remarks,
        ..common
    }
}

pub(super) fn columns() -> Vec<Column<Occurrence>> {
    let mut columns: Vec<Column<Occurrence>> = vec![
        Column(
            "occurrenceID",
            "what the occurrence is known by",
            Text(|row| row.id.clone()),
        ),
        Column(
            "eventID",
            "the recording that it is in",
            Text(|row| row.event.clone()),
        ),
        Column(
            "basisOfRecord",
            "what it rests on",
            Text(|_| "MachineObservation".to_owned()),
        ),
        Column(
            "occurrenceStatus",
            "present; an absence is never stated",
            Text(|_| "present".to_owned()),
        ),
        Column(
            "recordedBy",
            "who answers for the survey",
            Text(|row| row.recorded_by.clone()),
        ),
        Column("organismQuantity", "how much", Count(|row| row.passes)),
        Column(
            "organismQuantityType",
            "of what",
            Text(|row| {
                row.passes
                    .map(|_| "bat passes".to_owned())
                    .unwrap_or_default()
            }),
        ),
        Column(
            "associatedMedia",
            "name of the file",
            Text(|row| row.media.clone()),
        ),
        Column(
            "occurrenceRemarks",
            "what else there is to say",
            Text(|row| row.remarks.clone()),
        ),
    ];
    columns.extend(identification());
    columns
}

fn identification() -> Vec<Column<Occurrence>> {
    vec![
        Column(
            "scientificName",
            "as a person wrote it in a label, else the order of bats",
            Text(|row| row.name.clone()),
        ),
        Column(
            "taxonRank",
            "rank of that name, by its form",
            Text(|row| row.rank.to_owned()),
        ),
        Column(
            "order",
            "of animals, where the name is no other",
            Text(|row| {
                if row.name == BATS {
                    BATS.to_owned()
                } else {
                    String::new()
                }
            }),
        ),
        Column(
            "verbatimIdentification",
            "the words of the label",
            Text(|row| row.verbatim.clone()),
        ),
        Column(
            "identificationQualifier",
            "doubt about the name",
            Text(|row| row.qualifier.clone()),
        ),
        Column(
            "identifiedBy",
            "who says so",
            Text(|row| row.identified_by.clone()),
        ),
        Column("dateIdentified", "when", Text(|row| row.identified.clone())),
        Column(
            "identificationVerificationStatus",
            "how far it was looked at",
            Text(|row| row.status.to_owned()),
        ),
        Column(
            "identificationRemarks",
            "how sure, and what was noted",
            Text(|row| row.identification_remarks.clone()),
        ),
    ]
}
