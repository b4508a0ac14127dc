//! What a call sheet says in words, and what people said.

use crate::draw::Markup;
use crate::recording::{Certainty, Label};

pub(super) const CAUTION: &str = "A number is no identification: species overlap, and one animal calls differently \
    in the open, among trees and near prey. Bats and their roosts are protected in many countries; handling them or \
    entering a roost is for people with a licence and training. Follow your local law.";
const LABEL_CAUTION: &str = "A label is somebody\u{2019}s judgement and no measurement. The calls of many species \
    overlap: let somebody else look who does not know what is written here.";
pub(super) const EARS: &str =
    "Begin quietly: with headphones a sudden loud sound can hurt. Turn up slowly.";
pub(super) const NO_DRAWING: &str =
    "The picture is left out: it holds something that does not belong in a drawing.";
pub(super) const NO_CODE: &str =
    "The QR code is left out: it holds something that does not belong in a drawing.";
pub(super) const WHAT_A_LINK_IS: &str =
    "The link holds the call itself, to look at, to hear and to measure.";
pub(super) const PASTE: &str =
    "Copy the text below and paste it into Dusklens: it carries the call itself.";
pub(super) const SOUND_IN_FILE: &str = "The sound is in the file that this was printed from.";
pub(super) const LINK_IN_FILE: &str = "The link is in the file that this was printed from.";

/// How fast the sound plays, as a sentence.
pub(super) fn pace(slowness: f64) -> String {
    if !(slowness.is_finite() && slowness > 0.0) {
        return "How much slower than life it plays is not known.".to_owned();
    }
    let times = format!("{slowness:.1}");
    let times = times.trim_end_matches('0').trim_end_matches('.');
    if times == "1" {
        return "It plays as fast as life.".to_owned();
    }
    format!("It plays {times} times slower than life, and as many times lower.")
}

/// Labels, and the note of whoever sent the call.
pub(super) fn said(page: &mut Markup, labels: &[Label], note: &str) {
    let has_note = !note.trim().is_empty();
    if labels.is_empty() && !has_note {
        page.text("p", &[], "Nothing was said of this call.");
        return;
    }
    if has_note {
        lines(page, "p", note);
    }
    if labels.is_empty() {
        return;
    }
    page.open("dl", &[]);
    for label in labels {
        one(page, label);
    }
    page.close();
    page.text("p", &[("class", &"caution")], LABEL_CAUTION);
}

fn one(page: &mut Markup, label: &Label) {
    page.open("div", &[]);
    page.text("dt", &[("dir", &"auto")], &label.text);
    page.text("dd", &[], &about(label));
    if !label.note.trim().is_empty() {
        lines(page, "dd", &label.note);
    }
    page.text("dd", &[("dir", &"auto")], &source(label));
    page.close();
}

/// How sure, and of which pulses.
fn about(label: &Label) -> String {
    let certainty = match label.certainty {
        Certainty::Sure => "Sure (would be surprised to be wrong)",
        Certainty::Probable => "Probable (more likely than anything else)",
        Certainty::Possible => "Possible (cannot be ruled out; others are as likely)",
    };
    let names: Vec<&str> = label.about.iter().map(|span| span.name.as_str()).collect();
    match names.as_slice() {
        [] => format!("{certainty}: of the whole recording"),
        [name] => format!("{certainty}: of pulse {name}"),
        names => format!("{certainty}: of pulses {}", names.join(", ")),
    }
}

fn source(label: &Label) -> String {
    let who = label.who.trim();
    let who = if who.is_empty() {
        "Nobody gave a name"
    } else {
        who
    };
    let when = label.when.trim();
    if when.is_empty() {
        who.to_owned()
    } else {
        format!("{who}, {when}")
    }
}

/// Text with its line breaks.
fn lines(page: &mut Markup, element: &'static str, text: &str) {
    page.open(element, &[("dir", &"auto")]);
    for (index, line) in text.trim_end().lines().enumerate() {
        if index > 0 {
            page.empty("br", &[]);
        }
        page.words(line);
    }
    page.close();
}
