//! Silences that are longer than the night's own rhythm explains.

use super::seen::Seen;
use super::words::{count, span};
use super::{Check, CheckKind, CheckVerdict};
use crate::night::frame::Stretch;
use crate::night::moment::Moment;

/// Whether there was a recording is asked for stretches of this length: a burst of a hundred files counts once.
const BIN_S: f64 = 300.0;
/// How many of them before and after a silence tell how busy it was.
const BINS_BESIDE: usize = 12;
/// A shorter silence is none that matters, seconds: bats keep away for as long.
const SHORTEST_S: f64 = 45.0 * 60.0;
/// How busy it was says nothing of what comes later than so many of them: activity fades in a cold night.
const MOST_BINS: f64 = 24.0;
/// A silence that comes by chance in one of so many cases deserves a look.
const RARE: f64 = 1e-4;
/// A silence so long and so rare is trouble.
const TROUBLE_S: f64 = 2.0 * 3600.0;
const TROUBLE_RARE: f64 = 1e-9;
/// By a schedule, nothing is missing before so many usual distances, and so many seconds, have passed.
const SPACINGS: f64 = 3.0;
const SCHEDULE_S: f64 = 300.0;
/// By a schedule, a silence so long is trouble, seconds.
const SCHEDULE_TROUBLE_S: f64 = 45.0 * 60.0;
/// So many gaps are told one by one.
const MOST_TOLD: usize = 5;

/// A silence.
pub(super) struct Silence {
    pub(super) from: Moment,
    pub(super) to: Moment,
    /// How likely it is by chance, given how busy it was beside it.
    pub(super) chance: f64,
}

impl Silence {
    pub(super) fn seconds(&self) -> f64 {
        self.to.since_s(self.from)
    }
}

/// How likely so long a silence is if recordings come as often as in the hour beside it: the share of stretches of five
/// minutes with a recording, one more hit and one more miss assumed (Laplace's rule of succession), to the power of the
/// empty ones, of which no more count than activity lasts.
fn chance(busy: usize, silent_s: f64) -> f64 {
    let hit = (busy + 1) as f64 / (BINS_BESIDE + 2) as f64;
    (1.0 - hit).powf((silent_s / BIN_S).floor().clamp(0.0, MOST_BINS))
}

/// In how many of the stretches of the hour before a moment there was a sign of life.
fn busy_before(awake: &[Stretch], at: Moment) -> usize {
    let back = |moment: Moment| at.since_s(moment) / BIN_S;
    busy(awake.iter().rev().map(|own| (back(own.to), back(own.from))))
}

/// In how many of the stretches of the hour after a moment there was one.
fn busy_after(awake: &[Stretch], at: Moment) -> usize {
    let on = |moment: Moment| moment.since_s(at) / BIN_S;
    busy(awake.iter().map(|own| (on(own.from), on(own.to))))
}

fn busy(stretches: impl Iterator<Item = (f64, f64)>) -> usize {
    let mut bins = [false; BINS_BESIDE];
    for (near, far) in stretches.take_while(|&(near, _)| near < BINS_BESIDE as f64) {
        let last = (far.max(near).max(0.0) as usize).min(BINS_BESIDE - 1);
        let first = (near.max(0.0) as usize).min(last);
        bins[first..=last].fill(true);
    }
    bins.iter().filter(|&&bin| bin).count()
}

/// The silence from the last sign of life to a moment; none without one.
pub(super) fn silence_at_end(awake: &[Stretch], to: Moment) -> Option<Silence> {
    let ends = awake.iter().map(|own| own.to);
    let last = ends.reduce(|a, b| if b > a { b } else { a })?;
    Some(Silence {
        from: last,
        to,
        chance: chance(busy_before(awake, last), to.since_s(last)),
    })
}

/// The silence from a moment to the first sign of life; none without one.
pub(super) fn silence_at_start(awake: &[Stretch], from: Moment) -> Option<Silence> {
    let first = awake.first()?.from;
    Some(Silence {
        from,
        to: first,
        chance: chance(busy_after(awake, first), first.since_s(from)),
    })
}

/// Whether a recorder that was busy beside it was silent for longer than chance explains.
pub(super) fn is_sudden(silence: &Silence) -> bool {
    silence.chance < RARE
}

/// The same beyond doubt.
pub(super) fn is_plainly_sudden(silence: &Silence) -> bool {
    silence.chance < TROUBLE_RARE
}

/// The silences between signs of life, in order of time. How busy it was is that of the quieter side: activity may fade
/// before a silence, or come back slowly.
fn silences(awake: &[Stretch]) -> Vec<Silence> {
    let mut silences = Vec::new();
    let Some(mut end) = awake.first().map(|own| own.to) else {
        return silences;
    };
    for (at, own) in awake.iter().enumerate() {
        let seconds = own.from.since_s(end);
        if seconds >= SCHEDULE_S {
            let busy = busy_before(&awake[..at], end).min(busy_after(&awake[at..], own.from));
            silences.push(Silence {
                from: end,
                to: own.from,
                chance: chance(busy, seconds),
            });
        }
        if own.to > end {
            end = own.to;
        }
    }
    silences
}

pub(super) fn silent_gaps(seen: &Seen) -> Check {
    let check = Check::of(
        CheckKind::SilentGaps,
        format!(
            "A recorder that waits for sounds falls silent now and then. A silence of {} or more draws a look where chance \
             explains less than one in 10,000 such; it is trouble from {} on and one in a thousand million. Chance follows from how many \
             of the 12 stretches of 5 min beside it hold a recording, on its quieter side; of a silence, 2 h count. Where nine \
             of ten recordings begin at the same distance (within 20 %), the recorder ran by a schedule: then three distances \
             and {} draw a look, and {} are trouble, unless most of the files hold no bat. Our choice, from invented nights.",
            span(SHORTEST_S),
            span(TROUBLE_S),
            span(SCHEDULE_S),
            span(SCHEDULE_TROUBLE_S)
        ),
    );
    let meant = seen.meant();
    let within =
        |own: &Stretch| meant.is_none_or(|meant| own.to >= meant.from && own.from <= meant.to);
    let awake: Vec<Stretch> = seen.awake().filter(within).collect();
    if awake.len() < 2 {
        return check.unknown(
            "Silent gaps: too few recordings",
            "It takes two recordings or more to have a gap between them.",
        );
    }
    let mut silences = silences(&awake);
    silences.sort_by(|a, b| b.seconds().total_cmp(&a.seconds()));
    let odd: Vec<(&Silence, CheckVerdict)> = silences
        .iter()
        .filter_map(|silence| Some((silence, judged(seen, silence)?)))
        .collect();
    let tell = |silence: &Silence| {
        format!(
            "Nothing from {} to {} ({}).",
            seen.clock(silence.from),
            seen.clock(silence.to),
            span(silence.seconds())
        )
    };
    let Some(worst) = odd.iter().map(|&(_, verdict)| verdict).min() else {
        let check = check.fine("No silence that stands out");
        return match silences.first() {
            Some(longest) => check.say(format!(
                "The longest silence was from {} to {} ({}); the rest of the night explains it.",
                seen.clock(longest.from),
                seen.clock(longest.to),
                span(longest.seconds())
            )),
            None => check.say(format!("No silence was longer than {}.", span(SCHEDULE_S))),
        };
    };
    let told = odd
        .iter()
        .take(MOST_TOLD)
        .map(|&(silence, _)| tell(silence));
    let more = odd.len().saturating_sub(MOST_TOLD);
    let check = check
        .judged(
            worst,
            "Silent for longer than the night explains",
            "Look at the battery and its contacts, the card's contacts and its speed, and the recorder's log. Heavy rain or \
             sudden cold can silence bats too.",
        )
        .say_all(told);
    if more > 0 {
        check.say(format!("And {}.", count(more, "shorter one")))
    } else {
        check
    }
}

fn judged(seen: &Seen, silence: &Silence) -> Option<CheckVerdict> {
    let seconds = silence.seconds();
    if seconds >= TROUBLE_S && is_plainly_sudden(silence) {
        return Some(CheckVerdict::Trouble);
    }
    if let Some(spacing_s) = seen.spacing_s
        && seconds >= (SPACINGS * spacing_s).max(SCHEDULE_S)
    {
        // Rain that sets a recorder off without a pause looks like a schedule, and ends.
        let mostly_bats = seen.bats().len() * 2 >= seen.heard.len();
        let trouble = seconds >= SCHEDULE_TROUBLE_S && mostly_bats;
        return Some(if trouble {
            CheckVerdict::Trouble
        } else {
            CheckVerdict::Look
        });
    }
    (seconds >= SHORTEST_S && is_sudden(silence)).then_some(CheckVerdict::Look)
}
