//! Whole nights: a sound one, and those with next to nothing in them.

use super::*;

fn verdicts(checks: &[Check]) -> Vec<(CheckKind, CheckVerdict)> {
    checks
        .iter()
        .map(|check| (check.kind, check.verdict))
        .collect()
}

fn kinds(checks: &[Check]) -> usize {
    let mut kinds: Vec<CheckKind> = checks.iter().map(|check| check.kind).collect();
    kinds.sort();
    kinds.dedup();
    kinds.len()
}

#[test]
fn a_sound_night_draws_no_remark() {
    let night = night(sound_night(), &timed());
    let checks = checks(&night, &night.frame());
    let remarks: Vec<&Check> = checks
        .iter()
        .filter(|check| check.verdict <= Look)
        .collect();
    assert!(remarks.is_empty(), "{remarks:#?}");
    assert_eq!(kinds(&checks), RULES.len());
    for check in &checks {
        assert!(
            !check.title.is_empty() && check.rule.ends_with('.'),
            "{check:#?}"
        );
        assert!(
            check.evidence.iter().all(|said| said.ends_with('.')),
            "{check:#?}"
        );
    }
}

#[test]
fn the_worst_comes_first() {
    let mut contents = sound_night();
    contents.truncate(40);
    contents[20].rate_hz = 256_000.0;
    contents[21].tones_khz = vec![40.0];
    let night = night(contents, &timed());
    let checks = checks(&night, &night.frame());
    assert_eq!(checks[0].verdict, Trouble);
    assert!(
        verdicts(&checks)
            .iter()
            .map(|&(_, verdict)| verdict)
            .is_sorted()
    );
}

#[test]
fn a_night_without_a_file_is_told_of_too() {
    let mut night = night(sound_night(), &timed());
    night.files.clear();
    let checks = checks(&night, &night.frame());
    assert_eq!(kinds(&checks), RULES.len());
    assert_eq!(checks[0].kind, CheckKind::RecordedHours);
    assert_eq!(checks[0].verdict, Trouble);
}

#[test]
fn a_single_file_is_told_of_too() {
    let night = night([with_pass(&at(120.0))], &NightSettings::default());
    let checks = checks(&night, &night.frame());
    assert_eq!(kinds(&checks), RULES.len());
    assert!(
        checks.iter().all(|check| check.verdict > Look),
        "{checks:#?}"
    );
}

#[test]
fn a_night_of_broken_files_alone_is_trouble() {
    let broken = |number: u32| {
        CardFile::unreadable(
            format!("FEN-07/20260614_23{number:02}00.wav"),
            0,
            None,
            "The file is empty.".to_owned(),
            String::new(),
        )
    };
    let night = night_of((0..2).map(broken).collect());
    let checks = checks(&night, &night.frame());
    assert_eq!(kinds(&checks), RULES.len());
    assert_told(
        &of(&night, CheckKind::BrokenFiles),
        Trouble,
        "2 of 2 files (100 %): without a single byte",
    );
}
