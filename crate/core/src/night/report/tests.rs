//! A report is looked at as XML, which finds what a browser would silently put right.
#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use super::*;
use crate::night::audit::miss_rate;
use crate::night::plot::tests::{busy, settings};
use crate::night::{NightSettings, Review, ReviewVerdict};
use crate::recording::{Certainty, Label};
use roxmltree::{Document, Node};

fn look<T>(html: &str, at: impl FnOnce(&Document<'_>) -> T) -> T {
    let xml = html.strip_prefix("<!doctype html>").unwrap();
    at(&Document::parse(xml).unwrap())
}

fn words_of(node: Node<'_, '_>) -> String {
    let text = |node: Node<'_, '_>| node.text().filter(|_| node.is_text()).map(str::to_owned);
    let words: Vec<String> = node.descendants().filter_map(text).collect();
    words
        .join(" ")
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
}

fn all_words(html: &str) -> String {
    look(html, |document| words_of(document.root_element()))
}

fn label(text: &str, certainty: Certainty) -> Label {
    Label {
        id: text.to_owned(),
        when: "2026-06-15T09:00:00+01:00".to_owned(),
        about: Vec::new(),
        text: text.to_owned(),
        certainty,
        note: String::new(),
        who: String::new(),
    }
}

/// Labels of the first two files, and a review of the first.
fn decided(night: &Night) -> Decisions {
    let mut decisions = Decisions::default();
    let key = |at: usize| night.files[at].file.examined.sha256.clone();
    let sure = label("pipistrelle", Certainty::Sure);
    let possible = label("pipistrelle", Certainty::Possible);
    decisions
        .labels
        .insert(key(0), vec![sure, possible.clone()]);
    decisions.labels.insert(key(1), vec![possible]);
    let review = Review {
        verdict: ReviewVerdict::Bat,
        who: String::new(),
        when: "2026-06-15T09:00:00+01:00".to_owned(),
    };
    decisions.reviews.insert(key(0), review);
    decisions
}

#[test]
fn its_numbers_are_those_of_the_night_and_effort_stands_beside_them() {
    let night = busy(300, &settings());
    let order = ReportOrder {
        miss_rate: Some(miss_rate(1, 40, 200).unwrap()),
        ..ReportOrder::default()
    };
    let html = report(&[&night], &decided(&night), &order);
    let words = all_words(&html);
    let totals = night.totals();
    let found = format!(
        "In {:.1} hours of watch, {} passes and {} feeding buzzes were found in 300 recordings.",
        totals.watch_h, totals.passes, totals.buzzes
    );
    assert!(words.contains(&found), "{found}");
    // The table of hours ends with their sums.
    let foot = look(&html, |document| {
        let mut feet = document
            .descendants()
            .filter(|node| node.has_tag_name("tfoot"));
        words_of(feet.next().unwrap())
    });
    let watched_min = (totals.watch_h * 60.0).round();
    let sums = format!(
        "All {watched_min} {} {} 300 {}",
        totals.passes, totals.buzzes, totals.holding_pulses
    );
    assert_eq!(foot, sums);
    assert!(words.contains("pipistrelle 2 1 0 1"));
    assert!(words.contains("1 recording was checked by ear or eye: 1 with a bat"));
    assert!(words.contains("Of 200 recordings in which no bat was found, 40 were drawn at random"));
    assert!(words.contains("A pass is a sequence of 2 pulses or more"));
    assert!(words.contains("no proof of absence"));
    for check in checks(&night, &night.frame()) {
        assert!(words.contains(&check.title), "{}", check.title);
    }
}

#[test]
fn a_position_is_told_as_exactly_as_it_may_be() {
    let night = busy(30, &settings());
    let with = |place| {
        let order = ReportOrder {
            place,
            ..ReportOrder::default()
        };
        all_words(&report(&[&night], &Decisions::default(), &order))
    };
    assert!(with(PlaceSharing::Exact).contains("52.60000\u{b0} N, 1.40000\u{b0} W"));
    let rounded = with(PlaceSharing::Rounded);
    assert!(rounded.contains("52.60\u{b0} N, 1.40\u{b0} W") && !rounded.contains("52.60000"));
    let withheld = with(PlaceSharing::Withheld);
    assert!(withheld.contains("withheld") && !withheld.contains("52.6"));
}

#[test]
fn what_people_write_stays_text_and_nothing_runs_or_is_asked_for() {
    let wicked = "<script>alert(1)</script>\"'&\u{202e}";
    let settings = NightSettings {
        site: wicked.to_owned(),
        weather: format!("{wicked}\nsecond line"),
        remarks: wicked.to_owned(),
        who: wicked.to_owned(),
        ..settings()
    };
    let night = busy(30, &settings);
    let mut decisions = decided(&night);
    let key = night.files[2].file.examined.sha256.clone();
    decisions
        .labels
        .insert(key, vec![label(wicked, Certainty::Sure)]);
    let order = ReportOrder {
        title: wicked.to_owned(),
        written: wicked.to_owned(),
        ..ReportOrder::default()
    };
    let html = report(&[&night, &night], &decisions, &order);
    assert!(!html.contains("<script") && !html.contains('\u{202e}'));
    look(&html, |document| {
        for node in document.descendants().filter(Node::is_element) {
            let name = node.tag_name().name();
            assert!(
                ![
                    "script", "iframe", "object", "embed", "form", "base", "link", "img"
                ]
                .contains(&name)
            );
            for attribute in node.attributes() {
                let name = attribute.name();
                assert!(
                    !name.starts_with("on") && !["src", "href", "style"].contains(&name),
                    "{name}"
                );
            }
        }
    });
    assert!(html.contains("default-src &#39;none&#39;"));
}

#[test]
fn several_nights_have_a_section_each_and_the_same_report_comes_again() {
    let (first, second) = (busy(60, &settings()), busy(30, &settings()));
    let make = || {
        report(
            &[&first, &second],
            &Decisions::default(),
            &ReportOrder::default(),
        )
    };
    let html = make();
    assert_eq!(html, make());
    look(&html, |document| {
        let sections = document
            .descendants()
            .filter(|node| node.attribute("class") == Some("night"));
        assert_eq!(sections.count(), 2);
    });
    assert!(all_words(&html).contains("All nights"));
    // No night at all is still a report that says so.
    let nothing = report(&[], &Decisions::default(), &ReportOrder::default());
    assert!(all_words(&nothing).contains("these zeros say nothing about bats"));
}
