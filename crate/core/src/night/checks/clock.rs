//! Whether those who tell the time agree, and who tells it.

use super::seen::{Heard, Seen};
use super::words::{count, part, span};
use super::{Check, CheckKind, CheckVerdict};
use crate::night::file_names::NamePattern;
use crate::night::moment::Moment;
use crate::night::settings::NightSettings;

/// A name and the metadata of a file may differ by so much, seconds: names often carry no seconds.
const SAME_S: f64 = 60.0;
/// Clocks of two zones differ by a whole number of these, seconds.
const ZONE_STEP_S: f64 = 15.0 * 60.0;
/// Changes beyond this many are not told one by one.
const MOST_TOLD: usize = 5;

pub(super) fn clock_agreement(seen: &Seen) -> Check {
    let check = Check::of(
        CheckKind::ClockAgreement,
        format!(
            "The time in a file's metadata and the one in its name differ by no more than {}, and the clock's distance from \
             UTC stays the same all night. One difference in all files of a whole number of quarter hours is two time zones, \
             and no fault where the metadata state their distance from UTC.",
            span(SAME_S)
        ),
    );
    let stamped = || seen.heard.iter().filter(|own| own.start.is_some());
    if stamped().next().is_none() {
        return check.unknown(
            "Times: no metadata to compare with",
            "Files whose metadata state the time of recording can be compared with their names.",
        );
    }
    let changes = offset_changes(seen);
    let patterns = patterns(&seen.night.settings);
    let named: Vec<(Heard, f64)> = stamped()
        .filter_map(|&own| Some((own, ahead_s(own, &patterns)?)))
        .collect();
    let apart: Vec<(Heard, f64)> = named
        .iter()
        .copied()
        .filter(|&(_, ahead_s)| ahead_s.abs() > SAME_S)
        .collect();
    let check = check.say(match (named.len(), apart.len()) {
        (0, _) => "No name of a file carries a time to compare with.".to_owned(),
        (all, 0) => format!("In {} name and metadata agree.", count(all, "file")),
        (all, some) => format!(
            "{}: name and metadata differ by more than {}.",
            part(some, all, "file"),
            span(SAME_S)
        ),
    });
    if changes.is_empty() && (apart.is_empty() || is_zone(&named)) {
        return check
            .say_all(apart.first().map(difference))
            .fine("Those who tell the time agree");
    }
    let more = changes.len().saturating_sub(MOST_TOLD);
    let more = (more > 0).then(|| format!("And {}.", count(more, "more change")));
    check
        .say_all(apart.first().map(difference))
        .say_all(changes.into_iter().take(MOST_TOLD))
        .say_all(more)
        .judged(
            CheckVerdict::Look,
            "Those who tell the time do not agree",
            "Look which time is right, by a recording whose time you know. Set the recorder's time zone and turn off automatic \
             summer time; give the clock's error in the night's settings.",
        )
        .listing(apart.iter().map(|(own, _)| own.path()))
}

/// Whether all files differ by the same whole number of quarter hours, and the metadata say where they are.
fn is_zone(named: &[(Heard, f64)]) -> bool {
    let Some(&(_, first_s)) = named.first() else {
        return false;
    };
    let steps = (first_s / ZONE_STEP_S).round();
    let like_first = |ahead_s: f64| (ahead_s - steps * ZONE_STEP_S).abs() <= SAME_S;
    let states = |own: &Heard| {
        own.start
            .as_ref()
            .is_some_and(|stamp| stamp.utc_offset_min.is_some())
    };
    named
        .iter()
        .all(|(own, ahead_s)| states(own) && like_first(*ahead_s))
}

fn difference(one: &(Heard, f64)) -> String {
    let (own, ahead_s) = one;
    let side = if *ahead_s > 0.0 { "ahead of" } else { "behind" };
    format!(
        "In {} the name is {} {side} the metadata.",
        own.path(),
        span(*ahead_s)
    )
}

/// How far the time in a file's name is ahead of its metadata's, seconds, both taken as they stand.
fn ahead_s(own: Heard, patterns: &[NamePattern]) -> Option<f64> {
    let stamp = own.content.start.as_ref()?;
    let name = own.path().rsplit('/').next()?;
    let named = patterns.iter().find_map(|pattern| pattern.find(name))?;
    let named = Moment::from_local(&named, 0)?;
    Some(named.since_s(Moment::from_local(&stamp.local, 0)?))
}

fn patterns(settings: &NightSettings) -> Vec<NamePattern> {
    let own = settings.name_pattern.as_deref();
    let own = own.and_then(|text| NamePattern::parse(text).ok());
    own.into_iter().chain(NamePattern::usual()).collect()
}

/// When the clock's distance from UTC changed.
fn offset_changes(seen: &Seen) -> Vec<String> {
    let stated = seen.heard.iter().filter_map(|own| {
        let offset_min = own.content.start.as_ref()?.utc_offset_min?;
        Some((own.start(), offset_min))
    });
    let stated: Vec<(Moment, i32)> = stated.collect();
    let pairs = stated.windows(2).filter(|pair| pair[0].1 != pair[1].1);
    pairs
        .map(|pair| {
            let (from, to) = (hours(pair[0].1), hours(pair[1].1));
            format!(
                "At {} the clock went from UTC{from} to UTC{to}.",
                seen.clock(pair[1].0)
            )
        })
        .collect()
}

fn hours(offset_min: i32) -> String {
    let sign = if offset_min < 0 { '-' } else { '+' };
    let minutes = offset_min.unsigned_abs();
    format!("{sign}{}:{:02}", minutes / 60, minutes % 60)
}

pub(super) fn weak_times(seen: &Seen) -> Check {
    let check = Check::of(
        CheckKind::WeakTimes,
        "Where neither metadata nor name tell when a file was recorded, its date in the folder serves: when it was last \
         written to, which may be when it was copied. One such file draws a look."
            .to_owned(),
    );
    let files = &seen.night.files;
    if files.is_empty() {
        return check.unknown("Times: there is no file", "");
    }
    let weak: Vec<_> = files
        .iter()
        .filter(|own| own.time.origin.is_weak())
        .collect();
    if weak.is_empty() {
        return check.fine("Every file says when it was recorded");
    }
    let title = if weak.len() == files.len() {
        "All times rest on the files' dates alone"
    } else {
        "Some times rest on the file's date alone"
    };
    check
        .say(format!(
            "{}: neither metadata nor name tell the time.",
            part(weak.len(), files.len(), "file")
        ))
        .judged(
            CheckVerdict::Look,
            title,
            "If the names hold date and time in an unusual way, type their pattern in the night's settings. Let the recorder \
             write the time into names or metadata.",
        )
        .listing(weak.iter().map(|own| own.file.path.as_str()))
}
