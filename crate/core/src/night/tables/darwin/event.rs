//! Events: a night of a recorder with its effort, and below it each recording.

use std::rc::Rc;

use super::super::super::card::{Night, NightFile};
use super::super::super::content::Content;
use super::super::table::Column;
use super::super::table::Reading::{Number, Rounded, Text};
use super::super::table::{Table, table};
use super::place::{PlaceSharing, SharedPlace, Sharing};
use super::{interval, night_id, recording_id};

/// An event in the terms of Darwin Core.
pub(super) struct Event {
    id: String,
    parent: String,
    date: String,
    protocol: String,
    size: f64,
    unit: &'static str,
    effort: String,
    remarks: String,
    place: Rc<SharedPlace>,
}

/// The events of a night: itself, then its recordings in order of time. Copies and files that could not be read are none, and
/// neither is a night without a recording: nothing shows that the recorder ran.
#[must_use]
pub fn events(night: &Night, sharing: Sharing) -> Table {
    let position = night.frame().position;
    let place = SharedPlace::new(&night.settings.site, position, sharing.place);
    let place = Rc::new(place);
    let recordings = night.files.iter().filter_map(|own| {
        let content = own.counted()?;
        Some(recording(night, own, content, &place))
    });
    let whole = whole(night, &place, sharing);
    let rows = whole.into_iter().chain(recordings);
    table("Events in terms of Darwin Core", &columns(), rows)
}

/// The night itself. Its effort is what its recordings show: a recorder that stopped at midnight did not watch until dawn,
/// whatever its timer said.
fn whole(night: &Night, place: &Rc<SharedPlace>, sharing: Sharing) -> Option<Event> {
    let totals = night.totals();
    let recorded = night.frame().recorded?;
    let planned = totals
        .planned_h
        .map(|hours| format!("; {hours:.2} h planned"));
    Some(Event {
        id: night_id(night),
        parent: String::new(),
        date: interval(recorded.from, recorded.to, night.settings.utc_offset_min),
        protocol: protocol(night),
        size: totals.recorded_h,
        unit: "hour",
        effort: format!(
            "1 recorder; {:.2} h from its first recording to the end of its last{}; {} recordings with {:.3} h of sound; {} files could not be read",
            totals.recorded_h,
            planned.unwrap_or_default(),
            totals.recordings,
            totals.sound_h,
            totals.broken
        ),
        remarks: remarks(night, sharing),
        place: Rc::clone(place),
    })
}

/// What a person wrote of a night. Remarks may give its place away, and go out only where that may.
fn remarks(night: &Night, sharing: Sharing) -> String {
    let settings = &night.settings;
    let mut parts = vec!["A recording without pulses is no proof that no bat was there".to_owned()];
    if !settings.weather.is_empty() {
        parts.push(format!("weather: {}", settings.weather));
    }
    if !settings.remarks.is_empty() && sharing.place == PlaceSharing::Exact {
        parts.push(settings.remarks.clone());
    }
    parts.join("; ")
}

fn recording(night: &Night, own: &NightFile, content: &Content, place: &Rc<SharedPlace>) -> Event {
    let khz = content.rate_hz / 1e3;
    let weak = if own.time.origin.is_weak() {
        "; its time is only the date of the file"
    } else {
        ""
    };
    Event {
        id: recording_id(own),
        parent: night_id(night),
        date: interval(own.time.start, own.end(), night.settings.utc_offset_min),
        protocol: protocol(night),
        size: content.duration_s,
        unit: "second",
        effort: format!("1 recording of {:.3} s at {khz} kHz", content.duration_s),
        remarks: format!("judged by the program: {}{weak}", content.verdict.name()),
        place: Rc::clone(place),
    }
}

fn protocol(night: &Night) -> String {
    format!(
        "passive acoustic recording of ultrasound; pulses found and measured by Dusklens {}; a pass is at least {} pulses that \
         one animal may have made, ended by a silence of 1 s",
        env!("CARGO_PKG_VERSION"),
        night.settings.pass_min_pulses
    )
}

pub(super) fn columns() -> Vec<Column<Event>> {
    let mut columns: Vec<Column<Event>> = vec![
        Column(
            "eventID",
            "what the event is known by",
            Text(|row| row.id.clone()),
        ),
        Column(
            "parentEventID",
            "the night that a recording belongs to",
            Text(|row| row.parent.clone()),
        ),
        Column(
            "eventDate",
            "from when to when, ISO 8601",
            Text(|row| row.date.clone()),
        ),
        Column(
            "samplingProtocol",
            "how it was done",
            Text(|row| row.protocol.clone()),
        ),
        Column(
            "sampleSizeValue",
            "how long it lasted",
            Number(3, |row| Some(row.size)),
        ),
        Column("sampleSizeUnit", "in what", Text(|row| row.unit.to_owned())),
        Column(
            "samplingEffort",
            "how much was done",
            Text(|row| row.effort.clone()),
        ),
    ];
    columns.extend(place_columns());
    columns.push(Column(
        "eventRemarks",
        "what else there is to say",
        Text(|row| row.remarks.clone()),
    ));
    columns
}

fn place_columns() -> [Column<Event>; 8] {
    [
        Column(
            "locality",
            "name of the site",
            Text(|row| row.place.locality.clone()),
        ),
        Column(
            "decimalLatitude",
            "degrees, north positive",
            Rounded(|row| row.place.latitude),
        ),
        Column(
            "decimalLongitude",
            "degrees, east positive",
            Rounded(|row| row.place.longitude),
        ),
        Column(
            "geodeticDatum",
            "what they refer to",
            Text(|row| row.place.datum.clone()),
        ),
        Column(
            "coordinateUncertaintyInMeters",
            "radius that holds the place",
            Number(0, |row| row.place.uncertainty_m),
        ),
        Column(
            "coordinatePrecision",
            "step that the position was rounded to, degrees",
            Text(|row| row.place.precision.clone()),
        ),
        Column(
            "dataGeneralizations",
            "what was made less exact",
            Text(|row| row.place.generalizations.clone()),
        ),
        Column(
            "informationWithheld",
            "what is known and not given",
            Text(|row| row.place.withheld.clone()),
        ),
    ]
}
