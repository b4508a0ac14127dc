"""Makes power_spectrum_reference.json: power spectra as scipy computes them.

Needs numpy and scipy; the committed file says which versions made it. The input is a formula (below), so that
the test makes the same samples for itself:

    x[n] = 0.4 sin(2 pi (0.31 n/N + 0.05) n) + 0.1 sin(2 pi 0.137 n) + 0.01 ((n n) mod 127)/127

for n from 0 to N - 1, in 64-bit floats rounded to 32 bits.

Short stretches: scipy.signal.periodogram with Tukey's window (alpha 0.2) and zero padding. Long ones:
scipy.signal.welch with Hann's window, 8192 samples, half overlapping. Both with scaling="spectrum" and
detrend=False: one-sided powers relative to a sine's mean square, so 2 x that is the power re a full-scale sine. At
the frequencies 0 and half the rate nothing is folded, so scipy's value is doubled twice there.
"""

import json
import pathlib

import numpy as np
import scipy
from scipy import signal

RATE_HZ = 500_000
EVERY = 37


def samples(count):
    n = np.arange(count, dtype=np.float64)
    x = 0.4 * np.sin(2 * np.pi * (0.31 * n / count + 0.05) * n)
    x += 0.1 * np.sin(2 * np.pi * 0.137 * n) + 0.01 * ((n * n) % 127) / 127
    return x.astype(np.float32).astype(np.float64)


def folded(power):
    power = 2 * power
    power[0] *= 2
    power[-1] *= 2
    return power


def whole(count):
    points = max(1024, 1 << (2 * count - 1).bit_length())
    hz, power = signal.periodogram(
        samples(count), fs=RATE_HZ, window=("tukey", 0.2), nfft=points, detrend=False, scaling="spectrum"
    )
    return hz, folded(power)


def averaged(count):
    hz, power = signal.welch(
        samples(count), fs=RATE_HZ, window="hann", nperseg=8192, noverlap=4096, detrend=False, scaling="spectrum"
    )
    return hz, folded(power)


out = {"made_with": {"numpy": np.__version__, "scipy": scipy.__version__}, "every": EVERY, "cases": []}
for method, count in [("whole", 300), ("whole", 2500), ("whole", 40_000), ("averaged", 100_000)]:
    hz, power = {"whole": whole, "averaged": averaged}[method](count)
    out["cases"].append(
        {
            "method": method,
            "count": count,
            "bin_hz": float(hz[1]),
            "bins": len(power),
            "largest_bin": int(power.argmax()),
            "db": [round(float(v), 4) for v in 10 * np.log10(power[::EVERY])],
        }
    )
path = pathlib.Path(__file__).with_name("power_spectrum_reference.json")
path.write_text(json.dumps(out) + "\n")
print(path, path.stat().st_size)
