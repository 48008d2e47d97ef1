"""How fast pairs of spots are judged: the program's kernel against NumPy, in one run.

    sets.py BUILD_FOLDER      (build the target bench_sets first)

Both add two fields, square, take the logarithm and the weighted deviation over the seats at every
frequency; the program works out unevenness, balance and level besides. Seat-frequency points a second
of wall time and, because other work may run beside this, a second of processor time.
"""
import pathlib
import re
import subprocess
import sys
import time

import numpy as np

SPOTS, SEATS, FREQUENCIES = 400, 6, 160
build = pathlib.Path(sys.argv[1])


def numpy_pairs(z):
    """Spread of every pair, all pairs that begin with one spot at a time. z: (spots, F, S), complex64."""
    out = np.empty((SPOTS, SPOTS), np.float32)
    for first in range(SPOTS - 1):
        p = z[first + 1:] + z[first]
        level = np.log10(p.real ** 2 + p.imag ** 2)
        out[first, first + 1:] = 10 * np.sqrt(np.maximum(
            (level ** 2).mean(-1) - level.mean(-1) ** 2, 0)).mean(-1)
    return out


random = np.random.default_rng(1)
z = (random.normal(size=(SPOTS, FREQUENCIES, SEATS)) +
     1j * random.normal(size=(SPOTS, FREQUENCIES, SEATS))).astype(np.complex64)
points = SPOTS * (SPOTS - 1) / 2 * SEATS * FREQUENCIES
best_wall = best_cpu = 1e9
for _ in range(2):
    wall, cpu = time.perf_counter(), time.process_time()
    numpy_pairs(z)
    best_wall = min(best_wall, time.perf_counter() - wall)
    best_cpu = min(best_cpu, time.process_time() - cpu)
said = subprocess.run([build / "bench_sets"], capture_output=True, text=True, check=True).stdout
print(said, end="")
wall_rate, cpu_rate = map(float, re.search(
    r" sets of 2 .*?, (\S+) points a second; (\S+) a processor", said).groups())
print(f"NumPy, spread of the same pairs alone: {best_wall:.2f} s, {points / best_wall:.2e} points a second, "
      f"{points / best_cpu:.2e} a processor second")
print(f"ratio {wall_rate * best_wall / points:.0f} in wall time, {cpu_rate * best_cpu / points:.0f} a processor")
