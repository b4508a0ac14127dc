//! Prints the truth table: how well synthetic recordings are found and measured; and writes the
//! report page, which also tells how close to the limit that is and what other estimators do.

use std::error::Error;
use std::fs;
use std::path::{Path, PathBuf};

use clap::Parser;
use dusklens_core::pulse::{Calibration, Scale, Settings};
use dusklens_tests::truth::draw::Set;
use dusklens_tests::truth::run::{Job, Outcome, file, run_all};
use dusklens_tests::truth::{Amount, coverage, jobs, names, page, report, table};
use dusklens_tests::{contours, limit};

/// Draws recordings with fixed seeds, measures them, and compares with their truth.
#[derive(Debug, Parser)]
struct Arguments {
    /// The draw: `tune` to work on the measurement, `report` to say how good it is.
    #[arg(long, value_enum, default_value = "report")]
    set: Set,
    /// Only this shape, case or kind of background.
    #[arg(long, value_name = "NAME")]
    only: Option<String>,
    /// Recordings of each shape and case with bats.
    #[arg(long, default_value_t = Amount::FULL.bats)]
    bats: u64,
    /// Recordings of each kind of background without bats.
    #[arg(long, default_value_t = Amount::FULL.silence)]
    silence: u64,
    /// List what was missed, far off or extra.
    #[arg(long)]
    list_misses: bool,
    /// Write the recordings of listed misses into this folder.
    #[arg(long, value_name = "FOLDER")]
    save: Option<PathBuf>,
    /// Fit anew how uncertainties follow from standard deviations, and print the scales for
    /// `pulse/calibration.rs`. Meant for `--set tune`.
    #[arg(long)]
    fit: bool,
    /// Print the figures as JSON instead of tables.
    #[arg(long)]
    json: bool,
    /// Where the report page is written; `target/truth/report.html` or `tune.html` unless told
    /// otherwise, and nowhere for a part of the draw.
    #[arg(long, value_name = "FILE")]
    page: Option<PathBuf>,
}

/// Recordings of each shape on which contour estimators are compared: some 370 pulses.
const CONTOURS: u64 = 8;

fn main() -> Result<(), Box<dyn Error + Send + Sync>> {
    let arguments = Arguments::parse();
    let amount = Amount {
        bats: arguments.bats,
        silence: arguments.silence,
    };
    let jobs = jobs(amount, arguments.only.as_deref());
    if jobs.is_empty() {
        return Err(format!("nothing of that name; choose from {}", names().join(", ")).into());
    }
    if arguments.fit {
        return fit(arguments.set, &jobs);
    }
    let (outcomes, tally) = table(arguments.set, &jobs)?;
    if arguments.json {
        println!("{}", serde_json::to_string_pretty(&tally)?);
    } else {
        print!("{}", report::report(arguments.set, &tally));
    }
    for outcome in &outcomes {
        let misses = report::misses(outcome);
        if arguments.list_misses {
            misses.iter().for_each(|line| println!("{line}"));
        }
        if let (Some(folder), false) = (&arguments.save, misses.is_empty()) {
            save(folder, arguments.set, outcome)?;
        }
    }
    let whole = arguments.only.is_none();
    let usual = || Path::new("target/truth").join(page_name(arguments.set));
    if let Some(path) = arguments.page.or_else(|| whole.then(usual)) {
        let (limit, contours) = match whole {
            true => (limit::lines(limit::DRAWS)?, contours::compare(CONTOURS)?),
            false => (vec![], vec![]),
        };
        let page = page::page(&page::Input {
            set: arguments.set,
            jobs: &jobs,
            outcomes: &outcomes,
            tally: &tally,
            limit: &limit,
            contours: &contours,
        })?;
        if let Some(folder) = path.parent() {
            fs::create_dir_all(folder)?;
        }
        fs::write(&path, page)?;
        // Not where tables or JSON go, which other programs may read.
        eprintln!("The report page is {}", path.display());
    }
    Ok(())
}

fn fit(set: Set, jobs: &[Job]) -> Result<(), Box<dyn Error + Send + Sync>> {
    let fitted = |calibration: Calibration| {
        let settings = Settings {
            calibration,
            ..Settings::default()
        };
        Ok::<_, Box<dyn Error + Send + Sync>>(coverage::fit(&run_all(set, jobs, &settings)?))
    };
    let mut scales = fitted(Calibration::NONE)?;
    // Those of intervals and sweep rates come from the fitted ones of starts and ends.
    let of = |quantity: &str| {
        let found = scales.iter().find(|(name, _)| *name == quantity);
        found.map_or(Scale::NONE, |(_, scale)| *scale)
    };
    let derived = fitted(Calibration {
        start_ms: of("start_ms"),
        start_khz: of("start_khz"),
        end_khz: of("end_khz"),
        ..Calibration::NONE
    })?;
    let is_derived = |name: &str| ["interval_ms", "sweep_khz_per_ms"].contains(&name);
    scales.retain(|(name, _)| !is_derived(name));
    scales.extend(derived.into_iter().filter(|(name, _)| is_derived(name)));
    for (quantity, scale) in scales {
        println!(
            "{quantity}: Scale::new({:.4}, {:.1}, {:.4}),",
            scale.factor, scale.power, scale.floor
        );
    }
    Ok(())
}

fn page_name(set: Set) -> &'static str {
    match set {
        Set::Tune => "tune.html",
        Set::Report => "report.html",
    }
}

fn save(folder: &PathBuf, set: Set, outcome: &Outcome) -> Result<(), Box<dyn Error + Send + Sync>> {
    fs::create_dir_all(folder)?;
    let scene = outcome.job.scene(set);
    let bytes = file(&scene, &scene.render())?;
    fs::write(folder.join(outcome.job.name() + ".wav"), bytes)?;
    Ok(())
}
