//! Tells the person which step is running and for how long.

use std::sync::mpsc::{RecvTimeoutError, channel};
use std::thread;
use std::time::{Duration, Instant};

use anyhow::Result;

/// How long a step may be silent before it says that it still runs.
const SIGN_OF_LIFE: Duration = Duration::from_secs(15);

/// Runs one step under a heading, with a sign of life while it lasts and its time at the end.
///
/// # Errors
/// Those of `work`.
pub(crate) fn step<T>(name: &str, work: impl FnOnce() -> Result<T>) -> Result<T> {
    println!("==> {name}");
    let begun = Instant::now();
    let (finished, finish) = channel::<()>();
    let result = thread::scope(|scope| {
        scope.spawn(move || {
            while finish.recv_timeout(SIGN_OF_LIFE) == Err(RecvTimeoutError::Timeout) {
                println!("    ... {name}: {} so far", elapsed(begun));
            }
        });
        let result = work();
        drop(finished);
        result
    });
    let outcome = if result.is_ok() { "done" } else { "failed" };
    println!("    {outcome} in {}", elapsed(begun));
    result
}

/// The time since `begun`, as a person reads it.
pub(crate) fn elapsed(begun: Instant) -> String {
    let seconds = begun.elapsed().as_secs_f64();
    if seconds < 60.0 {
        format!("{seconds:.1} s")
    } else {
        format!(
            "{:.0} min {:.0} s",
            (seconds / 60.0).floor(),
            seconds % 60.0
        )
    }
}
