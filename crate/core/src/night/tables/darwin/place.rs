//! How exactly a place is given away: roosts and rare animals are not for everybody.

use serde::{Deserialize, Serialize};

use super::super::super::settings::Position;

/// To how many decimals of a degree a place is rounded, and what that is.
pub(in crate::night) const ROUNDED_DECIMALS: usize = 2;
const ROUNDED_DEG: f64 = 0.01;
/// Half the diagonal of a cell of 0.01 degrees at the equator, where it is largest, metres: a degree has 111.32 km (WGS84).
const ROUNDED_M: f64 = 788.0;
/// Decimals of an exact position: a metre.
const EXACT_DECIMALS: usize = 5;

/// What of a night is given away.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(default)]
pub struct Sharing {
    /// The place.
    pub place: PlaceSharing,
}

/// How exactly a place is given away.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(rename_all = "snake_case")]
pub enum PlaceSharing {
    /// As it is known, with the name of the site.
    #[default]
    Exact,
    /// To a hundredth of a degree, about a kilometre, without the name of the site. The same step serves for sensitive species in
    /// Chapman AD, Current Best Practices for Generalizing Sensitive Species Occurrence Data, 2020.
    Rounded,
    /// Not at all.
    Withheld,
}

/// A place as it is given away, in the terms of Darwin Core.
#[derive(Debug, Default)]
pub(super) struct SharedPlace {
    pub(super) locality: String,
    /// Degrees, and how many decimals are given.
    pub(super) latitude: Option<(f64, usize)>,
    pub(super) longitude: Option<(f64, usize)>,
    pub(super) datum: String,
    pub(super) uncertainty_m: Option<f64>,
    pub(super) precision: String,
    pub(super) generalizations: String,
    pub(super) withheld: String,
}

impl SharedPlace {
    pub(super) fn new(site: &str, position: Option<Position>, sharing: PlaceSharing) -> Self {
        match sharing {
            PlaceSharing::Exact => {
                let accuracy_m = position.and_then(|at| at.accuracy_m);
                Self {
                    locality: site.to_owned(),
                    // Nought is no uncertainty that the standard knows.
                    uncertainty_m: accuracy_m.filter(|&metres| metres > 0.0),
                    ..Self::at(position, EXACT_DECIMALS)
                }
            }
            PlaceSharing::Rounded => Self {
                withheld: withheld_name(site),
                ..Self::rounded(position)
            },
            PlaceSharing::Withheld => Self {
                withheld: "Place withheld; ask who made the recordings".to_owned(),
                ..Self::default()
            },
        }
    }

    fn rounded(position: Option<Position>) -> Self {
        let Some(at) = position else {
            return Self::default();
        };
        Self {
            uncertainty_m: Some(ROUNDED_M + at.accuracy_m.unwrap_or(0.0)),
            precision: format!("{ROUNDED_DEG}"),
            generalizations: format!("Position rounded to {ROUNDED_DEG} degrees"),
            ..Self::at(position, ROUNDED_DECIMALS)
        }
    }

    fn at(position: Option<Position>, decimals: usize) -> Self {
        let Some(at) = position else {
            return Self::default();
        };
        Self {
            latitude: Some((at.latitude_deg, decimals)),
            longitude: Some((at.longitude_deg, decimals)),
            datum: "EPSG:4326".to_owned(),
            ..Self::default()
        }
    }
}

fn withheld_name(site: &str) -> String {
    if site.is_empty() {
        return String::new();
    }
    "Name of the site withheld; ask who made the recordings".to_owned()
}
