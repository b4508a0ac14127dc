//! Curves that rise once and fall once.

/// Moment and value of the largest amplitude of a call that lasts `duration_ms`.
pub(super) fn maximum(duration_ms: f64, value: impl Fn(f64) -> f64) -> (f64, f64) {
    let steps = 2000;
    let step_ms = duration_ms / f64::from(steps);
    let mut coarse = (0.0, 0.0);
    for step in 1..steps {
        let t_ms = f64::from(step) * step_ms;
        let here = value(t_ms);
        if here > coarse.1 {
            coarse = (t_ms, here);
        }
    }
    // Thirds around the best step.
    let (mut low, mut high) = (coarse.0 - step_ms, coarse.0 + step_ms);
    for _ in 0..40 {
        let third = (high - low) / 3.0;
        if value(low + third) < value(high - third) {
            low += third;
        } else {
            high -= third;
        }
    }
    let t_ms = (low + high) / 2.0;
    let fine = (t_ms, value(t_ms));
    if fine.1 > coarse.1 { fine } else { coarse }
}

/// First and last moment at which the amplitude is `below_db` under its maximum.
pub(super) fn edges_ms(duration_ms: f64, below_db: f64, value: impl Fn(f64) -> f64) -> (f64, f64) {
    let (peak_ms, peak) = maximum(duration_ms, &value);
    let threshold = peak * libm::exp10(-below_db / 20.0);
    let crossing = |mut outside: f64, mut inside: f64| {
        for _ in 0..60 {
            let middle = (outside + inside) / 2.0;
            if value(middle) < threshold {
                outside = middle;
            } else {
                inside = middle;
            }
        }
        (outside + inside) / 2.0
    };
    (crossing(0.0, peak_ms), crossing(duration_ms, peak_ms))
}
