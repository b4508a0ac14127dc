//! A planned recording -> its samples.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::block::{Blocks, Needed, add_noise, add_repeated, add_song};
use super::{NightPlan, PlannedRecording, Sound, filter};
use crate::teach::random::{Stream, between, stream};
use crate::teach::{Background, Bumps, Rain};

/// Makes the samples of a plan's recordings. A clone shares the long stretches of sound, so each
/// thread can have its own.
#[derive(Debug, Clone)]
pub struct Renderer {
    blocks: Arc<BTreeMap<u32, Blocks>>,
    samples: Vec<f32>,
    spare: Vec<f32>,
}

impl Renderer {
    /// A renderer for the files of this plan, with stretches twice as long as its longest recording.
    pub fn new(plan: &NightPlan) -> Renderer {
        let mut needed: BTreeMap<u32, Needed> = BTreeMap::new();
        for recording in plan.files.iter().filter_map(|file| file.recording()) {
            let here = needed.entry(recording.rate_hz).or_default();
            here.longest_s = here.longest_s.max(recording.duration_s);
            here.wind |= matches!(recording.sound, Sound::Wind | Sound::Rain);
            here.insects |= recording.sound == Sound::Insects;
        }
        let blocks = needed.iter().map(|(rate_hz, needed)| {
            let blocks = Blocks::new(*rate_hz, needed, plan.truth.seed);
            (*rate_hz, blocks)
        });
        Renderer {
            blocks: Arc::new(blocks.collect()),
            samples: Vec::new(),
            spare: Vec::new(),
        }
    }

    /// The samples of a recording, before it is cut off; 1.0 is full scale.
    pub fn samples(&mut self, recording: &PlannedRecording) -> &[f32] {
        let rate_hz = f64::from(recording.rate_hz);
        self.samples.clear();
        self.samples.resize(recording.frames(), 0.0);
        // A file of another plan has its calls and its rain, but no stretches to take from.
        if let Some(blocks) = self.blocks.get(&recording.rate_hz) {
            add_backgrounds(&mut self.samples, recording, blocks);
        }
        for placed in recording.calls().iter().flatten() {
            placed.add_to(&mut self.samples, rate_hz);
        }
        if recording.microphone_loss_db > 0.0 {
            let loss_db = recording.microphone_loss_db;
            filter::lose_high(&mut self.samples, rate_hz, loss_db, &mut self.spare);
        }
        // Electronics come after the microphone.
        if let (true, Some(blocks)) = (recording.tone, self.blocks.get(&recording.rate_hz)) {
            add_repeated(&mut self.samples, &blocks.tone, 0.0);
        }
        filter::high_pass(&mut self.samples, rate_hz, recording.high_pass_khz);
        &self.samples
    }
}

fn add_backgrounds(samples: &mut [f32], recording: &PlannedRecording, blocks: &Blocks) {
    let rate_hz = f64::from(recording.rate_hz);
    let mut random = stream(recording.seed, Stream::Background(0));
    add_noise(samples, &blocks.hiss, recording.hiss_gain_db, &mut random);
    let gain_db = recording.sound_gain_db;
    match recording.sound {
        Sound::Bats(_) | Sound::Nothing => {}
        Sound::Rain => {
            let wind_db = gain_db - between(&mut random, 18.0, 26.0);
            add_noise(samples, &blocks.wind, wind_db, &mut random);
            let rain = Rain {
                drops_per_s: between(&mut random, 20.0, 70.0),
                level_db: gain_db - between(&mut random, 7.0, 14.0),
            };
            Background::Rain(rain).add_to(samples, rate_hz, &mut random);
        }
        Sound::Insects => {
            let song_db = gain_db - between(&mut random, -4.0, 10.0);
            add_song(samples, &blocks.insects, song_db, &mut random);
        }
        Sound::Wind => {
            let wind_db = gain_db - between(&mut random, 6.0, 16.0);
            add_noise(samples, &blocks.wind, wind_db, &mut random);
        }
        Sound::Handling => {
            let bumps = Bumps {
                per_s: 1.5,
                level_db: gain_db - 8.0,
            };
            Background::Bumps(bumps).add_to(samples, rate_hz, &mut random);
        }
    }
}
