"""Drives `boxroom view` on a virtual screen: writes recorded events, reads back what is shown."""
import atexit
import functools
import json
import os
import shutil
import subprocess

import numpy as np
import pytest

from runner import HANG, PROGRAM

needs_screen = pytest.mark.skipif(not shutil.which("Xvfb"), reason="Xvfb is not installed")


@functools.cache
def display():
    """The X server of the whole test run, which tests/run.sh starts; without it, one of our own."""
    if given := os.environ.get("BOXROOM_TEST_DISPLAY"):
        return given
    read, write = os.pipe()
    server = subprocess.Popen(["Xvfb", "-displayfd", str(write), "-screen", "0", "1920x1200x24", "-noreset",
                               "-nolisten", "tcp"],
                              pass_fds=[write], stdin=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    os.close(write)
    atexit.register(lambda: (server.terminate(), server.wait()))
    with os.fdopen(read) as number:  # Xvfb writes it when it is ready, or closes it in dying
        name = number.readline().strip()
    assert name, "Xvfb did not start"
    return ":" + name


def on_screen():
    """The environment of a program that opens windows."""
    return os.environ | {"DISPLAY": display()}


def run_view(*arguments, cwd=None):
    return subprocess.run([PROGRAM, "view", *map(str, arguments)], cwd=cwd, env=on_screen(), timeout=HANG,
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


def view_by_hand(room, cwd, way, keys, *options):
    """The same with a real mouse and keyboard: drags along `way` (pixels of the window, y downwards),
    then presses the keys, the last of which must close the window.

    Nothing here waits for a time: the window is named when it takes events, and keeps their order.
    """
    hands = ["xdotool", "search", "--sync", "--onlyvisible", "--name", "^boxroom: ",
             "mousemove", "--window", "%1", *way[0], "mousedown", "1"]
    for start, end in zip(way, way[1:]):
        for share in np.linspace(0.05, 1, 20):
            hands += ["mousemove", "--window", "%1", *(np.asarray(start) + share * np.subtract(end, start))]
    hands += ["mouseup", "1", "key", "--window", "%1", *keys]
    words = [word if isinstance(word, str) else str(round(word)) for word in hands]
    with subprocess.Popen([PROGRAM, "view", room, "--json", "--quiet", *map(str, options)], cwd=cwd, env=on_screen(),
                          stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as program, \
            subprocess.Popen(words, env=on_screen(), stdin=subprocess.DEVNULL) as user:
        try:
            out, err = program.communicate(timeout=HANG)
        finally:
            program.kill()
            user.kill()  # done long ago, unless no window ever came
    assert program.returncode == 0, err
    return json.loads(out)


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
