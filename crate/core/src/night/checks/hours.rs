//! From when to when the recorder recorded.

use super::gaps::{is_sudden, silence_at_end};
use super::seen::Seen;
use super::words::{count, span};
use super::{Check, CheckKind, CheckVerdict};
use crate::night::frame::Stretch;
use crate::night::moment::Moment;

/// A recorder that waits for bats may hear none for so long at either end of the night, seconds.
const QUIET_S: f64 = 3600.0;
/// At its beginning, silence for so long is trouble, seconds; ...
const LATE_S: f64 = 2.0 * 3600.0;
/// ... at its end, so large a share of the hours meant, if the recorder fell silent suddenly.
const LOST_SHARE: f64 = 0.25;
/// By a schedule, nothing excuses more than so many distances between recordings, and so many seconds.
const SPACINGS: f64 = 3.0;
const SCHEDULE_S: f64 = 300.0;

pub(super) fn recorded_hours(seen: &Seen) -> Check {
    let check = Check::of(
        CheckKind::RecordedHours,
        format!(
            "The first and the last file within the hours of the timer are held against it. A recorder that waits for sounds \
             may hear none for {} at either end; more draws a look, counted from sunset and to sunrise where the timer \
             reaches into daylight. Trouble: nothing for {} at the beginning; or, at the end, nothing for {:.0} % of the \
             hours after the recorder fell silent suddenly (see the rule for silent gaps). A recorder that ran by a schedule \
             is allowed three distances between recordings, and {}. Without a timer, sunset and sunrise serve, and nothing is \
             called trouble. Our choice, from invented nights.",
            span(QUIET_S),
            span(LATE_S),
            100.0 * LOST_SHARE,
            span(SCHEDULE_S)
        ),
    );
    let Some(meant) = seen.meant() else {
        return check
            .unknown(
                "Recorded hours: the timer is not known",
                "Say when the recorder was meant to run, or where it stood, and its hours can be judged.",
            )
            .say_all(all_day(seen));
    };
    let within = |own: &Stretch| own.to >= meant.from && own.from <= meant.to;
    let awake: Vec<Stretch> = seen.awake().filter(within).collect();
    let bounds = bounds(seen, meant);
    let check = check.say(bounds);
    let Some(last) = silence_at_end(&awake, end_of_night(seen, meant)) else {
        return nothing(seen, check);
    };
    judged(seen, check, meant, &awake[0], &last)
}

/// What the hours were meant to be.
fn bounds(seen: &Seen, meant: Stretch) -> String {
    let (from, to) = (seen.clock(meant.from), seen.clock(meant.to));
    let hours = span(meant.to.since_s(meant.from));
    if seen.frame.planned.is_some() {
        format!("The timer was set from {from} to {to} ({hours}).")
    } else {
        format!("The timer is not known. The sun was down from {from} to {to} ({hours}).")
    }
}

/// The first and the last file of all.
fn all_day(seen: &Seen) -> Option<String> {
    let files = &seen.night.files;
    let (first, last) = (files.first()?, files.last()?);
    Some(format!(
        "The first file begins at {}, the last at {}.",
        seen.clock(first.time.start),
        seen.clock(last.time.start)
    ))
}

fn nothing(seen: &Seen, check: Check) -> Check {
    let files = seen.night.files.len();
    let check = check.say_all(all_day(seen)).say(format!(
        "None of {} lies within these hours by a time that can be trusted.",
        count(files, "file")
    ));
    if seen.frame.planned.is_none() {
        return check.unknown(
            "Nothing was recorded between sunset and sunrise",
            "Say when the recorder was meant to run; look whether clock, time zone and position are right.",
        );
    }
    check.judged(
        CheckVerdict::Trouble,
        "Nothing was recorded in the hours of the timer",
        "Look at the timer, the clock and its time zone, the battery and the microphone.",
    )
}

/// Bats are looked for from sunset at the earliest ...
fn start_of_night(seen: &Seen, meant: Stretch) -> Moment {
    let dark = seen.dark().filter(|dark| dark.from < meant.to);
    dark.map_or(meant.from, |dark| later(meant.from, dark.from))
}

/// ... and to sunrise at the latest.
fn end_of_night(seen: &Seen, meant: Stretch) -> Moment {
    let dark = seen.dark().filter(|dark| dark.to > meant.from);
    dark.map_or(meant.to, |dark| {
        if dark.to < meant.to {
            dark.to
        } else {
            meant.to
        }
    })
}

fn later(a: Moment, b: Moment) -> Moment {
    if b > a { b } else { a }
}

fn judged(
    seen: &Seen,
    check: Check,
    meant: Stretch,
    first: &Stretch,
    last: &super::gaps::Silence,
) -> Check {
    let allowed_s = match seen.spacing_s {
        Some(spacing_s) => (SPACINGS * spacing_s).max(SCHEDULE_S),
        None => QUIET_S,
    };
    // A schedule is kept in daylight too.
    let (from, to) = match seen.spacing_s {
        Some(_) => (meant.from, meant.to),
        None => (start_of_night(seen, meant), end_of_night(seen, meant)),
    };
    let late_s = first.from.since_s(from);
    let early_s = to.since_s(last.from);
    let lost_share = early_s / meant.to.since_s(meant.from).max(1.0);
    let check = check.say(format!(
        "The first file in them begins at {}, the last ends at {}.",
        seen.clock(first.from),
        seen.clock(last.from)
    ));
    let known = seen.frame.planned.is_some();
    let stopped = early_s > allowed_s && lost_share >= LOST_SHARE && is_sudden(last);
    if known && (stopped || late_s > LATE_S) {
        let title = if stopped {
            "It stopped recording before the end"
        } else {
            "It began to record late"
        };
        return tell(check, late_s, early_s, allowed_s).judged(
            CheckVerdict::Trouble,
            title,
            ADVICE,
        );
    }
    if late_s > allowed_s || early_s > allowed_s {
        let title = if early_s > allowed_s && is_sudden(last) {
            "It fell silent suddenly before the end"
        } else if early_s > allowed_s {
            "Nothing recorded towards the end"
        } else {
            "Nothing recorded at the beginning"
        };
        return tell(check, late_s, early_s, allowed_s).judged(CheckVerdict::Look, title, ADVICE);
    }
    if known {
        check.fine("It recorded through the hours of the timer")
    } else {
        check.unknown(
            "It recorded from dusk to dawn; the timer is not known",
            "Say when the recorder was meant to run, and its hours can be judged.",
        )
    }
}

const ADVICE: &str = "A recorder that waits for sounds is silent too where no bat comes by, so this is no proof of a fault. \
                      Look at the battery, the space left on the card, the timer and its time zone.";

fn tell(check: Check, late_s: f64, early_s: f64, allowed_s: f64) -> Check {
    let late = (late_s > allowed_s).then(|| {
        format!(
            "Nothing was recorded in the first {} of the night.",
            span(late_s)
        )
    });
    let early = (early_s > allowed_s)
        .then(|| format!("Nothing was recorded in the last {} of it.", span(early_s)));
    check.say_all(late).say_all(early)
}
