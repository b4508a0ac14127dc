//! From a recording to what is heard, piece by piece.

use std::ops::Range;

use super::divide::{self, Divider};
use super::gain::AutomaticGain;
use super::high_pass::HighPass;
use super::limiter::Limiter;
use super::low_pass::LowPass;
use super::resample::Resampler;
use super::rounds::Round;
use super::settings::{ListeningError, ListeningSettings, Method};
use super::shift::Shift;

/// Samples before the first that is heard are run through the filters for so long, seconds: the high pass has
/// then settled to -80 dB.
const SETTLING_S: f64 = 0.005;
/// The most samples of one piece: what it takes from the recording stays within some megabytes.
const LARGEST_PIECE: usize = 1 << 14;
/// What is louder than this is no sound but a broken file; squares of it still are numbers.
const LOUDEST: f32 = 1e4;

/// What was put out in one go.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Piece {
    /// The moment of the recording that its first sample is from, seconds.
    pub start_s: f64,
    /// The moment that the sample after its last is from, seconds. In between, time runs evenly.
    pub end_s: f64,
    /// Whether it is the silence between two rounds of a loop.
    pub resting: bool,
}

/// What is done to the samples at the recording's rate.
#[derive(Debug)]
enum Stage {
    Plain,
    Shift(Shift),
    Divide(Divider),
}

/// A recording, on its way to somebody's ears.
#[derive(Debug)]
pub struct Listening {
    rate_hz: f64,
    recorded: u64,
    output_hz: u32,
    looped: bool,
    round: Round,
    high_pass: Option<HighPass>,
    stage: Stage,
    resampler: Resampler,
    low_pass: Option<LowPass>,
    gain: Option<AutomaticGain>,
    limiter: Limiter,
    /// The frame of the recording that is read next.
    reading: i64,
    /// The output number that is resampled next; below 0 the filters settle.
    resampling: i64,
    /// The sample of the round that is put out next, counting its rest.
    at: u64,
    block: Vec<f32>,
}

impl Listening {
    /// Prepares to hear a stretch of one channel of `frames` samples at `rate_hz`, at a loudspeaker's rate.
    ///
    /// # Errors
    /// Fails where the settings cannot be met in this recording.
    pub fn new(
        settings: &ListeningSettings,
        rate_hz: f64,
        frames: u64,
        output_hz: u32,
    ) -> Result<Self, ListeningError> {
        let duration_s = frames as f64 / rate_hz;
        settings.check(rate_hz, duration_s, output_hz)?;
        let heard_hz = f64::from(output_hz);
        let (stage, low_pass) = match settings.method {
            Method::Expansion { .. } => (Stage::Plain, None),
            Method::Heterodyne {
                tuning_khz,
                bandwidth_khz,
            } => (
                Stage::Shift(Shift::new(tuning_khz, rate_hz)),
                Some(LowPass::new(bandwidth_khz * 1e3, heard_hz)),
            ),
            Method::Division { factor } => (Stage::Divide(Divider::new(factor)), None),
        };
        let high_pass = settings
            .high_pass_khz
            .and_then(|edge_khz| HighPass::new(edge_khz * 1e3, rate_hz));
        let mut listening = Self {
            rate_hz,
            recorded: frames,
            output_hz,
            looped: settings.looped,
            round: Round::new(settings, rate_hz, duration_s, heard_hz),
            high_pass,
            stage,
            resampler: Resampler::new(rate_hz, heard_hz * settings.method.slowness()),
            low_pass,
            gain: settings
                .automatic_gain
                .then(|| AutomaticGain::new(heard_hz)),
            limiter: Limiter::new(heard_hz),
            reading: 0,
            resampling: 0,
            at: 0,
            block: Vec::new(),
        };
        listening.begin();
        Ok(listening)
    }

    /// The rate of what is put out, hertz.
    #[must_use]
    pub fn output_hz(&self) -> u32 {
        self.output_hz
    }

    /// How many samples one round through the stretch is.
    #[must_use]
    pub fn round_frames(&self) -> u64 {
        self.round.frames
    }

    /// Tunes a heterodyne anew, as far as the recording's frequencies reach; the other methods have no tuning. It is
    /// heard from the next piece on, without a click.
    pub fn tune(&mut self, tuning_khz: f64) {
        if let Stage::Shift(shift) = &mut self.stage
            && tuning_khz.is_finite()
        {
            shift.tune(tuning_khz.clamp(0.0, self.rate_hz / 2e3));
        }
    }

    /// Puts out the next piece, at most `most` samples, into `out`, which is emptied first; none where it is over.
    /// `read` fills its buffer with the samples of a range of frames. However the pieces are cut, the sound is the same.
    ///
    /// # Errors
    /// Fails where `read` fails; nothing was put out then, and the same piece can be asked for again.
    pub fn next_piece<E>(
        &mut self,
        most: usize,
        read: impl FnOnce(Range<u64>, &mut Vec<f32>) -> Result<(), E>,
        out: &mut Vec<f32>,
    ) -> Result<Option<Piece>, E> {
        out.clear();
        if self.looped && self.at >= self.round.frames + self.round.rest {
            self.begin();
        }
        let most = most.clamp(1, LARGEST_PIECE) as u64;
        if self.at >= self.round.frames {
            let rest = (self.round.frames + self.round.rest - self.at).min(most);
            return Ok((rest > 0).then(|| self.rest(rest, out)));
        }
        let count = most.min(self.round.frames - self.at);
        let late = self.delay();
        let end = (self.at + count) as i64 + late;
        self.bring(end, read)?;
        self.hear(end, late, out);
        self.round.fade(self.at, out);
        let start_s = self.round.time_s(self.at);
        self.at += count;
        Ok(Some(Piece {
            start_s,
            end_s: self.round.time_s(self.at),
            resting: false,
        }))
    }

    /// Goes to the beginning of the stretch.
    fn begin(&mut self) {
        self.at = 0;
        // Twice the delay: by then no filter knows anymore what came before.
        self.resampling = -2 * self.delay();
        let (needed, _) = self.resampler.needed(self.round.origin, self.resampling);
        let settling = (SETTLING_S * self.rate_hz).ceil() as i64;
        self.reading = needed - settling - self.stage.delay();
        self.resampler.begin(self.reading - self.stage.delay());
        if let Some(high_pass) = &mut self.high_pass {
            high_pass.reset();
        }
        self.stage.begin(self.reading);
    }

    /// Silence between two rounds.
    fn rest(&mut self, frames: u64, out: &mut Vec<f32>) -> Piece {
        out.resize(frames as usize, 0.0);
        self.at += frames;
        let end_s = self.round.time_s(self.round.frames);
        Piece {
            start_s: end_s,
            end_s,
            resting: true,
        }
    }

    /// By how many samples the filters at the output's rate are late.
    fn delay(&self) -> i64 {
        let low_pass = self.low_pass.as_ref().map_or(0, LowPass::delay);
        (low_pass + self.limiter.delay()) as i64
    }

    /// Reads what the resampler needs for the output numbers before `end`, and treats it at the recording's rate.
    fn bring<E>(
        &mut self,
        end: i64,
        read: impl FnOnce(Range<u64>, &mut Vec<f32>) -> Result<(), E>,
    ) -> Result<(), E> {
        let (_, needed) = self.resampler.needed(self.round.origin, end - 1);
        let missing = needed - self.resampler.end();
        if missing <= 0 {
            return Ok(());
        }
        let stop = self.reading + missing;
        let inside = |frame: i64| u64::try_from(frame).unwrap_or(0).min(self.recorded);
        let range = inside(self.reading)..inside(stop);
        let mut block = std::mem::take(&mut self.block);
        let before = (-self.reading).clamp(0, missing) as usize;
        let outcome = if range.is_empty() {
            block.clear();
            Ok(())
        } else {
            read(range, &mut block)
        };
        if outcome.is_ok() {
            // Before its start and after its end a recording is silent.
            block.splice(0..0, std::iter::repeat_n(0.0, before));
            block.resize(missing as usize, 0.0);
            self.treat(&mut block);
            self.reading = stop;
        }
        self.block = block;
        outcome
    }

    fn treat(&mut self, block: &mut [f32]) {
        for sample in block.iter_mut() {
            *sample = if sample.is_finite() {
                sample.clamp(-LOUDEST, LOUDEST)
            } else {
                0.0
            };
        }
        if let Some(high_pass) = &mut self.high_pass {
            high_pass.run(block);
        }
        self.stage.run(block);
        self.resampler.push(block);
    }

    /// Resamples up to output number `end` and has it pass all that comes afterwards.
    fn hear(&mut self, end: i64, late: i64, out: &mut Vec<f32>) {
        let origin = self.round.origin;
        out.extend((self.resampling..end).map(|at| self.resampler.value(origin, at)));
        if let Some(low_pass) = &mut self.low_pass {
            low_pass.run(out);
        }
        if let Some(gain) = &mut self.gain {
            gain.run(out);
        }
        self.limiter.run(out);
        // What came out first is from before the stretch.
        let early = self.at as i64 - (self.resampling - late);
        out.drain(..early.clamp(0, out.len() as i64) as usize);
        self.resampling = end;
        let (needed, _) = self.resampler.needed(origin, end);
        self.resampler.drop_before(needed);
    }
}

impl Stage {
    /// By how many samples what comes out is late.
    fn delay(&self) -> i64 {
        match self {
            Self::Plain | Self::Shift(_) => 0,
            Self::Divide(_) => divide::REACH as i64,
        }
    }

    /// Begins anew at a frame of the recording.
    fn begin(&mut self, frame: i64) {
        match self {
            Self::Plain => {}
            Self::Shift(shift) => shift.begin(frame),
            Self::Divide(divider) => divider.reset(),
        }
    }

    fn run(&mut self, block: &mut [f32]) {
        match self {
            Self::Plain => {}
            Self::Shift(shift) => shift.run(block),
            Self::Divide(divider) => divider.run(block),
        }
    }
}
