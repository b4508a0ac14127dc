//! Where, when and how a night was recorded, and what it comes to.

use super::super::activity::Totals;
use super::super::card::Night;
use super::super::frame::{Frame, Stretch};
use super::super::moment::Moment;
use super::super::plot::{counted, thousands};
use super::super::settings::Position;
use super::super::tables::darwin::ROUNDED_DECIMALS;
use super::PlaceSharing;

/// Site, recorder, light, effort, weather.
pub(super) fn of(
    night: &Night,
    frame: &Frame,
    totals: &Totals,
    place: PlaceSharing,
) -> Vec<(&'static str, String)> {
    let settings = &night.settings;
    let light = frame.twilight.unwrap_or_default();
    let clock = |at: Option<Moment>| {
        at.map_or_else(
            || "not known".to_owned(),
            |at| at.plus_s(30.0).clock(settings.utc_offset_min),
        )
    };
    let has_sun = light.sunset.is_some() || light.sunrise.is_some();
    vec![
        ("Site", settings.site.clone()),
        ("Recorder", recorder(night)),
        ("Position", position(frame.position, place)),
        (
            "Sunset, sunrise",
            if has_sun {
                format!("{}, {}", clock(light.sunset), clock(light.sunrise))
            } else {
                String::new()
            },
        ),
        (
            "Planned watch",
            span(night, frame.planned).unwrap_or_else(|| "not stated".to_owned()),
        ),
        (
            "First to last recording",
            span(night, frame.recorded).unwrap_or_else(|| "no recording was read".to_owned()),
        ),
        ("Sound recorded", hours(totals.sound_h)),
        ("Clock", clock_words(night)),
        ("Temperature", temperature(totals)),
        ("Weather", settings.weather.clone()),
        ("Surveyor", settings.who.clone()),
        ("Remarks", settings.remarks.clone()),
    ]
}

/// What the night comes to, each with what it means.
pub(super) fn counts(totals: &Totals) -> Vec<Vec<String>> {
    let row = |name: &str, value: String| vec![name.to_owned(), value];
    let rate = totals.passes_per_h;
    let rate = rate.map_or_else(
        || super::parts::NONE.to_owned(),
        |rate| format!("{rate:.1}"),
    );
    vec![
        row("Watch", hours(totals.watch_h)),
        row("Passes", thousands(totals.passes)),
        row("Passes per hour of the watch", rate),
        row("Feeding buzzes", thousands(totals.buzzes)),
        row("Pulses", thousands(totals.pulses)),
        row("Recordings", thousands(totals.recordings)),
        row(
            "\u{2026} that hold bat pulses",
            thousands(totals.holding_pulses),
        ),
        row("\u{2026} that may hold some", thousands(totals.unsure)),
        row(
            "\u{2026} in which none was found",
            thousands(totals.probably_none),
        ),
        row("Copies, not counted", thousands(totals.copies)),
        row("Files that could not be read", thousands(totals.broken)),
    ]
}

fn hours(hours: f64) -> String {
    if hours < 2.0 {
        format!("{:.0} min", hours * 60.0)
    } else {
        format!("{hours:.1} h")
    }
}

fn recorder(night: &Night) -> String {
    let mut contents = night.recordings().map(|(_, _, content)| content);
    let named = contents.find(|content| content.model.is_some() || content.make.is_some());
    let parts = |content: &super::super::Content| {
        let firmware = content
            .firmware
            .as_ref()
            .map(|version| format!("firmware {version}"));
        let own = [content.make.clone(), content.model.clone(), firmware];
        own.into_iter().flatten().collect::<Vec<_>>().join(", ")
    };
    match named.map(parts) {
        Some(parts) => format!("{} ({parts})", night.key.recorder),
        None => night.key.recorder.clone(),
    }
}

fn position(position: Option<Position>, place: PlaceSharing) -> String {
    let Some(Position {
        latitude_deg,
        longitude_deg,
        accuracy_m,
    }) = position
    else {
        return "not known".to_owned();
    };
    let degrees = |value: f64, decimals: usize, names: [&str; 2]| {
        let name = if value < 0.0 { names[1] } else { names[0] };
        format!("{:.decimals$}\u{b0} {name}", value.abs())
    };
    let both = |decimals| {
        let north = degrees(latitude_deg, decimals, ["N", "S"]);
        format!("{north}, {}", degrees(longitude_deg, decimals, ["E", "W"]))
    };
    match place {
        PlaceSharing::Exact => {
            let off = accuracy_m.map(|off_m| format!(", \u{b1}{off_m:.0} m"));
            format!("{} (WGS84{})", both(5), off.unwrap_or_default())
        }
        PlaceSharing::Rounded => {
            format!(
                "{} (rounded to a hundredth of a degree, about a kilometre)",
                both(ROUNDED_DECIMALS)
            )
        }
        PlaceSharing::Withheld => "withheld".to_owned(),
    }
}

/// `2026-06-14 21:02 to 2026-06-15 05:12, 8.2 h`.
fn span(night: &Night, stretch: Option<Stretch>) -> Option<String> {
    let stretch = stretch?;
    let offset_min = night.settings.utc_offset_min;
    let at = |at: Moment| format!("{} {}", at.date(offset_min), at.clock(offset_min));
    Some(format!(
        "{} to {}, {}",
        at(stretch.from),
        at(stretch.to),
        hours(stretch.hours())
    ))
}

/// What the times of this report are, and what was taken off them.
fn clock_words(night: &Night) -> String {
    let settings = &night.settings;
    let zone = Moment::from_utc_s(0.0).iso(settings.utc_offset_min);
    let zone = zone.get(19..).unwrap_or_default();
    let error = settings.clock;
    let off = |seconds: f64| {
        let way = if seconds < 0.0 { "slow" } else { "fast" };
        format!("{:.0} s {way}", seconds.abs())
    };
    let corrected = match (error.at_setup_s, error.at_collection_s) {
        (0.0, None | Some(0.0)) => "no correction was made".to_owned(),
        (setup, None) => format!("corrected: the recorder was {}", off(setup)),
        (setup, Some(collection)) => format!(
            "corrected: the recorder was {} at set-up and {} at collection",
            off(setup),
            off(collection)
        ),
    };
    let weak = night
        .files
        .iter()
        .filter(|own| own.time.origin.is_weak())
        .count() as u32;
    let weak = if weak == 0 {
        String::new()
    } else {
        format!(
            "; the times of {} rest on the date of the file alone",
            counted(weak, "file", "files")
        )
    };
    format!("times are local, UTC{zone}; {corrected}{weak}")
}

fn temperature(totals: &Totals) -> String {
    let Some(range) = totals.temperature else {
        return String::new();
    };
    let place = if range.is_inside {
        "inside the recorder"
    } else {
        "outside"
    };
    let text = format!(
        "{:.1} to {:.1} \u{b0}C, {place}, as the files state",
        range.low_c, range.high_c
    );
    text.replace('-', "\u{2212}")
}
