#![allow(clippy::unwrap_used, reason = "a failed test may panic")]

use super::drawn::STATED;
use super::*;
use crate::truth::draw::{Case, SHAPES, recording};
use crate::truth::{Amount, jobs, table};

fn small() -> String {
    let amount = Amount {
        bats: 1,
        silence: 1,
    };
    let mut jobs = jobs(amount, Some("FM"));
    jobs.extend(super::super::jobs(amount, Some("hiss")));
    let (outcomes, tally) = table(Set::Tune, &jobs).unwrap();
    let limit = crate::limit::lines(4).unwrap();
    let input = Input {
        set: Set::Tune,
        jobs: &jobs,
        outcomes: &outcomes,
        tally: &tally,
        limit: &limit,
        contours: &[],
    };
    page(&input).unwrap()
}

#[test]
fn a_page_stands_alone_and_runs_nothing() {
    let page = small();
    assert!(page.starts_with("<!DOCTYPE html>"));
    for foreign in ["<script", "src=", "@import", "url("] {
        assert!(!page.contains(foreign), "{foreign}");
    }
    for id in ["drawn", "recall", "errors", "limit"] {
        assert!(page.contains(&format!("<section id=\"{id}\">")), "{id}");
    }
    assert!(!page.contains("NaN"));
}

#[test]
fn text_is_escaped_in_tables_and_plots() {
    let part = Section {
        title: "<a>".into(),
        figures: vec![Figure {
            title: "<b>".into(),
            x: Axis::new("<c>"),
            y: Axis::new("d & e"),
            series: vec![Series::new("<f>", [(0.0, 1.0), (1.0, 2.0)])],
        }],
        tables: vec![Table::new("<g>", &["<h>"]).rows([vec!["<i>".to_owned()]])],
        list: vec!["<j>".into()],
        ..Section::default()
    };
    let text = html::section(&part).unwrap().into_string();
    for tag in [
        "<a>", "<b>", "<c>", "d & e", "<f>", "<g>", "<h>", "<i>", "<j>",
    ] {
        assert!(!text.contains(tag), "{tag} in {text}");
    }
}

/// What the page says of shapes and what is drawn are two places; this keeps them together.
#[test]
fn shapes_are_drawn_as_stated() {
    for (index, stated) in STATED.iter().enumerate() {
        assert_eq!(SHAPES[index], stated.shape);
        for set in [Set::Tune, Set::Report] {
            let pick = |ranges: ((f64, f64), (f64, f64))| match set {
                Set::Tune => ranges.0,
                Set::Report => ranges.1,
            };
            let (flat, start, end) = (pick(stated.flat_khz), pick(stated.start), pick(stated.end));
            let low = flat.0 * start.0.min(end.0).min(1.0);
            let high = flat.1 * start.1.max(end.1).max(1.0);
            let duration = pick(stated.duration_ms);
            for number in 0..40 {
                let scene = recording(set, Case::Shape(index), number);
                for placed in &scene.calls {
                    let law = &placed.call.law;
                    let (lowest, highest) = law.range_khz(0.0, law.duration_ms());
                    // From call to call frequencies vary by a few percent, durations by more.
                    let name = stated.shape.name();
                    assert!(lowest >= 0.93 * low, "{name} {set:?}: {lowest} kHz");
                    assert!(highest <= 1.07 * high, "{name} {set:?}: {highest} kHz");
                    let reach = duration.0 * 0.75..=duration.1 * 1.25;
                    assert!(reach.contains(&law.duration_ms()), "{name} {set:?}");
                }
            }
        }
    }
}
