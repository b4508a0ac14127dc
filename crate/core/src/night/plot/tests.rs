//! Drawings are looked at as XML, and their numbers against the night's own.
#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use super::*;
use crate::night::tests::{content, night, with_pass};
use crate::night::{Content, NightSettings, Position, Timer, TimerEdge};
use roxmltree::Document;

const KINDS: [PlotKind; 4] = [
    PlotKind::Activity,
    PlotKind::Frequency,
    PlotKind::Temperature,
    PlotKind::Noise,
];

/// In Europe, meant to run from half an hour before sunset to half an hour after sunrise.
pub(in crate::night) fn settings() -> NightSettings {
    NightSettings {
        site: "Larkwater Fen".to_owned(),
        utc_offset_min: 60,
        position: Some(Position {
            latitude_deg: 52.6,
            longitude_deg: -1.4,
            accuracy_m: None,
        }),
        timer: Some(Timer {
            from: TimerEdge::Sunset { offset_min: -30 },
            to: TimerEdge::Sunrise { offset_min: 30 },
        }),
        ..NightSettings::default()
    }
}

/// Files from evening to morning, a third with a pass at 45 kHz or 25 kHz, every tenth of those with a buzz.
pub(in crate::night) fn busy(count: u32, settings: &NightSettings) -> Night {
    let contents = (0..count).map(|number| {
        let s = f64::from(number) * 8.0 * 3600.0 / f64::from(count);
        let at = Moment::from_local("2026-06-14T21:00:00", 60)
            .unwrap()
            .plus_s(s);
        let local = at.local(60);
        let mut own = if number % 3 == 0 {
            with_pass(&local)
        } else {
            content(&local)
        };
        own.temperature_c = Some(16.0 - s / 7200.0);
        let spread = f64::from(number * 7919 % 100) / 50.0 - 1.0;
        for pass in &mut own.passes {
            let khz = if number % 2 == 0 {
                45.0 + 2.0 * spread
            } else {
                25.0 + 1.5 * spread
            };
            (pass.characteristic_khz, pass.peak_khz) = (khz, khz);
            pass.buzzes = u32::from(number % 30 == 0);
        }
        own
    });
    night(contents, settings)
}

fn plot(night: &Night, kind: PlotKind, width_px: f64) -> Plot {
    let order = PlotOrder {
        kind,
        width_px,
        ..PlotOrder::default()
    };
    plots(night, &night.frame(), &order)
}

#[test]
fn every_plot_is_well_formed_at_every_width_and_names_itself() {
    let nights = [
        busy(300, &settings()),
        night([content("2026-06-14T22:00:00")], &NightSettings::default()),
    ];
    for night in &nights {
        for kind in KINDS {
            for width_px in [f64::NAN, 0.0, 340.0, 1900.0, 1e9] {
                let plot = plot(night, kind, width_px);
                let document = Document::parse(&plot.svg).unwrap();
                let root = document.root_element();
                assert_eq!(root.attribute("role"), Some("img"));
                assert!(root.attribute("aria-label").unwrap().len() > 20);
                assert!(
                    !plot.svg.contains("NaN") && !plot.svg.contains("inf"),
                    "{kind:?}"
                );
                let geometry = plot.geometry;
                assert!(geometry.left_px < geometry.right_px);
                assert!(geometry.right_px < geometry.width_px);
            }
        }
    }
}

#[test]
fn words_say_what_the_bars_show() {
    let night = busy(300, &settings());
    let totals = night.totals();
    let plot = plot(&night, PlotKind::Activity, 720.0);
    let words = format!(
        "{} passes and {} feeding buzzes in 300 recordings",
        totals.passes, totals.buzzes
    );
    assert!(plot.svg.contains(&words), "{words}");
    // A bar for each bin with passes.
    let document = Document::parse(&plot.svg).unwrap();
    let mut paths = document
        .descendants()
        .filter(|node| node.attribute("class") == Some("bar"));
    let bars = paths
        .next()
        .unwrap()
        .attribute("d")
        .unwrap()
        .matches('M')
        .count();
    let with_passes = night
        .activity(10)
        .bins
        .iter()
        .filter(|bin| bin.passes > 0)
        .count();
    assert_eq!(bars, with_passes);
}

#[test]
fn sunset_and_sunrise_stand_with_their_times_to_the_nearest_minute() {
    let night = busy(30, &settings());
    let light = night.frame().twilight.unwrap();
    let plot = plot(&night, PlotKind::Activity, 720.0);
    for (word, at) in [("sunset", light.sunset), ("sunrise", light.sunrise)] {
        let words = format!(">{word} {}<", at.unwrap().plus_s(30.0).clock(60));
        assert!(plot.svg.contains(&words), "{words}");
    }
}

#[test]
fn passes_lie_at_their_frequency_and_many_are_two_paths() {
    let night = busy(3000, &settings());
    let plot = plot(&night, PlotKind::Frequency, 900.0);
    let document = Document::parse(&plot.svg).unwrap();
    let d = |class: &str| -> String {
        let mut paths = document
            .descendants()
            .filter(|node| node.attribute("class") == Some(class));
        let own = paths.find(|node| node.attribute("d").is_some_and(|d| d.len() > 40));
        own.unwrap().attribute("d").unwrap().to_owned()
    };
    let PlotGeometry {
        top_px,
        bottom_px,
        low_khz,
        high_khz,
        ..
    } = plot.geometry;
    let (low, high) = (low_khz.unwrap(), high_khz.unwrap());
    let khz = |text: &str| {
        let y: f64 = text.split([' ', 'h', 'l']).nth(1).unwrap().parse().unwrap();
        low * ((bottom_px - y) / (bottom_px - top_px) * (high / low).ln()).exp()
    };
    let dots: Vec<f64> = d("dot").split('M').skip(1).map(khz).collect();
    assert!(dots.len() > 500 && dots.len() <= 1000);
    assert!(
        dots.iter()
            .all(|khz| (khz - 45.0).abs() < 3.0 || (khz - 25.0).abs() < 2.0)
    );
    assert!(plot.svg.contains("around 45 kHz") && plot.svg.contains("around 25 kHz"));
}

#[test]
fn names_of_recorders_stay_text() {
    let wicked = Content {
        serial: Some("\"><script>alert(1)</script>".to_owned()),
        ..with_pass("2026-06-14T22:00:00")
    };
    let night = night([wicked], &settings());
    let frame = night.frame();
    let several = plots_of_nights(&[(&night, &frame), (&night, &frame)], &PlotOrder::default());
    for svg in KINDS
        .map(|kind| plot(&night, kind, 720.0).svg)
        .iter()
        .chain([&several.svg])
    {
        let document = Document::parse(svg).unwrap();
        assert!(
            document
                .descendants()
                .all(|node| node.tag_name().name() != "script")
        );
    }
}

#[test]
fn nights_stand_on_one_clock() {
    let (first, second) = (
        busy(30, &settings()),
        night([with_pass("2026-06-16T02:00:00")], &settings()),
    );
    let frames = (first.frame(), second.frame());
    let order = PlotOrder {
        width_px: 340.0,
        ..PlotOrder::default()
    };
    let drawn = plots_of_nights(&[(&first, &frames.0), (&second, &frames.1)], &order);
    assert_eq!(drawn.rows.len(), 2);
    assert!((drawn.rows[1].from.since_s(drawn.rows[0].from) - 24.0 * 3600.0).abs() < 1e-6);
    assert!(drawn.rows[0].bottom_px < drawn.rows[1].top_px);
    assert!(
        Document::parse(&drawn.svg)
            .unwrap()
            .root_element()
            .attribute("aria-label")
            .unwrap()
            .contains("1 pass, 0 feeding buzzes")
    );
    assert!(Document::parse(&plots_of_nights(&[], &order).svg).is_ok());
}
