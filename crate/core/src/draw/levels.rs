//! Which levels the colours stretch over.

use super::Look;
use super::colour::SHADES;
use crate::spectrum::LOWEST_DB;

/// The levels that a picture's colours stretch over, decibels re full scale.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shades {
    /// The level of the first colour; all below it look the same.
    pub floor_db: f32,
    /// The level of the last colour; all above it look the same.
    pub top_db: f32,
}

/// The share of the sounding pixels below the floor: calls fill few pixels, so
/// this is the noise's, most of which becomes plain ground.
pub(super) const FLOOR_QUANTILE: f64 = 0.75;
/// Where calls fill most of the view, the floor is found from the quiet rest:
/// this share of the pixels,
const QUIET_QUANTILE: f64 = 0.1;
/// and how far hiss lies above it at [`FLOOR_QUANTILE`]. Powers of hiss are
/// distributed exponentially: 10 log10(ln(1 - 0.75) / ln(1 - 0.1)).
const QUIET_TO_FLOOR_DB: f32 = 11.2;
/// The share of the sounding pixels below the top: enough above it for a
/// single pulse or click not to dim all others.
const TOP_QUANTILE: f64 = 0.9995;
/// Narrowest range: in hiss alone, the hiss stays faint.
pub(super) const LEAST_RANGE_DB: f32 = 40.0;
/// Widest range: beyond it quiet calls beside a loud one would fade into the ground.
pub(super) const MOST_RANGE_DB: f32 = 80.0;
/// Where there is no sound at all.
pub(super) const SILENT_FLOOR_DB: f32 = -100.0;

impl Shades {
    /// Takes what the look says and chooses the rest from the levels.
    pub(super) fn choose(levels: &[f32], look: &Look) -> Self {
        let quantiles = match (look.floor_db, look.range_db) {
            (Some(_), Some(_)) => None,
            _ => Histogram::of(levels).quantiles(),
        };
        let (noise, loud) = quantiles.unwrap_or((SILENT_FLOOR_DB, SILENT_FLOOR_DB));
        let floor_db = look.floor_db.unwrap_or(noise);
        let range_db = look
            .range_db
            .unwrap_or((loud - floor_db).clamp(LEAST_RANGE_DB, MOST_RANGE_DB));
        Self {
            floor_db,
            top_db: floor_db + range_db,
        }
    }

    /// The shade of each level.
    pub(super) fn scale(&self) -> impl Fn(f32) -> usize {
        let floor_db = self.floor_db;
        let per_db = SHADES as f32 / (self.top_db - floor_db);
        // The conversion takes whatever lies below 0, and what is no number, to 0.
        move |level_db| (((level_db - floor_db) * per_db) as usize).min(SHADES - 1)
    }
}

/// Levels counted in steps of a quarter of a decibel: exact enough for a floor,
/// and no memory is taken for sorting.
pub(super) struct Histogram {
    counts: [u32; Self::STEPS],
}

impl Default for Histogram {
    fn default() -> Self {
        Self {
            counts: [0; Self::STEPS],
        }
    }
}

impl Histogram {
    const STEP_DB: f32 = 0.25;
    /// From the lowest level up to 20 dB above full scale, which overloaded
    /// floating-point recordings may reach.
    const STEPS: usize = 1040;

    fn of(levels: &[f32]) -> Self {
        let mut all = Self::default();
        for &level in levels {
            all.add(level);
        }
        all
    }

    /// Counts a level, unless it is none.
    pub(super) fn add(&mut self, level_db: f32) {
        if level_db > LOWEST_DB {
            let step = ((level_db - LOWEST_DB) / Self::STEP_DB) as usize;
            self.counts[step.min(Self::STEPS - 1)] += 1;
        }
    }

    /// The level below which most hiss lies; none where all is silent.
    pub(super) fn floor_db(&self) -> Option<f32> {
        self.quantiles().map(|(floor_db, _)| floor_db)
    }

    /// Levels for the floor and the top; none where all is silent.
    fn quantiles(&self) -> Option<(f32, f32)> {
        let total: u64 = self.counts.iter().map(|&count| u64::from(count)).sum();
        (total > 0).then(|| {
            let usual = self.quantile(total, FLOOR_QUANTILE);
            let quiet = self.quantile(total, QUIET_QUANTILE) + QUIET_TO_FLOOR_DB;
            (usual.min(quiet), self.quantile(total, TOP_QUANTILE))
        })
    }

    fn quantile(&self, total: u64, share: f64) -> f32 {
        let wanted = (total as f64 * share) as u64;
        let mut seen = 0;
        let step = self.counts.iter().position(|&count| {
            seen += u64::from(count);
            seen > wanted
        });
        let step = step.unwrap_or(Self::STEPS - 1);
        LOWEST_DB + (step as f32 + 0.5) * Self::STEP_DB
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::ColourMap;
    use crate::spectrum::to_db;

    const AUTOMATIC: Look = Look {
        map: ColourMap::Ink,
        floor_db: None,
        range_db: None,
    };

    /// The floor that belongs to hiss with a mean of -100 dB.
    const HISS_FLOOR_DB: f32 = -98.6;

    /// Levels of hiss with a mean of -100 dB (the quantiles of an exponential
    /// distribution), a share of them replaced by calls of a level.
    fn picture(calls: usize, call_db: f32) -> Vec<f32> {
        let hiss = |n: usize| -100.0 + to_db(-(1.0 - (n as f32 + 0.5) / 10_000.0).ln());
        (0..10_000)
            .map(|n| {
                if n < calls {
                    call_db
                } else {
                    hiss(n * 7919 % 10_000)
                }
            })
            .collect()
    }

    fn has_hiss_floor(shades: &Shades) -> bool {
        (shades.floor_db - HISS_FLOOR_DB).abs() < 0.8
    }

    #[test]
    fn hiss_alone_stays_faint() {
        let shades = Shades::choose(&picture(0, 0.0), &AUTOMATIC);
        assert!(has_hiss_floor(&shades), "{shades:?}");
        assert_eq!(shades.top_db - shades.floor_db, LEAST_RANGE_DB);
        assert!(shades.scale()(-95.0) < SHADES / 6);
    }

    #[test]
    fn calls_do_not_lift_the_floor_and_use_the_range() {
        for calls in [50, 300, 1000] {
            let shades = Shades::choose(&picture(calls, -30.0), &AUTOMATIC);
            assert!(has_hiss_floor(&shades), "{calls} of 10000: {shades:?}");
            assert!((shades.top_db + 30.0).abs() < 0.5);
        }
    }

    #[test]
    fn a_view_that_a_call_fills_is_not_taken_for_hiss() {
        let shades = Shades::choose(&picture(8000, -30.0), &AUTOMATIC);
        assert!(shades.floor_db < -80.0, "{shades:?}");
        assert!((shades.top_db + 30.0).abs() < 0.5);
    }

    #[test]
    fn one_overloaded_click_does_not_dim_the_rest() {
        let mut levels = picture(300, -50.0);
        levels[0] = 10.0;
        assert!((Shades::choose(&levels, &AUTOMATIC).top_db + 50.0).abs() < 0.5);
        let wide = Shades::choose(&picture(300, 10.0), &AUTOMATIC);
        assert_eq!(wide.top_db - wide.floor_db, MOST_RANGE_DB);
    }

    #[test]
    fn pixels_without_sound_do_not_count() {
        let mut levels = picture(0, 0.0);
        levels.extend(std::iter::repeat_n(LOWEST_DB, 50_000));
        levels.push(f32::NAN);
        assert!(has_hiss_floor(&Shades::choose(&levels, &AUTOMATIC)));
        let silent = Shades::choose(&[LOWEST_DB; 9], &AUTOMATIC);
        assert_eq!(silent.floor_db, SILENT_FLOOR_DB);
    }

    #[test]
    fn what_a_person_chose_is_kept() {
        let look = Look {
            floor_db: Some(-80.0),
            range_db: Some(25.0),
            ..AUTOMATIC
        };
        let shades = Shades::choose(&picture(300, -30.0), &look);
        assert_eq!((shades.floor_db, shades.top_db), (-80.0, -55.0));
        let shade = shades.scale();
        assert_eq!(shade(-80.1), 0);
        assert_eq!(shade(-67.5), SHADES / 2);
        assert_eq!(shade(f32::INFINITY), SHADES - 1);
        assert_eq!(shade(f32::NAN), 0);
    }
}
