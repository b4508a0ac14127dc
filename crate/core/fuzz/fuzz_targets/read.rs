//! Opens any bytes as a recording and reads all that it claims to have.
//!
//! What may not happen: a panic, more frames than bytes, a number that is none, or memory
//! in proportion to what a header claims (run with `-rss_limit_mb=256`).
//! `seeds/read` holds one small file for each layout and each fault; a unit test of the core
//! replays it. A file that crashed this target belongs there too, named by its fault.

#![no_main]

use dusklens_core::recording::{OpenOptions, Recording};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    for expansion in [None, Some(10.0)] {
        let Ok(recording) = Recording::open(bytes, &OpenOptions { expansion }) else {
            continue;
        };
        let facts = recording.facts();
        assert!(facts.frames <= bytes.len() as u64);
        assert!(facts.rate_hz.is_finite() && facts.duration_s.is_finite());
        assert!(facts.notices.len() < 100);
        let mut samples = Vec::new();
        for channel in [0, facts.channels - 1, facts.channels.saturating_add(1)] {
            if recording.read(channel, 0..u64::MAX, &mut samples).is_ok() {
                assert_eq!(samples.len() as u64, facts.frames);
                assert!(samples.iter().all(|sample| sample.is_finite()));
            }
        }
    }
});
