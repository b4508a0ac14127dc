//! A stretch of a recording and where its samples lie, on the way in and on the way out.

use super::fade::{fade_frames, fade_gain};
use super::settings::ListeningSettings;

/// The silence between two rounds of a loop, seconds: without it, a single pulse becomes a rattle.
const REST_S: f64 = 0.25;

/// One round through the stretch that is heard.
#[derive(Debug, Clone, Copy)]
pub(super) struct Round {
    start_s: f64,
    end_s: f64,
    /// How far the recording moves on with every sample that is put out, seconds.
    step_s: f64,
    /// Where it begins, counted in the recording's samples.
    pub(super) origin: f64,
    /// Samples that are put out for it.
    pub(super) frames: u64,
    /// Samples of silence after it, in a loop.
    pub(super) rest: u64,
    fade: u64,
}

impl Round {
    pub(super) fn new(
        settings: &ListeningSettings,
        rate_hz: f64,
        duration_s: f64,
        output_hz: f64,
    ) -> Self {
        let end_s = settings.end_s.min(duration_s);
        let slowness = settings.method.slowness();
        let frames = ((end_s - settings.start_s) * slowness * output_hz).round();
        let frames = frames.max(1.0) as u64;
        Self {
            start_s: settings.start_s,
            end_s,
            step_s: 1.0 / (slowness * output_hz),
            origin: settings.start_s * rate_hz,
            frames,
            rest: if settings.looped {
                (REST_S * output_hz) as u64
            } else {
                0
            },
            fade: fade_frames(frames, output_hz),
        }
    }

    /// What of the recording is heard at a sample of the round, seconds.
    pub(super) fn time_s(&self, frame: u64) -> f64 {
        (self.start_s + frame as f64 * self.step_s).min(self.end_s)
    }

    /// Fades samples that begin at a place of the round.
    pub(super) fn fade(&self, from: u64, samples: &mut [f32]) {
        for (at, sample) in (from..).zip(samples) {
            *sample *= fade_gain(at, self.frames, self.fade);
        }
    }
}
