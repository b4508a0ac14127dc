"""Makes compare_reference.json: pulses, and what numpy and scipy make of them.

Needs numpy and scipy; the committed file says which versions made it. The pulses are
drawn with a fixed seed: sweeps of several lengths and paces, of which one ends far above the others. Beside them stand

- for every number its count, numpy.percentile(25, 50, 75), smallest and largest value,
  scipy.stats.median_abs_deviation (scale 1), and the modified z-scores above 3.5
  of Iglewicz & Hoaglin 1993, with scipy's own scale of a normal distribution
  (0.6744897...; the core's 1.4826 is its inverse to five digits);
- for every alignment the percentiles of all contours at every fifth moment of an even grid, from
  where the first contour begins on and as fine as the finest, each contour read by numpy.interp,
  where at least half of them reach.
"""

import json
import pathlib

import numpy as np
import scipy
from scipy import stats

SEED = 19930301
PULSES = 23
NUMBERS = [
    "duration_ms", "interval_ms", "peak_khz", "start_khz", "end_khz", "high_khz", "low_khz",
    "characteristic_khz", "sweep_khz_per_ms", "flattest_khz_per_ms", "level_db", "snr_db",
]
OF_THE_CALL = NUMBERS[:10]
MOMENTS = {"peak": "peak_s", "start": "start_s", "characteristic": "characteristic_s"}


def pulse(random, at):
    duration_ms = random.uniform(3.0, 7.0)
    steps = int(np.ceil(duration_ms / 0.05))
    share = np.linspace(0.0, 1.0, steps + 1)
    end = random.normal(45.0, 0.7) + (9.0 if at == 7 else 0.0)
    khz = (end + random.normal(35.0, 2.0) * (1.0 - share) ** random.uniform(1.8, 2.6)).astype(np.float32)
    start_s = 0.1 + at * 0.09 + random.normal(0.0, 0.004)
    return {
        "start_s": start_s,
        "end_s": start_s + duration_ms * 1e-3,
        "peak_s": start_s + duration_ms * 1e-3 * random.uniform(0.3, 0.8),
        "characteristic_s": start_s + duration_ms * 1e-3 * random.uniform(0.85, 1.0),
        "duration_ms": duration_ms,
        "peak_khz": float(khz[-1]) + random.uniform(0.0, 2.0),
        "start_khz": float(khz[0]),
        "end_khz": float(khz[-1]),
        "high_khz": float(khz.max()),
        "low_khz": float(khz.min()),
        "characteristic_khz": float(khz[-3]),
        "sweep_khz_per_ms": float(khz[-1] - khz[0]) / duration_ms,
        "flattest_khz_per_ms": -random.uniform(0.1, 0.6),
        "interval_ms": None if at == 0 else random.normal(90.0, 5.0),
        "level_db": random.uniform(-40.0, -10.0),
        "snr_db": random.uniform(10.0, 40.0),
        "edge_db": 20.0,
        "shape": "FM-QCF",
        "flags": [],
        "sequence": 1,
        "buzz": None,
        "doubt": None,
        "uncertainty": {
            name.replace("start_s", "start_ms"): 0.1
            for name in ["start_ms", "end_ms", *NUMBERS]
        },
        "harmonics": [],
        "contour": {"start_s": start_s, "step_s": duration_ms * 1e-3 / steps, "khz": [float(k) for k in khz]},
    }


def spread(pulses, name):
    values = np.array([p[name] for p in pulses if p[name] is not None])
    lower, median, upper = np.percentile(values, [25, 50, 75])
    return {
        "measure": name,
        "pulses": len(values),
        "median": median,
        "lower": lower,
        "upper": upper,
        "least": values.min(),
        "most": values.max(),
        "mad": stats.median_abs_deviation(values),
    }


def standing_out(pulses, name):
    values = {at: p[name] for at, p in enumerate(pulses) if p[name] is not None}
    median = np.median(list(values.values()))
    scale = stats.median_abs_deviation(list(values.values()), scale="normal")
    scores = {at: (value - median) / scale for at, value in values.items()}
    return [
        {"pulse": at, "measure": name, "above": values[at] - median, "score": abs(score)}
        for at, score in scores.items()
        if abs(score) > 3.5
    ]


def course(pulses, moment):
    lines = []
    for p in pulses:
        contour = p["contour"]
        times = (contour["start_s"] - p[moment]) * 1e3
        times = times + np.arange(len(contour["khz"])) * contour["step_s"] * 1e3
        lines.append((times, np.array(contour["khz"])))
    told = []
    begins = min(times[0] for times, _ in lines)
    ends = max(times[-1] for times, _ in lines)
    step = min(p["contour"]["step_s"] for p in pulses) * 1e3
    for ms in begins + np.arange(0, (ends - begins) / step, 5) * step:
        values = [np.interp(ms, times, khz) for times, khz in lines if times[0] <= ms <= times[-1]]
        if len(values) >= len(lines) / 2:
            told.append({"ms": ms, "quartiles_khz": list(np.percentile(values, [25, 50, 75]))})
    return told


def main():
    random = np.random.default_rng(SEED)
    pulses = [pulse(random, at) for at in range(PULSES)]
    reference = {
        "made_with": f"numpy {np.__version__}, scipy {scipy.__version__}",
        "pulses": pulses,
        "spreads": [spread(pulses, name) for name in NUMBERS],
        "standing_out": [one for name in OF_THE_CALL for one in standing_out(pulses, name)],
        "courses": {name: course(pulses, moment) for name, moment in MOMENTS.items()},
    }
    path = pathlib.Path(__file__).with_name("compare_reference.json")
    path.write_text(json.dumps(reference, default=float) + "\n")


main()
