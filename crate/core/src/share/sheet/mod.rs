//! A call sheet: one HTML file with a measured call, for people without the page, and for a wall.
//!
//! It is read by whoever gets it, in whatever browser, years from now and perhaps without a network. So it holds no
//! script and asks for nothing: picture, numbers, words and sound lie in it, and its own security policy forbids the
//! rest. On paper the QR code takes the place of the link. What people wrote is text and stays text. Drawings are the one
//! thing that is put in as markup, after they were read strictly (`drawing`).
//!
//! It is HTML that is well-formed XML as well, so that it can be checked and read by other programs.

mod drawing;
mod numbers;
mod words;

use super::SentPulse;
use crate::draw::Markup;
use crate::recording::Label;
use serde::{Deserialize, Serialize};

/// What a call sheet shows.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
pub struct CallSheet {
    /// What stands above all; a blank one becomes "A measured bat call".
    pub title: String,
    /// The picture, an SVG that a [`Figure`](crate::draw::Figure) wrote. Any other drawing is left out, and the sheet says so.
    pub figure: String,
    /// What was measured.
    pub pulses: Vec<SentPulse>,
    /// What people take the call to be.
    pub labels: Vec<Label>,
    /// A few words to the reader; may hold line breaks.
    pub note: String,
    /// Sentences about the recording and the settings it was measured and drawn with.
    pub facts: Vec<String>,
    /// One sentence on what of the sound travels in the link.
    pub carried: String,
    /// The whole link. One that does not begin with `http://` or `https://` is shown as text and not as a link.
    pub address: Option<String>,
    /// What stands after the `#` of the link.
    pub fragment: String,
    /// The link as a QR code, from [`qr_svg`](super::qr_svg).
    pub qr: Option<String>,
    /// A WAV file made for listening, in base64; may be empty.
    pub listening: String,
    /// How many times slower than life that plays.
    pub slowness: f64,
}

const STYLE: &str = include_str!("sheet.css");
/// Nothing is fetched and nothing runs, whatever else the file holds.
const POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; media-src data:; base-uri 'none'; form-action 'none'";
const UNTITLED: &str = "A measured bat call";

impl CallSheet {
    /// The sheet as the text of an HTML file.
    #[must_use]
    pub fn html(&self) -> String {
        let mut page = Markup::default();
        page.verbatim("<!doctype html>\n");
        page.open("html", &[("lang", &"en")]);
        self.head(&mut page);
        page.open("body", &[]);
        page.open("main", &[]);
        page.text("h1", &[("dir", &"auto")], self.name());
        section(&mut page, "Picture", |page| self.picture(page));
        section(&mut page, "Numbers", |page| {
            numbers::write(page, &self.pulses);
            page.text("p", &[("class", &"caution")], words::CAUTION);
        });
        section(&mut page, "What people say", |page| {
            words::said(page, &self.labels, &self.note);
        });
        section(&mut page, "Listen", |page| self.listen(page));
        section(&mut page, "Measure it again", |page| self.again(page));
        section(&mut page, "How it was made", |page| self.made(page));
        page.into_string()
    }

    fn name(&self) -> &str {
        let is_blank = self.title.trim().is_empty();
        if is_blank { UNTITLED } else { &self.title }
    }

    fn head(&self, page: &mut Markup) {
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
        page.empty(
            "meta",
            &[("name", &"color-scheme"), ("content", &"light dark")],
        );
        // Whoever serves the page of the link need not know where the sheet lies.
        page.empty(
            "meta",
            &[("name", &"referrer"), ("content", &"no-referrer")],
        );
        page.text("title", &[], self.name());
        page.open("style", &[]);
        page.verbatim(STYLE);
        page.close();
        page.close();
    }

    fn picture(&self, page: &mut Markup) {
        if self.figure.trim().is_empty() {
            page.text("p", &[], "No picture came with this call.");
        } else if drawing::is_drawing(&self.figure) {
            page.open(
                "div",
                &[
                    ("class", &"scroll white"),
                    ("role", &"region"),
                    ("tabindex", &0),
                    (
                        "aria-label",
                        &"Picture of the call, which scrolls sideways on a narrow screen",
                    ),
                ],
            );
            page.verbatim(&self.figure);
            page.close();
        } else {
            page.text("p", &[("class", &"caution")], words::NO_DRAWING);
        }
    }

    fn listen(&self, page: &mut Markup) {
        if !is_base64(&self.listening) {
            page.text("p", &[], "No sound came with this call.");
            return;
        }
        let pace = words::pace(self.slowness);
        page.open("div", &[("class", &"screen")]);
        page.text("p", &[("class", &"caution")], words::EARS);
        page.text("p", &[], &pace);
        let sound = format!("data:audio/wav;base64,{}", self.listening);
        page.text(
            "audio",
            &[
                ("controls", &"controls"),
                ("preload", &"none"),
                ("aria-label", &"The call, made for listening"),
                ("src", &sound),
            ],
            "This browser cannot play the sound.",
        );
        page.close();
        page.text("p", &[("class", &"paper")], words::SOUND_IN_FILE);
    }

    fn again(&self, page: &mut Markup) {
        if !self.carried.trim().is_empty() {
            page.text("p", &[], &self.carried);
        }
        let text = self.address.as_deref().unwrap_or(&self.fragment);
        if text.trim().is_empty() {
            page.text("p", &[], "No link came with this call.");
            return;
        }
        let is_link = is_web(text);
        page.open("div", &[("class", &"screen")]);
        if is_link {
            link(page, text);
        } else {
            page.text("p", &[], words::PASTE);
        }
        link_text(page, text);
        page.close();
        match &self.qr {
            Some(code) => qr(page, code, is_link),
            None => page.text("p", &[("class", &"paper")], words::LINK_IN_FILE),
        }
    }

    fn made(&self, page: &mut Markup) {
        if !self.facts.is_empty() {
            page.open("ul", &[]);
            for fact in &self.facts {
                page.text("li", &[], fact);
            }
            page.close();
        }
        let version = env!("CARGO_PKG_VERSION");
        let by = format!(
            "Made by Dusklens {version}. This file holds no program and asks for nothing on the network."
        );
        page.text("p", &[("class", &"small")], &by);
    }
}

/// A part with its heading, which names it to who hears the page.
fn section(page: &mut Markup, heading: &'static str, content: impl FnOnce(&mut Markup)) {
    // The figure has ids of its own.
    let id = format!("part-{}", heading.to_lowercase().replace(' ', "-"));
    page.open("section", &[("aria-labelledby", &id)]);
    page.text("h2", &[("id", &id)], heading);
    content(page);
    page.close();
}

fn link(page: &mut Markup, address: &str) {
    page.text("p", &[], words::WHAT_A_LINK_IS);
    page.open("p", &[]);
    page.text(
        "a",
        &[("href", &address), ("rel", &"noopener noreferrer")],
        "Open this call in Dusklens",
    );
    page.close();
}

fn link_text(page: &mut Markup, text: &str) {
    page.open("details", &[]);
    page.text("summary", &[], "The link as text");
    page.text(
        "textarea",
        &[
            ("readonly", &"readonly"),
            ("rows", &6),
            ("spellcheck", &"false"),
            ("aria-label", &"The link as text, to be copied"),
        ],
        text,
    );
    page.close();
}

fn qr(page: &mut Markup, code: &str, is_link: bool) {
    if !drawing::is_drawing(code) {
        page.text("p", &[("class", &"caution")], words::NO_CODE);
        return;
    }
    page.open("figure", &[]);
    page.open("div", &[("class", &"code")]);
    page.verbatim(code);
    page.close();
    let caption = if is_link {
        "The same link, for the camera of a phone."
    } else {
        "The same text, for the camera of a phone: paste into Dusklens what it reads."
    };
    page.text("figcaption", &[], caption);
    page.close();
}

/// Whether an address leads to the web: any other kind could run something, or lead into the reader's own files.
fn is_web(address: &str) -> bool {
    address.starts_with("http://") || address.starts_with("https://")
}

fn is_base64(text: &str) -> bool {
    let digits = text.trim_end_matches('=');
    let is_digit = |byte: &u8| byte.is_ascii_alphanumeric() || matches!(byte, b'+' | b'/');
    !digits.is_empty() && digits.as_bytes().iter().all(is_digit)
}

#[cfg(test)]
mod drawing_tests;
#[cfg(test)]
mod tests;
