//! From the recording's rate to the loudspeaker's, by any ratio.

use rubato::interpolation::get_nearest_times_2;
use rubato::sinc_interpolator::{AnyInterpolator, SincInterpolator, make_interpolator};
use rubato::{WindowFunction, calculate_cutoff};

/// Zero crossings of the interpolating sinc on both sides, counted at the lower of both rates: what can be
/// kept is kept up to 0.87 of half that rate, and what cannot is 90 dB down from half of it on.
const POINTS: usize = 128;
const WINDOW: WindowFunction = WindowFunction::BlackmanHarris;
/// Places between two samples, at the lower rate, where the sinc is tabulated; in between, a straight line is
/// wrong by less than -100 dB.
const PLACES: f64 = 512.0;
/// Fewer places than this are no table, however low the output's rate.
const FEWEST_PLACES: usize = 8;

/// Reads a signal at places `step` samples apart.
///
/// rubato's interpolator is used rather than its resamplers with their inner buffers: a sample's place follows
/// from its number alone, so that hours later nothing has drifted, and pieces of any size give the same sound.
pub(super) struct Resampler {
    interpolator: AnyInterpolator<f32>,
    step: f64,
    /// Samples, and the number of the first of them.
    signal: Vec<f32>,
    first: i64,
}

impl Resampler {
    /// From samples at `from_hz` to samples at `to_hz`.
    pub(super) fn new(from_hz: f64, to_hz: f64) -> Self {
        let ratio = to_hz / from_hz;
        let lower = ratio.min(1.0);
        let points = (POINTS as f64 / lower).ceil() as usize;
        let places = ((PLACES * lower).ceil() as usize).max(FEWEST_PLACES);
        let cutoff = calculate_cutoff(POINTS, WINDOW);
        Self {
            interpolator: make_interpolator(points, ratio, Some(cutoff), places, WINDOW),
            step: 1.0 / ratio,
            signal: Vec::new(),
            first: 0,
        }
    }

    /// Forgets its signal; the next that comes begins with sample number `first`.
    pub(super) fn begin(&mut self, first: i64) {
        self.signal.clear();
        self.first = first;
    }

    /// Takes in the next samples.
    pub(super) fn push(&mut self, samples: &[f32]) {
        self.signal.extend_from_slice(samples);
    }

    /// The numbers of the first sample that is needed at output number `at`, and of the one after the last.
    pub(super) fn needed(&self, origin: f64, at: i64) -> (i64, i64) {
        let from = self.window_start(origin, at).floor() as i64;
        (from, from + self.interpolator.nbr_points() as i64 + 2)
    }

    /// The number of the sample after the last one that it has.
    pub(super) fn end(&self) -> i64 {
        self.first + self.signal.len() as i64
    }

    /// The value at output number `at`, where output number 0 lies at sample `origin`; what is needed must be there.
    pub(super) fn value(&self, origin: f64, at: i64) -> f32 {
        let places = self.interpolator.nbr_sincs() as isize;
        let start = self.window_start(origin, at);
        // Of the sample's number alone: with the distance to the first sample at hand, which follows from how the pieces
        // are cut, it would be rounded otherwise.
        let within = start - start.floor();
        let from = start.floor() as i64 - self.first;
        let mut nearest = [(0, 0); 2];
        get_nearest_times_2(within, places, &mut nearest);
        let between = (within * places as f64).fract() as f32;
        let [low, high] = nearest.map(|(index, place)| self.product(from + index as i64, place));
        low + (high - low) * between
    }

    /// Lets go of all samples before number `first`.
    pub(super) fn drop_before(&mut self, first: i64) {
        let gone = (first - self.first).clamp(0, self.signal.len() as i64);
        self.signal.drain(..gone as usize);
        self.first += gone;
    }

    /// Where the sinc's window begins, in the interpolator's way of counting.
    fn window_start(&self, origin: f64, at: i64) -> f64 {
        let half = self.interpolator.nbr_points() as f64 / 2.0;
        origin + at as f64 * self.step - half + 1.0 - 1.0 / self.interpolator.nbr_sincs() as f64
    }

    fn product(&self, index: i64, place: isize) -> f32 {
        let (Ok(index), Ok(place)) = (usize::try_from(index), usize::try_from(place)) else {
            return 0.0;
        };
        let end = index.saturating_add(self.interpolator.nbr_points());
        match self.interpolator.get_sincs().get(place) {
            Some(sinc) if end <= self.signal.len() => {
                self.interpolator
                    .get_sinc_dot_product(&self.signal, index, sinc)
            }
            _ => 0.0,
        }
    }
}

impl std::fmt::Debug for Resampler {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter
            .debug_struct("Resampler")
            .field("step", &self.step)
            .field("first", &self.first)
            .field("samples", &self.signal.len())
            .finish_non_exhaustive()
    }
}
