"""Makes listening_reference.json: what is heard, as scipy makes it.

Needs numpy and scipy; the committed file says which versions made it. The input is a formula (below), so that
the test makes the same samples for itself, 0.2 s at 384 kHz:

    x[n] = 0.2 sin(2 pi (0.10 + 0.08 n/N) n) + 0.1 sin(2 pi 0.093 n)

in 64-bit floats rounded to 32 bits: a sweep from 38 to 100 kHz and a tone at 35.7 kHz.

- expansion by 10: the samples, taken for 38.4 kHz, through scipy.signal.resample_poly(5, 4) to 48 kHz.
- heterodyne at 42 kHz: x 2 cos(2 pi 42000 t), through resample_poly(1, 8), through a linear-phase filter made by
  scipy.signal.firwin with a Blackman-Harris window, edge 5 kHz, as long as ours.
- division by 8 of the sweep alone: amplitude and unwrapped phase of scipy.signal.hilbert, the phase divided, through
  resample_poly(1, 8); cosine and sine of it, because an eighth of a turn more or less is as good a divided phase.

resample_poly runs with a Kaiser window (beta 12) over 2 x 64 points of the lower rate's samples, which is another
filter than ours: both keep what lies in the band, so that only rounding and ripple differ.
"""

import json
import pathlib

import numpy as np
import scipy
from scipy import signal

RATE_HZ = 384_000
OUTPUT_HZ = 48_000
COUNT = 76_800
EVERY = 7


def sweep():
    n = np.arange(COUNT, dtype=np.float64)
    return 0.2 * np.sin(2 * np.pi * (0.10 + 0.08 * n / COUNT) * n)


def both():
    n = np.arange(COUNT, dtype=np.float64)
    return (sweep() + 0.1 * np.sin(2 * np.pi * 0.093 * n)).astype(np.float32).astype(np.float64)


def resampled(x, up, down):
    lower = max(up, down)
    taps = signal.firwin(2 * 64 * lower + 1, 0.93 / lower, window=("kaiser", 12.0))
    return signal.resample_poly(x, up, down, window=taps)


def expansion():
    return resampled(both(), 5, 4)


def heterodyne():
    n = np.arange(COUNT)
    mixed = both() * 2 * np.cos(2 * np.pi * 42_000 * n / RATE_HZ)
    taps = signal.firwin(255, 5_000, window="blackmanharris", fs=OUTPUT_HZ)
    return np.convolve(resampled(mixed, 1, 8), taps, mode="same")


def division(turned):
    analytic = signal.hilbert(sweep().astype(np.float32).astype(np.float64))
    return resampled(np.abs(analytic) * turned(np.unwrap(np.angle(analytic)) / 8), 1, 8)


def part(sound):
    middle = len(sound) // 2
    values = sound[middle - 700 : middle + 700 : EVERY].round(7).tolist()
    return {"frames": len(sound), "first": middle - 700, "every": EVERY, "values": values}


def main():
    reference = {
        "made_with": f"numpy {np.__version__}, scipy {scipy.__version__}",
        "expansion_10": part(expansion()),
        "heterodyne_42": part(heterodyne()),
        "division_8": part(division(np.cos)),
        "division_8_sine": part(division(np.sin)),
    }
    path = pathlib.Path(__file__).with_name("listening_reference.json")
    path.write_text(json.dumps(reference, separators=(",", ":")) + "\n")


main()
