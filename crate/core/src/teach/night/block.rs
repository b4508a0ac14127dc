//! Long stretches of sound, made once, of which every recording takes pieces.

use std::f64::consts::FRAC_PI_2;

use rand::{Rng, RngExt};

use crate::teach::background::amplitude;
use crate::teach::random::{Stream, between, stream};
use crate::teach::survey::{bush_crickets, fen_hiss};
use crate::teach::{Background, Tone, Wind};

/// Hiss, wind, insects and a tone at one sampling rate.
#[derive(Debug)]
pub(super) struct Blocks {
    pub(super) hiss: Vec<f32>,
    /// Root mean square in a gust: full scale.
    pub(super) wind: Vec<f32>,
    pub(super) insects: Vec<f32>,
    /// A whole number of its cycles.
    pub(super) tone: Vec<f32>,
}

/// Which stretches are needed.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Needed {
    pub(super) longest_s: f64,
    pub(super) wind: bool,
    pub(super) insects: bool,
}

/// A tone that a microcontroller's clock of 38.4 kHz would leave; a whole number of its cycles
/// lasts as long as a whole number of samples at every rate that is a multiple of 100 Hz.
const TONE_KHZ: f64 = 38.4;
const TONE_DB: f64 = -52.0;
const TONE_PERIOD_S: f64 = 0.01;

impl Blocks {
    pub(super) fn new(rate_hz: u32, needed: &Needed, seed: u64) -> Blocks {
        // Long enough that pieces of two recordings seldom share much.
        let length_s = 2.0 * needed.longest_s + 1.0;
        let rate = f64::from(rate_hz);
        let block = |number: u32, sounds: &[Background], length_s: f64| {
            let mut samples = vec![0.0; (length_s * rate) as usize];
            let mut random = stream(seed ^ u64::from(rate_hz), Stream::Background(number));
            for sound in sounds {
                sound.add_to(&mut samples, rate, &mut random);
            }
            samples
        };
        let when = |wanted: bool| if wanted { length_s } else { 0.0 };
        let wind = Wind {
            rms_db: 0.0,
            corner_hz: 500.0,
            gust_s: 0.9,
        };
        let tone = Tone::steady(TONE_KHZ, TONE_DB);
        Blocks {
            hiss: block(0, &[Background::Hiss(fen_hiss())], length_s),
            wind: block(1, &[Background::Wind(wind)], when(needed.wind)),
            insects: block(2, &bush_crickets(), when(needed.insects)),
            tone: block(3, &[Background::Tone(tone)], TONE_PERIOD_S),
        }
    }
}

/// Adds two pieces of a noise, one of them backwards; together they are as loud as the noise.
pub(super) fn add_noise(into: &mut [f32], block: &[f32], gain_db: f64, random: &mut impl Rng) {
    let share = between(random, 0.35, 0.65) * FRAC_PI_2;
    let gain = amplitude(gain_db);
    let forwards = piece(block, into.len(), random);
    add(
        into,
        forwards.iter(),
        sign(random) * gain * libm::cos(share),
    );
    let backwards = piece(block, into.len(), random);
    add(
        into,
        backwards.iter().rev(),
        sign(random) * gain * libm::sin(share),
    );
}

/// Adds two pieces of a song, the second up to 20 dB fainter: an animal near and one further away.
pub(super) fn add_song(into: &mut [f32], block: &[f32], gain_db: f64, random: &mut impl Rng) {
    let gain = amplitude(gain_db);
    let near = piece(block, into.len(), random);
    add(into, near.iter(), sign(random) * gain);
    let fainter = amplitude(-between(random, 6.0, 20.0));
    let far = piece(block, into.len(), random);
    add(into, far.iter(), sign(random) * gain * fainter);
}

/// Adds a sound that repeats.
pub(super) fn add_repeated(into: &mut [f32], period: &[f32], gain_db: f64) {
    add(into, period.iter().cycle(), amplitude(gain_db));
}

fn piece<'a>(block: &'a [f32], frames: usize, random: &mut impl Rng) -> &'a [f32] {
    let last = block.len().saturating_sub(frames);
    let from = random.random_range(0..=last);
    block
        .get(from..(from + frames).min(block.len()))
        .unwrap_or_default()
}

fn add<'a>(into: &mut [f32], sound: impl Iterator<Item = &'a f32>, gain: f64) {
    let gain = gain as f32;
    for (sample, heard) in into.iter_mut().zip(sound) {
        *sample += gain * heard;
    }
}

fn sign(random: &mut impl Rng) -> f64 {
    if random.random_bool(0.5) { 1.0 } else { -1.0 }
}
