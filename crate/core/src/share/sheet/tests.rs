//! A sheet is looked at as XML, which finds what a browser would silently put right.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a failed test may panic"
)]

use super::super::qr_svg;
use super::*;
use crate::pulse::Shape;
use crate::recording::{Certainty, Span};
use proptest::prelude::*;
use roxmltree::{Document, Node};

const FIGURE: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 9 9\" role=\"img\">\n\
    <title>A figure</title>\n<path d=\"M0 0h9\" clip-path=\"url(#plot)\"/>\n</svg>\n";

fn pulse(name: &str) -> SentPulse {
    SentPulse {
        name: name.to_owned(),
        start_s: 0.4,
        peak_s: 0.402,
        duration_ms: 5.678,
        peak_khz: 46.25,
        start_khz: 71.96,
        end_khz: 45.04,
        high_khz: 72.0,
        low_khz: 44.96,
        characteristic_khz: 45.5,
        interval_ms: None,
        level_db: -12.34,
        snr_db: 31.0,
        shape: Shape::FmQcf,
    }
}

fn label(text: &str) -> Label {
    Label {
        id: "1".to_owned(),
        when: "2026-06-01T22:00:00+01:00".to_owned(),
        about: Vec::new(),
        text: text.to_owned(),
        certainty: Certainty::Probable,
        note: String::new(),
        who: "An observer".to_owned(),
    }
}

fn sheet() -> CallSheet {
    let address = "https://example.org/#call=AbC".to_owned();
    CallSheet {
        title: "Over the ditch".to_owned(),
        figure: FIGURE.to_owned(),
        pulses: vec![pulse("4")],
        labels: vec![label("pipistrelle")],
        note: "One line\nand another".to_owned(),
        facts: vec!["Recorded at 250 kHz.".to_owned()],
        carried: "The link carries 20 to 80 kHz.".to_owned(),
        qr: Some(qr_svg(&address).unwrap()),
        address: Some(address),
        fragment: "call=AbC".to_owned(),
        listening: "UklGRg==".to_owned(),
        slowness: 10.0,
    }
}

/// Reads a sheet and gives it to a look. XML would want the doctype in capitals and is not needed for it.
fn look<T>(sheet: &CallSheet, at: impl FnOnce(&Document<'_>) -> T) -> T {
    let html = sheet.html();
    let xml = html.strip_prefix("<!doctype html>").unwrap();
    at(&Document::parse(xml).unwrap())
}

fn named<'a, 'i>(document: &'a Document<'i>, name: &str) -> Vec<Node<'a, 'i>> {
    let is = |node: &Node<'_, '_>| node.is_element() && node.tag_name().name() == name;
    document.descendants().filter(is).collect()
}

fn words_of(node: Node<'_, '_>) -> String {
    let text = |node: Node<'_, '_>| node.text().filter(|_| node.is_text()).map(str::to_owned);
    let words: String = node.descendants().filter_map(text).collect();
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn all_words(sheet: &CallSheet) -> String {
    look(sheet, |document| words_of(named(document, "main")[0]))
}

/// Nothing runs, and nothing is asked for.
fn is_still(document: &Document<'_>) -> bool {
    let mut elements = document.descendants().filter(Node::is_element);
    elements.all(|node| {
        let is_element = ![
            "script", "iframe", "object", "embed", "form", "base", "link",
        ]
        .contains(&node.tag_name().name());
        let is_link = node.tag_name().name() == "a";
        let mut attributes = node.attributes();
        is_element
            && attributes.all(|attribute| {
                let leads = ["href", "src", "srcset", "data", "action", "poster"];
                let is_own = attribute.value().starts_with("data:") || is_link;
                !attribute.name().starts_with("on")
                    && (!leads.contains(&attribute.name()) || is_own)
            })
    })
}

#[test]
fn it_has_its_parts_in_order() {
    look(&sheet(), |document| {
        assert_eq!(document.root_element().attribute("lang"), Some("en"));
        assert_eq!(words_of(named(document, "h1")[0]), "Over the ditch");
        let headings: Vec<String> = named(document, "h2").into_iter().map(words_of).collect();
        let expected = [
            "Picture",
            "Numbers",
            "What people say",
            "Listen",
            "Measure it again",
            "How it was made",
        ];
        assert_eq!(headings, expected);
        assert!(is_still(document));
    });
    let html = sheet().html();
    assert!(html.contains(FIGURE));
    assert!(
        html.contains(
            "http-equiv=\"Content-Security-Policy\" content=\"default-src &#39;none&#39;;"
        )
    );
}

#[test]
fn numbers_have_their_decimals() {
    look(&sheet(), |document| {
        let cells: Vec<String> = named(document, "td").into_iter().map(words_of).collect();
        let expected = [
            "0.4000",
            "5.68",
            "46.2",
            "72.0",
            "45.0",
            "72.0",
            "45.0",
            "45.5",
            "\u{2013}",
            "\u{2212}12.3",
            "31.0",
            "FM-QCF",
        ];
        assert_eq!(cells, expected);
        let headers = named(document, "th");
        let scopes = headers.iter().map(|header| header.attribute("scope"));
        let (columns, rows): (Vec<_>, Vec<_>) = scopes.partition(|scope| *scope == Some("col"));
        assert_eq!((columns.len(), rows), (cells.len() + 1, vec![Some("row")]));
        assert_eq!(
            words_of(named(document, "caption")[0]),
            "1 pulse as measured by the sender"
        );
    });
}

#[test]
fn what_is_not_there_is_said() {
    let bare = CallSheet {
        title: " ".to_owned(),
        figure: String::new(),
        pulses: Vec::new(),
        labels: Vec::new(),
        note: String::new(),
        facts: Vec::new(),
        carried: String::new(),
        address: None,
        fragment: String::new(),
        qr: None,
        listening: String::new(),
        slowness: f64::NAN,
    };
    let words = all_words(&bare);
    for part in [
        UNTITLED,
        "No picture",
        "No numbers",
        "Nothing was said",
        "No sound",
        "No link",
    ] {
        assert!(words.contains(part), "{part} is not in {words}");
    }
}

#[test]
fn labels_say_how_sure_who_and_of_what() {
    let span = |name: &str| Span {
        name: name.to_owned(),
        channel: 0,
        start_s: 0.0,
        end_s: 0.1,
        expansion: 1.0,
    };
    let mut labelled = sheet();
    labelled.labels[0].about = vec![span("4"), span("D1")];
    let words = all_words(&labelled);
    for part in [
        "One line and another",
        "pipistrelle Probable (more likely than anything else): of pulses 4, D1",
        "An observer, 2026-06-01T22:00:00+01:00",
        LABEL_CAUTION_BEGINS,
    ] {
        assert!(words.contains(part), "{part} is not in {words}");
    }
    look(&labelled, |document| {
        assert_eq!(named(document, "br").len(), 1)
    });
}

const LABEL_CAUTION_BEGINS: &str = "A label is somebody\u{2019}s judgement";

#[test]
fn listening_begins_with_a_caution() {
    look(&sheet(), |document| {
        let audio = named(document, "audio")[0];
        assert_eq!(
            audio.attribute("src"),
            Some("data:audio/wav;base64,UklGRg==")
        );
        assert_eq!(audio.attribute("preload"), Some("none"));
    });
    let words = all_words(&sheet());
    assert!(words.contains("Begin quietly: with headphones a sudden loud sound can hurt."));
    assert!(words.contains("10 times slower than life"));
    assert!(words::pace(2.5).contains("2.5 times slower"));
    assert!(words::pace(1.0).contains("as fast as life"));
    assert!(words::pace(f64::INFINITY).contains("not known"));
}

#[test]
fn only_an_address_of_the_web_is_a_link() {
    let address = sheet().address.unwrap();
    look(&sheet(), |document| {
        assert_eq!(
            named(document, "a")[0].attribute("href"),
            Some(address.as_str())
        );
        assert_eq!(words_of(named(document, "textarea")[0]), address);
    });
    for other in [
        "javascript:alert(1)",
        "file:///home/a.html#call=AbC",
        " https://a",
    ] {
        let odd = CallSheet {
            address: Some(other.to_owned()),
            ..sheet()
        };
        look(&odd, |document| {
            assert!(named(document, "a").is_empty());
            assert_eq!(words_of(named(document, "textarea")[0]), other.trim());
        });
    }
    let lone = CallSheet {
        address: None,
        ..sheet()
    };
    look(&lone, |document| {
        assert!(named(document, "a").is_empty());
        assert_eq!(words_of(named(document, "textarea")[0]), "call=AbC");
    });
}

#[test]
fn nothing_but_the_link_leads_out() {
    let html = sheet().html();
    let address = sheet().address.unwrap();
    let others = html
        .replace(&address, "")
        .replace("xmlns=\"http://www.w3.org/2000/svg\"", "")
        .replace("http-equiv", "");
    assert!(!others.contains("http"), "something else is asked for");
    assert!(!STYLE.contains("url(") && !STYLE.contains("@import"));
}

/// A sheet whose every text is the same.
fn full_of(text: &str) -> CallSheet {
    let mut labelled = label(text);
    labelled.who = text.to_owned();
    labelled.when = text.to_owned();
    labelled.note = text.to_owned();
    CallSheet {
        title: text.to_owned(),
        figure: text.to_owned(),
        pulses: vec![pulse(text)],
        labels: vec![labelled],
        note: text.to_owned(),
        facts: vec![text.to_owned()],
        carried: text.to_owned(),
        address: Some(text.to_owned()),
        fragment: text.to_owned(),
        qr: Some(text.to_owned()),
        listening: text.to_owned(),
        slowness: 10.0,
    }
}

#[test]
fn hostile_text_shows_as_text() {
    let hostile = "<script>alert('1')</script>\" onload=\"x\u{202e}]]>&amp;\u{0}";
    let shown = "<script>alert('1')</script>\" onload=\"x\u{fffd}]]>&amp;\u{fffd}";
    look(&full_of(hostile), |document| {
        assert!(is_still(document));
        for name in ["title", "h1", "dt", "li", "textarea"] {
            assert_eq!(words_of(named(document, name)[0]), shown, "{name}");
        }
        let words = words_of(named(document, "main")[0]);
        // Title, pulse, note, the label's words, note, name and time, what is carried, the link, a fact.
        assert_eq!(words.matches(shown).count(), 10, "{words}");
        assert!(words.contains(words::NO_DRAWING) && words.contains(words::NO_CODE));
        assert!(named(document, "audio").is_empty() && named(document, "svg").is_empty());
    });
}

#[test]
fn a_drawing_that_does_not_belong_is_left_out_and_the_sheet_says_so() {
    let odd = CallSheet {
        figure: "<svg><script>alert(1)</script></svg>".to_owned(),
        ..sheet()
    };
    assert!(all_words(&odd).contains(words::NO_DRAWING));
    look(&odd, |document| assert!(is_still(document)));
    assert!(!all_words(&sheet()).contains(words::NO_DRAWING));
}

proptest! {
    #[test]
    fn it_is_well_formed_whatever_the_words_are(text in any::<String>()) {
        prop_assert!(look(&full_of(&text), is_still));
    }

    #[test]
    fn it_is_well_formed_whatever_the_drawing_is(
        drawing in "(<svg>|</svg>|<g|/>|>| d=\"|\"|<title>|</title>|&amp;|&|<!--|[a-z \u{1}\u{202e}]){0,12}",
    ) {
        let sheet = CallSheet { figure: format!("<svg>{drawing}</svg>"), ..sheet() };
        prop_assert!(look(&sheet, is_still));
    }
}
