//! Jumps of the recorder's clock, as the files' order, their dates and their overlaps show them.

use std::collections::BTreeMap;

use super::seen::{Heard, Seen, usual};
use super::words::{count, part, ratio, span};
use super::{Check, CheckKind, CheckVerdict};

/// A jump back of less is none that matters, and none to be told from rounding, seconds.
const JUMP_S: f64 = 60.0;
/// Numbers in names count files if so large a share of them follow one another by one ...
const COUNTING_SHARE: f64 = 0.8;
/// ... and there are so many of them.
const FEWEST_COUNTED: usize = 5;
/// Recordings of one recorder may seem to overlap by so much: starts are given in whole seconds, seconds.
const OVERLAP_S: f64 = 2.0;
/// From such a share of overlapping recordings on, two recorders' files lie together.
const TWO_RECORDERS_SHARE: f64 = 0.3;
/// A file's date less its end changes by so much where one of two clocks was set, seconds; ...
const STEP_S: f64 = 120.0;
/// ... in between it changes by no more, seconds: otherwise it is the date of copying.
const STEADY_S: f64 = 10.0;
/// A recorder's clock is set no more often than this in a night.
const MOST_STEPS: usize = 3;
/// Air warms and cools slowly: a temperature that turns so often in a row ...
const TURNS: usize = 3;
/// ... within so many seconds of the turn before, ...
const TURN_S: f64 = 1800.0;
/// ... by so many degrees from one recording to the next, and by so many times what is usual, mixes two times.
const TURN_C: f64 = 0.5;
const TURN_TIMES: f64 = 4.0;
/// Jumps beyond this many are not told one by one.
const MOST_TOLD: usize = 5;

/// Something that tells of a jump.
struct Sign<'a> {
    sentence: String,
    paths: [&'a str; 2],
}

pub(super) fn clock_jumps(seen: &Seen) -> Check {
    let check = Check::of(
        CheckKind::ClockJumps,
        format!(
            "Trouble: a number in the names that counts the files (it grows by one in {:.0} % of them) and a time that goes back \
             by {} or more from one number to the next. A look: recordings of one recorder that overlap by more than {}; a \
             file's date that moves against the time of recording by {} or more in up to {MOST_STEPS} steps, and by less than \
             {} in between; a temperature that turns {TURNS} times in a row by {TURN_C} \u{b0}C, and {TURN_TIMES} times what is \
             usual, each within {} of the turn before. A clock that jumps forward, or by days, is not seen by this: it leaves a gap, or files in another \
             night. Our choice.",
            100.0 * COUNTING_SHARE,
            span(JUMP_S),
            span(OVERLAP_S),
            span(STEP_S),
            span(STEADY_S),
            span(TURN_S)
        ),
    );
    let timed: Vec<Heard> = seen
        .heard
        .iter()
        .copied()
        .filter(|own| !own.own.time.origin.is_weak())
        .collect();
    if timed.len() < 2 {
        return check.unknown(
            "Clock jumps: too few times",
            "It takes two recordings or more that state their time.",
        );
    }
    let (backward, counted) = backward(seen, &timed);
    let overlaps = overlaps(seen, &timed);
    let steps = date_steps(seen, &timed);
    let turns = turns(seen, &timed);
    let others = [&overlaps, &steps, &turns];
    if backward.is_empty() && others.iter().all(|signs| signs.is_empty()) {
        return check
            .fine("No sign of a clock that jumped")
            .say(if counted > 0 {
                format!(
                    "{} follow one another in number and time.",
                    count(counted, "file")
                )
            } else {
                "The names hold no running number to compare with.".to_owned()
            });
    }
    let (verdict, title) = if !backward.is_empty() {
        (CheckVerdict::Trouble, "The clock went back")
    } else if ratio(overlaps.len(), timed.len()) >= TWO_RECORDERS_SHARE {
        (
            CheckVerdict::Look,
            "Recordings overlap: two recorders' files may lie together",
        )
    } else {
        (CheckVerdict::Look, "The clock may have jumped")
    };
    let how_many = (!overlaps.is_empty()).then(|| {
        format!(
            "{} begin before the one before them ended.",
            part(overlaps.len(), timed.len(), "recording")
        )
    });
    let told = |signs: &[Sign]| -> Vec<String> {
        let first = signs.iter().take(MOST_TOLD);
        first.map(|sign| sign.sentence.clone()).collect()
    };
    let paths = [&backward, &overlaps, &steps, &turns];
    let paths = paths.into_iter().flatten().flat_map(|sign| sign.paths);
    check
        .judged(
            verdict,
            title,
            "Times after a jump are wrong. Look whether the recorder sets its clock by itself (satellites, summer time), and \
             whether its clock battery is empty; compare it with a watch at set-up and collection.",
        )
        .say_all(told(&backward))
        .say_all(how_many)
        .say_all(told(&overlaps))
        .say_all(told(&steps))
        .say_all(told(&turns))
        .listing(paths)
}

/// The groups of digits of a file's name, each with what stands around it.
fn numbers(path: &str) -> (String, Vec<u64>) {
    let (folder, name) = path.rsplit_once('/').unwrap_or(("", path));
    let stem = name.rsplit_once('.').map_or(name, |(stem, _)| stem);
    let mut around = format!("{folder}/");
    let mut numbers = Vec::new();
    let mut digits = String::new();
    for letter in stem.chars().chain(['.']) {
        if letter.is_ascii_digit() {
            digits.push(letter);
            continue;
        }
        if !digits.is_empty() {
            numbers.push(digits.parse().unwrap_or(u64::MAX));
            digits.clear();
            around.push('#');
        }
        around.push(letter);
    }
    (around, numbers)
}

/// Where time goes back while the number in the names goes on; and how many files are counted by such numbers.
fn backward<'a>(seen: &Seen, timed: &[Heard<'a>]) -> (Vec<Sign<'a>>, usize) {
    let mut alike: BTreeMap<String, Vec<(Vec<u64>, Heard)>> = BTreeMap::new();
    for &own in timed {
        let (around, numbers) = numbers(own.path());
        alike.entry(around).or_default().push((numbers, own));
    }
    let mut signs = Vec::new();
    let mut counted = 0;
    for mut files in alike.into_values() {
        let Some(column) = counting_column(&files) else {
            continue;
        };
        files.sort_by_key(|(numbers, _)| numbers[column]);
        counted += files.len();
        for pair in files.windows(2) {
            let (before, after) = (pair[0].1, pair[1].1);
            let back_s = before.start().since_s(after.start());
            if back_s >= JUMP_S {
                signs.push(Sign {
                    sentence: format!(
                        "After number {} at {} comes number {} at {}: {} back.",
                        pair[0].0[column],
                        seen.clock(before.start()),
                        pair[1].0[column],
                        seen.clock(after.start()),
                        span(back_s)
                    ),
                    paths: [before.path(), after.path()],
                });
            }
        }
    }
    (signs, counted)
}

/// Which of the numbers in names of the same form counts the files.
fn counting_column(files: &[(Vec<u64>, Heard)]) -> Option<usize> {
    let columns = files.first()?.0.len();
    if files.len() < FEWEST_COUNTED {
        return None;
    }
    (0..columns).rev().find(|&column| {
        let mut values: Vec<u64> = files.iter().map(|(numbers, _)| numbers[column]).collect();
        values.sort_unstable();
        let by_one = values
            .windows(2)
            .filter(|pair| pair[0].checked_add(1) == Some(pair[1]))
            .count();
        let repeated = values.windows(2).any(|pair| pair[0] == pair[1]);
        !repeated && ratio(by_one, files.len() - 1) >= COUNTING_SHARE
    })
}

/// Recordings that begin before the one before them has ended. Two that begin together are two channels.
fn overlaps<'a>(seen: &Seen, timed: &[Heard<'a>]) -> Vec<Sign<'a>> {
    let pairs = timed.windows(2).filter_map(|pair| {
        let (before, after) = (pair[0], pair[1]);
        let apart_s = after.start().since_s(before.start());
        let overlap_s = before.own.end().since_s(after.start());
        (apart_s > OVERLAP_S && overlap_s > OVERLAP_S).then(|| Sign {
            sentence: format!(
                "The recording of {} runs {} into the one of {}.",
                seen.clock(before.start()),
                span(overlap_s),
                seen.clock(after.start())
            ),
            paths: [before.path(), after.path()],
        })
    });
    pairs.collect()
}

/// Where the files' dates move against their times of recording.
fn date_steps<'a>(seen: &Seen, timed: &[Heard<'a>]) -> Vec<Sign<'a>> {
    let lags = timed.iter().filter_map(|&own| {
        let written_s = own.own.file.modified_ms? / 1e3;
        Some((own, written_s - own.own.end().utc_s()))
    });
    let lags: Vec<(Heard, f64)> = lags.collect();
    let changes = || lags.windows(2).map(|pair| pair[1].1 - pair[0].1);
    let is_steady = usual(changes().map(f64::abs)).is_some_and(|usual| usual <= STEADY_S);
    let steps: Vec<Sign> = lags
        .windows(2)
        .zip(changes())
        .filter(|(_, change_s)| change_s.abs() >= STEP_S)
        .map(|(pair, change_s)| Sign {
            sentence: format!(
                "At {} the files' dates moved by {} against the time of recording.",
                seen.clock(pair[1].0.start()),
                span(change_s)
            ),
            paths: [pair[0].0.path(), pair[1].0.path()],
        })
        .collect();
    if is_steady && steps.len() <= MOST_STEPS {
        steps
    } else {
        Vec::new()
    }
}

/// Where the temperature goes to and fro, as it does where recordings of two times lie between each other.
fn turns<'a>(seen: &Seen, timed: &[Heard<'a>]) -> Vec<Sign<'a>> {
    let outside = timed.iter().any(|own| own.temperature_c.is_some());
    let stated = timed.iter().filter_map(|&own| {
        let inside = own.temperature_inside_c.filter(|_| !outside);
        Some((own, own.temperature_c.or(inside)?))
    });
    let stated: Vec<(Heard, f64)> = stated.filter(|(_, celsius)| celsius.is_finite()).collect();
    let changes: Vec<(Heard, f64)> = stated
        .windows(2)
        .map(|pair| (pair[1].0, pair[1].1 - pair[0].1))
        .collect();
    let sizes = || changes.iter().map(|(_, change)| change.abs());
    // What a thermometer with coarse steps shows is no change.
    let finest = sizes()
        .filter(|&size| size > 0.0)
        .fold(f64::INFINITY, f64::min);
    let Some(usual) = usual(sizes()).filter(|_| finest.is_finite()) else {
        return Vec::new();
    };
    let limit = TURN_C.max(TURN_TIMES * usual.max(finest));
    let large = changes.iter().filter(|(_, change)| change.abs() >= limit);
    let large: Vec<&(Heard, f64)> = large.collect();
    let runs = large.chunk_by(|before, after| {
        let apart_s = after.0.start().since_s(before.0.start());
        before.1 * after.1 < 0.0 && apart_s <= TURN_S
    });
    let runs = runs.filter(|run| run.len() >= TURNS).filter_map(|run| {
        let (first, last) = (run.first()?.0, run.last()?.0);
        Some(Sign {
            sentence: format!(
                "From {} to {} the temperature goes up and down {} by {limit:.1} \u{b0}C or more from one recording to the \
                 next: recordings of two times may lie between each other.",
                seen.clock(first.start()),
                seen.clock(last.start()),
                count(run.len(), "time")
            ),
            paths: [first.path(), last.path()],
        })
    });
    runs.collect()
}
