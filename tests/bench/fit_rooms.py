#!/usr/bin/env python3
"""How much `fit` gains in synthetic rooms that the other solver measured (tests/end_to_end/measured_rooms.py).

    BOXROOM=build/boxroom python3 tests/bench/fit_rooms.py [ROOMS] [FIRST] [--bare | --known]

Of every room: the error at left-out seats after over before, and how often the 90 % intervals of sides hold
the truth (counted over the rooms' three sides). --bare: without the wardrobe that the file lacks; --known: it has it.
"""
import pathlib
import sys
import tempfile
import time
import tomllib

import numpy as np

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "end_to_end"))
from measured_rooms import synthetic  # noqa: E402
from runner import run_json  # noqa: E402

numbers = [int(a) for a in sys.argv[1:] if a.isdigit()]
rooms, first = (numbers + [40, 1][len(numbers):])[:2]
furniture = "--bare" not in sys.argv
ratios, fitted, rises, held, asked = [], [], [], 0, 0
for seed in range(first, first + rooms):
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        path = synthetic(folder, seed, furniture=furniture, known="--known" in sys.argv)
        start = time.time()
        found = run_json("fit", path, "--out", folder / "out", "--quiet")
        seconds = time.time() - start
        truth = tomllib.loads((folder / "truth.toml").read_text())["room"]
    mean = {key: np.mean([s[key] for s in found["left_out"]]) for key in ("before_db", "after_db")}
    ratios.append(mean["after_db"] / mean["before_db"])
    rises.append(mean["after_db"] - mean["before_db"])
    fitted.append(np.mean([s["after_db"] for s in found["seats"]]) / np.mean([s["before_db"] for s in found["seats"]]))
    for p in found["parameters"]:
        if p["name"].startswith("room "):
            asked += 1
            held += p["low"] <= truth[p["name"][5:]] <= p["high"]
    print(f"room {seed}: left out {mean['before_db']:.2f} -> {mean['after_db']:.2f} dB ({ratios[-1]:.2f}), "
          f"fitted {fitted[-1]:.2f}, fit {found['timing_s']['fit']:.1f} s of {seconds:.1f} s, "
          f"furniture found by: {found['furniture'].get('wall', 'no wall')}", flush=True)
print(f"{rooms} rooms: left out {np.median(ratios):.2f} of before in the median, worst rise {max(rises):.2f} dB; "
      f"fitted {np.median(fitted):.2f}; sides within their 90 % interval {100 * held / max(asked, 1):.0f} % of {asked}")
