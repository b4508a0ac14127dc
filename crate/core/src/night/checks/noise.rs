//! What the noise floor tells of the microphone and of what stands near it.

use super::seen::{Heard, Seen, usual};
use super::words::{count, part, ratio};
use super::{Check, CheckKind, CheckVerdict};
use crate::night::moment::Moment;
use crate::pulse::Doubt;

/// A recording with so many sounds of wind, rain or insects, or more, says nothing of the microphone's noise.
const LOUD_SOUNDS: usize = 10;
/// So many calm recordings are needed in a quarter of the night.
const FEWEST: usize = 5;
/// A band of noise is so wide, kHz.
const BAND_KHZ: usize = 10;
/// The bands that the noise floor is read in, from and below, kHz: above rumble, and where every recorder hears.
const FLOOR_KHZ: (usize, usize) = (20, 60);
/// A rise so large draws a look, one so much larger is trouble, dB.
const RISE_DB: f64 = 6.0;
const RISE_TROUBLE_DB: f64 = 12.0;
/// Insects that fall silent lower the floor too: it takes a larger fall, dB.
const FALL_DB: f64 = 10.0;
const FALL_TROUBLE_DB: f64 = 20.0;
/// Low bands against high ones, from and below, kHz.
const LOW_KHZ: (usize, usize) = (20, 40);
const HIGH_FROM_KHZ: usize = 50;
/// Filters against aliasing begin at this share of half the sampling rate: bands above say nothing.
const HIGH_TO_SHARE: f64 = 0.85;
/// A fall of the high bands against the low ones so large draws a look, one so much larger is trouble, dB.
const TILT_DB: f64 = 4.0;
const TILT_TROUBLE_DB: f64 = 8.0;
/// The high bands by themselves have fallen at least so far, dB: insects that lift the low bands are no fault.
const HIGH_FALL_DB: f64 = 3.0;
/// Tones within this are the same, kHz.
const SAME_TONE_KHZ: f64 = 1.0;
/// A tone in a larger share of the recordings, of so many at least, is of the recorder or stands by it.
const TONE_SHARE: f64 = 1.0 / 3.0;
const FEWEST_WITH_TONE: usize = 10;
/// Tones beyond this many are not told.
const MOST_TOLD: usize = 5;

fn is_calm(own: &Heard) -> bool {
    let loud = own
        .doubts
        .iter()
        .filter(|count| matches!(count.doubt, Doubt::Click | Doubt::InsectLike | Doubt::Wind));
    loud.map(|count| count.sounds)
        .fold(0, usize::saturating_add)
        < LOUD_SOUNDS
}

/// The calm recordings of each quarter of the time from the first recording to the last.
fn quarters<'a>(seen: &Seen<'a>) -> Option<[Vec<Heard<'a>>; 4]> {
    let (first, last) = (seen.heard.first()?.start(), seen.heard.last()?.start());
    let all_s = last.since_s(first);
    let mut quarters: [Vec<Heard>; 4] = Default::default();
    for &own in seen.heard.iter().filter(|own| is_calm(own)) {
        let share = own.start().since_s(first) / all_s.max(1.0);
        let at = ((share * 4.0) as usize).min(3);
        quarters[at].push(own);
    }
    (quarters[0].len() >= FEWEST && quarters[3].len() >= FEWEST).then_some(quarters)
}

/// The median of a recording's noise over bands from and below these frequencies.
fn level_db(own: &Heard, (from_khz, to_khz): (usize, usize)) -> Option<f64> {
    let top = (to_khz / BAND_KHZ).min(own.noise_db.len());
    let bands = own.noise_db.get(from_khz / BAND_KHZ..top)?;
    usual(bands.iter().map(|&db| f64::from(db)))
}

fn floor_db(own: &Heard) -> Option<f64> {
    level_db(own, FLOOR_KHZ)
}

fn high_db(own: &Heard) -> Option<f64> {
    let top_khz = HIGH_TO_SHARE * own.rate_hz / 2e3;
    level_db(own, (HIGH_FROM_KHZ, top_khz.max(0.0) as usize))
}

const FEW_CALM: &str = "It takes five recordings without wind, rain and insects in the first and in the last quarter of the \
                        night. A recorder that now and then records by a schedule gives them.";

pub(super) fn noise_drift(seen: &Seen) -> Check {
    let check = Check::of(
        CheckKind::NoiseDrift,
        format!(
            "Medians of the noise floor from {} to {} kHz in the quarters of the night, of recordings with fewer than \
             {LOUD_SOUNDS} sounds of wind, rain or insects. A rise from the first to the last by {RISE_DB:.0} dB draws a look, \
             {RISE_TROUBLE_DB:.0} dB are trouble; a fall by {FALL_DB:.0} dB draws a look, since insects that fall silent lower \
             it too, and {FALL_TROUBLE_DB:.0} dB are trouble. Our choice.",
            FLOOR_KHZ.0, FLOOR_KHZ.1
        ),
    );
    let Some(quarters) = quarters(seen) else {
        return check.unknown("Noise floor: too few calm recordings", FEW_CALM);
    };
    let medians_db = quarters
        .each_ref()
        .map(|own| usual(own.iter().filter_map(floor_db)));
    let (Some(first_db), Some(last_db)) = (medians_db[0], medians_db[3]) else {
        return check.unknown("Noise floor: none was measured", "");
    };
    let said: Vec<String> = medians_db
        .iter()
        .map(|db| db.map_or("-".to_owned(), |db| format!("{db:.0}")))
        .collect();
    let check = check.say(format!(
        "In the four quarters of the night the floor lies at {} dB re full scale.",
        said.join(", ")
    ));
    let change_db = last_db - first_db;
    let advice = "Dry the microphone, look at its foam, seal and cable, and test it before the next night. Water, machines and \
                  insects near the recorder change the floor too: listen to a recording of the last quarter.";
    let verdict = match () {
        () if change_db >= RISE_TROUBLE_DB || change_db <= -FALL_TROUBLE_DB => {
            CheckVerdict::Trouble
        }
        () if change_db >= RISE_DB || change_db <= -FALL_DB => CheckVerdict::Look,
        () => return check.fine("The noise floor stayed the same"),
    };
    let (title, way) = if change_db > 0.0 {
        ("The noise rose through the night", "rose")
    } else {
        ("The noise fell through the night", "fell")
    };
    check
        .say(format!("It {way} by {:.0} dB.", change_db.abs()))
        .judged(verdict, title, advice)
}

pub(super) fn high_frequencies(seen: &Seen) -> Check {
    let check = Check::of(
        CheckKind::HighFrequencies,
        format!(
            "The noise from {HIGH_FROM_KHZ} kHz up (to {:.0} % of half the sampling rate) less that from {} to {} kHz: medians of \
             the first and the last quarter of the night, of calm recordings. A fall by {TILT_DB:.0} dB draws a look, \
             {TILT_TROUBLE_DB:.0} dB are trouble, if the high bands themselves fell by {HIGH_FALL_DB:.0} dB or more. It tells of \
             the microphone only where its own noise, or that of the night, is louder than the recorder's. Our choice.",
            100.0 * HIGH_TO_SHARE,
            LOW_KHZ.0,
            LOW_KHZ.1
        ),
    );
    let Some([first, .., last]) = quarters(seen) else {
        return check.unknown("High frequencies: too few calm recordings", FEW_CALM);
    };
    let tilt_db = |own: &Heard| Some(high_db(own)? - level_db(own, LOW_KHZ)?);
    let change = |of: &dyn Fn(&Heard) -> Option<f64>| {
        let (before, after) = (
            usual(first.iter().filter_map(of))?,
            usual(last.iter().filter_map(of))?,
        );
        Some(after - before)
    };
    let (Some(tilt_change_db), Some(high_change_db)) = (change(&tilt_db), change(&high_db)) else {
        return check.unknown(
            "High frequencies: the sampling rate is too low to tell",
            "It takes a recorder that hears some 60 kHz and more.",
        );
    };
    let check = check.say(format!(
        "From the first to the last quarter of the night the noise above {HIGH_FROM_KHZ} kHz changed by {high_change_db:+.0} dB, \
         and by {tilt_change_db:+.0} dB against the low bands."
    ));
    let verdict = match () {
        () if high_change_db > -HIGH_FALL_DB => None,
        () if tilt_change_db <= -TILT_TROUBLE_DB => Some(CheckVerdict::Trouble),
        () if tilt_change_db <= -TILT_DB => Some(CheckVerdict::Look),
        () => None,
    };
    match verdict {
        None => check.fine("High frequencies did not fade"),
        Some(verdict) => check.judged(
            verdict,
            "High frequencies faded through the night",
            "Dry the microphone and its foam, and test it with a source above 50 kHz before the next night. High calls are \
             missed first: counts of them late in this night are too low.",
        ),
    }
}

pub(super) fn constant_tones(seen: &Seen) -> Check {
    let check = Check::of(
        CheckKind::ConstantTones,
        format!(
            "The same constant tone (within {SAME_TONE_KHZ:.0} kHz) in more than a third of the recordings, of \
             {FEWEST_WITH_TONE} or more, comes from electronics. Constant tones are taken out before pulses are measured. Our \
             choice."
        ),
    );
    if seen.heard.len() < FEWEST_WITH_TONE {
        let all = count(seen.heard.len(), "recording");
        return check
            .unknown("Constant tones: too few recordings", "")
            .say(format!("{all}; it takes {FEWEST_WITH_TONE} to judge."));
    }
    let mut tones: Vec<(f64, usize)> = Vec::new();
    for (number, own) in seen.heard.iter().enumerate() {
        tones.extend(own.tones_khz.iter().map(|&khz| (khz, number)));
    }
    tones.retain(|(khz, _)| khz.is_finite());
    tones.sort_by(|a, b| a.0.total_cmp(&b.0));
    let common = common_tones(tones, seen.heard.len());
    let Some((_, with_first)) = common.first() else {
        return check.fine("No tone that runs through the night");
    };
    let with_first: Vec<&str> = with_first
        .iter()
        .map(|&number| seen.heard[number].path())
        .collect();
    let said = common.iter().take(MOST_TOLD).map(|(khz, with)| {
        let times = with.iter().map(|&number| seen.heard[number].start());
        told(seen, *khz, with.len(), times)
    });
    let said: Vec<String> = said.collect();
    check
        .say_all(said)
        .judged(
            CheckVerdict::Look,
            "A constant tone runs through the night",
            "Keep the recorder away from lamps, chargers, power lines and other devices, and try other batteries. If the tone \
             is there indoors too, it is the recorder's own.",
        )
        .listing(with_first)
}

fn told(seen: &Seen, khz: f64, number: usize, times: impl Iterator<Item = Moment>) -> String {
    let all = part(number, seen.heard.len(), "recording");
    let (mut first, mut last) = (None, None);
    for time in times {
        first = first.or(Some(time));
        last = Some(time);
    }
    match (first, last) {
        (Some(first), Some(last)) => format!(
            "A tone of {khz:.1} kHz in {all}, from {} to {}.",
            seen.clock(first),
            seen.clock(last)
        ),
        _ => format!("A tone of {khz:.1} kHz in {all}."),
    }
}

/// Tones in more recordings than the rule allows, the most common first: their median, and the recordings in order of time.
/// `tones` are in order of frequency.
fn common_tones(mut tones: Vec<(f64, usize)>, recordings: usize) -> Vec<(f64, Vec<usize>)> {
    let mut common = Vec::new();
    while let Some(range) = widest(&tones) {
        let taken: Vec<(f64, usize)> = tones.drain(range).collect();
        let mut with: Vec<usize> = taken.iter().map(|&(_, number)| number).collect();
        with.sort_unstable();
        with.dedup();
        if ratio(with.len(), recordings) <= TONE_SHARE {
            break;
        }
        common.push((taken[taken.len() / 2].0, with));
    }
    common
}

/// Where the most tones lie within what is the same tone.
fn widest(tones: &[(f64, usize)]) -> Option<std::ops::Range<usize>> {
    let mut from = 0;
    let mut best = 0..0;
    for (at, &(khz, _)) in tones.iter().enumerate() {
        while khz - tones[from].0 > SAME_TONE_KHZ {
            from += 1;
        }
        if at + 1 - from > best.len() {
            best = from..at + 1;
        }
    }
    (!best.is_empty()).then_some(best)
}
