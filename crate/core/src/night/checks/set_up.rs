//! How the recorder was set up, and how cold it was.

use std::collections::{BTreeMap, BTreeSet};

use super::seen::{Heard, Seen};
use super::words::count;
use super::{Check, CheckKind, CheckVerdict};
use crate::night::moment::Moment;

/// What the metadata say anew for every file is measured and no setting: more values than this.
const MOST_VALUES: usize = 5;
/// Changes beyond this many are not told one by one.
const MOST_TOLD: usize = 8;
/// Below this bats seldom fly, degrees Celsius (Bat Conservation Trust, waterway survey instructions, as others quote them).
const COLD_C: f64 = 7.0;

/// What no recorder changes by itself.
const SAMPLES: [&str; 3] = ["sampling rate", "encoding", "channels"];

/// A setting that changed.
struct Change<'a> {
    at: Moment,
    name: &'a str,
    from: String,
    to: String,
    path: &'a str,
}

pub(super) fn settings_changed(seen: &Seen) -> Check {
    let check = Check::of(
        CheckKind::SettingsChanged,
        format!(
            "Sampling rate, encoding, number of channels, firmware, filters and what else the metadata state about gain, \
             sensitivity and trigger stay the same all night. A change draws a look; of the first three it is trouble, since no \
             recorder changes them by itself. What has more than {MOST_VALUES} values in a night is measured and no setting."
        ),
    );
    if seen.heard.len() < 2 {
        return check.unknown(
            "Settings: too few recordings",
            "It takes two recordings or more to see a change.",
        );
    }
    let changes = changes(&seen.heard);
    if changes.is_empty() {
        return check
            .fine("The settings stayed the same")
            .say_all(first(&seen.heard));
    }
    let is_trouble = changes.iter().any(|change| SAMPLES.contains(&change.name));
    let verdict = if is_trouble {
        CheckVerdict::Trouble
    } else {
        CheckVerdict::Look
    };
    let told = changes.iter().take(MOST_TOLD).map(|change| {
        format!(
            "{}: {} changed from {} to {}.",
            seen.clock(change.at),
            change.name,
            change.from,
            change.to
        )
    });
    let more = changes.len().saturating_sub(MOST_TOLD);
    let more = (more > 0).then(|| format!("And {}.", count(more, "more change")));
    check
        .say_all(told)
        .say_all(more)
        .judged(
            verdict,
            "Settings changed within the night",
            "What was heard before and after cannot be compared without care. Look whether files of two recorders lie \
             together, whether someone was at the recorder, and whether it fell back to its factory settings.",
        )
        .listing(changes.iter().map(|change| change.path))
}

/// What the samples were all night.
fn first(heard: &[Heard]) -> Option<String> {
    let own = heard.first()?;
    Some(format!(
        "{}, {}, {}.",
        rate(own.rate_hz),
        own.encoding,
        count(usize::from(own.channels), "channel")
    ))
}

fn rate(rate_hz: f64) -> String {
    format!("{} kHz", (rate_hz / 10.0).round() / 100.0)
}

/// What a recording states, by name.
fn stated<'a>(own: Heard<'a>) -> impl Iterator<Item = (&'a str, String)> {
    let content = own.content;
    let samples = [
        (SAMPLES[0], rate(content.rate_hz)),
        (SAMPLES[1], content.encoding.clone()),
        (SAMPLES[2], content.channels.to_string()),
    ];
    let firmware = content
        .firmware
        .clone()
        .map(|version| ("firmware", version));
    let settings = content.recorder_settings.iter();
    samples
        .into_iter()
        .chain(firmware)
        .chain(settings.map(|(name, value)| (name.as_str(), value.clone())))
}

/// All changes in order of time. What a file does not state has not changed.
fn changes<'a>(heard: &[Heard<'a>]) -> Vec<Change<'a>> {
    let mut now: BTreeMap<&str, String> = BTreeMap::new();
    let mut values: BTreeMap<&str, BTreeSet<String>> = BTreeMap::new();
    let mut changes = Vec::new();
    for &own in heard {
        for (name, value) in stated(own) {
            let before = now.insert(name, value.clone());
            if before.as_ref() == Some(&value) {
                continue;
            }
            values.entry(name).or_default().insert(value.clone());
            if let Some(from) = before {
                changes.push(Change {
                    at: own.start(),
                    name,
                    from,
                    to: value,
                    path: own.path(),
                });
            }
        }
    }
    changes.retain(|change| {
        let known = values.get(change.name).map_or(0, BTreeSet::len);
        known <= MOST_VALUES || SAMPLES.contains(&change.name)
    });
    changes
}

pub(super) fn temperature(seen: &Seen) -> Check {
    let check = Check::of(
        CheckKind::Temperature,
        format!(
            "For information: the lowest and the highest temperature that the files state, outside the recorder, else inside. \
             Below {COLD_C:.0} degrees Celsius bats seldom fly (Bat Conservation Trust, instructions of its waterway survey, as \
             others quote them)."
        ),
    );
    let outside = range(seen, |own| own.temperature_c);
    let inside = || range(seen, |own| own.temperature_inside_c);
    let found = outside
        .map(|range| ("outside", range))
        .or_else(|| inside().map(|range| ("inside the recorder", range)));
    let Some((place, [lowest, highest])) = found else {
        return check.unknown(
            "Temperature: the files state none",
            "Note it by hand in the night's settings: activity falls with it.",
        );
    };
    let check = check.say(format!(
        "From {:.1} \u{b0}C at {} to {:.1} \u{b0}C at {}, {place}.",
        lowest.1,
        seen.clock(lowest.0),
        highest.1,
        seen.clock(highest.0)
    ));
    let cold = (lowest.1 < COLD_C).then(|| {
        format!("Bats seldom fly below {COLD_C:.0} \u{b0}C: few passes may be the weather's doing.")
    });
    check.say_all(cold).fine("Temperature")
}

/// When it was coldest and when warmest.
fn range(seen: &Seen, of: impl Fn(&Heard) -> Option<f64>) -> Option<[(Moment, f64); 2]> {
    let stated = || {
        let all = seen.heard.iter();
        all.filter_map(|own| Some((own.start(), of(own).filter(|c| c.is_finite())?)))
    };
    let lowest = stated().min_by(|a, b| a.1.total_cmp(&b.1))?;
    let highest = stated().max_by(|a, b| a.1.total_cmp(&b.1))?;
    Some([lowest, highest])
}
