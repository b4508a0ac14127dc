//! The largest bin of each frame.

use super::frames::Frames;
use super::target::{Target, Track};

/// Traces a pulse by the peak of each frame.
pub(super) fn trace(target: &Target, window_ms: f64) -> Track {
    let Some(frames) = Frames::of(target, window_ms) else {
        return Track::default();
    };
    let points = frames.levels_db.iter().enumerate().filter_map(|(n, row)| {
        let (bin, _) = row.iter().enumerate().max_by(|a, b| a.1.total_cmp(b.1))?;
        Some((*frames.times_s.get(n)?, frames.khz(n, bin)))
    });
    Track {
        points: points.collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::target::sweep::{samples, target, worst};

    #[test]
    fn a_loud_sweep_is_traced() {
        let samples = samples();
        let track = super::trace(&target(&samples), 0.6);
        assert!(worst(&track) < 0.15, "{}", worst(&track));
    }
}
