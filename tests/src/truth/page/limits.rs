//! The sections on what could be reached: the bound, and other estimators.

use super::model::{Axis, Figure, Section, Series, Table};
use crate::contours::compare::{ALL, BUCKETS_DB, ESTIMATORS};
use crate::contours::{Cell, Estimator};
use crate::limit::WHY;
use crate::limit::trial::Line;

/// What is plotted of each ideal pulse.
const PLOTTED: [&str; 5] = [
    "duration_ms",
    "start_khz",
    "end_khz",
    "middle_khz",
    "peak_khz",
];

/// Spread beside the Cramér-Rao bound.
pub(super) fn limit(lines: &[Line]) -> Section {
    let mut ideals: Vec<&str> = lines.iter().map(|line| line.ideal).collect();
    ideals.dedup();
    let plots = ideals.iter().map(|ideal| limit_figure(lines, ideal));
    let why = WHY.iter().map(|&text| text.to_owned());
    let what = "Ideal single pulses in white Gaussian noise, and the Cramér-Rao bound: the least standard deviation that \
         an unbiased estimate can have, from the Fisher information of the samples (S. M. Kay, Fundamentals of \
         Statistical Signal Processing: Estimation Theory, 1993, section 3.9; cited from memory). Unknown are \
         amplitude, phase, onset, and everything that law and envelope are made of. Large marks: measured spread; \
         small marks of the same form on thin lines: the bound.";
    Section {
        id: "limit",
        title: "How close to what is possible".into(),
        text: std::iter::once(what.to_owned()).chain(why).collect(),
        figures: plots.collect(),
        tables: match lines {
            [] => vec![],
            _ => vec![limit_table(lines)],
        },
        ..Section::default()
    }
}

fn limit_figure(lines: &[Line], ideal: &str) -> Figure {
    let mut series = Vec::new();
    for (place, quantity) in PLOTTED.into_iter().enumerate() {
        let own = || {
            lines
                .iter()
                .filter(move |l| l.ideal == ideal && l.quantity == quantity)
        };
        if own().next().is_none() {
            continue;
        }
        series.push(Series {
            like: Some(place),
            ..Series::new(quantity, own().map(|l| (l.snr_db, l.spread)))
        });
        series.push(Series {
            like: Some(place),
            reference: true,
            ..Series::new("", own().map(|l| (l.snr_db, l.bound)))
        });
    }
    Figure {
        title: ideal.into(),
        x: Axis::new("signal-to-noise, dB").range(18.0, 42.0),
        y: Axis::new("spread and bound, kHz or ms").logarithmic(),
        series,
    }
}

fn limit_table(lines: &[Line]) -> Table {
    let columns = [
        "pulse",
        "SNR, dB",
        "quantity",
        "found",
        "edge, dB",
        "bias",
        "std. dev.",
        "spread (68 %)",
        "bound",
        "spread / bound",
    ];
    let rows = lines.iter().map(|line| {
        vec![
            line.ideal.into(),
            format!("{:.0}", line.snr_db),
            line.quantity.into(),
            format!("{} of {}", line.found, line.drawn),
            format!("{:.1}", line.edge_db),
            format!("{:+.4}", line.bias),
            figures(line.deviation),
            figures(line.spread),
            figures(line.bound),
            format!("{:.1}", line.ratio()),
        ]
    });
    Table::new(
        "Spread of what is measured beside its bound; units as in the quantity's name",
        &columns,
    )
    .rows(rows)
    .shut()
}

/// Three digits that count.
fn figures(value: f64) -> String {
    let digits = (2.0 - value.abs().max(1e-9).log10().floor()).clamp(0.0, 8.0) as usize;
    format!("{value:.digits$}")
}

/// The contour estimators compared.
pub(super) fn contours(cells: &[Cell]) -> Section {
    if cells.is_empty() {
        return Section::default();
    }
    let plot = |shape: &'static str, name: &str, of: fn(&Cell) -> f64| Figure {
        title: format!("{shape}, {name}"),
        x: Axis::new("signal-to-noise, dB").range(10.0, 40.0),
        y: Axis::new("error, kHz").logarithmic(),
        series: ESTIMATORS
            .iter()
            .map(|&e| {
                let own = cells
                    .iter()
                    .filter(|c| c.shape == shape && c.estimator == e);
                Series::new(e.name(), own.map(|c| (middle_db(c), of(c))))
            })
            .collect(),
    };
    let both = |shape| {
        [
            plot(shape, "median", |c| c.median_khz),
            plot(shape, "ninth decile", |c| c.p90_khz),
        ]
    };
    Section {
        id: "contours",
        title: "Other ways to trace a contour".into(),
        text: vec![
            "Distance of contours from the law, on single animals over hiss of the draw that is tuned on, at 60 moments \
             of each pulse between its measured edges. The spectrograms are told when each pulse begins and ends and roughly \
             its band, which the project's own estimator must find out; for each shape and level they have the best \
             of four windows (0.35, 0.7, 1.4 and 2.8 ms), chosen by the truth."
                .into(),
            "own: this project's contour. widened: the same, smoothed anew by a parabola over as long a stretch as the pulse \
             bears at each moment (intersection of confidence intervals; Goldenshluger & Nemirovski 1997, Math. Methods \
             Statist. 6:135-170, cited from memory), told nothing but what was measured. peak: the largest bin of each frame of a spectrogram, with a parabola through \
             its level and its neighbours'. path: the same along the path that dynamic programming finds. reassigned: \
             energy moved in time and frequency to its centre of gravity (Auger & Flandrin 1995, IEEE Trans. Signal \
             Processing 43:1068-1089). squeezed: moved in frequency alone (Daubechies, Lu & Wu 2011, Appl. Comput. \
             Harmon. Anal. 30:243-261)."
                .into(),
            "Processor time is of one thread for one pulse; for the project's own it is that of finding and measuring \
             everything in the recording, and widened adds to it. It alone differs from run to run."
                .into(),
        ],
        figures: [both(ALL), both("FM"), both("CF")].into_iter().flatten().collect(),
        tables: vec![
            contour_table("All shapes", cells, |c| c.shape == ALL),
            contour_table("By shape", cells, |c| c.shape != ALL).shut(),
        ],
        ..Section::default()
    }
}

fn middle_db(cell: &Cell) -> f64 {
    // The last bucket's pulses lie near its lower end.
    let high = cell.snr_db.1.min(40.0);
    (cell.snr_db.0 + high) / 2.0
}

fn contour_table(caption: &str, cells: &[Cell], wanted: impl Fn(&Cell) -> bool) -> Table {
    let columns = [
        "shape",
        "SNR, dB",
        "estimator",
        "window, ms",
        "pulses",
        "median, kHz",
        "90 %, kHz",
        "RMS, kHz",
        "processor, ms",
    ];
    let last = BUCKETS_DB.last().copied();
    let rows = cells.iter().filter(|c| wanted(c)).map(|cell| {
        let (low, high) = cell.snr_db;
        let own = matches!(cell.estimator, Estimator::Own | Estimator::Widened);
        vec![
            cell.shape.into(),
            if Some(high) == last {
                format!(">{low}")
            } else {
                format!("{low}-{high}")
            },
            cell.estimator.name().into(),
            cell.window_ms.map_or("-".into(), |ms| ms.to_string()),
            cell.pulses.to_string(),
            figures(cell.median_khz),
            figures(cell.p90_khz),
            figures(cell.rms_khz),
            format!("{:.2}{}", cell.cpu_ms, if own { " (all)" } else { "" }),
        ]
    });
    Table::new(caption, &columns).rows(rows)
}
