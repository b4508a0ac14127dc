//! Files, settings, temperature.

use super::*;

#[test]
fn broken_files_are_counted_and_listed() {
    let with_broken = |number: u32| {
        let mut files: Vec<CardFile> = sound_night()
            .into_iter()
            .enumerate()
            .map(|(at, own)| file(&format!("FEN-07/{at:05}.wav"), own))
            .collect();
        files.extend((0..number).map(|at| {
            let mut broken = file(
                &format!("FEN-07/20260614_23{at:02}00.wav"),
                Content::default(),
            );
            broken.examined.outcome = Outcome::Broken {
                message: "This is no WAV file.".to_owned(),
                advice: String::new(),
            };
            broken
        }));
        of(&night_of(files), CheckKind::BrokenFiles)
    };
    assert_eq!(with_broken(0).verdict, Fine);
    let check = with_broken(1);
    assert_told(
        &check,
        Look,
        "FEN-07/20260614_230000.wav: This is no WAV file.",
    );
    assert_eq!(check.files, ["FEN-07/20260614_230000.wav"]);
    assert_told(&with_broken(30), Trouble, "30 of ");
}

#[test]
fn a_file_that_is_cut_off_is_broken_too() {
    let mut contents = sound_night();
    contents[3].cut_off = true;
    assert_told(&told(CheckKind::BrokenFiles, contents), Look, "cut off");
}

#[test]
fn copies_are_named_and_long_lists_end() {
    let contents: Vec<Content> = (0..300)
        .map(|number| content(&at(f64::from(number))))
        .collect();
    let originals = contents
        .into_iter()
        .enumerate()
        .map(|(number, own)| file(&format!("a/{number:05}.wav"), own));
    let mut files: Vec<CardFile> = originals.collect();
    assert_eq!(
        of(&night_of(files.clone()), CheckKind::Copies).verdict,
        Fine
    );
    for at in 0..300 {
        let path = format!("b/{at:05}.wav");
        files.push(CardFile {
            path,
            ..files[at].clone()
        });
    }
    let check = of(&night_of(files), CheckKind::Copies);
    assert_told(&check, Look, "b/00000.wav is the same as a/00000.wav.");
    assert_eq!((check.files.len(), check.more), (MOST_FILES, 100));
}

#[test]
fn settings_that_change_are_told_with_their_time() {
    let changed = |change: &dyn Fn(&mut Content)| {
        let mut contents = sound_night();
        contents.iter_mut().skip(60).for_each(change);
        let when = contents[60].start.clone().unwrap().local[11..16].to_owned();
        (told(CheckKind::SettingsChanged, contents), when)
    };
    let (check, when) = changed(&|own| own.rate_hz = 256_000.0);
    assert_told(
        &check,
        Trouble,
        &format!("{when}: sampling rate changed from 384 kHz to 256 kHz."),
    );
    assert_eq!(check.files, ["FEN-07/00060.wav"]);
    let gain = |db: &str| vec![("gain".to_owned(), db.to_owned())];
    let (stated_late, _) = changed(&|own| own.recorder_settings = gain("12 dB"));
    assert_told(&stated_late, Fine, "384 kHz, 16-bit PCM, 1 channel.");

    let mut contents = sound_night();
    for (number, own) in contents.iter_mut().enumerate() {
        own.recorder_settings = gain(if number < 60 { "12 dB" } else { "24 dB" });
    }
    assert_told(
        &told(CheckKind::SettingsChanged, contents),
        Look,
        "gain changed from 12 dB to 24 dB",
    );
}

#[test]
fn what_is_measured_anew_in_each_file_is_no_setting() {
    let mut contents = sound_night();
    for (number, own) in contents.iter_mut().enumerate() {
        own.recorder_settings = vec![("trigger time".to_owned(), number.to_string())];
    }
    assert_eq!(told(CheckKind::SettingsChanged, contents).verdict, Fine);
}

#[test]
fn temperature_is_told_with_its_times() {
    assert_eq!(told(CheckKind::Temperature, sound_night()).verdict, Unknown);
    let mut contents = sound_night();
    contents[0].temperature_c = Some(14.5);
    contents.last_mut().unwrap().temperature_c = Some(4.0);
    assert_told(
        &told(CheckKind::Temperature, contents),
        Fine,
        "Bats seldom fly below 7",
    );
}
