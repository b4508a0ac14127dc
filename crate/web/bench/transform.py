"""Times scipy's spectrogram on a file of 32-bit floats and prints {"ms": [...], "total": ...}.

Arguments: the file, how often.
"""

import json
import sys
import time

import numpy
import scipy.signal

samples = numpy.fromfile(sys.argv[1], dtype=numpy.float32)


def run():
    return scipy.signal.spectrogram(
        samples,
        fs=500_000,
        window="hann",
        nperseg=512,
        noverlap=384,
        detrend=False,
        scaling="spectrum",
        mode="psd",
    )[2]


run()
run()
ms = []
for _ in range(int(sys.argv[2])):
    begun = time.perf_counter()
    powers = run()
    ms.append((time.perf_counter() - begun) * 1000)
# scipy gives a sine's mean square, half of the power of a full-scale sine; and both ends of the spectrum count once.
total = 2 * float(powers.sum(dtype=numpy.float64))
ends = 2 * float(powers[0].sum(dtype=numpy.float64) + powers[-1].sum(dtype=numpy.float64))
print(json.dumps({"ms": ms, "total": total + ends}))
