//! How close the measurement comes to the limit: ideal single pulses in white Gaussian noise,
//! the spread of what is measured of them, and the Cramér-Rao bound, below which no unbiased
//! estimate of any kind can spread (S. M. Kay, Fundamentals of Statistical Signal Processing:
//! Estimation Theory, 1993, section 3.9; cited from memory).
//!
//! The bound is told the family of the pulse: that its law is straight, say, and its envelope
//! a raised cosine. The measurement is not. A ratio of 1 is thus out of reach for
//! whatever must measure pulses of every kind; the ratio says what that ignorance costs.

pub mod fisher;
pub mod ideal;
pub mod model;
pub mod trial;

use ideal::IDEALS;
use trial::{Line, Trial};

/// Signal-to-noise ratios that are tried, decibels, as `snr_db` is defined.
pub const LEVELS_DB: [f64; 3] = [20.0, 30.0, 40.0];
/// Draws of noise at each.
pub const DRAWS: usize = 200;

/// Why ratios of spread to bound differ from 1, for whoever reads the table.
pub const WHY: [&str; 6] = [
    "The bound knows the pulse's family (one law and one envelope of known form, no echo, no other animal) and \
     takes all samples together. The measurement must do without: it reads edges off an envelope near the noise, \
     and a contour by smoothing over short stretches.",
    "Start, end and duration: an edge is where the envelope crosses a threshold, so only the few samples around it \
     count, while the bound fits the whole rise.",
    "Frequency at start and end: read off the contour's last points, where the pulse is 20 dB fainter than at its \
     maximum. The bound carries the law over from the loud middle, and knows of a constant frequency that it is \
     constant, hence ratios of hundreds there.",
    "Frequency at the middle and characteristic frequency: the contour is a straight line fitted over a short \
     stretch, and frequency from a stretch spreads as its length to the power of -3/2; the bound uses the whole pulse. \
     Where a figure is made from the whole pulse, as the peak of a constant frequency is, the ratio is near 1.",
    "A characteristic frequency is read where the contour seems flattest, and noise chooses that place: in a law \
     that flattens slowly this adds a bias towards the middle, which the bound (for unbiased estimates) has not.",
    "Where the standard deviation is far above the spread of the middle 68 %, a few pulses were measured wrongly \
     altogether. From 200 draws a spread is itself uncertain by some 7 %, so a ratio a little below 1 is chance.",
];

/// Tries every ideal pulse at every level with so many draws of noise each.
///
/// # Errors
/// Fails where a recording cannot be written or read.
pub fn lines(draws: usize) -> Result<Vec<Line>, Box<dyn std::error::Error + Send + Sync>> {
    let mut lines = Vec::new();
    for ideal in IDEALS {
        for snr_db in LEVELS_DB {
            lines.extend(Trial::run(ideal, snr_db, draws)?.lines());
        }
    }
    Ok(lines)
}
