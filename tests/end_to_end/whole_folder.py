"""A results folder as DESIGN section 16 promises it: with a manifest it is whole."""
import hashlib
import json
import math
import os
import shutil

from runner import DEMO, SOURCE, run_json

QUICK = 'step = "0.40 m"'


def quick_room(folder):
    """The demo's room file with few spots and frequencies, as my.toml."""
    path = folder / "my.toml"
    path.write_text(DEMO.read_text().replace('step = "0.10 m"', QUICK) + "\n\n[analysis]\nper_octave = 12\n")
    assert QUICK in path.read_text()
    return path


WRITES = {  # every command that writes into a folder, as it is called beside room_and_more, and a file it is known for
    "box my.toml": "box_time.csv", "listen my.toml": "listen.h5", "map my.toml": "spread_by_spot.vti",
    "rank my.toml": "rank.csv", "plan my.toml": "report.html", "build my.toml": "cut_list.csv",
    "sweep my.toml": "sweep.wav", "fit measured.toml": "fitted.toml", "driver ohms.csv": "driver.toml",
    "compare my.toml a/listen.h5": "compare.csv", "listen measured.toml": "measured.csv",
    "survey survey.toml --rooms 2": "survey.h5"}


def room_and_more(folder):
    """What every command needs: my.toml, measured.toml with its curve, an impedance, and results in a."""
    path = quick_room(folder)
    shutil.copy(SOURCE / "rooms" / "survey.toml", folder)
    heard = run_json("listen", path, "--out", folder / "a")
    rows = (f"{f},{level}" for f, level in zip(heard["frequency_hz"], heard["seats"][0]["level_db"]))
    (folder / "curve.csv").write_text("frequency_hz,level_db\n" + "\n".join(rows) + "\n")
    (folder / "measured.toml").write_text(path.read_text() + '\n[[recording]]\nseat = "sofa, left"\n'
                                          'sub = "front left corner"\ncurve = "curve.csv"\n')
    # Re, a peak of 40 ohm at 30 Hz, and a coil: any driver will do.
    ohms = ((f, abs(4 + 36 / complex(1, 4 * (f / 30 - 30 / f)) + 2j * math.pi * f * 1e-3))
            for f in (8 * 1.05**n for n in range(100)))
    (folder / "ohms.csv").write_text("frequency_hz,impedance_ohm\n" + "".join(f"{f},{z}\n" for f, z in ohms))
    return folder


def contents(folder):
    return {p.name: p.read_bytes() if p.is_file() else None for p in folder.iterdir()}


def check_manifest(folder):
    """The manifest of a whole folder: {file: run}. Every hash is worked out here."""
    manifest = json.loads((folder / "manifest.json").read_text())
    assert isinstance(manifest["run"], str) and manifest["run"]
    for entry in manifest["files"]:
        assert hashlib.sha256((folder / entry["name"]).read_bytes()).hexdigest() == entry["sha256"], entry
    return {entry["name"]: entry["run"] for entry in manifest["files"]}


def check_swept(folder):
    """The manifest of a folder that holds what it lists, and nothing else."""
    files = check_manifest(folder)
    assert set(contents(folder)) == set(files) | {"manifest.json"}
    return files


def hidden(folder):
    """The files that a run has written beside their places."""
    try:
        return [name for sub in folder.glob(".boxroom-unfinished-*") for name in os.listdir(sub)]
    except FileNotFoundError:  # it was just taken away
        return []
