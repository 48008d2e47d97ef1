#!/usr/bin/python3
"""How long a step of a drag takes in the window: working it out and drawing it, apart.

A replayed drag of one sub along two walls with 6 seats, 208 frequencies and the field on about 60 x 48
points; every event is followed by its answer and its picture, one after the other, so that the two
times add up (in use they overlap). Medians; nothing here passes or fails. Usage: view_speed.py [boxroom]
"""
import json, os, subprocess, sys, tempfile
import numpy as np

program = os.path.abspath(sys.argv[1] if len(sys.argv) > 1 else "build/boxroom")
SEATS = [(1.2 + 0.6 * (i % 3), 3.2 + 0.9 * (i // 3), 1.1) for i in range(6)]
ROOM = """title = "bench"
[room]
width = 4.1
length = 5.2
height = 2.45
[walls]
left = "brick, plastered"
right = "plasterboard on studs"
front = "window glass"
back = "brick, plastered"
floor = "wood floor on joists"
ceiling = "plasterboard on studs, double"
[driver]
fs = 27
qts = 0.45
vas = "38 L"
[box]
volume = "20 L"
[[sub]]
name = "sub"
at = [0.40, 0.35, 0.2]
""" + "".join(f'[[seat]]\nname = "seat {i}"\nat = {list(p)}\n' for i, p in enumerate(SEATS))


def view(folder, *options):
    done = subprocess.run(["xvfb-run", "-a", program, "view", os.path.join(folder, "room.toml"), "--json",
                           "--quiet", *options], capture_output=True, text=True, check=True)
    return json.loads(done.stdout)


with tempfile.TemporaryDirectory() as folder:
    with open(os.path.join(folder, "room.toml"), "w") as file:
        file.write(ROOM)
    start = view(folder, "--screenshot", os.path.join(folder, "a.png"))
    grab = [h for h in start["window"]["handles"] if h["kind"] == "sub"][0]
    x, y, width, height = start["window"]["room_px"]

    def pixel(point):
        clip = np.reshape(start["window"]["projection"], (4, 4)) @ [*point, 1.0]
        return x + (clip[0] / clip[3] + 1) / 2 * width, y + (clip[1] / clip[3] + 1) / 2 * height

    gx, gy, gz = grab["grab_m"]
    way = [(gx, gy + 3.5 * s, gz) for s in np.linspace(0, 1, 150)] + \
          [(gx + 2.5 * s, gy + 3.5 * (1 - s), gz) for s in np.linspace(0, 1, 150)]
    pixels = [tuple(map(round, pixel(p))) for p in way]
    events = ["# StreamVersion 1.1", "LeftButtonPressEvent %d %d 0 0 0 0" % pixels[0]] + \
        ["MouseMoveEvent %d %d 0 0 0 0" % p for p in pixels] + \
        ["LeftButtonReleaseEvent %d %d 0 0 0 0" % pixels[-1]]
    path = os.path.join(folder, "events.log")
    with open(path, "w") as file:
        file.write("\n".join(events) + "\n")
    end = view(folder, "--replay", path)

update, draw = end["timing_s"]["update"], end["timing_s"]["draw"]
print(f"window: {len(SEATS)} seats x {len(end['frequency_hz'])} frequencies, {end['frames']} frames of a drag")
print(f"  working it out {1e3 * update:7.1f} ms")
print(f"  drawing        {1e3 * draw:7.1f} ms")
print(f"  one after the other {1 / (update + draw):5.0f} frames a second, side by side up to "
      f"{1 / max(update, draw):.0f}")
