//! A night prepared for being looked at.

use std::ops::Deref;

use crate::night::card::{Night, NightFile};
use crate::night::content::Content;
use crate::night::frame::{Frame, Stretch};
use crate::night::moment::Moment;
use crate::pulse::Verdict;
use crate::pulse::order::{median, share_of};

/// Recordings whose distances tell whether the recorder ran by a schedule are at least so many.
const FEWEST_SPACED: usize = 20;
/// So large a share of the distances between starts ...
const EVEN_SHARE: f64 = 0.9;
/// ... exceeds the median by no more than this factor, and as large a share falls below it by no more.
const EVEN_FACTOR: f64 = 1.2;

/// A recording of the night that counts: it could be read and is no copy.
#[derive(Clone, Copy)]
pub(super) struct Heard<'a> {
    /// Where and when it was recorded.
    pub(super) own: &'a NightFile,
    /// What was found in it.
    pub(super) content: &'a Content,
}

impl Deref for Heard<'_> {
    type Target = Content;

    fn deref(&self) -> &Content {
        self.content
    }
}

impl<'a> Heard<'a> {
    pub(super) fn path(self) -> &'a str {
        &self.own.file.path
    }

    pub(super) fn start(self) -> Moment {
        self.own.time.start
    }

    pub(super) fn holds_pulses(self) -> bool {
        self.content.verdict == Verdict::HoldsPulses
    }
}

/// A night and what several checks want to know of it.
pub(super) struct Seen<'a> {
    pub(super) night: &'a Night,
    pub(super) frame: &'a Frame,
    /// Recordings that count, in order of time.
    pub(super) heard: Vec<Heard<'a>>,
    /// The usual distance between the starts of recordings, seconds, where it is so even that the recorder must have run
    /// by a schedule, or without a pause.
    pub(super) spacing_s: Option<f64>,
}

impl<'a> Seen<'a> {
    pub(super) fn of(night: &'a Night, frame: &'a Frame) -> Self {
        let heard: Vec<Heard> = night
            .files
            .iter()
            .filter_map(|own| {
                own.counted()
                    .filter(|content| content.duration_s.is_finite())
                    .map(|content| Heard { own, content })
            })
            .collect();
        let spacing_s = even_spacing_s(&heard);
        Self {
            night,
            frame,
            heard,
            spacing_s,
        }
    }

    /// The time of day in the night's local clock.
    pub(super) fn clock(&self, moment: Moment) -> String {
        moment.clock(self.night.settings.utc_offset_min)
    }

    /// Recordings that hold bat pulses.
    pub(super) fn bats(&self) -> Vec<Heard<'a>> {
        let all = self.heard.iter().copied();
        all.filter(|own| own.holds_pulses()).collect()
    }

    /// What the recordings are held against: the timer, else the sun's absence; none where neither is known.
    pub(super) fn meant(&self) -> Option<Stretch> {
        self.frame.planned.or_else(|| self.dark())
    }

    /// From sunset to sunrise.
    pub(super) fn dark(&self) -> Option<Stretch> {
        let twilight = self.frame.twilight?;
        let (from, to) = (twilight.sunset?, twilight.sunrise?);
        (to > from).then_some(Stretch { from, to })
    }

    /// All signs of life of the recorder, in order of time: beginnings and ends of files, the broken ones among them.
    pub(super) fn awake(&self) -> impl Iterator<Item = Stretch> {
        let files = self.night.files.iter();
        files
            .filter(|own| own.copy_of.is_none() && !own.time.origin.is_weak())
            .map(|own| Stretch {
                from: own.time.start,
                to: own.end(),
            })
    }
}

/// The median distance between starts, if nine of ten are like it.
fn even_spacing_s(heard: &[Heard]) -> Option<f64> {
    let between = heard.windows(2);
    let mut spacings: Vec<f64> = between
        .map(|pair| pair[1].start().since_s(pair[0].start()))
        .collect();
    if spacings.len() < FEWEST_SPACED {
        return None;
    }
    let usual = median(&mut spacings, f64::total_cmp)?;
    let low = share_of(&mut spacings, 1.0 - EVEN_SHARE, f64::total_cmp)?;
    let high = share_of(&mut spacings, EVEN_SHARE, f64::total_cmp)?;
    (low > 0.0 && high <= usual * EVEN_FACTOR && low * EVEN_FACTOR >= usual).then_some(usual)
}

/// The median of what recordings say; none where none says anything.
pub(super) fn usual(values: impl Iterator<Item = f64>) -> Option<f64> {
    let mut values: Vec<f64> = values.filter(|value| value.is_finite()).collect();
    median(&mut values, f64::total_cmp)
}
