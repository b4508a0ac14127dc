//! Plots of nights for the page.

use crate::{NightBook, Problem, convert};
use dusklens_core::night::plot::{Plot, PlotKind, PlotOrder, plots, plots_of_nights};
use dusklens_core::night::{Frame, Night, NightKey};
use serde::Serialize;
use tsify::Tsify;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

/// What is drawn of some nights.
#[derive(Debug, Serialize, Tsify)]
pub struct NightPlots {
    /// Each night by itself.
    pub nights: Vec<PlotsOfNight>,
    /// Several nights one below the other on one clock and one scale, as SVG; none where there is one.
    pub side_by_side: Option<String>,
}

/// The plots of a night, on one axis of time.
#[derive(Debug, Serialize, Tsify)]
pub struct PlotsOfNight {
    /// Which night, and whose.
    pub key: NightKey,
    /// Activity, frequency against time, noise, and temperature where it is known.
    pub plots: Vec<Plot>,
}

#[wasm_bindgen]
impl NightBook {
    /// Draws these nights (all, where none are given), so many pixels wide.
    ///
    /// # Errors
    /// [`Problem`] where the page sends something else.
    #[wasm_bindgen(unchecked_return_type = "NightPlots")]
    pub fn plots(
        &self,
        #[wasm_bindgen(unchecked_param_type = "NightKey[]")] nights: JsValue,
        width_px: f64,
    ) -> Result<JsValue, Problem> {
        let keys: Vec<NightKey> = convert::read(nights)?;
        let nights = self.nights_of(&keys);
        let framed: Vec<(&Night, Frame)> =
            nights.iter().map(|night| (night, night.frame())).collect();
        let pairs: Vec<(&Night, &Frame)> = framed
            .iter()
            .map(|(night, frame)| (*night, frame))
            .collect();
        let several = (pairs.len() > 1).then(|| {
            let order = order(pairs[0].0, PlotKind::Activity, width_px);
            plots_of_nights(&pairs, &order).svg
        });
        let drawn = pairs.iter().map(|&(night, frame)| PlotsOfNight {
            key: night.key.clone(),
            plots: kinds(night)
                .into_iter()
                .map(|kind| plots(night, frame, &order(night, kind, width_px)))
                .collect(),
        });
        convert::write(&NightPlots {
            nights: drawn.collect(),
            side_by_side: several,
        })
    }
}

fn kinds(night: &Night) -> Vec<PlotKind> {
    let mut kinds = vec![PlotKind::Activity, PlotKind::Frequency, PlotKind::Noise];
    if night.totals().temperature.is_some() {
        kinds.push(PlotKind::Temperature);
    }
    kinds
}

fn order(night: &Night, kind: PlotKind, width_px: f64) -> PlotOrder {
    PlotOrder {
        kind,
        width_px,
        bin_min: night.settings.bin_min,
        ..PlotOrder::default()
    }
}
