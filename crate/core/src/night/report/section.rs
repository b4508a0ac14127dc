//! A night in a report.

use std::collections::{BTreeMap, BTreeSet};

use super::super::card::Night;
use super::super::checks::{Check, CheckVerdict, checks};
use super::super::content::Outcome;
use super::super::decisions::{Decisions, ReviewVerdict};
use super::super::frame::Frame;
use super::super::plot::{PlotKind, PlotOrder, counted, plots, thousands};
use super::parts::{self, paragraph, table};
use super::{PLOT_PX, PlaceSharing, facts, words};
use crate::draw::Markup;
use crate::recording::Certainty;

/// Names of files beyond this many are counted and not listed.
const MOST_NAMES: usize = 40;
/// Names beside a check.
const NAMES_OF_CHECK: usize = 3;

pub(super) fn write(
    page: &mut Markup,
    night: &Night,
    frame: &Frame,
    decisions: &Decisions,
    place: PlaceSharing,
) {
    let totals = night.totals();
    page.open("section", &[("class", &"night")]);
    let heading = format!("Night of {}, {}", night.key.evening, night.key.recorder);
    page.text("h2", &[("dir", &"auto")], &heading);
    parts::facts(page, &facts::of(night, frame, &totals, place));
    page.text("h3", &[], "What was found");
    table(
        page,
        words::WATCH,
        &["Of the whole night", ""],
        &facts::counts(&totals),
        None,
    );
    drawings(page, night, frame);
    hours(page, night);
    crowds(page, night);
    labels(page, night, decisions);
    reviews(page, night, decisions);
    page.text("h3", &[], "Night check: did the recorder do its work?");
    for_checks(page, &checks(night, frame));
    broken(page, night);
    page.close();
}

fn drawings(page: &mut Markup, night: &Night, frame: &Frame) {
    page.text("h3", &[], "The night on the clock");
    let has_temperature = !night.temperatures().0.is_empty();
    let kinds = [
        Some(PlotKind::Activity),
        Some(PlotKind::Frequency),
        has_temperature.then_some(PlotKind::Temperature),
        Some(PlotKind::Noise),
    ];
    for kind in kinds.into_iter().flatten() {
        let order = PlotOrder {
            kind,
            width_px: PLOT_PX,
            bin_min: night.settings.bin_min,
            ..PlotOrder::default()
        };
        parts::figure(page, &plots(night, frame, &order).svg);
    }
}

fn hours(page: &mut Markup, night: &Night) {
    page.text("h3", &[], "By hours of the clock");
    let hours = night.hours();
    let columns = [
        "Hour from",
        "Watched, min",
        "Passes",
        "Feeding buzzes",
        "Recordings",
        "with bat pulses",
    ];
    let cells = |name: String, numbers: [u32; 5]| {
        let mut cells = vec![name];
        cells.extend(numbers.map(thousands));
        cells
    };
    let watched = |minutes: f64| libm::round(minutes) as u32;
    let rows: Vec<Vec<String>> = hours
        .iter()
        .map(|hour| {
            let numbers = [
                watched(hour.watched_min),
                hour.passes,
                hour.buzzes,
                hour.recordings,
                hour.bat_recordings,
            ];
            cells(hour.from.clock(night.settings.utc_offset_min), numbers)
        })
        .collect();
    let sum = |of: fn(&super::super::Hour) -> u32| hours.iter().map(of).sum::<u32>();
    let all = [
        watched(hours.iter().map(|hour| hour.watched_min).sum()),
        sum(|hour| hour.passes),
        sum(|hour| hour.buzzes),
        sum(|hour| hour.recordings),
        sum(|hour| hour.bat_recordings),
    ];
    let foot = cells("All".to_owned(), all);
    table(page, words::HOURS, &columns, &rows, Some(&foot));
}

fn crowds(page: &mut Markup, night: &Night) {
    page.text("h3", &[], "Crowds in frequency");
    let crowds = night.crowds();
    if crowds.is_empty() {
        paragraph(
            page,
            "Passes were too few, or too far apart in frequency, to form a crowd.",
        );
        return;
    }
    let rows: Vec<Vec<String>> = crowds
        .iter()
        .map(|crowd| {
            vec![
                format!("{:.0} to {:.0} kHz", crowd.from_khz, crowd.to_khz),
                format!("{:.1} kHz", crowd.median_khz),
                thousands(crowd.passes),
            ]
        })
        .collect();
    table(
        page,
        words::CROWDS,
        &["Characteristic frequency", "Median", "Passes"],
        &rows,
        None,
    );
    let inside: u32 = crowds.iter().map(|crowd| crowd.passes).sum();
    let alone = night.totals().passes.saturating_sub(inside);
    if alone > 0 {
        paragraph(
            page,
            &format!(
                "{} outside of these.",
                counted(alone, "pass lies", "passes lie")
            ),
        );
    }
}

/// How many recordings each label was given to, by how sure people are.
fn labels(page: &mut Markup, night: &Night, decisions: &Decisions) {
    page.text("h3", &[], "What people say");
    let mut by_text: BTreeMap<&str, [u32; 3]> = BTreeMap::new();
    for (_, own, _) in night.recordings() {
        let labels = decisions.labels_of(&own.file.examined);
        let texts: BTreeSet<&str> = labels.iter().map(|label| label.text.as_str()).collect();
        for text in texts {
            let same = labels.iter().filter(|label| label.text == text);
            // A recording counts once, by the surest of its labels with these words.
            let surest = same.map(|label| rank(label.certainty)).min().unwrap_or(2);
            if let Some(count) = by_text.entry(text).or_default().get_mut(surest) {
                *count += 1;
            }
        }
    }
    if by_text.is_empty() {
        paragraph(page, "Nobody labelled a recording of this night.");
        return;
    }
    let rows: Vec<Vec<String>> = by_text
        .into_iter()
        .map(|(text, counts)| {
            let mut cells = vec![text.to_owned(), thousands(counts.iter().sum())];
            cells.extend(counts.map(thousands));
            cells
        })
        .collect();
    let columns = ["Label", "Recordings", "sure", "probable", "possible"];
    table(page, words::LABELS, &columns, &rows, None);
}

fn rank(certainty: Certainty) -> usize {
    match certainty {
        Certainty::Sure => 0,
        Certainty::Probable => 1,
        Certainty::Possible => 2,
    }
}

fn reviews(page: &mut Markup, night: &Night, decisions: &Decisions) {
    let with = |verdict: ReviewVerdict| {
        let own = night.recordings();
        let own = own.filter_map(|(_, own, _)| decisions.reviews.get(&own.file.examined.sha256));
        own.filter(|review| review.verdict == verdict).count() as u32
    };
    let [bat, none, unsure] = [
        ReviewVerdict::Bat,
        ReviewVerdict::NoBat,
        ReviewVerdict::Unsure,
    ]
    .map(with);
    let all = bat + none + unsure;
    let text = if all == 0 {
        "Nobody checked a recording of this night by ear or eye.".to_owned()
    } else {
        format!(
            "{} checked by ear or eye: {} with a bat, {} without, {} that cannot be told.",
            counted(all, "recording was", "recordings were"),
            thousands(bat),
            thousands(none),
            thousands(unsure)
        )
    };
    paragraph(page, &text);
}

fn for_checks(page: &mut Markup, checks: &[Check]) {
    for check in checks {
        match check.verdict {
            CheckVerdict::Trouble => one_check(page, check, "Trouble", "check trouble"),
            CheckVerdict::Look => one_check(page, check, "Look", "check"),
            CheckVerdict::Unknown => one_check(page, check, "Cannot be told", "check"),
            CheckVerdict::Fine => {}
        }
    }
    let fine = checks
        .iter()
        .filter(|check| check.verdict == CheckVerdict::Fine);
    let fine: Vec<&str> = fine.map(|check| check.title.as_str()).collect();
    if !fine.is_empty() {
        page.text("h4", &[], "Nothing unusual");
        page.open("ul", &[("class", &"short")]);
        for title in fine {
            page.text("li", &[("dir", &"auto")], title);
        }
        page.close();
    }
}

fn one_check(page: &mut Markup, check: &Check, verdict: &str, class: &str) {
    page.open("div", &[("class", &class)]);
    page.text(
        "h4",
        &[("dir", &"auto")],
        &format!("{verdict}: {}", check.title),
    );
    if !check.evidence.is_empty() {
        paragraph(page, &check.evidence.join(" "));
    }
    if !check.advice.trim().is_empty() {
        paragraph(page, &format!("Advice: {}", check.advice));
    }
    let all = check.files.len() as u32 + check.more;
    if all > 0 {
        let names: Vec<&str> = check
            .files
            .iter()
            .take(NAMES_OF_CHECK)
            .map(String::as_str)
            .collect();
        let others = all as usize - names.len();
        let more = if others == 0 {
            String::new()
        } else {
            format!(" and {} more", thousands(others as u32))
        };
        let text = format!("Files: {}{more}.", names.join(", "));
        page.text("p", &[("class", &"small"), ("dir", &"auto")], &text);
    }
    page.text(
        "p",
        &[("class", &"small")],
        &format!("Rule: {}", check.rule),
    );
    page.close();
}

fn broken(page: &mut Markup, night: &Night) {
    let broken: Vec<(&str, &str)> = night
        .files
        .iter()
        .filter_map(|own| match &own.file.examined.outcome {
            Outcome::Broken { message, .. } => Some((own.file.path.as_str(), message.as_str())),
            Outcome::Read(_) => None,
        })
        .collect();
    if broken.is_empty() {
        return;
    }
    page.text("h3", &[], "Files that could not be read");
    page.open("ul", &[]);
    for (path, message) in broken.iter().take(MOST_NAMES) {
        page.text("li", &[("dir", &"auto")], &format!("{path}: {message}"));
    }
    page.close();
    if let Some(others) = broken
        .len()
        .checked_sub(MOST_NAMES)
        .filter(|&others| others > 0)
    {
        paragraph(
            page,
            &format!(
                "And {}.",
                counted(others as u32, "other file", "other files")
            ),
        );
    }
}
