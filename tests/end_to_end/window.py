"""Drives `boxroom view` on a virtual screen: writes recorded events, reads back what is shown."""
import json
import os
import shutil
import subprocess

import numpy as np
import pytest

from runner import PROGRAM

needs_screen = pytest.mark.skipif(not shutil.which("xvfb-run"), reason="xvfb-run is not installed")


def run_view(*arguments, cwd=None, timeout=300):
    return subprocess.run(["xvfb-run", "-a", PROGRAM, "view", *map(str, arguments)], cwd=cwd, timeout=timeout,
                          stdin=subprocess.DEVNULL, capture_output=True, text=True)


def view(room, cwd, events=None, *options):
    """What the window holds in the end, as the JSON document."""
    if events is not None:
        path = cwd / "events.log"
        path.write_text("# StreamVersion 1.1\n" + "".join(events))
        options = ["--replay", path, *options]
    else:
        options = ["--screenshot", cwd / "screenshot.png", *options]
    done = run_view(room, "--json", "--quiet", *options, cwd=cwd)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def mouse(event, pixel):
    """One event as VTK's recorder writes it: name, x, y (upwards), modifiers, key, repeat, symbol."""
    return f"{event} {round(pixel[0])} {round(pixel[1])} 0 0 0 0\n"


def key(symbol):
    return f"KeyPressEvent 10 10 0 0 0 {symbol}\nKeyReleaseEvent 10 10 0 0 0 {symbol}\n"


def drag(*pixels):
    """Press at the first pixel, move over the others in ten steps each, let go at the last."""
    events = [mouse("MouseMoveEvent", pixels[0]), mouse("LeftButtonPressEvent", pixels[0])]
    for start, end in zip(pixels, pixels[1:]):
        for share in np.linspace(0.1, 1, 10):
            events.append(mouse("MouseMoveEvent", np.asarray(start) + share * (np.asarray(end) - start)))
    return events + [mouse("LeftButtonReleaseEvent", pixels[-1])]


def pixel_of(state, point):
    """Where a place in the room lies in the window, by the projection that the state gives."""
    clip = np.reshape(state["window"]["projection"], (4, 4)) @ [*point, 1.0]
    x, y, width, height = state["window"]["room_px"]
    return np.array([x + (clip[0] / clip[3] + 1) / 2 * width, y + (clip[1] / clip[3] + 1) / 2 * height])


def handle(state, kind, number=0):
    return [h for h in state["window"]["handles"] if h["kind"] == kind][number]
