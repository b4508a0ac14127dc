//! How far the work is: a bar on a terminal, else a line every so often. On standard error.

use std::time::{Duration, Instant};

use indicatif::{ProgressBar, ProgressStyle};

use crate::measure::complain;

/// How often a line is written where there is no terminal.
const LINE_EVERY: Duration = Duration::from_secs(30);
const TEMPLATE: &str = "{bar:32} {pos} of {len} files  {per_sec}  {eta} left";

pub(super) struct Progress {
    bar: ProgressBar,
    count: usize,
    done: usize,
    begun: Instant,
    told: Instant,
}

impl Progress {
    pub(super) fn new(count: usize) -> Self {
        let bar = ProgressBar::new(count as u64);
        if let Ok(style) = ProgressStyle::with_template(TEMPLATE) {
            bar.set_style(style);
        }
        let now = Instant::now();
        Self {
            bar,
            count,
            done: 0,
            begun: now,
            told: now,
        }
    }

    /// One more file.
    pub(super) fn step(&mut self) {
        self.done += 1;
        self.bar.inc(1);
        if self.bar.is_hidden() && self.told.elapsed() >= LINE_EVERY {
            self.told = Instant::now();
            let per_s = self.done as f64 / self.begun.elapsed().as_secs_f64();
            let left_s = (self.count - self.done) as f64 / per_s;
            complain(&format!(
                "{} of {} files, {per_s:.1} a second, about {:.0} min left",
                self.done,
                self.count,
                left_s / 60.0
            ));
        }
    }

    pub(super) fn finish(&self) {
        self.bar.finish_and_clear();
    }
}
