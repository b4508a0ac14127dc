"""Writes miss_rate_reference.csv: exact 95 % intervals by statistics that are not ours.

scipy 1.17.1. The share: binomtest(...).proportion_ci(method="exact"), Clopper & Pearson's. The number in all: every
number that is possible is tried with hypergeom's own distribution functions, and those are kept for which
neither tail holds 2.5 % or less. Run in this folder.
"""

import numpy as np
import scipy
from scipy.stats import binomtest, hypergeom

CASES = [
    (0, 1, 1), (1, 1, 1), (0, 1, 20000), (0, 10, 10), (3, 10, 10), (10, 10, 10), (0, 20, 200), (1, 29, 300),
    (5, 50, 51), (15, 148, 1500), (81, 263, 263), (81, 263, 264), (81, 263, 20000), (0, 100, 1600), (2, 100, 1600),
    (99, 100, 1600), (100, 100, 1600), (7, 1000, 19000), (400, 1000, 19000), (0, 19000, 19000), (9500, 19000, 20000),
]

print(f"# Written by make_miss_rate_reference.py with scipy {scipy.__version__}.")
print("found,checked,of_total,share_low,share_high,missed_low,missed_high")
for found, checked, of_total in CASES:
    share = binomtest(found, checked).proportion_ci(0.95, method="exact")
    numbers = np.arange(found, of_total - (checked - found) + 1)
    fewer = hypergeom.cdf(found, of_total, numbers, checked)
    more = hypergeom.sf(found - 1, of_total, numbers, checked)
    kept = numbers[(fewer > 0.025) & (more > 0.025)]
    print(f"{found},{checked},{of_total},{share.low:.12g},{share.high:.12g},{kept[0]},{kept[-1]}")
