#!/usr/bin/python3
"""Steps of the grid solver against NumPy slicing of the same scheme, walls included, in one run.

The peer works on whole slices, in place where NumPy can, with walls of resistance alone (the cheapest),
in single precision as the solver does and in NumPy's usual double. Both are given as node updates a second. Usage: grid_step.py path of bench_grid_step
"""
import json, subprocess, sys, time
import numpy as np

ours = json.loads(subprocess.run([sys.argv[1]], capture_output=True, text=True, check=True).stdout)
n = (36, 76, 60)
rng = np.random.default_rng(1)
real = np.float32


def padded(a):
    return np.pad(a, 1, mode="reflect")  # rigid walls through nodes: the field is mirrored


def finish(new, p, q):
    """Resistance on the six faces: (1 + b) p+ = rigid p+ + b p-."""
    beta = real(0.05)
    for axis in range(3):
        for end in (0, -1):
            face = [slice(None)] * 3
            face[axis] = end
            new[tuple(face)] = (new[tuple(face)] + beta * q[tuple(face)]) / (1 + beta)
    return new


def seven(p, q):
    a, w = padded(p), real(1 / 3)
    s = a[:-2, 1:-1, 1:-1] + a[2:, 1:-1, 1:-1]
    for part in (a[1:-1, :-2, 1:-1], a[1:-1, 2:, 1:-1], a[1:-1, 1:-1, :-2], a[1:-1, 1:-1, 2:]):
        s += part
    s *= w
    s -= q
    return finish(s, p, q)


def nineteen(p, q):
    a, x = padded(p), real(0.75)
    m, l, h = slice(1, -1), slice(None, -2), slice(2, None)
    s = a[l, m, m] + a[h, m, m]
    for part in (a[m, l, m], a[m, h, m], a[m, m, l], a[m, m, h]):
        s += part
    d = a[l, l, m] + a[l, h, m]
    for i in ((h, l, m), (h, h, m), (l, m, l), (l, m, h), (h, m, l), (h, m, h), (m, l, l), (m, l, h),
              (m, h, l), (m, h, h)):
        d += a[i]
    s *= x / 3
    d *= x / 6
    s += d
    s += (2 - 4 * x) * p
    s -= q
    return finish(s, p, q)


for name, step in (("seven", seven), ("nineteen", nineteen)):
    peers = []
    for real in (np.float32, np.float64):
        p, q = (rng.standard_normal(n).astype(real) for _ in range(2))
        best = 1e9
        for _ in range(7):
            start = time.perf_counter()
            for _ in range(10):
                step(p, q)
            best = min(best, (time.perf_counter() - start) / 10)
        peers.append(p.size / best)
    walls = 1 - ours[name] / ours[name + "_rigid"]
    print(f"grid, {name} points: {ours[name]:.3g} node updates/s, NumPy {peers[0]:.3g} in single, "
          f"{peers[1]:.3g} in double: {ours[name] / peers[0]:.0f} and {ours[name] / peers[1]:.0f} times; "
          f"walls take {100 * walls:.0f} % of a step")
print(f"memory: {ours['bytes']:.1f} bytes a node")
