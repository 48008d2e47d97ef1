#!/usr/bin/python3
"""How long `plan` takes from start to report, pictures included, and `check` to read a file.

Wall and processor time, the phases that the program says itself, and the ratio to one fixed piece of
NumPy in the same run (ten complex products of 500 x 500 on one thread), since other work may share the
machine. Nothing here passes or fails. Usage: plan.py [boxroom] [room file] [options of plan, as --fresh]
"""
import os
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
import json, pathlib, resource, subprocess, sys, tempfile, time
import numpy as np

program = os.path.abspath(sys.argv[1] if len(sys.argv) > 1 else "build/boxroom")
room = pathlib.Path(sys.argv[2] if len(sys.argv) > 2
                    else pathlib.Path(__file__).resolve().parents[2] / "rooms" / "demo.toml")


def timed(call):
    """Wall and processor seconds of a call, children's included, and what it returns."""
    def used():
        return sum(sum(resource.getrusage(who)[:2]) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    wall, cpu = time.perf_counter(), used()
    result = call()
    return time.perf_counter() - wall, used() - cpu, result


def run(*arguments):
    return subprocess.run([program, *map(str, arguments)], capture_output=True, text=True, check=True).stdout


matrix = np.random.default_rng(1).normal(size=(2, 500, 500)).astype(np.float32)
matrix = matrix[0] + 1j * matrix[1]
unit = min(timed(lambda: [matrix @ matrix for _ in range(10)])[1] for _ in range(5))
print(f"ten complex products of 500 x 500 in NumPy: {unit:.3f} s of one processor")
wall, cpu, _ = min(timed(lambda: run("check", room, "--quiet")) for _ in range(7))
print(f"check                {1e3 * wall:7.0f} ms, {1e3 * cpu:7.0f} ms of processors")
for subs in (0, 1, 2, 3):
    with tempfile.TemporaryDirectory() as out:
        more = [*sys.argv[3:], *(["--subs", subs] if subs else [])]
        wall, cpu, said = timed(lambda: run("plan", room, *more, "--json", "--quiet", "--out", out))
    phases = ", ".join(f"{name} {1e3 * s:.0f}" for name, s in json.loads(said)["timing_s"].items())
    print(f"plan {'--subs ' + str(subs) if subs else '        '}        {1e3 * wall:7.0f} ms, {1e3 * cpu:7.0f} ms of "
          f"processors, {cpu / unit:.0f} times NumPy's; {phases}")
