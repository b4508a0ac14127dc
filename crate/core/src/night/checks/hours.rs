//! From when to when the recorder recorded.

use super::gaps::{Silence, is_plainly_sudden, is_sudden, silence_at_end, silence_at_start};
use super::seen::Seen;
use super::words::{count, span};
use super::{Check, CheckKind, CheckVerdict};
use crate::night::frame::Stretch;
use crate::night::moment::Moment;

/// A recorder that waits for bats may hear none for so long at either end of the night, seconds.
const QUIET_S: f64 = 3600.0;
/// Such a share of the hours meant is a loss ...
const LOST_SHARE: f64 = 0.25;
/// ... and such a share without a file deserves a look, however slowly activity faded.
const HALF_SHARE: f64 = 0.5;
/// By a schedule, nothing excuses more than so many distances between recordings, and so many seconds.
const SPACINGS: f64 = 3.0;
const SCHEDULE_S: f64 = 300.0;
const ADVICE: &str = "A recorder that waits for sounds is silent too where no bat comes by, so this is no proof of a fault. \
                      Look at the battery, the space left on the card, the timer and its time zone.";

pub(super) fn recorded_hours(seen: &Seen) -> Check {
    let check = Check::of(
        CheckKind::RecordedHours,
        format!(
            "The first and the last file within the hours of the timer are held against it, from sunset and to sunrise where it \
             reaches into daylight. A recorder that waits for sounds may hear none for {} at either end. More draws a look if \
             the hour beside it was busy (one in 10,000 by chance, see the rule for silent gaps), or if it is {:.0} % of the \
             hours; {:.0} % of the hours beside a very busy hour (one in a thousand million) are trouble. A recorder that ran by \
             a schedule is allowed three distances between recordings, and {}. Without a timer, sunset and sunrise serve, and \
             nothing is called trouble. Our choice, from invented nights.",
            span(QUIET_S),
            100.0 * HALF_SHARE,
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
    // A schedule is kept in daylight too.
    let (from, to) = match seen.spacing_s {
        Some(_) => (meant.from, meant.to),
        None => (start_of_night(seen, meant), end_of_night(seen, meant)),
    };
    let (Some(first), Some(last)) = (silence_at_start(&awake, from), silence_at_end(&awake, to))
    else {
        return nothing(seen, check);
    };
    let check = check.say(format!(
        "The first file in them begins at {}, the last ends at {}.",
        seen.clock(first.to),
        seen.clock(last.from)
    ));
    judged(seen, check, meant.to.since_s(meant.from), [&first, &last])
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

/// What to say of a silence at an end of the night; none if it needs no word.
fn verdict(seen: &Seen, silence: &Silence, meant_s: f64) -> Option<CheckVerdict> {
    let seconds = silence.seconds();
    let allowed_s = match seen.spacing_s {
        Some(spacing_s) => (SPACINGS * spacing_s).max(SCHEDULE_S),
        None => QUIET_S,
    };
    if seconds <= allowed_s {
        return None;
    }
    let share = seconds / meant_s.max(1.0);
    if share >= LOST_SHARE && is_plainly_sudden(silence) && seen.frame.planned.is_some() {
        return Some(CheckVerdict::Trouble);
    }
    let is_odd = seen.spacing_s.is_some() || is_sudden(silence) || share >= HALF_SHARE;
    is_odd.then_some(CheckVerdict::Look)
}

/// Judges the silences at the beginning and at the end of the hours meant.
fn judged(seen: &Seen, check: Check, meant_s: f64, silences: [&Silence; 2]) -> Check {
    let [at_start, at_end] = silences.map(|silence| verdict(seen, silence, meant_s));
    let [late, early] = silences.map(|silence| span(silence.seconds()));
    let check = check
        .say_all(
            at_start.map(|_| format!("Nothing was recorded in the first {late} of the night.")),
        )
        .say_all(at_end.map(|_| format!("Nothing was recorded in the last {early} of the night.")));
    let worst = at_start.into_iter().chain(at_end).min();
    if let Some(worst) = worst {
        let title = match (at_end == Some(worst), is_sudden(silences[1])) {
            (true, true) => "It fell silent suddenly before the end",
            (true, false) => "Nothing was recorded towards the end",
            (false, _) => "It began to record late",
        };
        return check.judged(worst, title, ADVICE);
    }
    if seen.frame.planned.is_some() {
        check.fine("It recorded through the hours of the timer")
    } else {
        check.unknown(
            "It recorded from dusk to dawn; the timer is not known",
            "Say when the recorder was meant to run, and its hours can be judged.",
        )
    }
}
