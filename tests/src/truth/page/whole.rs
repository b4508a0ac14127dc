//! How sure the numbers are, and what is said of recordings as a whole.

use super::model::{Section, Table};
use crate::truth::coverage::{CoverageRow, WANTED, quantities};
use crate::truth::tally::Tally;

/// How often the stated intervals hold.
pub(super) fn coverage(tally: &Tally) -> Section {
    let named = quantities(&tally.coverage);
    let columns: Vec<&str> = ["case", "SNR dB", "pulses"]
        .into_iter()
        .chain(named.iter().copied())
        .collect();
    let cells = |row: &CoverageRow| {
        let n = row.held.get("level_db").map_or(0, |(_, n)| *n);
        let shares = named.iter().map(|quantity| {
            let share = row.share(quantity);
            share.map_or("-".into(), |share| format!("{:.1}", 100.0 * share))
        });
        [row.case.clone(), row.snr.clone(), n.to_string()]
            .into_iter()
            .chain(shares)
            .collect()
    };
    Section {
        id: "coverage",
        title: "How often the stated intervals hold".into(),
        text: vec![
            format!(
                "Each number is stated with half the width of an interval that is to hold the true value in {:.0} of 100 \
                 cases. Here is in how many it did, per cent, of all pulses that were found, however faint.",
                100.0 * WANTED
            ),
            "The widths were fitted on the draw for tuning, over all cases together. One kind of call, or one level, may \
             lie above or below: where it lies far below, the stated interval is too narrow there."
                .into(),
        ],
        tables: vec![
            Table::new("Intervals that held, per cent", &columns)
                .rows(tally.coverage.iter().map(cells)),
        ],
        ..Section::default()
    }
}

/// What recordings were said to hold, and why sounds were doubted.
pub(super) fn doubts(tally: &Tally) -> Section {
    let columns = [
        "case",
        "holds pulses",
        "unsure",
        "probably none",
        "doubted",
        "of these true",
        "reasons",
    ];
    let rows = tally
        .verdicts
        .iter()
        .zip(&tally.doubts)
        .map(|(said, doubt)| {
            let reasons: Vec<String> = doubt
                .reasons
                .iter()
                .map(|(name, n)| format!("{n} {name}"))
                .collect();
            vec![
                said.case.into(),
                said.holds.to_string(),
                said.unsure.to_string(),
                said.none.to_string(),
                doubt.reasons.values().sum::<usize>().to_string(),
                doubt.wrongly.to_string(),
                reasons.join(", "),
            ]
        });
    Section {
        id: "doubts",
        title: "What recordings are said to hold, and what is doubted".into(),
        text: vec![
            "Recordings by what was said of them, and doubted sounds by reason. A doubted sound is a true one where a call \
             was found as a doubted sound and nowhere else."
                .into(),
        ],
        tables: vec![Table::new("Verdicts and doubts", &columns).rows(rows)],
        ..Section::default()
    }
}

/// How well sequences follow animals.
pub(super) fn sequences(tally: &Tally) -> Section {
    let columns = ["case", "right", "wrong", "broken"];
    let rows = tally.links.iter().map(|(case, links)| {
        vec![
            (*case).into(),
            links.right.to_string(),
            links.wrong.to_string(),
            links.broken.to_string(),
        ]
    });
    let buzzes = &tally.buzzes;
    Section {
        id: "sequences",
        title: "How well sequences follow animals".into(),
        text: vec![
            "A link joins a pulse to the one before it in its sequence. It is right if one animal made both and none of its \
             pulses that were found lies between; broken links are those that should be there and are not."
                .into(),
            format!(
                "Feeding buzzes: just one found in {} of {} recordings with one, {} found where there was none.",
                buzzes.found, buzzes.made, buzzes.false_ones
            ),
        ],
        tables: vec![Table::new("Links", &columns).rows(rows)],
        ..Section::default()
    }
}
