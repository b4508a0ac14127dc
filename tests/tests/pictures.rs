//! Pictures pixel by pixel, against those in `tests/data/pictures` that a person has looked at.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use dusklens_tests::pictures::{all, kept};

/// Rounding differs between processors by what seldom comes to a shade; a shade is at most so many of 255.
const SHADE: u8 = 4;

#[test]
fn pictures_are_as_they_were_looked_at() {
    let pictures = all().unwrap();
    assert_eq!(pictures.len(), 11, "four renderings and seven maps");
    for picture in pictures {
        let name = &picture.name;
        let kept = kept(name).unwrap();
        assert_eq!(
            (picture.width, picture.height),
            (kept.width, kept.height),
            "{name}"
        );
        let off = picture.rgb.iter().zip(&kept.rgb);
        let worst = off.map(|(a, b)| a.abs_diff(*b)).max();
        assert!(worst <= Some(SHADE), "{name} is off by {worst:?} of 255");
    }
}

#[test]
fn a_changed_sound_would_be_noticed() {
    let pictures = all().unwrap();
    let (linear, sharpened) = (&pictures[0], kept("sharpened").unwrap());
    let far = linear
        .rgb
        .iter()
        .zip(&sharpened.rgb)
        .filter(|(a, b)| a.abs_diff(**b) > SHADE);
    assert!(far.count() > 300);
}
