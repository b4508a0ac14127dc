//! Colour maps.

use super::tables::{BATLOW, COLOURS, MAGMA, VIRIDIS};
use serde::{Deserialize, Serialize};

/// Colours from silent to loud. All are even in lightness, so that equal steps
/// of level look equal, and all can be told apart without seeing hue.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "typescript", derive(tsify::Tsify))]
#[serde(rename_all = "snake_case")]
pub enum ColourMap {
    /// Pale paper to dark ink through red and violet: magma, reversed.
    Paper,
    /// White to black.
    Ink,
    /// Black to pale yellow through violet and red.
    Magma,
    /// Violet to yellow through green.
    Viridis,
    /// Dark blue to pale pink through green and ochre.
    Batlow,
    /// Black to white.
    Grey,
    /// Black to red, without green or blue: spares night vision.
    Night,
}

/// How finely levels are told apart in a picture.
pub(super) const SHADES: usize = 256;

/// One pixel: red, green, blue, opacity.
pub(super) type Rgba = [u8; 4];

impl ColourMap {
    /// Every map.
    pub const ALL: [Self; 7] = [
        Self::Paper,
        Self::Ink,
        Self::Magma,
        Self::Viridis,
        Self::Batlow,
        Self::Grey,
        Self::Night,
    ];

    /// The colour at a share from 0 (floor) to 1 (top).
    pub(super) fn at(self, share: f64) -> Rgba {
        let share = share.clamp(0.0, 1.0);
        match self {
            Self::Paper => published(&MAGMA, 1.0 - share),
            Self::Ink => grey(1.0 - share),
            Self::Magma => published(&MAGMA, share),
            Self::Viridis => published(&VIRIDIS, share),
            Self::Batlow => published(&BATLOW, share),
            Self::Grey => grey(share),
            Self::Night => {
                // L* of sRGB's pure red is 53.24, so this is even in lightness and uses all of red.
                let red = encode(luminance(RED_LIGHTNESS * share) / RED_LUMINANCE);
                [red, 0, 0, 255]
            }
        }
    }

    /// The colours of all shades.
    pub(super) fn shades(self) -> [Rgba; SHADES] {
        std::array::from_fn(|shade| self.at(shade as f64 / (SHADES - 1) as f64))
    }
}

/// A colour bar of `steps` pixels, from the floor's colour to the top's, as
/// red, green, blue, opacity.
#[must_use]
pub fn legend(map: ColourMap, steps: u32) -> Vec<u8> {
    let last = f64::from(steps.saturating_sub(1).max(1));
    (0..steps)
        .flat_map(|step| map.at(f64::from(step) / last))
        .collect()
}

/// Luminance of sRGB's pure red (IEC 61966-2-1) and its CIE 1976 lightness.
const RED_LUMINANCE: f64 = 0.2126;
const RED_LIGHTNESS: f64 = 53.24;

fn published(table: &[u32; COLOURS], share: f64) -> Rgba {
    let position = share * (COLOURS - 1) as f64;
    let below = (position as usize).min(COLOURS - 2);
    let part = position - below as f64;
    let channel = |shift: u32| {
        let near = f64::from(table[below] >> shift & 0xff);
        let far = f64::from(table[below + 1] >> shift & 0xff);
        (near + part * (far - near)).round() as u8
    };
    [channel(16), channel(8), channel(0), 255]
}

fn grey(share: f64) -> Rgba {
    let value = encode(luminance(100.0 * share));
    [value, value, value, 255]
}

/// Relative luminance of a CIE 1976 lightness L*.
fn luminance(lightness: f64) -> f64 {
    let root = (lightness + 16.0) / 116.0;
    if root > 6.0 / 29.0 {
        root.powi(3)
    } else {
        lightness * 27.0 / 24389.0
    }
}

/// A linear share of light as an sRGB value (IEC 61966-2-1).
fn encode(linear: f64) -> u8 {
    let value = if linear <= 0.003_130_8 {
        12.92 * linear
    } else {
        1.055 * linear.powf(1.0 / 2.4) - 0.055
    };
    (value * 255.0).round().clamp(0.0, 255.0) as u8
}

#[cfg(test)]
mod tests {
    use super::*;

    /// CIE 1976 L* of an sRGB colour, by the standards' formulas.
    fn lightness([red, green, blue, _]: Rgba) -> f64 {
        let linear = |value: u8| {
            let value = f64::from(value) / 255.0;
            if value <= 0.04045 {
                value / 12.92
            } else {
                ((value + 0.055) / 1.055).powf(2.4)
            }
        };
        let y = 0.2126 * linear(red) + 0.7152 * linear(green) + 0.0722 * linear(blue);
        if y > 216.0 / 24389.0 {
            116.0 * y.cbrt() - 16.0
        } else {
            y * 24389.0 / 27.0
        }
    }

    #[test]
    fn lightness_runs_one_way_and_evenly() {
        for map in ColourMap::ALL {
            let values: Vec<f64> = map.shades().into_iter().map(lightness).collect();
            let whole = values[SHADES - 1] - values[0];
            assert!(
                whole.abs() > 50.0,
                "{map:?} spans only {whole} of lightness"
            );
            // Over a sixteenth of the map the change is near a sixteenth of the whole.
            for (near, far) in values.iter().zip(&values[16..]) {
                let share = (far - near) / whole * (SHADES - 1) as f64 / 16.0;
                assert!(
                    (0.3..2.0).contains(&share),
                    "{map:?}: {share} of an even step"
                );
            }
        }
    }

    #[test]
    fn light_grounds_get_dark_and_dark_grounds_get_light() {
        for map in ColourMap::ALL {
            let light_ground = matches!(map, ColourMap::Paper | ColourMap::Ink);
            assert_eq!(lightness(map.at(0.0)) > 90.0, light_ground, "{map:?}");
        }
    }

    #[test]
    fn published_maps_keep_their_colours() {
        // Entries of the full tables: matplotlib 3.11.2 (viridis, magma) and cmcrameri 1.10 (batlow).
        for (map, entry, colour) in [
            (ColourMap::Viridis, 50, [65, 66, 135]),
            (ColourMap::Viridis, 200, [112, 207, 87]),
            (ColourMap::Magma, 100, [137, 40, 129]),
            (ColourMap::Magma, 200, [253, 152, 105]),
            (ColourMap::Batlow, 100, [83, 117, 73]),
            (ColourMap::Batlow, 200, [249, 163, 128]),
        ] {
            let got = map.at(f64::from(entry) / 255.0);
            for (got, want) in got.into_iter().zip(colour) {
                assert!(
                    i16::from(got).abs_diff(want) <= 2,
                    "{map:?} {entry}: {got} for {want}"
                );
            }
        }
    }

    #[test]
    fn night_holds_no_green_or_blue() {
        assert_eq!(ColourMap::Night.at(1.0), [255, 0, 0, 255]);
        assert!(
            ColourMap::Night
                .shades()
                .iter()
                .all(|shade| shade[1] == 0 && shade[2] == 0)
        );
    }

    #[test]
    fn a_legend_runs_from_floor_to_top() {
        let bar = legend(ColourMap::Grey, 3);
        assert_eq!(bar[..4], [0, 0, 0, 255]);
        assert_eq!(bar[8..], [255, 255, 255, 255]);
        assert_eq!(legend(ColourMap::Grey, 1), [0, 0, 0, 255]);
        assert!(legend(ColourMap::Grey, 0).is_empty());
    }
}
