//! The page's door into the core: the only package that knows JavaScript.
//!
//! It runs inside a dedicated worker, where files can be read without waiting
//! for promises. Long work is cut into steps, so that the worker can answer
//! between them. Every failure crosses as a [`Problem`]; a panic, which would be
//! a fault of ours, crosses as a JavaScript `Error`, after which this instance
//! must not be used again.

mod by_hand;
mod channel;
mod comparing;
mod convert;
mod copying;
mod drawing;
mod figuring;
mod file;
mod hashing;
mod listening;
mod measuring;
mod night;
mod opened;
mod problem;
mod rehearsal;
mod sharing;
mod strips;
mod tiles;

pub use by_hand::{csv_by_hand, hand_interval};
pub use comparing::{compare, spread_csv};
pub use copying::{CopyPiece, CopyPlan};
pub use drawing::{DrawingJob, PaintedFacts, legend};
pub use figuring::{
    FigureJob, about_measuring, about_method, csv_with_about, png_with_resolution, tabbed,
};
pub use file::BrowserFile;
pub use hashing::HashingJob;
pub use listening::{ListeningJob, PieceFacts, WaveFileJob};
pub use measuring::MeasuringJob;
pub use night::{
    CheckSoFar, DrawnFiles, ExaminedFile, ExaminingJob, GroupCount, LabelCount, NightBook,
    NightChecks, NightFacts, NightPlots, NightTable, Overview, PlotsOfNight, PulseFile,
    UnreadableFile, examined_form, pattern_fault, pulses_header, rows_with_path,
};
pub use opened::OpenedFile;
pub use problem::Problem;
pub use rehearsal::rehearsal;
pub use sharing::{CallFile, LinkJob, call_sheet, qr_code, read_call};
pub use strips::{SpectrumFacts, SpectrumJob, SpectrumView, WaveformFacts, WaveformJob};
pub use tiles::{SurveyJob, TileJob, tile_facts};

#[cfg(feature = "bench")]
pub mod bench;

use wasm_bindgen::prelude::wasm_bindgen;

/// The version of Dusklens, such as `0.1.0`.
#[must_use]
#[wasm_bindgen]
pub fn version() -> String {
    env!("CARGO_PKG_VERSION").to_owned()
}

/// Prepares a new instance: a panic leaves it as an `Error` that says what
/// happened and where, instead of as a bare trap.
#[wasm_bindgen(start)]
pub fn start() {
    std::panic::set_hook(Box::new(|panic| {
        wasm_bindgen::throw_val(js_sys::Error::new(&panic.to_string()).into());
    }));
}
