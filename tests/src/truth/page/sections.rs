//! The page's sections, from what was measured.

use super::model::{Axis, Figure, Section, Series, Table};
use super::{Input, Set, drawn, limits, whole, worst};
use crate::truth::draw::{Case, OTHERS, SHAPES};
use crate::truth::run::{Job, Judged};
use crate::truth::tally::{
    ALL, BUCKETS_DB, FalseRow, QUANTITIES, Row, Tally, bucket_name, quantile,
};
use std::error::Error;

/// Where the buckets of the tally are plotted: their middles, decibels.
const MIDDLES_DB: [f64; 5] = [8.0, 12.5, 17.5, 25.0, 35.0];
/// Fewer pulses than these make no point of a plot.
const ENOUGH: usize = 5;
/// Width of the bins in which signal-to-noise is compared with the truth, decibels.
const BIN_DB: f64 = 2.0;

/// All sections in the order of the page.
pub(super) fn all(input: &Input) -> Result<Vec<Section>, Box<dyn Error + Send + Sync>> {
    let sections = [
        drawn::section(input),
        recall(input.tally),
        false_pulses(input.tally),
        errors(input.tally),
        calibration(input),
        whole::coverage(input.tally),
        flags(input.tally),
        whole::doubts(input.tally),
        whole::sequences(input.tally),
        limits::limit(input.limit),
        limits::contours(input.contours),
        worst::section(input.set, input.outcomes)?,
    ];
    let is_empty = |s: &Section| {
        s.figures.is_empty() && s.tables.is_empty() && s.list.is_empty() && s.pictures.is_empty()
    };
    Ok(sections.into_iter().filter(|s| !is_empty(s)).collect())
}

/// What the figures are worth, in a sentence.
pub(super) fn origin(set: Set) -> &'static str {
    match set {
        Set::Tune => {
            "Synthetic recordings of the draw that thresholds are tuned on: this is NOT a measure of accuracy."
        }
        Set::Report => {
            "Synthetic recordings whose truth is known, drawn with other seeds and from wider, different \
             distributions than those that thresholds are tuned on. Real recordings hold sounds that no draw has."
        }
    }
}

/// The figures that one looks for first, as name and value.
pub(super) fn headline(tally: &Tally) -> Vec<(String, String)> {
    let Some(row) = tally.plain(ALL) else {
        return vec![];
    };
    let median = |name: &str, quantity: &str, unit: &str| {
        let value = row.median.get(quantity);
        let value = value.map_or("-".into(), |v| format!("{v:.2} {unit}"));
        (format!("median error, {name}"), value)
    };
    let (mut extras, mut minutes) = (0usize, 0.0);
    for row in &tally.silence {
        extras += row.extras.values().sum::<usize>();
        minutes += row.minutes;
    }
    let false_rate = extras as f64 / f64::max(minutes, 1e-9);
    vec![
        ("pulses from 15 dB on".into(), row.n.to_string()),
        (
            "found of them".into(),
            format!("{:.1} %", 100.0 * row.recall()),
        ),
        (
            "false, a minute without bats".into(),
            format!("{false_rate:.2}"),
        ),
        median("peak", "peak_khz", "kHz"),
        median("characteristic", "characteristic_khz", "kHz"),
        median("duration", "duration_ms", "ms"),
        median("level", "level_db", "dB"),
    ]
}

fn snr_axis() -> Axis {
    Axis::new("signal-to-noise, dB").range(5.0, 40.0)
}

/// The rows of a case by bucket, with the place where each is plotted.
fn buckets<'a>(tally: &'a Tally, case: &'a str) -> impl Iterator<Item = (f64, &'a Row)> {
    let place = |row: &Row| {
        let bucket = (0..BUCKETS_DB.len()).find(|&b| bucket_name(b) == row.snr)?;
        MIDDLES_DB.get(bucket).copied()
    };
    tally
        .rows
        .iter()
        .filter(move |row| row.case == case && row.n >= ENOUGH)
        .filter_map(move |row| Some((place(row)?, row)))
}

/// Groups of cases that share a plot.
fn groups() -> Vec<(&'static str, Vec<Case>)> {
    let shapes = |from: usize, to: usize| (from..to.min(SHAPES.len())).map(Case::Shape).collect();
    let over: Vec<Case> = OTHERS
        .into_iter()
        .filter(|c| matches!(c, Case::Over(_)))
        .collect();
    vec![
        ("Simple shapes", shapes(0, 3)),
        ("Shapes with a quasi-constant part", shapes(3, 6)),
        ("Shapes with a constant part", shapes(6, 9)),
        (
            "Several sounds at once",
            vec![
                Case::LoudHarmonic,
                Case::Echoes,
                Case::TwoAnimals,
                Case::FeedingBuzz,
            ],
        ),
        (
            "Hard on the recorder",
            vec![Case::Lowest, Case::FlyPast, Case::Overdriven],
        ),
        ("Over something else that sounds", over),
    ]
}

fn recall(tally: &Tally) -> Section {
    let plot = |title: &str, cases: Vec<Case>| {
        let series = cases.iter().map(|case| {
            let points = buckets(tally, case.name()).map(|(at, row)| (at, 100.0 * row.recall()));
            Series::new(case.name(), points)
        });
        Figure {
            title: title.into(),
            x: snr_axis(),
            y: Axis::new("found, %").range(0.0, 102.0),
            series: series.collect(),
        }
    };
    let figures = groups()
        .into_iter()
        .map(|(title, cases)| plot(title, cases));
    let names = (0..=BUCKETS_DB.len()).map(|b| bucket_name(b) + " dB");
    let columns: Vec<String> = std::iter::once("case".into()).chain(names).collect();
    let columns: Vec<&str> = columns.iter().map(String::as_str).collect();
    let mut rows: Vec<Vec<String>> = Vec::new();
    for row in &tally.rows {
        if rows.last().is_none_or(|r| r.first() != Some(&row.case)) {
            rows.push(vec![row.case.clone()]);
        }
        let cell = match row.n {
            0 => "-".into(),
            n => format!("{:.1} % of {n}", 100.0 * row.recall()),
        };
        if let Some(last) = rows.last_mut() {
            last.push(cell);
        }
    }
    Section {
        id: "recall",
        title: "How many pulses are found".into(),
        text: vec![
            "Share of the true pulses that were found, by signal-to-noise ratio in the pulse's own band. Pulses that \
             overlap another in time and frequency, or touch the file's edge, are left out."
                .into(),
        ],
        figures: figures.collect(),
        tables: vec![Table::new("Found, by case", &columns).rows(rows).shut()],
        ..Section::default()
    }
}

fn false_pulses(tally: &Tally) -> Section {
    let table = |caption: &str, rows: &[FalseRow]| {
        let cells = rows.iter().map(|row| {
            let which = row.extras.iter().map(|(name, n)| format!("{n} {name}"));
            vec![
                row.case.clone(),
                format!("{:.2}", row.minutes),
                format!("{:.2}", row.per_minute),
                which.collect::<Vec<_>>().join(", "),
            ]
        });
        Table::new(caption, &["case", "minutes", "false a minute", "which"]).rows(cells)
    };
    Section {
        id: "false-pulses",
        title: "What is taken for a pulse and is none".into(),
        tables: vec![
            table("Recordings without bats", &tally.silence),
            table("Recordings with bats", &tally.extras),
        ],
        ..Section::default()
    }
}

fn unit(quantity: &str) -> &'static str {
    match quantity.rsplit('_').next() {
        Some("khz") => "kHz",
        Some("ms") => "ms",
        _ => "dB",
    }
}

fn errors(tally: &Tally) -> Section {
    let figures = QUANTITIES.map(|quantity| {
        let of = |row: &Row| Some((*row.bias.get(quantity)?, *row.spread.get(quantity)?));
        let known: Vec<(f64, (f64, f64))> = buckets(tally, ALL)
            .filter_map(|(at, row)| Some((at, of(row)?)))
            .collect();
        let band = known.iter().map(|(at, (b, s))| (*at, b - s, b + s));
        let zero = Series {
            points: vec![(5.0, 0.0), (40.0, 0.0)],
            reference: true,
            ..Series::default()
        };
        Figure {
            title: quantity.into(),
            x: snr_axis(),
            y: Axis::new(format!("error, {}", unit(quantity))),
            series: vec![
                Series {
                    band: band.collect(),
                    ..Series::new("", known.iter().map(|(at, (b, _))| (*at, *b)))
                },
                zero,
            ],
        }
    });
    Section {
        id: "errors",
        title: "How far off the numbers are".into(),
        text: vec![
            "Measured less true, over all cases: the line is the median error (bias), the band half of the middle 68 % \
             to either side (spread: the standard deviation, were errors normal). Start, end, high, low, characteristic \
             and duration are compared at the edges that noise allowed; duration_20db_ms always at 20 dB."
                .into(),
            "The characteristic frequency of a straight sweep, and where in a straight part it is read, is uncertain: \
             one stretch is as flat as another. Hence the large spread of some cases."
                .into(),
        ],
        figures: figures.to_vec(),
        tables: vec![
            error_table("Bias ± spread by shape and case, from 15 dB on", tally, |row| {
                row.snr == bucket_name(BUCKETS_DB.len())
            }),
            error_table("Bias ± spread by shape, case and signal-to-noise ratio", tally, |_| true)
                .shut(),
        ],
        ..Section::default()
    }
}

fn error_table(caption: &str, tally: &Tally, wanted: impl Fn(&Row) -> bool) -> Table {
    let columns: Vec<&str> = ["case", "SNR, dB", "found"]
        .into_iter()
        .chain(QUANTITIES)
        .collect();
    let rows = tally.rows.iter().filter(|row| row.found > 0 && wanted(row));
    Table::new(caption, &columns).rows(rows.map(|row| {
        let cells = QUANTITIES.iter().map(|quantity| {
            match (row.bias.get(quantity), row.spread.get(quantity)) {
                (Some(bias), Some(spread)) => format!("{bias:+.3} ± {spread:.3}"),
                _ => "-".into(),
            }
        });
        let head = [row.case.clone(), row.snr.clone(), row.found.to_string()];
        head.into_iter().chain(cells).collect()
    }))
}

/// Measured against true signal-to-noise, in bins of the true one.
fn calibration(input: &Input) -> Section {
    let pulses = input
        .outcomes
        .iter()
        .filter(|o| matches!(o.job, Job::Bats(..)))
        .flat_map(|o| &o.pulses)
        .filter(|p| p.is_plain());
    let pair = |p: &Judged| Some((p.truth.snr_db?, p.measured.as_ref()?.snr_db));
    let pairs: Vec<(f64, f64)> = pulses.filter_map(pair).collect();
    let bins = (0..24).map(|bin| f64::from(bin) * BIN_DB);
    let known: Vec<(f64, [f64; 3], usize)> = bins
        .filter_map(|from| {
            let inside = pairs
                .iter()
                .filter(|p| (from..from + BIN_DB).contains(&p.0));
            let mut values: Vec<f64> = inside.map(|p| p.1).collect();
            let ends = [0.16, 0.5, 0.84].map(|share| quantile(&mut values, share));
            (values.len() >= ENOUGH).then_some((from + BIN_DB / 2.0, ends, values.len()))
        })
        .collect();
    if known.is_empty() {
        return Section::default();
    }
    let line = |name: &str| Series {
        band: known.iter().map(|(at, e, _)| (*at, e[0], e[2])).collect(),
        ..Series::new(name, known.iter().map(|(at, e, _)| (*at, e[1])))
    };
    let equal = Series {
        points: vec![(0.0, 0.0), (48.0, 48.0)],
        reference: true,
        ..Series::new("equal", [])
    };
    let rows = known.iter().map(|(at, e, n)| {
        let [low, middle, high] = e.map(|v| format!("{v:.1}"));
        let bin = format!("{:.0}-{:.0}", at - BIN_DB / 2.0, at + BIN_DB / 2.0);
        vec![bin, n.to_string(), low, middle, high]
    });
    Section {
        id: "calibration",
        title: "Whether signal-to-noise is what it says".into(),
        text: vec![
            "Measured against true signal-to-noise ratio: median and middle 68 % in bins of 2 dB. Pulses that noise \
             hid are not in it, so the faintest bins hold those that noise happened to raise. True noise is hiss alone: \
             over rain, wind, tones and insects the measured ratio is rightly lower."
                .into(),
        ],
        figures: vec![Figure {
            title: "snr_db, all cases".into(),
            x: Axis::new("true, dB").range(0.0, 48.0),
            y: Axis::new("measured, dB").range(0.0, 48.0),
            series: vec![line("measured"), equal],
        }],
        tables: vec![
            Table::new(
                "Measured snr_db by the true one",
                &["true, dB", "pulses", "16 %", "median", "84 %"],
            )
            .rows(rows)
            .shut(),
        ],
        ..Section::default()
    }
}

fn flags(tally: &Tally) -> Section {
    let share = |part: usize, whole: usize| match whole {
        0 => "-".into(),
        _ => format!("{:.0} %", 100.0 * part as f64 / whole as f64),
    };
    let rows = tally.flags.iter().map(|row| {
        let (right, needless, missing) = (row.right, row.needless, row.missing);
        vec![
            row.flag.name().into(),
            right.to_string(),
            needless.to_string(),
            missing.to_string(),
            share(right, right + needless),
            share(right, right + missing),
        ]
    });
    let columns = [
        "flag",
        "right",
        "needless",
        "missing",
        "right, of those raised",
        "raised, of those due",
    ];
    Section {
        id: "flags",
        title: "How often flags are right".into(),
        text: vec![
            "Of the pulses that were found. What noise limits (floor_limited) has no truth of its own.".into(),
            "Of overlaps the truth knows those with other calls. Pulses that a loud echo of their own or a background \
             lies over are left out there: the flag may rightly be raised for them or not."
                .into(),
        ],
        tables: vec![Table::new("Flags", &columns).rows(rows)],
        ..Section::default()
    }
}
