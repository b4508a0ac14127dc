//! Pictures of the cases in which the measurement fails.

use std::error::Error;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use dusklens_core::draw::{ColourMap, Drawing, Look, View};
use dusklens_core::pulse::Pulse;
use dusklens_core::teach::{Placed, Scene};

use super::model::{Line, Picture};
use crate::truth::draw::{Case, Set};
use crate::truth::report::{extra_text, missed_text};
use crate::truth::run::{Job, Judged, Outcome};
use crate::truth::silence::Kind;

type Failure = Box<dyn Error + Send + Sync>;

/// Size of a picture, pixels.
const WIDTH_PX: u32 = 560;
const HEIGHT_PX: u32 = 320;
/// Time shown on either side of what failed, seconds, and frequency, kilohertz.
const AROUND_S: f64 = 0.02;
const AROUND_KHZ: f64 = 15.0;

/// What failed at one place.
struct Failed<'a> {
    outcome: &'a Outcome,
    caption: String,
    span_s: (f64, f64),
    band_khz: (f64, f64),
    found: Option<&'a Pulse>,
    /// How plain it was, decibels.
    snr_db: f64,
}

/// One picture each of what is most often wrong: a call that another sound hides, an echo that is counted, two
/// animals that cross. Of each kind, the plainest one.
pub(super) fn pictures(set: Set, outcomes: &[Outcome]) -> Result<Vec<Picture>, Failure> {
    let missed_under =
        |job: Job| matches!(job, Job::Bats(Case::Over(kind), _) if kind != Kind::Hiss);
    let of = |job: Job, case: Case| matches!(job, Job::Bats(own, _) if own == case);
    let candidates: [Vec<Failed>; 3] = [
        missed(outcomes, missed_under, Judged::is_plain),
        extra(outcomes, |job| !matches!(job, Job::Silence(..))),
        missed(
            outcomes,
            |job| of(job, Case::TwoAnimals),
            |pulse| !pulse.is_plain(),
        ),
    ];
    candidates
        .into_iter()
        .filter_map(|kind| {
            kind.into_iter()
                .max_by(|a, b| a.snr_db.total_cmp(&b.snr_db))
        })
        .map(|failed| picture(set, &failed))
        .collect()
}

fn missed<'a>(
    outcomes: &'a [Outcome],
    wanted: impl Fn(Job) -> bool,
    eligible: impl Fn(&Judged) -> bool,
) -> Vec<Failed<'a>> {
    let own = outcomes.iter().filter(|o| wanted(o.job));
    let pulses = own.flat_map(|o| o.pulses.iter().map(move |pulse| (o, pulse)));
    pulses
        .filter(|(_, pulse)| pulse.measured.is_none() && eligible(pulse))
        .map(|(outcome, pulse)| Failed {
            outcome,
            caption: missed_text(outcome, pulse),
            span_s: (pulse.truth.start_s, pulse.truth.end_s),
            band_khz: (pulse.truth.low_khz, pulse.truth.high_khz),
            found: None,
            snr_db: pulse.truth.snr_db.unwrap_or(0.0),
        })
        .collect()
}

fn extra<'a>(outcomes: &'a [Outcome], wanted: impl Fn(Job) -> bool) -> Vec<Failed<'a>> {
    let own = outcomes.iter().filter(|o| wanted(o.job));
    own.flat_map(|o| o.extras.iter().map(move |extra| (o, extra)))
        .map(|(outcome, (extra, found))| Failed {
            outcome,
            caption: extra_text(outcome, *extra, found),
            span_s: (found.start_s, found.end_s),
            band_khz: (found.low_khz, found.high_khz),
            found: Some(found),
            snr_db: found.snr_db,
        })
        .collect()
}

/// Draws what failed with the laws of the calls around it, and with what was measured there.
fn picture(set: Set, failed: &Failed) -> Result<Picture, Failure> {
    let scene = failed.outcome.job.scene(set);
    let view = View {
        channel: 0,
        start_s: failed.span_s.0 - AROUND_S,
        end_s: failed.span_s.1 + AROUND_S,
        low_khz: (failed.band_khz.0 - AROUND_KHZ).max(0.0),
        high_khz: failed.band_khz.1 + AROUND_KHZ,
        width_px: WIDTH_PX,
        height_px: HEIGHT_PX,
    };
    let pixels = painted(&scene, &view)?;
    let laws = scene.calls.iter().filter_map(|call| law(call, &view));
    let found = failed
        .outcome
        .pulses
        .iter()
        .filter_map(|pulse| pulse.measured.as_ref());
    let contours = found
        .chain(failed.found)
        .filter_map(|pulse| contour(pulse, &view));
    Ok(Picture {
        caption: failed.caption.clone(),
        axes: format!(
            "{:.3} to {:.3} s, {:.0} to {:.0} kHz",
            view.start_s, view.end_s, view.low_khz, view.high_khz
        ),
        png: STANDARD.encode(encoded(&pixels)?),
        size_px: (WIDTH_PX, HEIGHT_PX),
        laws: laws.collect(),
        contours: contours.collect(),
    })
}

fn painted(scene: &Scene, view: &View) -> Result<Vec<u8>, Failure> {
    let samples = scene.render();
    let rate_hz = f64::from(scene.rate_hz);
    let mut drawing = Drawing::new(view, 1, rate_hz, samples.len() as u64)?;
    while let Some(block) = drawing.next_block() {
        let end = (block.end as usize).min(samples.len());
        drawing.feed(&samples[(block.start as usize).min(end)..end]);
    }
    let look = Look {
        map: ColourMap::Grey,
        floor_db: None,
        range_db: None,
    };
    let mut pixels = Vec::new();
    drawing.raster().paint(&look, &mut pixels)?;
    Ok(pixels)
}

fn encoded(pixels: &[u8]) -> Result<Vec<u8>, Failure> {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, WIDTH_PX, HEIGHT_PX);
    encoder.set_color(png::ColorType::Rgba);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.write_header()?.write_image_data(pixels)?;
    Ok(bytes)
}

/// Where a call's law runs in a view.
fn law(placed: &Placed, view: &View) -> Option<Line> {
    let steps = 60_u32;
    let points = (0..=steps).map(|step| {
        let t_ms = placed.call.duration_ms() * f64::from(step) / f64::from(steps);
        (placed.onset_s + t_ms / 1e3, placed.call.law.khz(t_ms))
    });
    line(points, view)
}

fn contour(pulse: &Pulse, view: &View) -> Option<Line> {
    let at = |n: usize| pulse.contour.start_s + n as f64 * pulse.contour.step_s;
    let khz = pulse.contour.khz.iter().enumerate();
    line(khz.map(|(n, &khz)| (at(n), f64::from(khz))), view)
}

/// Seconds and kilohertz as pixels; none where nothing lies in the view.
fn line(points: impl Iterator<Item = (f64, f64)>, view: &View) -> Option<Line> {
    let (time, frequency) = (view.time_axis(), view.frequency_axis());
    let inside = |(s, khz): &(f64, f64)| {
        (view.start_s..view.end_s).contains(s) && (view.low_khz..view.high_khz).contains(khz)
    };
    let line: Line = points
        .filter(inside)
        .map(|(s, khz)| (time.position_px(s), frequency.position_px(khz)))
        .collect();
    (line.len() > 1).then_some(line)
}
