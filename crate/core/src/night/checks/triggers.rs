//! What set the recorder off, and whether it could stop.

use super::seen::{Heard, Seen};
use super::words::{count, part, percent, ratio};
use super::{Check, CheckKind, CheckVerdict};
use crate::pulse::{Doubt, Verdict};

/// So many recordings are needed to judge.
const FEWEST: usize = 20;
/// Such a share of recordings without a bat draws a look; ...
const NONE_SHARE: f64 = 0.75;
/// ... a larger one of so many recordings is trouble: it fills card and evenings.
const NONE_TROUBLE_SHARE: f64 = 0.97;
const NONE_TROUBLE: usize = 200;
/// Recordings of so much less than the longest are of full length, seconds.
const FULL_S: f64 = 0.1;
/// Recordings nearer to one another follow without a pause, seconds.
const PAUSE_S: f64 = 1.0;
/// Such shares of recordings of full length, of pauses that are none, and of recordings without a bat make a recorder that was
/// set off all the time.
const FULL_SHARE: f64 = 0.8;
const NO_PAUSE_SHARE: f64 = 0.8;
const STUCK_NONE_SHARE: f64 = 0.7;

/// What a recording holds, as far as it tells what set the recorder off.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Cause {
    Bats,
    Unsure,
    Insects,
    Rain,
    Wind,
    Electronics,
    Nothing,
}

/// In the order in which they are told; what they are called, and what helps against them.
const CAUSES: [(Cause, &str, &str); 7] = [
    (Cause::Bats, "bats", ""),
    (Cause::Unsure, "unsure", ""),
    (
        Cause::Insects,
        "insects",
        "Raise the recorder's high-pass filter or its lowest trigger frequency above the insects, if the bats that you look for \
         call higher; place it away from grass and hedges.",
    ),
    (
        Cause::Rain,
        "rain and clicks",
        "Shelter the recorder from drops, away from leaves that drip; raise its trigger level.",
    ),
    (
        Cause::Wind,
        "wind and rustling",
        "Place the recorder out of the wind and away from leaves; raise its high-pass filter or its trigger level.",
    ),
    (
        Cause::Electronics,
        "tones and electronics",
        "Keep the recorder away from lamps, chargers and other devices, and try other batteries.",
    ),
    (
        Cause::Nothing,
        "nothing to be heard",
        "Raise the trigger level: it was set off by what is no louder than the noise.",
    ),
];

fn cause(own: &Heard) -> Cause {
    match own.verdict {
        Verdict::HoldsPulses => Cause::Bats,
        Verdict::Unsure => Cause::Unsure,
        Verdict::ProbablyNone => {
            let most = own
                .doubts
                .iter()
                .filter_map(|count| Some((doubted(count.doubt)?, count.sounds)))
                .max_by_key(|&(_, sounds)| sounds);
            most.map_or(Cause::Nothing, |(cause, _)| cause)
        }
    }
}

/// What a doubted sound is of; none where that tells of nothing.
fn doubted(doubt: Doubt) -> Option<Cause> {
    match doubt {
        Doubt::Click => Some(Cause::Rain),
        Doubt::InsectLike => Some(Cause::Insects),
        Doubt::Wind => Some(Cause::Wind),
        Doubt::Tone | Doubt::Electronics => Some(Cause::Electronics),
        Doubt::Wandering | Doubt::Faint | Doubt::Lone => None,
    }
}

pub(super) fn triggers(seen: &Seen) -> Check {
    let check = Check::of(
        CheckKind::Triggers,
        format!(
            "Each recording counts for bats, for unsure, or else for the reason for which most of its sounds were doubted. \
             {:.0} % or more with probably no bat, of {FEWEST} recordings, draw a look; {:.0} % of {NONE_TROUBLE} are trouble. A \
             recorder that ran by a schedule records silence too, and is not judged. \"Probably none\" is no proof that no bat \
             flew. Our choice.",
            100.0 * NONE_SHARE,
            100.0 * NONE_TROUBLE_SHARE
        ),
    );
    let all = seen.heard.len();
    let causes: Vec<Cause> = seen.heard.iter().map(cause).collect();
    let number = |of: Cause| causes.iter().filter(|&&own| own == of).count();
    let shares: Vec<String> = CAUSES
        .iter()
        .filter(|(of, ..)| number(*of) > 0)
        .map(|(of, name, _)| format!("{name} {} ({})", number(*of), percent(number(*of), all)))
        .collect();
    if all < FEWEST {
        let check = check.unknown("Triggers: too few recordings", "");
        return check.say(format!(
            "{}; it takes {FEWEST} to judge.",
            count(all, "recording")
        ));
    }
    let none = all - number(Cause::Bats) - number(Cause::Unsure);
    let check = check.say(format!(
        "{}: {}.",
        count(all, "recording"),
        shares.join(", ")
    ));
    if seen.spacing_s.is_some() {
        return check
            .say("It recorded at even distances, by a schedule or without a pause.")
            .fine("What is in the recordings");
    }
    let share = ratio(none, all);
    if share < NONE_SHARE {
        return check.fine("Bats set it off often enough");
    }
    let is_trouble = share >= NONE_TROUBLE_SHARE && none >= NONE_TROUBLE;
    let verdict = if is_trouble {
        CheckVerdict::Trouble
    } else {
        CheckVerdict::Look
    };
    let of_none = &CAUSES[2..];
    let most = of_none.iter().max_by_key(|(of, ..)| number(*of));
    let (title, advice) = most.map_or((String::new(), ""), |&(_, name, advice)| {
        (
            format!("Few recordings hold bats; most often: {name}"),
            advice,
        )
    });
    check
        .say(format!(
            "{} with probably no bat.",
            part(none, all, "recording")
        ))
        .judged(verdict, &title, advice)
}

pub(super) fn full_length(seen: &Seen) -> Check {
    let check = Check::of(
        CheckKind::FullLength,
        format!(
            "Looked at if {:.0} % of the recordings are as long as the longest (within {FULL_S} s), {:.0} % follow the one \
             before within {PAUSE_S:.0} s, and {:.0} % probably hold no bat: the trigger could not let go, or there was none. It \
             takes {FEWEST} recordings. Our choice.",
            100.0 * FULL_SHARE,
            100.0 * NO_PAUSE_SHARE,
            100.0 * STUCK_NONE_SHARE
        ),
    );
    let all = seen.heard.len();
    if all < FEWEST {
        let check = check.unknown("Full length: too few recordings", "");
        return check.say(format!(
            "{}; it takes {FEWEST} to judge.",
            count(all, "recording")
        ));
    }
    let longest_s = seen
        .heard
        .iter()
        .map(|own| own.duration_s)
        .fold(0.0, f64::max);
    let full = seen
        .heard
        .iter()
        .filter(|own| own.duration_s >= longest_s - FULL_S)
        .count();
    let no_pause = seen
        .heard
        .windows(2)
        .filter(|pair| pair[1].start().since_s(pair[0].own.end()) < PAUSE_S)
        .count();
    let none = seen
        .heard
        .iter()
        .filter(|own| own.verdict == Verdict::ProbablyNone)
        .count();
    let check = check
        .say(format!(
            "{} have the full length of {longest_s:.1} s.",
            part(full, all, "recording")
        ))
        .say(format!(
            "{} follow the one before without a pause.",
            part(no_pause, all, "recording")
        ));
    let is_stuck = ratio(full, all) >= FULL_SHARE
        && ratio(no_pause, all - 1) >= NO_PAUSE_SHARE
        && ratio(none, all) >= STUCK_NONE_SHARE;
    if !is_stuck {
        return check.fine("The recorder let go between sounds");
    }
    check
        .say(format!(
            "{} probably hold no bat.",
            part(none, all, "recording")
        ))
        .judged(
            CheckVerdict::Look,
            "Files of full length, one after the other",
            "If the recorder was meant to record all the time, this is right. Else raise its trigger level or its high-pass \
             filter: something set it off without a pause, and the card fills early.",
        )
}
