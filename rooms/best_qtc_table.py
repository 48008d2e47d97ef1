#!/usr/bin/env python3
"""Prints the table of the README: the best Qtc on an endless floor and in each demo room.

Usage: rooms/best_qtc_table.py [path of boxroom]
"""
import json
import pathlib
import subprocess
import sys
import tempfile

here = pathlib.Path(__file__).resolve().parent
program = sys.argv[1] if len(sys.argv) > 1 else here.parent / "build" / "boxroom"

BANDS = ((30, 120), (20, 120), (40, 120))
WORDS = {"room": "the room", "band": "the band", "rule": "the rule", "driver": "the driver's size"}

print("| room | " + " | ".join(f"{low} to {high} Hz" for low, high in BANDS) + " | what decides | box to build |\n| "
      + " | ".join(["---"] * (len(BANDS) + 3)) + " |")
for name in ("demo", "masonry_small", "timber_frame", "large_leaky"):
    with tempfile.TemporaryDirectory() as folder:
        run = subprocess.run([program, "plan", here / f"{name}.toml", "--json", "--quiet", "--subs", "1",
                              "--out", folder], check=True, capture_output=True, text=True)
    plan = json.loads(run.stdout)
    by_band = {tuple(row["band_hz"]): row for row in plan["by_band"]}
    cells = [f"{by_band[band]['half_space_qtc']:.2f} / {by_band[band]['in_room_qtc']:.2f}" for band in BANDS]
    print(f"| `{name}.toml` | {' | '.join(cells)} | {WORDS.get(plan['decided_by'], plan['decided_by'])} "
          f"| Qtc {plan['build']['qtc']:.2f}, {plan['build']['volume_l']:.0f} L |")
