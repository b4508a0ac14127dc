//! Every check on made-up nights: one that shows what it looks for, and one that does not.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test may stop at the first surprise"
)]

mod any_night;
mod plausible;
mod set_up;
mod sound;
mod times;
mod whole;

use super::*;
use crate::night::tests::{content, file, night, with_pass};
use crate::night::{
    Card, CardFile, Content, Moment, NightSettings, Outcome, Timer, TimerEdge, Twilight,
};

/// Local time is an hour ahead of UTC, and the timer runs from 21:00 to 5:00.
fn timed() -> NightSettings {
    let clock = |minute| TimerEdge::Clock { minute };
    NightSettings {
        utc_offset_min: 60,
        timer: Some(Timer {
            from: clock(21 * 60),
            to: clock(5 * 60),
        }),
        ..NightSettings::default()
    }
}

/// The local time so many minutes after 21:00.
fn at(minutes: f64) -> String {
    let evening = Moment::from_local("2026-06-14T21:00:00", 60).unwrap();
    evening.plus_s(minutes * 60.0).local(60)
}

/// A sound night of a recorder that waits for bats: recordings of 5 s from 21:05 to 4:55, 2 to 6 minutes apart, two of
/// three with bats.
fn sound_night() -> Vec<Content> {
    let mut minutes = 5.0;
    let mut contents = Vec::new();
    for number in 0.. {
        if minutes > 475.0 {
            break;
        }
        let when = at(minutes);
        contents.push(if number % 3 == 2 {
            content(&when)
        } else {
            with_pass(&when)
        });
        minutes += f64::from(2 + number * 7 % 5);
    }
    contents
}

/// Recordings so many seconds apart, from so many minutes after 21:00 to so many.
fn every(seconds: f64, from: f64, to: f64) -> Vec<Content> {
    let number = ((to - from) * 60.0 / seconds) as u32;
    let times = (0..number).map(|step| at(from + f64::from(step) * seconds / 60.0));
    times.map(|when| content(&when)).collect()
}

/// What a check tells of a night of such contents.
fn told(kind: CheckKind, contents: Vec<Content>) -> Check {
    of(&night(contents, &timed()), kind)
}

/// What a check tells of a night.
fn of(night: &Night, kind: CheckKind) -> Check {
    let mut checks = checks(night, &night.frame());
    let found = checks.iter().position(|check| check.kind == kind);
    checks.swap_remove(found.unwrap())
}

/// The night of such files.
fn night_of(files: Vec<CardFile>) -> Night {
    let mut card = Card::default();
    for file in files {
        card.take(file);
    }
    card.nights(&timed()).0.swap_remove(0)
}

#[track_caller]
fn assert_told(check: &Check, verdict: CheckVerdict, words: &str) {
    assert_eq!(check.verdict, verdict, "{check:#?}");
    let all = format!("{} {}", check.title, check.evidence.join(" "));
    assert!(all.contains(words), "{words:?} is not in {check:#?}");
}

use CheckVerdict::{Fine, Look, Trouble, Unknown};
