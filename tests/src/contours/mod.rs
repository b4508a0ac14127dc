//! Contour estimators compared: the project's own beside some of the literature's, by their
//! distance from the law, on single animals over hiss of the draw that is tuned on.
//!
//! Those made from spectrograms are told when each pulse begins and ends and roughly its band, which the
//! project's own must find out. They are not told the law.
//!
//! | name | what it does |
//! |---|---|
//! | own | `Pulse.contour` |
//! | widened | the same, smoothed anew over as long stretches as the pulse bears at each moment |
//! | peak | the largest bin of each frame, a parabola through its level and its neighbours' |
//! | path | the same along the path that dynamic programming finds: level less a cost of jumps |
//! | reassigned | energy moved to its centre of gravity in time and frequency (Auger & Flandrin 1995, IEEE Trans. Signal Processing 43:1068-1089) and averaged along its ridge |
//! | squeezed | energy moved in frequency alone (synchrosqueezing; Daubechies, Lu & Wu 2011, Appl. Comput. Harmon. Anal. 30:243-261) |

mod clock;
pub mod compare;
mod frames;
mod path;
mod peak;
mod reassigned;
mod target;
mod widened;

pub use compare::{Cell, Estimator, compare};
