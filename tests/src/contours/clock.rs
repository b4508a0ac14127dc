//! Time that a thread spends computing.

/// Runs `work` and gives its result and the seconds that the processor spent on it: other
/// programs on the machine do not count.
#[cfg(unix)]
pub(super) fn timed<T>(work: impl FnOnce() -> T) -> (T, f64) {
    use rustix::time::{ClockId, clock_gettime};
    let now_s = || {
        let now = clock_gettime(ClockId::ThreadCPUTime);
        now.tv_sec as f64 + now.tv_nsec as f64 / 1e9
    };
    let before_s = now_s();
    let result = work();
    (result, now_s() - before_s)
}

/// Runs `work` and gives its result and the seconds that passed.
#[cfg(not(unix))]
pub(super) fn timed<T>(work: impl FnOnce() -> T) -> (T, f64) {
    let began = std::time::Instant::now();
    let result = work();
    (result, began.elapsed().as_secs_f64())
}
