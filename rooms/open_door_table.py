#!/usr/bin/env python3
"""Prints the table of the README: what an open door does to the pressure zone.

Usage: rooms/open_door_table.py [path of boxroom]
"""
import json
import pathlib
import re
import subprocess
import sys
import tempfile

here = pathlib.Path(__file__).resolve().parent
program = sys.argv[1] if len(sys.argv) > 1 else here.parent / "build" / "boxroom"
text = (here / "open_door.toml").read_text()


def without(table, of):
    return re.sub(rf"(?ms)^\[\[{table}\]\].*?(?=^\[|^# An)", "", of)


def lift(of):
    with tempfile.TemporaryDirectory() as folder:
        room = pathlib.Path(folder, "room.toml")
        room.write_text(of)
        run = subprocess.run([program, "listen", room, "--json", "--quiet", "--out", folder],
                             check=True, capture_output=True, text=True)
    heard = json.loads(run.stdout)
    return lambda hertz: min(zip(heard["frequency_hz"], heard["lift_db"]), key=lambda at: abs(at[0] - hertz))[1]


open_air = without("space", text).replace('space = "hall"\n', "")
rows = {"shut": lift(without("opening", without("space", text))), "open to the hall": lift(text),
        "open to the outside": lift(open_air)}
hertz = [6.3, 8, 10, 12.5, 16, 20, 25, 31.5, 40, 50]
print("| lift in dB at | " + " | ".join(f"{f:g} Hz" for f in hertz) + " |\n| --- |" + " --- |" * len(hertz))
for name, at in rows.items():
    print(f"| {name} | " + " | ".join(f"{at(f):.0f}" for f in hertz) + " |")
