//! What a report says of itself: cautions, method, settings.

use super::super::audit::MissRate;
use super::super::card::Night;
use super::super::plot::{counted, thousands};
use super::parts::paragraph;
use crate::draw::Markup;
use crate::pulse::Settings;

pub(super) const NO_EFFORT: &str =
    "Nothing was recorded and no watch was planned: these zeros say nothing about bats.";
pub(super) const WATCH: &str =
    "The watch is the planned one, else from the first to the last recording.";
pub(super) const HOURS: &str =
    "Local time. Passes are counted where they begin, recordings likewise.";
pub(super) const CROWDS: &str =
    "Passes that lie together in frequency. A crowd is no species: many share a frequency.";
pub(super) const LABELS: &str = "Labels are people\u{2019}s judgements and no measurements. Each recording counts once for each label.";

const CAUTIONS: [&str; 5] = [
    "A pass measures activity and not a number of animals: one bat that feeds at a pond makes many.",
    "No species was identified by this program. Calls of many species overlap.",
    "Where no bat was found, that is no proof of absence: faint, high and hidden calls escape a recorder. A zero means \
     something only with its hours of watch.",
    "Nights, sites and recorders compare only where microphones, settings, weather and effort do.",
    "Bats and their roosts are protected in many countries. Follow your local law; handling bats and entering roosts is \
     for people with a licence and training.",
];

pub(super) fn cautions(page: &mut Markup) {
    page.text("h2", &[], "How to read this report");
    page.open("div", &[("class", &"caution")]);
    page.open("ul", &[]);
    for caution in CAUTIONS {
        page.text("li", &[], caution);
    }
    page.close();
    page.close();
}

pub(super) fn double_check(page: &mut Markup, rate: &MissRate) {
    page.text("h2", &[], "Double-check of the files set aside");
    let percent = |share: f64| format!("{:.1} %", share * 100.0);
    let text = format!(
        "Of {} in which no bat was found, {} drawn at random and checked by a person: {} did hold a bat. The share that \
         was missed is {} (95 % interval {} to {}), which makes {} (95 % interval {} to {}).",
        counted(rate.of_total, "recording", "recordings"),
        counted(rate.checked, "was", "were"),
        thousands(rate.found),
        percent(rate.share),
        percent(rate.low),
        percent(rate.high),
        counted(rate.missed, "recording", "recordings"),
        thousands(rate.missed_low),
        thousands(rate.missed_high),
    );
    paragraph(page, &text);
}

pub(super) fn method(page: &mut Markup, nights: &[&Night]) {
    page.text("h2", &[], "Method and settings");
    paragraph(page, METHOD);
    let settings = Settings::default();
    page.open("ul", &[]);
    let mut say = |text: &str| page.text("li", &[], text);
    for fewest in fewest(nights) {
        say(&format!(
            "A pass is a sequence of {fewest} pulses or more, ended by a silence of {} s.",
            settings.sequence_gap_s
        ));
    }
    say(&format!(
        "Looked at from {} to {} kHz. Pulses last {} to {} ms.",
        settings.lowest_khz, settings.highest_khz, settings.shortest_ms, settings.longest_ms
    ));
    say(&format!(
        "A trace stands {} dB above the mean noise of its frequency, {} dB at its best. A pulse\u{2019}s edges lie {} dB \
         below its maximum, at least {} dB above the noise.",
        settings.trace_db, settings.seed_db, settings.edge_db, settings.edge_above_noise_db
    ));
    say(
        "Sunset and sunrise are those of the sun\u{2019}s upper edge; civil and nautical twilight end with the sun 6 and 12 degrees below the horizon.",
    );
    page.close();
    let by = format!(
        "Made by Dusklens {}. This file holds no program and asks for nothing on the network.",
        env!("CARGO_PKG_VERSION")
    );
    page.text("p", &[("class", &"small")], &by);
}

const METHOD: &str = "Every recording was read and measured as a whole: sounds that stand above the noise are traced, \
    judged by their shape, and those that may be a bat\u{2019}s are grouped into sequences. A feeding buzz is the rise in \
    pulse rate at the end of an attack. Copies of the same content count once. Recordings were not altered.";

/// Definitions of a pass that the nights were counted by.
fn fewest(nights: &[&Night]) -> Vec<u32> {
    let mut all: Vec<u32> = nights
        .iter()
        .map(|night| night.settings.pass_min_pulses)
        .collect();
    all.sort_unstable();
    all.dedup();
    all
}
