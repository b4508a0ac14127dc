//! Files outside the hours that were meant.

use super::seen::{Heard, Seen};
use super::words::{part, ratio, span};
use super::{Check, CheckKind, CheckVerdict};
use crate::night::card::NightFile;
use crate::night::frame::Stretch;
use crate::night::moment::Moment;

/// So far outside the hours meant is still within them, seconds.
const MARGIN_S: f64 = 600.0;
/// Without a timer, so long before sunset and after sunrise is still night, seconds.
const SUN_MARGIN_S: f64 = 3600.0;
/// A few recordings outside are those of setting up and taking down.
const FEW: usize = 3;
const FEW_SHARE: f64 = 0.02;
/// From such a share on, the clock or the timer was wrong.
const MOST_SHARE: f64 = 0.5;
/// Bats so long before sunset or after sunrise are unusual, seconds.
const SUNLIT_S: f64 = 3600.0;
/// So many recordings of bats in daylight draw a look.
const SUNLIT: usize = 3;

pub(super) fn outside_hours(seen: &Seen) -> Check {
    let check = Check::of(
        CheckKind::OutsideHours,
        format!(
            "Files that begin more than {} outside the timer, or without one more than {} outside sunset to sunrise. Up to \
             {FEW} files, or {:.0} %, are those of setting up and taking down; more draw a look, and {:.0} % are trouble. So do \
             {SUNLIT} recordings with bats more than {} before sunset or after sunrise: a clock that is wrong, more likely than \
             bats by day. Our choice.",
            span(MARGIN_S),
            span(SUN_MARGIN_S),
            100.0 * FEW_SHARE,
            100.0 * MOST_SHARE,
            span(SUNLIT_S)
        ),
    );
    let bounds = seen
        .frame
        .planned
        .map(|planned| widened(planned, MARGIN_S))
        .or_else(|| seen.dark().map(|dark| widened(dark, SUN_MARGIN_S)));
    let Some(bounds) = bounds else {
        return check.unknown(
            "Files outside the hours: neither timer nor place is known",
            "Say when the recorder was meant to run, or where it stood.",
        );
    };
    let files = &seen.night.files;
    let is_outside = |at: Moment| at < bounds.from || at > bounds.to;
    let outside: Vec<&NightFile> = files
        .iter()
        .filter(|own| is_outside(own.time.start))
        .collect();
    let sunlit = sunlit_bats(seen);
    let check = check.say(format!(
        "{} before {} or after {}.",
        part(outside.len(), files.len(), "file"),
        seen.clock(bounds.from),
        seen.clock(bounds.to)
    ));
    let share = ratio(outside.len(), files.len());
    let is_sunlit = sunlit.len() >= SUNLIT;
    if !is_sunlit && (outside.len() <= FEW || share <= FEW_SHARE) {
        return check
            .fine("Hardly a file outside the hours")
            .listing(outside.iter().map(|own| own.file.path.as_str()));
    }
    let verdict = if share >= MOST_SHARE {
        CheckVerdict::Trouble
    } else {
        CheckVerdict::Look
    };
    let bats = is_sunlit.then(|| {
        format!(
            "Bats in {} are more than {} before sunset or after sunrise.",
            part(sunlit.len(), seen.bats().len(), "recording"),
            span(SUNLIT_S)
        )
    });
    let paths: Vec<&str> = if outside.is_empty() {
        sunlit.iter().map(|own| own.path()).collect()
    } else {
        outside.iter().map(|own| own.file.path.as_str()).collect()
    };
    check
        .say_all(bats)
        .judged(
            verdict,
            "Files outside the hours of the night",
            "Compare the recorder's clock, its time zone and summer time with a watch. If the clock was wrong, say by how much \
             in the night's settings, and all times are put right.",
        )
        .listing(paths)
}

fn widened(stretch: Stretch, by_s: f64) -> Stretch {
    Stretch {
        from: stretch.from.plus_s(-by_s),
        to: stretch.to.plus_s(by_s),
    }
}

fn sunlit_bats<'a>(seen: &Seen<'a>) -> Vec<Heard<'a>> {
    let Some(dark) = seen.dark().map(|dark| widened(dark, SUNLIT_S)) else {
        return Vec::new();
    };
    let bats = seen.bats().into_iter();
    bats.filter(|own| own.start() < dark.from || own.start() > dark.to)
        .collect()
}
