//! Calls that are too loud, too faint or too high for the recorder as it was set.

use super::seen::{Heard, Seen, usual};
use super::words::{count, part, ratio};
use super::{Check, CheckKind, CheckVerdict};

/// So many recordings with bats are needed to judge the gain.
const FEWEST: usize = 10;
/// Clipped calls draw a look from such a share of the recordings with bats on: animals that fly past the microphone are too
/// loud for any gain.
const CLIPPED_SHARE: f64 = 0.1;
const CLIPPED: usize = 3;
const CLIPPED_TROUBLE_SHARE: f64 = 0.3;
/// A recording counts as clipped from such a share of its pulses on.
const CLIPPED_PULSES_SHARE: f64 = 0.1;
/// Half of the recordings with bats have no pulse above this, dB, ...
const FAINT_DB: f64 = 20.0;
/// ... and fewer than such a share have one that is strong, dB: then the calls are faint.
const STRONG_DB: f64 = 25.0;
const STRONG_SHARE: f64 = 0.15;
/// Trouble: so many recordings, a median below this, dB, and not one that is strong.
const FAINT_TROUBLE_DB: f64 = 14.0;
const FAINT_TROUBLE: usize = 30;
/// A call that reaches such a share of half the sampling rate may go on above it: filters against aliasing begin there.
const TOP_SHARE: f64 = 0.92;
/// So many recordings of this share draw a look.
const AT_TOP: usize = 3;
const AT_TOP_SHARE: f64 = 0.05;
const AT_TOP_TROUBLE_SHARE: f64 = 0.25;

pub(super) fn clipping(seen: &Seen) -> Check {
    let check = Check::of(
        CheckKind::Clipping,
        format!(
            "A recording counts as clipped if {:.0} % or more of its pulses reach the largest value that the file can hold. \
             {CLIPPED} such recordings, and {:.0} % of those with bats, draw a look; {:.0} % are trouble. It takes {FEWEST} \
             recordings with bats to judge. A bat that flies past the microphone is too loud for any gain. Our choice.",
            100.0 * CLIPPED_PULSES_SHARE,
            100.0 * CLIPPED_SHARE,
            100.0 * CLIPPED_TROUBLE_SHARE
        ),
    );
    let bats = seen.bats();
    if bats.len() < FEWEST {
        return check
            .unknown("Clipping: too few recordings with bats", "")
            .say(few(&bats));
    }
    let is_clipped = |own: &&Heard| {
        own.clipped_pulses > 0
            && ratio(own.clipped_pulses as usize, own.pulses as usize) >= CLIPPED_PULSES_SHARE
    };
    let clipped: Vec<&Heard> = bats.iter().filter(is_clipped).collect();
    let check = check.say(format!(
        "Calls are clipped in {} with bats.",
        part(clipped.len(), bats.len(), "recording")
    ));
    let share = ratio(clipped.len(), bats.len());
    let paths = clipped.iter().map(|own| own.path());
    if share < CLIPPED_SHARE || clipped.len() < CLIPPED {
        return check.fine("Hardly a call is clipped").listing(paths);
    }
    let verdict = if share >= CLIPPED_TROUBLE_SHARE {
        CheckVerdict::Trouble
    } else {
        CheckVerdict::Look
    };
    check
        .judged(
            verdict,
            "Many calls are clipped",
            "Lower the gain, or move the microphone away from where bats pass close by. Clipped calls have false harmonics, and \
             their level is not known.",
        )
        .listing(paths)
}

fn few(bats: &[Heard]) -> String {
    format!(
        "{} with bats; it takes {FEWEST} to judge.",
        count(bats.len(), "recording")
    )
}

pub(super) fn faint_calls(seen: &Seen) -> Check {
    let check = Check::of(
        CheckKind::FaintCalls,
        format!(
            "Of each recording with bats the best signal-to-noise ratio counts. A median below {FAINT_DB:.0} dB, with fewer than \
             {:.0} % of them at {STRONG_DB:.0} dB or more, draws a look; below {FAINT_TROUBLE_DB:.0} dB, in {FAINT_TROUBLE} \
             recordings or more and none at {STRONG_DB:.0} dB, it is trouble. It takes {FEWEST} to judge. Our choice, from \
             invented calls.",
            100.0 * STRONG_SHARE
        ),
    );
    let bats = seen.bats();
    let best = || bats.iter().filter_map(|own| own.best_snr_db);
    let known = best().count();
    let Some(median_db) = usual(best()).filter(|_| known >= FEWEST) else {
        return check
            .unknown("Faint calls: too few recordings with bats", "")
            .say(few(&bats));
    };
    let strong = best().filter(|&db| db >= STRONG_DB).count();
    let check = check
        .say(format!(
            "In {} with bats the best pulse stands {median_db:.0} dB above the noise in the median.",
            count(known, "recording")
        ))
        .say(format!(
            "{} have one of {STRONG_DB:.0} dB or more.",
            part(strong, known, "recording")
        ));
    if median_db >= FAINT_DB || ratio(strong, known) >= STRONG_SHARE {
        return check.fine("Calls stand well above the noise");
    }
    let is_trouble = median_db < FAINT_TROUBLE_DB && known >= FAINT_TROUBLE && strong == 0;
    let verdict = if is_trouble {
        CheckVerdict::Trouble
    } else {
        CheckVerdict::Look
    };
    check.judged(
        verdict,
        "Calls hardly stand above the noise",
        "Test the microphone (rub two fingers before it, or use a calibrator), look at its foam and cable, raise the gain, and \
         place it free of leaves and walls. Bats that only pass far away sound like this too. Faint calls are missed more often: \
         counts of this night are too low.",
    )
}

pub(super) fn sampling_rate(seen: &Seen) -> Check {
    let check = Check::of(
        CheckKind::SamplingRate,
        format!(
            "A recording holds frequencies up to half its sampling rate (Nyquist). Calls that stand plainly above the noise and \
             reach {:.0} % of it may go on above. {AT_TOP} recordings, and {:.0} % of those with bats, draw a look; {:.0} % are \
             trouble.",
            100.0 * TOP_SHARE,
            100.0 * AT_TOP_SHARE,
            100.0 * AT_TOP_TROUBLE_SHARE
        ),
    );
    let bats = seen.bats();
    let known: Vec<(&Heard, f64)> = bats
        .iter()
        .filter_map(|own| Some((own, own.highest_khz?)))
        .collect();
    let top = known.iter().max_by(|a, b| a.1.total_cmp(&b.1));
    let Some(&(highest, khz)) = top else {
        return check.unknown(
            "Sampling rate: no call that stands plainly above the noise",
            "",
        );
    };
    let check = check.say(format!(
        "The highest call reaches {khz:.0} kHz; its recording holds up to {:.0} kHz.",
        highest.rate_hz / 2e3
    ));
    let at_top: Vec<&Heard> = known
        .iter()
        .filter(|(own, khz)| *khz >= TOP_SHARE * own.rate_hz / 2e3)
        .map(|&(own, _)| own)
        .collect();
    let share = ratio(at_top.len(), bats.len());
    if at_top.len() < AT_TOP || share < AT_TOP_SHARE {
        return check.fine("The sampling rate is high enough for what was heard");
    }
    let verdict = if share >= AT_TOP_TROUBLE_SHARE {
        CheckVerdict::Trouble
    } else {
        CheckVerdict::Look
    };
    check
        .say(format!(
            "{} with bats come so near to the top.",
            part(at_top.len(), bats.len(), "recording")
        ))
        .judged(
            verdict,
            "The sampling rate may be too low",
            "Choose a higher sampling rate. Start frequencies and bandwidths of these calls are too low, and calls that lie \
             wholly above are missing.",
        )
        .listing(at_top.iter().map(|own| own.path()))
}
