#!/usr/bin/env python3
"""How much `fit` gains in synthetic rooms that the other solver measured (tests/end_to_end/measured_rooms.py).

    BOXROOM=build/boxroom python3 tests/bench/fit_rooms.py [ROOMS] [FIRST] [--bare | --known] [--wardrobe]

Of every room: the error at left-out seats after over before; the places that `fit` recommends before and after,
judged by the true room; how often the 90 % intervals of sides hold the truth, counted over all sides of all rooms
(the file takes each to be 4 cm off at most; in truth it is 1 %, evenly drawn). In each stands a piece of
furniture of any size that the file lacks, and a window and a door are parts of their walls in the file and
strips where they are in truth.
--bare: no furniture; --known: the file has it; --wardrobe: always 1.2 x 0.6 x 2.0 m by the back wall, no strips,
and the file's sides are 2 cm off at most instead of 1 %.
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


def score_there(true_spots, place):
    """What the true room says of a place: that of the nearest spot that it has, and the best there is."""
    at = np.array(place[:2])
    apart = [np.linalg.norm(np.array(spot["positions_m"][0][:2]) - at) for spot in true_spots["spots"]]
    return true_spots["spots"][int(np.argmin(apart))]["score"], true_spots["spots"][0]["score"]


numbers = [int(a) for a in sys.argv[1:] if a.isdigit()]
rooms, first = (numbers + [40, 1][len(numbers):])[:2]
options = {"furniture": "--bare" not in sys.argv, "known": "--known" in sys.argv,
           "varied": "--wardrobe" not in sys.argv}
ratios, fitted, rises, gains, held, asked = [], [], [], [], 0, 0
for seed in range(first, first + rooms):
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        path = synthetic(folder, seed, **options)
        start = time.time()
        found = run_json("fit", path, "--out", folder / "out", "--quiet")
        seconds = time.time() - start
        true_file = tomllib.loads((folder / "truth.toml").read_text())
        spots = run_json("rank", folder / "truth.toml", "--solver", "grid", "--out", folder / "spots", "--quiet")
        before, after = (score_there(spots, found["recommended_m"][when]) for when in ("before", "after"))
    room = true_file["room"]
    true_side = dict(zip(("width", "length"), np.max(room["floor_plan"], axis=0) if "floor_plan" in room
                         else (room["width"], room["length"])), height=room["height"])
    mean = {key: np.mean([s[key] for s in found["left_out"]]) for key in ("before_db", "after_db")}
    ratios.append(mean["after_db"] / mean["before_db"])
    rises.append(mean["after_db"] - mean["before_db"])
    fitted.append(np.mean([s["after_db"] for s in found["seats"]]) / np.mean([s["before_db"] for s in found["seats"]]))
    gains.append(before[0] - after[0])
    for p in found["parameters"]:
        if p["name"].startswith("room "):
            asked += 1
            held += p["low"] <= true_side[p["name"][5:]] <= p["high"]
    pieces = [np.prod(np.array(b["to"]) - b["from"]) for b in true_file.get("block", [])]
    piece = found["furniture"]
    print(f"room {seed}: left out {mean['before_db']:.2f} -> {mean['after_db']:.2f} dB ({ratios[-1]:.2f}), "
          f"fitted {fitted[-1]:.2f}, fit {found['timing_s']['fit']:.1f} s of {seconds:.1f} s, furniture of "
          f"{sum(pieces):.2f} m3 found by: {piece.get('wall', 'no wall')}, score of the spot in the true room "
          f"{before[0]:.2f} -> {after[0]:.2f} (best {before[1]:.2f})", flush=True)
print(f"{rooms} rooms: left out {np.median(ratios):.2f} of before in the median, worst rise {max(rises):.2f} dB; "
      f"fitted {np.median(fitted):.2f}; spot no worse in the true room in {100 * np.mean(np.array(gains) >= -1e-9):.0f} %, "
      f"by 0.1 at most in {100 * np.mean(np.array(gains) >= -0.1):.0f} %; "
      f"sides within their 90 % interval {100 * held / max(asked, 1):.0f} % of {asked}")
