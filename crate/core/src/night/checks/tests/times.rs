//! Hours, gaps, the clock, the card.

use super::*;

#[test]
fn a_recorder_that_stops_in_a_busy_hour_is_trouble() {
    let mut contents = sound_night();
    contents.retain(|own| own.start.as_ref().unwrap().local < at(180.0));
    let check = told(CheckKind::RecordedHours, contents);
    assert_told(&check, Trouble, "in the last 5 h");
    assert_told(
        &told(CheckKind::RecordedHours, sound_night()),
        Fine,
        "The timer was set from 21:00 to 05:00 (8 h)",
    );
}

/// Four recordings in the first half of a cold night, and none after, are no proof of a fault.
#[test]
fn a_recorder_that_hears_less_and_less_deserves_a_look_only() {
    let contents = [30.0, 50.0, 90.0, 170.0].map(|minutes| with_pass(&at(minutes)));
    let check = told(CheckKind::RecordedHours, contents.to_vec());
    assert_told(&check, Look, "towards the end");
}

#[test]
fn a_recorder_that_begins_late_is_trouble_and_a_schedule_forgives_less() {
    let mut late = sound_night();
    late.retain(|own| own.start.as_ref().unwrap().local > at(150.0));
    assert_told(
        &told(CheckKind::RecordedHours, late),
        Trouble,
        "began to record late",
    );
    let schedule = every(300.0, 20.0, 480.0);
    assert_told(
        &told(CheckKind::RecordedHours, schedule),
        Look,
        "in the first 20 min",
    );
    let schedule = every(300.0, 0.0, 480.0);
    assert_eq!(told(CheckKind::RecordedHours, schedule).verdict, Fine);
}

#[test]
fn without_a_timer_sunset_and_sunrise_serve_and_nothing_is_called_trouble() {
    let mut contents = sound_night();
    contents.retain(|own| own.start.as_ref().unwrap().local < at(180.0));
    let local = NightSettings {
        timer: None,
        ..timed()
    };
    let night = night(contents, &local);
    let moment = |minutes: f64| Moment::from_local(&at(minutes), 60);
    let mut frame = night.frame();
    let hours = |frame: &Frame| {
        checks(&night, frame)
            .into_iter()
            .find(|check| check.kind == CheckKind::RecordedHours)
    };
    assert_told(
        &hours(&frame).unwrap(),
        Unknown,
        "The first file begins at 21:05",
    );
    frame.twilight = Some(Twilight {
        sunset: moment(20.0),
        sunrise: moment(460.0),
        ..Twilight::default()
    });
    assert_told(
        &hours(&frame).unwrap(),
        Look,
        "The sun was down from 21:20 to 04:40",
    );
}

#[test]
fn a_silence_between_busy_hours_is_found() {
    let silent = |from: f64, to: f64| {
        let mut contents = sound_night();
        contents.retain(|own| {
            let local = &own.start.as_ref().unwrap().local;
            *local < at(from) || *local > at(to)
        });
        told(CheckKind::SilentGaps, contents)
    };
    assert_told(&silent(200.0, 340.0), Trouble, "(2 h");
    assert_told(&silent(200.0, 255.0), Look, "Nothing from 00:1");
    assert_eq!(silent(200.0, 230.0).verdict, Fine);
}

/// Activity that fades and comes back slowly leaves silences that are no fault: 3 recordings an hour, then none for 80 minutes.
#[test]
fn a_quiet_night_has_long_silences() {
    let minutes = [
        5.0, 25.0, 61.0, 140.0, 165.0, 215.0, 230.0, 290.0, 310.0, 370.0, 420.0, 470.0,
    ];
    let contents = minutes.map(|minutes| with_pass(&at(minutes))).to_vec();
    assert_told(&told(CheckKind::SilentGaps, contents), Fine, "(1 h 19 min)");
}

#[test]
fn a_schedule_that_is_broken_is_seen_at_once() {
    let mut contents = every(60.0, 0.0, 480.0);
    contents.drain(200..210);
    assert_told(
        &told(CheckKind::SilentGaps, contents),
        Look,
        "Nothing from 00:19 to 00:30 (11 min)",
    );
}

#[test]
fn numbers_that_go_on_while_time_goes_back_tell_of_a_clock_that_jumped() {
    let mut contents = sound_night();
    assert_told(
        &told(CheckKind::ClockJumps, contents.clone()),
        Fine,
        "follow one another in number",
    );
    for own in contents.iter_mut().skip(60) {
        let start = own.start.as_mut().unwrap();
        start.local = Moment::from_local(&start.local, 60)
            .unwrap()
            .plus_s(-3600.0)
            .local(60);
    }
    assert_told(
        &told(CheckKind::ClockJumps, contents),
        Trouble,
        "After number 59 at ",
    );
}

#[test]
fn recordings_that_overlap_and_dates_that_move_draw_a_look() {
    let mut contents = sound_night();
    contents[10].duration_s = 600.0;
    assert_told(&told(CheckKind::ClockJumps, contents), Look, "1 of ");

    let dated = |moved_s: f64| {
        let files = sound_night().into_iter().enumerate().map(|(number, own)| {
            let start = Moment::from_local(&own.start.as_ref().unwrap().local, 60).unwrap();
            let moved_s = if number < 60 { 0.0 } else { moved_s };
            let path = format!("FEN-07/{number:05}.wav");
            CardFile {
                modified_ms: Some((start.utc_s() + 6.0 + moved_s) * 1e3),
                ..file(&path, own)
            }
        });
        of(&night_of(files.collect()), CheckKind::ClockJumps)
    };
    assert_told(&dated(420.0), Look, "moved by 7 min");
    assert_eq!(dated(1.0).verdict, Fine);
}

/// Copying gives all files the date of the copy: they move against the time of recording all the time.
#[test]
fn dates_of_copying_are_no_jump() {
    let files = sound_night()
        .into_iter()
        .enumerate()
        .map(|(number, own)| CardFile {
            modified_ms: Some(1_781_500_000_000.0 + 100.0 * number as f64),
            ..file(&format!("FEN-07/{number:05}.wav"), own)
        });
    assert_eq!(
        of(&night_of(files.collect()), CheckKind::ClockJumps).verdict,
        Fine
    );
}

/// It cools by 1.2 degrees an hour. Names hold no number, and recordings are short: nothing else tells of the jump.
#[test]
fn a_temperature_that_goes_to_and_fro_tells_of_two_times() {
    let night_of_jump = |back_s: f64, step_c: f64| {
        let files = sound_night()
            .into_iter()
            .enumerate()
            .map(|(number, mut own)| {
                let start = own.start.as_mut().unwrap();
                let real = Moment::from_local(&start.local, 60).unwrap();
                let written = real.plus_s(if number < 60 { 0.0 } else { -back_s });
                start.local = written.local(60);
                let minutes = real.since_s(Moment::from_local(&at(0.0), 60).unwrap()) / 60.0;
                let celsius = 18.0 - 0.02 * minutes + 0.05 * (number % 3) as f64;
                own.temperature_inside_c = Some((celsius / step_c).round() * step_c);
                file(
                    &format!(
                        "FEN-07/{}.wav",
                        char::from_u32(0x3b1 + number as u32).unwrap()
                    ),
                    own,
                )
            });
        of(&night_of(files.collect()), CheckKind::ClockJumps)
    };
    assert_told(
        &night_of_jump(3600.0, 0.1),
        Look,
        "the temperature goes up and down",
    );
    assert_eq!(night_of_jump(0.0, 0.1).verdict, Fine);
    // A thermometer of whole degrees.
    assert_eq!(night_of_jump(0.0, 1.0).verdict, Fine);
}

fn named(ahead_s: f64) -> Night {
    let files = sound_night().into_iter().map(|own| {
        let start = Moment::from_local(&own.start.as_ref().unwrap().local, 60).unwrap();
        let name = start
            .plus_s(ahead_s)
            .local(60)
            .replace(['-', ':'], "")
            .replace('T', "_");
        file(&format!("FEN-07/{name}.wav"), own)
    });
    night_of(files.collect())
}

#[test]
fn names_and_metadata_are_compared() {
    let agreement = |ahead_s| of(&named(ahead_s), CheckKind::ClockAgreement);
    assert_told(&agreement(0.0), Fine, "name and metadata agree");
    assert_told(
        &agreement(-300.0),
        Look,
        "the name is 5 min behind the metadata",
    );
    // Names in another zone than the metadata, which state theirs.
    assert_told(
        &agreement(-3600.0),
        Fine,
        "the name is 1 h behind the metadata",
    );
}

#[test]
fn a_clock_that_changes_its_zone_draws_a_look() {
    let mut contents = sound_night();
    for own in contents.iter_mut().skip(60) {
        let start = own.start.as_mut().unwrap();
        start.local = Moment::from_local(&start.local, 60).unwrap().local(0);
        start.utc_offset_min = Some(0);
    }
    assert_told(
        &told(CheckKind::ClockAgreement, contents.clone()),
        Look,
        "from UTC+1:00 to UTC+0:00",
    );
    assert_eq!(told(CheckKind::ClockJumps, contents).verdict, Fine);
}

#[test]
fn times_of_files_dates_are_weak() {
    let mut contents = sound_night();
    let when = Moment::from_local(&contents[5].start.as_ref().unwrap().local, 60).unwrap();
    contents[5].start = None;
    let files = contents
        .into_iter()
        .enumerate()
        .map(|(number, own)| CardFile {
            modified_ms: own.start.is_none().then_some((when.utc_s() + 5.0) * 1e3),
            ..file(&format!("FEN-07/{number:05}.wav"), own)
        });
    let check = of(&night_of(files.collect()), CheckKind::WeakTimes);
    assert_told(&check, Look, "1 of ");
    assert_eq!(check.files, ["FEN-07/00005.wav"]);
    assert_eq!(told(CheckKind::WeakTimes, sound_night()).verdict, Fine);
}

#[test]
fn many_files_outside_the_timer_tell_of_a_wrong_clock() {
    let by_hours = |hours: f64| {
        let mut contents = sound_night();
        for own in &mut contents {
            let start = own.start.as_mut().unwrap();
            let moment = Moment::from_local(&start.local, 60).unwrap();
            start.local = moment.plus_s(hours * 3600.0).local(60);
        }
        told(CheckKind::OutsideHours, contents)
    };
    assert_eq!(by_hours(0.0).verdict, Fine);
    assert_eq!(by_hours(-2.0).verdict, Look);
    assert_told(&by_hours(-5.0), Trouble, "before 20:50 or after 05:10");
    let mut tested = sound_night();
    tested.push(content("2026-06-14T17:30:00"));
    let check = told(CheckKind::OutsideHours, tested);
    assert_told(&check, Fine, "1 of ");
}

#[test]
fn a_card_that_filled_shows_in_the_last_file_or_in_its_size() {
    let early = |cut_off: bool, bytes: u64| {
        let mut contents = sound_night();
        contents.retain(|own| own.start.as_ref().unwrap().local < at(240.0));
        contents.last_mut().unwrap().cut_off = cut_off;
        let number = contents.len() as u64;
        let files = contents.into_iter().enumerate().map(|(at, own)| {
            let mut file = file(&format!("FEN-07/{at:05}.wav"), own);
            file.examined.bytes = bytes / number;
            file
        });
        of(&night_of(files.collect()), CheckKind::CardFull)
    };
    assert_told(
        &early(true, 20_000_000_000),
        Trouble,
        "The last file is broken",
    );
    assert_told(
        &early(false, 31_500_000_000),
        Look,
        "98 % of a card of 32 GB",
    );
    assert_told(&early(false, 20_000_000_000), Fine, "20.0 GB");
    assert_eq!(told(CheckKind::CardFull, sound_night()).verdict, Fine);
}
