"""Makes spectrogram_reference.json: levels as scipy computes them.

Needs numpy and scipy; the committed file says which versions made it. The input
is a formula (below), so that the test makes the same samples for itself:

    x[n] = 0.5 sin(2 pi (0.31 n/N + 0.05) n) + 0.01 ((n n) mod 127)/127

for n from 0 to N - 1, in 64-bit floats rounded to 32 bits.

scipy.signal.spectrogram(scaling="spectrum", mode="psd", detrend=False) gives
one-sided powers relative to a sine's mean square; a full-scale sine has half of
its amplitude squared, so 2 x that is the power re a full-scale sine. At the
frequencies 0 and half the rate nothing is folded, so scipy's value is doubled
twice there.
"""

import json
import pathlib

import numpy as np
import scipy
from scipy import signal

N = 6000
RATE_HZ = 500_000


def samples():
    n = np.arange(N, dtype=np.float64)
    x = 0.5 * np.sin(2 * np.pi * (0.31 * n / N + 0.05) * n)
    x += 0.01 * ((n * n) % 127) / 127
    return x.astype(np.float32).astype(np.float64)


def levels(window, length, hop, padded):
    _, _, power = signal.spectrogram(
        samples(),
        fs=RATE_HZ,
        window=window,
        nperseg=length,
        noverlap=length - hop,
        nfft=padded,
        detrend=False,
        scaling="spectrum",
        mode="psd",
    )
    power = 2 * power
    power[0] *= 2
    power[-1] *= 2
    return 10 * np.log10(power.T)


CASES = [
    ("hann", "hann", 512, 128, 512),
    ("hamming", "hamming", 256, 64, 1024),
    ("blackman_harris", "blackmanharris", 450, 125, 512),
    ("gaussian", ("gaussian", 512 / 8), 512, 256, 512),
    ("kaiser", ("kaiser", 8.6), 64, 32, 128),
]

out = {
    "made_with": {"numpy": np.__version__, "scipy": scipy.__version__},
    "cases": [],
}
for name, window, length, hop, padded in CASES:
    db = levels(window, length, hop, padded)
    frames = [0, len(db) // 3, len(db) - 1]
    out["cases"].append(
        {
            "window": name,
            "length": length,
            "hop": hop,
            "padded": padded,
            "frames": len(db),
            "checked": [
                {"frame": f, "db": [round(float(v), 4) for v in db[f]]} for f in frames
            ],
        }
    )
path = pathlib.Path(__file__).with_name("spectrogram_reference.json")
path.write_text(json.dumps(out) + "\n")
print(path, path.stat().st_size)
