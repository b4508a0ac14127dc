//! What is handed in of whole nights: checks, tables.

use crate::{NightBook, Problem, convert};
use dusklens_core::night::report::{ReportOrder, report};
use dusklens_core::night::tables;
use dusklens_core::night::tables::darwin::{self, PlaceSharing, Sharing};
use dusklens_core::night::{Check, Decisions, Night, NightKey, checks};
use dusklens_core::recording::Label;
use serde::{Deserialize, Serialize};
use tsify::Tsify;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

/// What was checked on the recorder of a night.
#[derive(Debug, Serialize, Tsify)]
pub struct NightChecks {
    /// Which night, and whose.
    pub key: NightKey,
    /// The checks, the worst first.
    pub checks: Vec<Check>,
}

/// A table that can be handed in.
#[derive(Debug, Clone, Copy, Deserialize, Tsify)]
#[serde(rename_all = "snake_case")]
pub enum NightTable {
    /// A row for each file.
    Recordings,
    /// A row for each pass.
    Passes,
    /// Activity by hours, with effort.
    PassesPerHour,
    /// What was checked on the recorder.
    Checks,
    /// Events of Darwin Core.
    Event,
    /// Occurrences of Darwin Core.
    Occurrence,
    /// What ties both together, by the Darwin Core text guide.
    Meta,
}

/// A file whose rows stand in the table of pulses.
#[derive(Debug, Serialize, Tsify)]
pub struct PulseFile {
    /// Its path.
    pub path: String,
    /// By which its rows are found.
    pub sha256: String,
}

impl NightTable {
    fn text(self, nights: &[Night], decisions: &Decisions, sharing: Sharing) -> String {
        match self {
            Self::Recordings => tables::recordings_csv(nights, decisions),
            Self::Passes => tables::passes_csv(nights, decisions),
            Self::PassesPerHour => tables::passes_per_hour_csv(nights),
            Self::Checks => tables::checks_csv(nights),
            Self::Event => darwin::event_csv(nights, sharing),
            Self::Occurrence => darwin::occurrence_csv(nights, decisions),
            Self::Meta => darwin::meta_xml(),
        }
    }
}

#[wasm_bindgen]
impl NightBook {
    /// A table of these nights (of all, where none are given); `place` says how exactly Darwin Core may name the place.
    ///
    /// # Errors
    /// [`Problem`] where the page sends something else.
    pub fn table(
        &self,
        #[wasm_bindgen(unchecked_param_type = "NightTable")] table: JsValue,
        #[wasm_bindgen(unchecked_param_type = "NightKey[]")] nights: JsValue,
        #[wasm_bindgen(unchecked_param_type = "PlaceSharing")] place: JsValue,
    ) -> Result<String, Problem> {
        let table: NightTable = convert::read(table)?;
        let keys: Vec<NightKey> = convert::read(nights)?;
        let place: PlaceSharing = convert::read(place)?;
        Ok(table.text(&self.nights_of(&keys), self.decisions(), Sharing { place }))
    }

    /// The report of these nights as one HTML file.
    ///
    /// # Errors
    /// [`Problem`] where the page sends something else.
    pub fn report(
        &self,
        #[wasm_bindgen(unchecked_param_type = "NightKey[]")] nights: JsValue,
        #[wasm_bindgen(unchecked_param_type = "ReportOrder")] order: JsValue,
    ) -> Result<String, Problem> {
        let keys: Vec<NightKey> = convert::read(nights)?;
        let order: ReportOrder = convert::read(order)?;
        let nights = self.nights_of(&keys);
        let nights: Vec<&Night> = nights.iter().collect();
        Ok(report(&nights, self.decisions(), &order))
    }

    /// The files whose rows make the table of pulses of these nights, in its order.
    ///
    /// # Errors
    /// [`Problem`] where the page sends something else.
    #[wasm_bindgen(unchecked_return_type = "PulseFile[]")]
    pub fn pulse_files(
        &self,
        #[wasm_bindgen(unchecked_param_type = "NightKey[]")] nights: JsValue,
    ) -> Result<JsValue, Problem> {
        let keys: Vec<NightKey> = convert::read(nights)?;
        let nights = self.nights_of(&keys);
        let counted = nights.iter().flat_map(|night| &night.files);
        let files: Vec<PulseFile> = counted
            .filter(|own| own.counted().is_some())
            .map(|own| PulseFile {
                path: own.file.path.clone(),
                sha256: own.file.examined.sha256.clone(),
            })
            .collect();
        convert::write(&files)
    }

    /// Checks the recorders of these nights; of all, where none are given.
    ///
    /// # Errors
    /// [`Problem`] where the page sends something else.
    #[wasm_bindgen(unchecked_return_type = "NightChecks[]")]
    pub fn checks(
        &self,
        #[wasm_bindgen(unchecked_param_type = "NightKey[]")] nights: JsValue,
    ) -> Result<JsValue, Problem> {
        let keys: Vec<NightKey> = convert::read(nights)?;
        let all: Vec<NightChecks> = self
            .nights_of(&keys)
            .into_iter()
            .map(|night| NightChecks {
                checks: checks(&night, &night.frame()),
                key: night.key,
            })
            .collect();
        convert::write(&all)
    }

    /// The labels of a file, by its path: for a copy that carries them.
    ///
    /// # Errors
    /// [`Problem`] where they cannot be handed over.
    #[wasm_bindgen(unchecked_return_type = "Label[]")]
    pub fn labels_of(&self, path: &str) -> Result<JsValue, Problem> {
        let file = self.files().iter().find(|file| file.path == path);
        let labels: &[Label] = file.map_or(&[], |file| self.decisions().labels_of(&file.examined));
        convert::write(labels)
    }
}

/// The first line of the table of pulses.
#[must_use]
#[wasm_bindgen(js_name = pulsesHeader)]
pub fn pulses_header() -> String {
    tables::pulses_csv_header()
}

/// Rows of the table of pulses with the path of their file.
#[must_use]
#[wasm_bindgen(js_name = rowsWithPath)]
pub fn rows_with_path(rows: &str, path: &str) -> String {
    tables::with_path(rows, path)
}
