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

print("| room | best Qtc, endless floor | best Qtc, in the room | off balance there: best / 0.707 / Qtc 1.2 "
      "| box to build |\n| --- | --- | --- | --- | --- |")
for name in ("demo", "masonry_small", "timber_frame", "large_leaky"):
    with tempfile.TemporaryDirectory() as folder:
        run = subprocess.run([program, "plan", here / f"{name}.toml", "--json", "--quiet", "--out", folder],
                             check=True, capture_output=True, text=True)
    plan = json.loads(run.stdout)
    by_qtc = plan["balance_by_qtc"]

    def qtc(value):
        lowest = value <= by_qtc[0]["qtc"] + 1e-9
        return f"{value:.2f}" + (" (lowest tried)" if lowest else "")

    def balance(value):
        return min(by_qtc, key=lambda row: abs(row["qtc"] - value))["in_room_db"]

    print(f"| `{name}.toml` | {qtc(plan['half_space']['best_qtc'])} | {qtc(plan['in_room']['best_qtc'])} "
          f"| {balance(plan['in_room']['best_qtc']):.1f} / {balance(0.707):.1f} / {balance(1.2):.1f} dB "
          f"| Qtc {plan['build']['qtc']:.2f}, {plan['build']['volume_l']:.0f} L |")
