//! Which time expansion holds, and who says so.

use super::facts::{Expansion, ExpansionGuess, ExpansionOrigin};

/// What the metadata say, as far as it was readable.
#[derive(Debug, Default, Clone, Copy, PartialEq)]
pub(super) struct Stated {
    /// The factor.
    pub(super) factor: Option<f64>,
    /// The sampling rate at the microphone, hertz.
    pub(super) rate_hz: Option<f64>,
    /// Whether there are metadata of a kind that could have said it.
    pub(super) could_say: bool,
}

/// What is applied, what is offered, and what the person should know.
#[derive(Debug, PartialEq)]
pub(super) struct Decision {
    pub(super) expansion: Expansion,
    pub(super) guess: Option<ExpansionGuess>,
    pub(super) notice: Option<String>,
}

/// Factors outside this are no time expansion.
pub(super) const FACTORS: std::ops::RangeInclusive<f64> = 1.0..=1000.0;

/// True sampling rates that a recorder of bats can have, hertz.
pub(super) const RATES: std::ops::RangeInclusive<f64> = 8_000.0..=2_000_000.0;

/// Stored rates that sound cards play and that are too low for bats, hertz.
const AUDIO_RATES: std::ops::RangeInclusive<f64> = 8_000.0..=50_000.0;

/// The usual factor; common practice.
const USUAL: f64 = 10.0;

/// The person's choice wins, then the metadata; else real time is assumed and a
/// likely expansion is only offered.
pub(super) fn decide(stored_hz: f64, stated: Stated, person: Option<f64>) -> Decision {
    if let Some(factor) = person {
        return applied(factor, ExpansionOrigin::Person, None);
    }
    // What would make a rate that no recorder has is left aside, with a word about it: an
    // expansion stays behind in the metadata of files that were brought back to real time.
    let factor = stated
        .factor
        .filter(|factor| RATES.contains(&(factor * stored_hz)));
    let by_rate = stated.rate_hz.filter(|rate_hz| RATES.contains(rate_hz));
    let ratio = by_rate.map(|rate_hz| tidy(rate_hz / stored_hz));
    match (factor, ratio) {
        (None, None) => assumed(stored_hz, stated, left_aside(stored_hz, stated)),
        (Some(factor), None) => applied(factor, ExpansionOrigin::Metadata, None),
        (None, Some(ratio)) if FACTORS.contains(&ratio) => from_rate(ratio, stored_hz, stated),
        (None, Some(ratio)) => assumed(
            stored_hz,
            stated,
            Some(format!(
                "The metadata state a sampling rate {ratio:.3} times the header's, which no time \
                 expansion explains; the header was believed."
            )),
        ),
        (Some(factor), Some(ratio)) if agree(factor, ratio) => {
            applied(factor, ExpansionOrigin::Metadata, None)
        }
        (Some(factor), Some(ratio)) => settle(factor, ratio, stored_hz),
    }
}

/// What was stated and cannot be.
fn left_aside(stored_hz: f64, stated: Stated) -> Option<String> {
    let what = match (stated.factor, stated.rate_hz) {
        (Some(factor), _) => format!("a time expansion of {factor}"),
        (None, Some(rate_hz)) => format!("a sampling rate of {rate_hz} Hz"),
        (None, None) => return None,
    };
    Some(format!(
        "The metadata state {what}, which cannot be with the header's {} kHz; it was not applied.",
        stored_hz / 1e3
    ))
}

fn applied(factor: f64, origin: ExpansionOrigin, notice: Option<String>) -> Decision {
    Decision {
        expansion: Expansion { factor, origin },
        guess: None,
        notice,
    }
}

/// A rate alone: any ratio is believed, an odd one with a word about it.
fn from_rate(ratio: f64, stored_hz: f64, stated: Stated) -> Decision {
    let odd = (ratio.fract() != 0.0).then(|| {
        format!(
            "The header states {stored_hz} Hz, the metadata {} Hz at the microphone; the metadata \
             were believed.",
            stated.rate_hz.unwrap_or_default()
        )
    });
    let notice = odd.or_else(|| stated.factor.and_then(|_| left_aside(stored_hz, stated)));
    applied(ratio, ExpansionOrigin::Metadata, notice)
}

/// A factor and a rate that contradict each other.
fn settle(factor: f64, ratio: f64, stored_hz: f64) -> Decision {
    let audio = AUDIO_RATES.contains(&stored_hz);
    // A writer that copied the header's rate: at an audio rate the factor is what it knew better.
    let chosen = if ratio == 1.0 && audio || !FACTORS.contains(&ratio) {
        factor
    } else {
        ratio
    };
    let notice = format!(
        "The metadata contradict themselves: a time expansion of {factor}, but a sampling rate \
         that makes it {ratio:.4}; {chosen:.4} was applied. Choose the expansion yourself if that \
         is wrong."
    );
    applied(chosen, ExpansionOrigin::Metadata, Some(notice))
}

fn assumed(stored_hz: f64, stated: Stated, notice: Option<String>) -> Decision {
    let guess = (!stated.could_say && AUDIO_RATES.contains(&stored_hz)).then(|| ExpansionGuess {
        factor: USUAL,
        reason: format!(
            "The header states {} kHz, which holds nothing above {} kHz, lower than nearly all \
             bats call. Recordings of bats at such a rate were mostly slowed down {USUAL} times, \
             which would make it {} kHz at the microphone.",
            stored_hz / 1e3,
            stored_hz / 2e3,
            stored_hz * USUAL / 1e3,
        ),
    });
    Decision {
        expansion: Expansion {
            factor: 1.0,
            origin: ExpansionOrigin::Assumed,
        },
        guess,
        notice,
    }
}

/// The whole number where the ratio is one to within rounding of the rates.
fn tidy(ratio: f64) -> f64 {
    if agree(ratio, ratio.round()) {
        ratio.round()
    } else {
        ratio
    }
}

/// Equal to half a percent, more than rounding of any rate makes.
fn agree(a: f64, b: f64) -> bool {
    (a - b).abs() <= 0.005 * a.abs().max(b.abs())
}
