//! Adds outcomes up: recall, errors, false pulses.

use std::collections::BTreeMap;

use dusklens_core::pulse::{Flag, Pulse, Verdict};
use dusklens_core::teach::Edges;
use serde::Serialize;

use super::coverage::{self, CoverageRow};
use super::draw::{Case, OTHERS, SHAPES};
use super::links::Links;
use super::matching::Extra;
use super::run::{Job, Judged, Outcome};
use super::silence::KINDS;

/// Lower ends of the signal-to-noise buckets, decibels; each reaches to the next one.
pub const BUCKETS_DB: [f64; 5] = [6.0, 10.0, 15.0, 20.0, 30.0];
/// The name of all cases with bats together.
pub const ALL: &str = "all with bats";
/// What errors are given of, in the order of the report.
pub const QUANTITIES: [&str; 15] = [
    "peak_khz",
    "start_khz",
    "end_khz",
    "high_khz",
    "low_khz",
    "characteristic_khz",
    "duration_ms",
    "duration_20db_ms",
    "interval_ms",
    "level_db",
    "snr_db",
    "start_ms",
    "end_ms",
    "sweep_khz_per_ms",
    "flattest_khz_per_ms",
];

/// The name of a bucket as printed.
pub fn bucket_name(bucket: usize) -> String {
    match (BUCKETS_DB.get(bucket), BUCKETS_DB.get(bucket + 1)) {
        (Some(low), Some(high)) => format!("{low}-{high}"),
        (Some(low), None) => format!(">{low}"),
        _ => "all >=15".into(),
    }
}

/// The pulses of one case in one bucket.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Row {
    /// Case or shape.
    pub case: String,
    /// Signal-to-noise bucket, decibels.
    pub snr: String,
    /// True pulses.
    pub n: usize,
    /// Those that were found.
    pub found: usize,
    /// Those whose multiple was measured in their place.
    pub misassigned: usize,
    /// Those found whose shape was named as they were built.
    pub same_shape: usize,
    /// Median absolute error by quantity.
    pub median: BTreeMap<&'static str, f64>,
    /// Median signed error by quantity.
    pub bias: BTreeMap<&'static str, f64>,
    /// Half the width of the middle 68 % of signed errors by quantity: the standard deviation,
    /// were they normal.
    pub spread: BTreeMap<&'static str, f64>,
    /// Ninth decile of the absolute error of the peak, kilohertz.
    pub peak_p90_khz: f64,
    #[serde(skip)]
    errors: BTreeMap<&'static str, Vec<f64>>,
}

impl Row {
    /// Share of true pulses that were found.
    pub fn recall(&self) -> f64 {
        self.found as f64 / self.n.max(1) as f64
    }

    fn add(&mut self, pulse: &Judged) {
        self.n += 1;
        self.misassigned += usize::from(pulse.misassigned);
        let Some(measured) = &pulse.measured else {
            return;
        };
        self.found += 1;
        self.same_shape += usize::from(measured.shape == pulse.truth.shape);
        for (quantity, error) in errors(pulse, measured) {
            self.errors.entry(quantity).or_default().push(error);
        }
    }

    fn finish(&mut self) {
        for (quantity, errors) in &self.errors {
            let mut sizes: Vec<f64> = errors.iter().map(|e| e.abs()).collect();
            self.median.insert(quantity, quantile(&mut sizes, 0.5));
            let mut signed = errors.clone();
            self.bias.insert(quantity, quantile(&mut signed, 0.5));
            let (low, high) = (quantile(&mut signed, 0.16), quantile(&mut signed, 0.84));
            self.spread.insert(quantity, (high - low) / 2.0);
        }
        let mut peaks = self.errors.get("peak_khz").cloned().unwrap_or_default();
        peaks.iter_mut().for_each(|e| *e = e.abs());
        self.peak_p90_khz = quantile(&mut peaks, 0.9);
    }
}

/// Measured less true. Edge frequencies, extremes and duration are compared at the edges
/// that the measurement could use (20 dB below the maximum, or less where noise lay
/// higher); `duration_20db_ms` always at 20 dB.
pub fn errors(pulse: &Judged, measured: &Pulse) -> Vec<(&'static str, f64)> {
    let truth = &pulse.truth;
    let mut errors = vec![
        ("peak_khz", measured.peak_khz - truth.peak_khz),
        ("duration_20db_ms", measured.duration_ms - truth.duration_ms),
        ("level_db", measured.level_db - truth.level_db),
    ];
    if let Some(edges) = &pulse.edges {
        errors.extend([
            ("start_khz", measured.start_khz - edges.law.start_khz),
            ("end_khz", measured.end_khz - edges.law.end_khz),
            ("high_khz", measured.high_khz - edges.law.high_khz),
            ("low_khz", measured.low_khz - edges.law.low_khz),
            (
                "characteristic_khz",
                measured.characteristic_khz - edges.characteristic_khz,
            ),
            (
                "duration_ms",
                measured.duration_ms - (edges.law.end_ms - edges.law.start_ms),
            ),
            (
                "start_ms",
                late_ms(pulse, measured.start_s, edges.law.start_ms),
            ),
            ("end_ms", late_ms(pulse, measured.end_s, edges.law.end_ms)),
            (
                "sweep_khz_per_ms",
                measured.sweep_khz_per_ms - sweep(&edges.law),
            ),
            (
                "flattest_khz_per_ms",
                measured.flattest_khz_per_ms - edges.flattest_khz_per_ms,
            ),
        ]);
    }
    if let Some(snr_db) = truth.snr_db {
        errors.push(("snr_db", measured.snr_db - snr_db));
    }
    if let (Some(was), Some(is), true) =
        (truth.interval_ms, measured.interval_ms, pulse.follows_found)
    {
        errors.push(("interval_ms", is - was));
    }
    errors
}

/// How much later a moment is than one of the law, milliseconds.
fn late_ms(pulse: &Judged, measured_s: f64, law_ms: f64) -> f64 {
    (measured_s - pulse.onset_s) * 1e3 - law_ms
}

fn sweep(law: &Edges) -> f64 {
    (law.end_khz - law.start_khz) / (law.end_ms - law.start_ms)
}

/// The value that a share of all values does not exceed; 0 for none.
pub fn quantile(values: &mut [f64], share: f64) -> f64 {
    values.sort_by(f64::total_cmp);
    let index = (share * values.len().saturating_sub(1) as f64).round() as usize;
    values.get(index).copied().unwrap_or(0.0)
}

/// False pulses in the recordings of one kind.
#[derive(Debug, Clone, Default, Serialize)]
pub struct FalseRow {
    /// Kind of background, or case.
    pub case: String,
    /// Minutes of recording.
    pub minutes: f64,
    /// Measured pulses that are no true one, by what they are.
    pub extras: BTreeMap<&'static str, usize>,
    /// All of them in a minute.
    pub per_minute: f64,
}

/// How often a flag was right, over all pulses that were found.
#[derive(Debug, Clone, Serialize)]
pub struct FlagRow {
    /// The flag.
    pub flag: Flag,
    /// It was raised, and rightly.
    pub right: usize,
    /// It was raised without need.
    pub needless: usize,
    /// It should have been raised.
    pub missing: usize,
}

/// Everything that is reported.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Tally {
    /// Per case and bucket; the last of each case holds all from 15 dB on.
    pub rows: Vec<Row>,
    /// Recordings without bats.
    pub silence: Vec<FalseRow>,
    /// Extra pulses in recordings with bats.
    pub extras: Vec<FalseRow>,
    /// How often flags were right. What noise limits has no truth of its own and is left out.
    pub flags: Vec<FlagRow>,
    /// How well sequences follow animals, by case.
    pub links: Vec<(&'static str, Links)>,
    /// What recordings were said to hold, by case or kind.
    pub verdicts: Vec<VerdictRow>,
    /// Why sounds were doubted, by case or kind.
    pub doubts: Vec<DoubtRow>,
    /// Feeding buzzes in the recordings with one and in the others.
    pub buzzes: BuzzRow,
    /// How often the stated intervals held the true value.
    pub coverage: Vec<CoverageRow>,
}

/// What the recordings of a case were said to hold.
#[derive(Debug, Clone, Serialize)]
pub struct VerdictRow {
    /// Case or kind of background.
    pub case: &'static str,
    /// Holds bat pulses.
    pub holds: usize,
    /// Unsure.
    pub unsure: usize,
    /// Probably none.
    pub none: usize,
}

/// Why sounds of a case were doubted.
#[derive(Debug, Clone, Serialize)]
pub struct DoubtRow {
    /// Case or kind of background.
    pub case: &'static str,
    /// How many for each reason.
    pub reasons: BTreeMap<&'static str, usize>,
    /// Those of them that were true pulses after all.
    pub wrongly: usize,
}

/// How feeding buzzes were found.
#[derive(Debug, Clone, Copy, Default, Serialize)]
pub struct BuzzRow {
    /// Recordings with one buzz.
    pub made: usize,
    /// Of these, those in which just one was found.
    pub found: usize,
    /// Buzzes found where there was none.
    pub false_ones: usize,
}

impl Tally {
    /// Adds outcomes up.
    pub fn of(outcomes: &[Outcome]) -> Tally {
        let mut tally = Tally::default();
        for case in cases() {
            let own: Vec<&Outcome> = outcomes
                .iter()
                .filter(|o| matches!(o.job, Job::Bats(c, _) if c == case))
                .collect();
            if !own.is_empty() {
                tally.take_in(case.name(), &own);
                tally.rows.extend(rows(case.name(), &own));
                tally.extras.push(false_row(case.name(), &own));
            }
        }
        for kind in KINDS {
            let own: Vec<&Outcome> = outcomes
                .iter()
                .filter(|o| matches!(o.job, Job::Silence(k, _) if k == kind))
                .collect();
            if !own.is_empty() {
                tally.take_in(kind.name(), &own);
                tally.silence.push(false_row(kind.name(), &own));
            }
        }
        let all: Vec<&Outcome> = outcomes
            .iter()
            .filter(|o| matches!(o.job, Job::Bats(..)))
            .collect();
        if !all.is_empty() {
            tally.rows.extend(rows(ALL, &all));
            tally.coverage = coverage::rows(&all);
            tally.flags = [
                Flag::Clipped,
                Flag::CutOff,
                Flag::Overlapped,
                Flag::MissedBefore,
            ]
            .map(|flag| flag_row(flag, &all))
            .to_vec();
        }
        tally
    }

    /// Takes in what is said of the whole recordings of a case.
    fn take_in(&mut self, case: &'static str, outcomes: &[&Outcome]) {
        let links = outcomes
            .iter()
            .fold(Links::default(), |sum, o| sum.and(o.links));
        self.links.push((case, links));
        let said = |verdict| outcomes.iter().filter(|o| o.verdict == verdict).count();
        self.verdicts.push(VerdictRow {
            case,
            holds: said(Verdict::HoldsPulses),
            unsure: said(Verdict::Unsure),
            none: said(Verdict::ProbablyNone),
        });
        let mut reasons = BTreeMap::new();
        for (doubt, _) in outcomes.iter().flat_map(|o| &o.doubted) {
            *reasons.entry(doubt.name()).or_insert(0) += 1;
        }
        let doubted = outcomes.iter().flat_map(|o| &o.doubted);
        self.doubts.push(DoubtRow {
            case,
            reasons,
            wrongly: doubted.filter(|(_, wrongly)| *wrongly).count(),
        });
        for &(made, found) in outcomes.iter().map(|o| &o.buzzes) {
            self.buzzes.made += made;
            self.buzzes.found += usize::from(made == 1 && found == 1);
            self.buzzes.false_ones += if made == 0 { found } else { 0 };
        }
    }

    /// The row of a case that holds all pulses from 15 dB on.
    pub fn plain(&self, case: &str) -> Option<&Row> {
        let all = bucket_name(BUCKETS_DB.len());
        self.rows
            .iter()
            .find(|row| row.case == case && row.snr == all)
    }
}

/// All cases with bats in the order of the report.
pub fn cases() -> impl Iterator<Item = Case> {
    (0..SHAPES.len()).map(Case::Shape).chain(OTHERS)
}

fn rows(case: &str, outcomes: &[&Outcome]) -> Vec<Row> {
    let mut rows: Vec<Row> = (0..=BUCKETS_DB.len())
        .map(|bucket| Row {
            case: case.into(),
            snr: bucket_name(bucket),
            ..Row::default()
        })
        .collect();
    for pulse in outcomes
        .iter()
        .flat_map(|o| &o.pulses)
        .filter(|p| p.is_plain())
    {
        let snr_db = pulse.truth.snr_db.unwrap_or(f64::INFINITY);
        let bucket = BUCKETS_DB.iter().rposition(|&low| snr_db >= low);
        if let Some(row) = bucket.and_then(|b| rows.get_mut(b)) {
            row.add(pulse);
        }
        if let (true, Some(all)) = (snr_db >= 15.0, rows.last_mut()) {
            all.add(pulse);
        }
    }
    rows.iter_mut().for_each(Row::finish);
    rows
}

fn flag_row(flag: Flag, outcomes: &[&Outcome]) -> FlagRow {
    let mut row = FlagRow {
        flag,
        right: 0,
        needless: 0,
        missing: 0,
    };
    for pulse in outcomes.iter().flat_map(|o| &o.pulses) {
        let Some(measured) = &pulse.measured else {
            continue;
        };
        let truly = match flag {
            Flag::MissedBefore => measured.interval_ms.is_some() && pulse.skips,
            flag => pulse.truth.flags.contains(&flag),
        };
        // What an echo or a background does to a call is no truth of either kind.
        if flag == Flag::Overlapped && !truly && pulse.disturbed {
            continue;
        }
        match (measured.flags.contains(&flag), truly) {
            (true, true) => row.right += 1,
            (true, false) => row.needless += 1,
            (false, true) => row.missing += 1,
            (false, false) => {}
        }
    }
    row
}

fn false_row(case: &str, outcomes: &[&Outcome]) -> FalseRow {
    let minutes = outcomes.iter().map(|o| o.length_s).sum::<f64>() / 60.0;
    let mut extras = BTreeMap::new();
    for (extra, _) in outcomes.iter().flat_map(|o| &o.extras) {
        *extras.entry(extra_name(*extra)).or_insert(0) += 1;
    }
    FalseRow {
        case: case.into(),
        minutes,
        per_minute: extras.values().sum::<usize>() as f64 / minutes.max(1e-9),
        extras,
    }
}

/// The name of an extra pulse as printed.
pub fn extra_name(extra: Extra) -> &'static str {
    match extra {
        Extra::Harmonic => "harmonic",
        Extra::Echo => "echo",
        Extra::Double => "double",
        Extra::Other => "other",
    }
}
