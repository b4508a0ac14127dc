//! Whatever files say, the check tells something of it.

use proptest::prelude::*;

use super::*;
use crate::pulse::{Doubt, DoubtCount, Verdict};

fn number() -> impl Strategy<Value = f64> {
    prop_oneof![
        -10.0..1e3f64,
        Just(0.0),
        Just(f64::NAN),
        Just(f64::INFINITY),
        Just(-1e300)
    ]
}

prop_compose! {
    fn any_content()(
        minutes in 0.0..700.0f64,
        (duration_s, rate_khz, db) in (number(), number(), number()),
        (pulses, clipped_pulses, sounds) in any::<(u32, u32, usize)>(),
        khz in proptest::collection::vec(number(), 0..4),
        bands in 0..25usize,
        (stamped, bats, cut_off) in any::<(bool, bool, bool)>(),
    ) -> Content {
        let own = content(&at(minutes));
        Content {
            start: own.start.clone().filter(|_| stamped),
            duration_s,
            rate_hz: rate_khz * 1e3,
            verdict: if bats { Verdict::HoldsPulses } else { Verdict::ProbablyNone },
            cut_off,
            pulses,
            clipped_pulses,
            best_snr_db: Some(db),
            highest_khz: khz.first().copied(),
            tones_khz: khz,
            temperature_c: Some(db),
            doubts: vec![DoubtCount { doubt: Doubt::Wind, sounds }, DoubtCount { doubt: Doubt::Click, sounds }],
            noise_db: vec![db as f32; bands],
            ..own
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn any_night_is_told_of(
        contents in proptest::collection::vec((any_content(), number()), 0..60),
        planned in any::<bool>(),
    ) {
        let mut card = Card::default();
        for (number, (own, modified_ms)) in contents.into_iter().enumerate() {
            card.take(CardFile {
                modified_ms: Some(modified_ms),
                ..file(&format!("FEN-07/{number}.wav"), own)
            });
        }
        let settings = if planned { timed() } else { NightSettings::default() };
        for night in card.nights(&settings).0 {
            let mut frame = night.frame();
            frame.twilight = Some(Twilight {
                sunset: Moment::from_local(&at(20.0), 60),
                sunrise: Moment::from_local(&at(460.0), 60),
                ..Twilight::default()
            });
            let checks = checks(&night, &frame);
            prop_assert_eq!(checks.len(), RULES.len());
            let verdicts = checks.iter().map(|check| (check.verdict, check.kind));
            prop_assert!(verdicts.is_sorted());
            for check in checks {
                prop_assert!(!check.title.is_empty() && check.files.len() <= MOST_FILES);
            }
        }
    }
}
