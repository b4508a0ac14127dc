//! A report of nights: one HTML file to hand in and to print.
//!
//! It is read by people without the page, perhaps years from now: it holds no script and asks for nothing, and its own
//! security policy forbids the rest. What people and files say is text and stays text. It is HTML that is well-formed XML
//! as well. The same nights, decisions and order make the same report, byte for byte.
//!
//! Effort stands beside every count, and where the position of a roost must not be known, it is left out.

mod facts;
mod parts;
mod section;
mod words;

use serde::{Deserialize, Serialize};

use self::parts::{paragraph, table};
use super::audit::MissRate;
use super::card::Night;
use super::checks::{CheckVerdict, checks};
use super::decisions::Decisions;
use super::frame::Frame;
use super::plot::{PlotOrder, counted, plots_of_nights, thousands};
use super::tables::darwin::PlaceSharing;
use crate::draw::Markup;

const STYLE: &str = include_str!("report.css");
/// Nothing is fetched and nothing runs, whatever else the file holds.
const POLICY: &str =
    "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";
/// Width of plots: that of a page of A4 between its margins, pixels.
const PLOT_PX: f64 = 700.0;

/// What a report is to say beside what the nights hold.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(default)]
pub struct ReportOrder {
    /// What stands above all; a blank one is made from site and date.
    pub title: String,
    /// Who hands the report in; blank: whoever answers for the survey, as each night says.
    pub who: String,
    /// When the report was written, as it is to stand there.
    pub written: String,
    /// How exactly the position is told.
    pub place: PlaceSharing,
    /// What a double-check of the files set aside told, where one was made. It holds for all nights of the report.
    pub miss_rate: Option<MissRate>,
}

impl Default for ReportOrder {
    fn default() -> Self {
        Self {
            title: String::new(),
            who: String::new(),
            written: String::new(),
            place: PlaceSharing::Exact,
            miss_rate: None,
        }
    }
}

/// A report of these nights as the text of an HTML file, in the order in which they are given.
#[must_use]
pub fn report(nights: &[&Night], decisions: &Decisions, order: &ReportOrder) -> String {
    let framed: Vec<(&Night, Frame)> = nights.iter().map(|night| (*night, night.frame())).collect();
    let title = title(nights, order);
    let mut page = Markup::default();
    page.verbatim("<!doctype html>\n");
    page.open("html", &[("lang", &"en")]);
    head(&mut page, &title);
    page.open("body", &[]);
    page.open("main", &[]);
    page.text("h1", &[("dir", &"auto")], &title);
    byline(&mut page, nights, order);
    summary(&mut page, &framed);
    if framed.len() > 1 {
        several(&mut page, &framed);
    }
    words::cautions(&mut page);
    for (night, frame) in &framed {
        section::write(&mut page, night, frame, decisions, order.place);
    }
    if let Some(rate) = &order.miss_rate {
        words::double_check(&mut page, rate);
    }
    words::method(&mut page, nights);
    page.into_string()
}

fn title(nights: &[&Night], order: &ReportOrder) -> String {
    if !order.title.trim().is_empty() {
        return order.title.trim().to_owned();
    }
    let first = nights.first();
    let site = first.map_or("", |night| night.settings.site.trim());
    let place = match first {
        Some(night) if site.is_empty() => night.key.recorder.as_str(),
        _ => site,
    };
    match nights {
        [] => "Bat activity: no night".to_owned(),
        [night] => format!("Bat activity at {place}, night of {}", night.key.evening),
        _ => format!(
            "Bat activity at {place}, {} nights of recorders",
            nights.len()
        ),
    }
}

fn head(page: &mut Markup, title: &str) {
    page.open("head", &[]);
    page.empty("meta", &[("charset", &"utf-8")]);
    page.empty(
        "meta",
        &[
            ("http-equiv", &"Content-Security-Policy"),
            ("content", &POLICY),
        ],
    );
    page.empty(
        "meta",
        &[
            ("name", &"viewport"),
            ("content", &"width=device-width, initial-scale=1"),
        ],
    );
    page.text("title", &[], title);
    page.open("style", &[]);
    page.verbatim(STYLE);
    page.close();
    page.close();
}

fn byline(page: &mut Markup, nights: &[&Night], order: &ReportOrder) {
    let answering = || nights.iter().map(|night| night.settings.who.trim());
    let who = Some(order.who.trim())
        .into_iter()
        .chain(answering())
        .find(|who| !who.is_empty());
    let who = who.map(|who| format!("Report by {who}."));
    let written = order.written.trim();
    let when = (!written.is_empty()).then(|| format!("Written {written}."));
    let line: Vec<String> = who.into_iter().chain(when).collect();
    if !line.is_empty() {
        page.text(
            "p",
            &[("class", &"small"), ("dir", &"auto")],
            &line.join(" "),
        );
    }
}

/// What came of it all, and of how much effort.
fn summary(page: &mut Markup, nights: &[(&Night, Frame)]) {
    let totals: Vec<_> = nights.iter().map(|(night, _)| night.totals()).collect();
    let sum = |of: fn(&super::Totals) -> u32| totals.iter().map(of).sum::<u32>();
    let watch_h: f64 = totals.iter().map(|totals| totals.watch_h).sum();
    let found = format!(
        "In {watch_h:.1} hours of watch, {} and {} were found in {}. {} of these hold bat pulses, {} may, and in {} none \
         was found.",
        counted(sum(|t| t.passes), "pass", "passes"),
        counted(sum(|t| t.buzzes), "feeding buzz", "feeding buzzes"),
        counted(sum(|t| t.recordings), "recording", "recordings"),
        thousands(sum(|t| t.holding_pulses)),
        thousands(sum(|t| t.unsure)),
        thousands(sum(|t| t.probably_none)),
    );
    page.text("p", &[("class", &"lead")], &found);
    if watch_h == 0.0 {
        paragraph(page, words::NO_EFFORT);
    }
    let troubled: u32 = nights
        .iter()
        .flat_map(|(night, frame)| checks(night, frame))
        .map(|check| u32::from(check.verdict == CheckVerdict::Trouble))
        .sum();
    if troubled > 0 {
        let things = counted(troubled, "thing", "things");
        paragraph(
            page,
            &format!(
                "The night check found {things} wrong with the recorder: see below before numbers are compared."
            ),
        );
    }
}

/// All nights in one table and one drawing.
fn several(page: &mut Markup, nights: &[(&Night, Frame)]) {
    page.text("h2", &[], "All nights");
    let columns = [
        "Night",
        "Recorder",
        "Site",
        "Watch, h",
        "Recordings",
        "Passes",
        "Passes per hour",
        "Feeding buzzes",
    ];
    let rows: Vec<Vec<String>> = nights
        .iter()
        .map(|(night, _)| {
            let totals = night.totals();
            let rate = totals.passes_per_h;
            vec![
                night.key.evening.clone(),
                night.key.recorder.clone(),
                night.settings.site.clone(),
                format!("{:.1}", totals.watch_h),
                thousands(totals.recordings),
                thousands(totals.passes),
                rate.map_or_else(|| parts::NONE.to_owned(), |rate| format!("{rate:.1}")),
                thousands(totals.buzzes),
            ]
        })
        .collect();
    table(
        page,
        "Passes per hour are those of the watch.",
        &columns,
        &rows,
        None,
    );
    let order = PlotOrder {
        width_px: PLOT_PX,
        bin_min: 30,
        ..PlotOrder::default()
    };
    let framed: Vec<(&Night, &Frame)> = nights
        .iter()
        .map(|(night, frame)| (*night, frame))
        .collect();
    parts::figure(page, &plots_of_nights(&framed, &order).svg);
}

#[cfg(test)]
mod tests;
