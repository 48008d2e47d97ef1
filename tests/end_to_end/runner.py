"""Runs the program as a user would, and writes small room files for it.

BOXROOM is the path of the program and BOXROOM_SOURCE_DIR the top of the repository; CTest sets both.
"""
import atexit
import json
import os
import pathlib
import re
import shutil
import subprocess
import tempfile

SOURCE = pathlib.Path(os.environ.get("BOXROOM_SOURCE_DIR", pathlib.Path(__file__).resolve().parents[2]))
PROGRAM = os.path.abspath(os.environ.get("BOXROOM", SOURCE / "build" / "boxroom"))
# The rectangles; test_grid.py looks at the rooms that are none.
ROOMS = sorted(path for path in (SOURCE / "rooms").glob("*.toml") if not re.search(r"floor_plan|\[\[house\]\]", path.read_text()))
DEMO = SOURCE / "rooms" / "demo.toml"

# Solved rooms are kept here, and not with the user's own.
KEPT = tempfile.mkdtemp(prefix="boxroom-kept-")
os.environ["XDG_CACHE_HOME"] = KEPT
atexit.register(shutil.rmtree, KEPT, ignore_errors=True)

HANG = 600  # s; a guard against what never ends, far above what any machine takes: no test is timed

RHO, C = 1.2041, 343.2  # the program's default air at 20 C (DESIGN section 5)

WALLS = {  # all different, so that a mix-up of two walls shows
    "left": "{ resistance = 9000 }",
    "right": "{ resistance = 14000 }",
    "front": "{ resistance = 2200, mass = 11, stiffness = 1.8e6 }",
    "back": "{ resistance = 20000 }",
    "floor": "{ resistance = 30000 }",
    "ceiling": "{ resistance = 11000 }",
}


def run(*arguments, cwd=None, timeout=HANG, **environment):
    """The finished process; there is no display and nothing on standard input."""
    environment = {k: v for k, v in os.environ.items() if k != "DISPLAY"} | environment
    return subprocess.run([PROGRAM, *map(str, arguments)], cwd=cwd, env=environment, timeout=timeout,
                          stdin=subprocess.DEVNULL, capture_output=True, text=True)


def run_json(*arguments, cwd=None):
    """The JSON document of a run that must succeed; anything else on standard output fails here."""
    done = run(*arguments, "--json", cwd=cwd)
    assert done.returncode == 0, done.stderr

    def refuse(token):
        raise AssertionError(f"{token} is not JSON")

    return json.loads(done.stdout, parse_constant=refuse)


def room_text(size, walls, seats, subs, frequencies=None, air=(C, RHO), title="test room"):
    """A room file in bare SI numbers. `seats` and `subs` are lists of (x, y, z)."""
    lines = [f'title = "{title}"', "[air]", f"speed_of_sound = {air[0]}", f"density = {air[1]}",
             "[room]", f"width = {size[0]!r}", f"length = {size[1]!r}", f"height = {size[2]!r}", "[walls]"]
    lines += [f"{name} = {wall}" for name, wall in walls.items()]
    lines += ["[driver]", 'fs = "27 Hz"', "qts = 0.45", 'vas = "38 L"', "[box]", 'volume = "25 L"']
    for number, at in enumerate(seats):
        lines += ["[[seat]]", f'name = "seat {number}"', f"at = {[float(v) for v in at]}"]
    for number, at in enumerate(subs):
        lines += ["[[sub]]", f'name = "sub {number}"', f"at = {[float(v) for v in at]}"]
    if frequencies is not None:
        lines += ["[analysis]", f"frequencies = {[float(f) for f in frequencies]}"]
    return "\n".join(lines) + "\n"


def transfer_impedance(folder, name, text, *options):
    """Z (F, S, Q) of the room file `text`, solved by `listen` and read back with h5py."""
    import h5py
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / f"{name}.toml"
    path.write_text(text)
    done = run("listen", path, "--out", folder / name, "--quiet", *options)
    assert done.returncode == 0, done.stderr
    with h5py.File(folder / name / "listen.h5") as file:
        return file["transfer_impedance"][:]


def without_tables(text, name):
    """The text without its [[name]] tables."""
    return re.sub(rf"(?ms)^\[\[{name}\]\].*?(?=^\[|\Z)", "", text)
