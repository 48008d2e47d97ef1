"""Titles, names, paths, options and files full of what a terminal obeys (ECMA-48; Unicode TR 9) and of zeros: every
command shows them as text, whole, in its answers, its notes and its messages."""
import math
import os
import re
import shutil
import subprocess

import pytest

from runner import DEMO, PROGRAM, run, run_json
from whole_folder import QUICK

ALIVE = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u200e\u200f\u2028-\u202e\u2066-\u2069\ufffe]")
EVIL = "x\\u0000\\u001b[2J\\u0007\\u202e\\u009b\\n y\\u007fEND"  # as TOML writes it
SHOWN = ("\\x00", "\\x1b", "\\x07", "END")


def hostile(text):
    text = re.sub(r'^title = ".*"', lambda _: f'title = "{EVIL}"', text, flags=re.M).replace('step = "0.10 m"', QUICK)
    for number, name in enumerate(('"sofa, left"', '"front left corner"', '"walkway"', '"door swing"')):
        text = text.replace(name, f'"{number}{EVIL}"')
    return text + "\n[analysis]\nper_octave = 12\n"


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    folder = tmp_path_factory.mktemp("evil")
    text = hostile(DEMO.read_text())
    assert text.count(EVIL) >= 3
    (folder / "\x1b[31mroom.toml").write_text(text)
    door = (DEMO.parent / "open_door.toml").read_text().replace('"door to the hall"', f'"{EVIL}"')
    assert EVIL in door
    (folder / "door.toml").write_text(re.sub(r'^title = .*', lambda _: f'title = "{EVIL}"', door, flags=re.M))
    heard = run_json("listen", folder / "\x1b[31mroom.toml", "--out", folder / "a")
    rows = (f"{f},{level}" for f, level in zip(heard["frequency_hz"], heard["seats"][0]["level_db"]))
    (folder / "curve.csv").write_text("frequency_hz,level_db\n" + "\n".join(rows) + "\n")
    (folder / "measured.toml").write_text(text + f'\n[[recording]]\nseat = "0{EVIL}"\nsub = "1{EVIL}"\n'
                                          'curve = "curve.csv"\n')
    survey = (DEMO.parent / "survey.toml").read_text()
    for name in ("Living rooms", "masonry", "timber frame", "ten inch"):
        assert f'"{name}"' in survey
        survey = survey.replace(f'"{name}"', f'"{name} {EVIL}"', 1)
    (folder / "\x1bsurvey.toml").write_text(survey)
    ohms = ((f, abs(4 + 36 / complex(1, 4 * (f / 30 - 30 / f)))) for f in (8 * 1.05**n for n in range(100)))
    (folder / "\x1bohms.csv").write_text("frequency_hz,impedance_ohm\n" + "".join(f"{f},{z}\n" for f, z in ohms))
    return folder


ROOM = "\x1b[31mroom.toml"
EVERY = [("check", ROOM), ("box", ROOM), ("modes", ROOM), ("listen", ROOM), ("map", ROOM), ("rank", ROOM), ("plan", ROOM),
         ("build", ROOM), ("rank", ROOM, "--subs", "2"), ("driver", "\x1bohms.csv"), ("sweep", ROOM), ("fit", "measured.toml"),
         ("listen", "measured.toml"), ("compare", ROOM, "a/listen.h5"), ("check", "a/listen.h5"), ("listen", "door.toml"),
         ("survey", "\x1bsurvey.toml", "--rooms", "2"), ("survey", "\x1bsurvey.toml", "--room", "1")]


@pytest.mark.parametrize("json", [[], ["--json"]], ids=["text", "json"])
@pytest.mark.parametrize("arguments", EVERY, ids=lambda words: " ".join(words).replace("\x1b", ""))
def test_answers(arguments, json, folder, tmp_path):
    done = run(*arguments, "--out", tmp_path / "\x1bout", *json, cwd=folder)
    assert done.returncode == 0, done.stderr
    assert not ALIVE.search(done.stdout + done.stderr), ALIVE.search(done.stdout + done.stderr)


def test_pages_show_what_is_alive_in_a_survey(folder, tmp_path):
    """Page, table and picture: no control characters, and nothing that turns what stands behind it."""
    done = run("survey", "\x1bsurvey.toml", "--rooms", "2", "--out", tmp_path, "--quiet", cwd=folder)
    assert done.returncode == 0, done.stderr
    for name in ("survey.html", "survey.svg"):
        text = (tmp_path / name).read_text()
        assert "masonry" in text and not ALIVE.search(text.replace("\n", "")), ALIVE.search(text)


def test_recordings_are_found_by_names_that_a_terminal_obeys(folder, tmp_path):
    """Such files are opened under the name they have, shown under one that is dead, and named again in fitted.toml."""
    name = "\x1b[2J\u202ex\u0085\x07.csv"
    (tmp_path / name).write_bytes((folder / "curve.csv").read_bytes())
    (tmp_path / ("mic" + name)).write_text("frequency_hz,correction_db\n10,0\n300,0\n")
    written = "\\u001b[2J\\u202ex\\u0085\\u0007.csv"
    text = (folder / "measured.toml").read_text().replace('"curve.csv"', f'"{written}"')
    (tmp_path / "measured.toml").write_text(text + f'[microphone]\ncalibration = "mic{written}"\n')
    for arguments in (("fit", "measured.toml", "--out", "fitted"), ("listen", "fitted/fitted.toml")):
        done = run(*arguments, cwd=tmp_path)
        assert done.returncode == 0 and not ALIVE.search(done.stdout + done.stderr), done.stderr
        answer = run_json(*arguments, cwd=tmp_path)
    assert answer["recordings"][0]["name"].endswith("\\x1b[2J\\u202ex\\x85\\x07.csv")
    (tmp_path / "zero.toml").write_text(text.replace(written, "a\\u0000.csv"))
    done = run("listen", "zero.toml", cwd=tmp_path)
    assert done.returncode == 2 and "names no file" in done.stderr, done.stderr


def test_a_fit_that_could_not_name_its_recordings(folder, tmp_path):
    """TOML is UTF-8 alone: a folder that is none is told before the fit, and does no harm as a place for results."""
    there = os.fsdecode(os.fsencode(tmp_path) + b"/\xff")
    os.mkdir(there)
    for name in ("curve.csv", "measured.toml"):
        shutil.copy(folder / name, there)
    done = run("fit", "measured.toml", "--out", tmp_path / "out", cwd=there)
    assert done.returncode == 2 and "no UTF-8" in done.stderr and not (tmp_path / "out").exists(), done.stderr
    assert run("fit", "measured.toml", "--out", "\udcfe", "--json", "--quiet", cwd=there).returncode == 0


WRONG = {  # what stands in the room file, instead of what, and so that it is named in the message
    "a seat outside": ('at = ["1.35 m", "3.60 m", "1.05 m"]', 'at = ["91 m", "3.60 m", "1.05 m"]'),
    "a key": ("qts = 0.45", f'qts = 0.45\n"{EVIL}" = 1'),
    "a table": ("[walls]", f'["{EVIL}"]\na = 1\n[walls]'),
    "a construction": ('left = "brick, plastered"', f'left = "{EVIL}"'),
    "a quantity": ('fs = "27 Hz"', f'fs = "27 {EVIL}"'),
    "a word": ('contents = "furnished"', f'contents = "{EVIL}"'),
    "a file": ("[spots]", f'[[recording]]\nseat = "0{EVIL}"\ncurve = "{EVIL}"\n[spots]'),
    "a seat of a recording": ("[spots]", f'[[recording]]\nseat = "{EVIL}"\ncurve = "a.csv"\n[spots]')}


@pytest.mark.parametrize("name", WRONG)
def test_messages_about_a_room_file(name, tmp_path):
    old, new = WRONG[name]
    text = hostile(DEMO.read_text().replace(old, new, 1))
    assert new.split("\n")[0] in text
    (tmp_path / "\x1bwrong.toml").write_text(text)
    done = run("listen", "\x1bwrong.toml", cwd=tmp_path)
    assert done.returncode == 2 and not ALIVE.search(done.stderr), done.stderr
    assert all(piece in done.stderr for piece in SHOWN), done.stderr  # nothing is cut off at the zero
    assert "\\x1bwrong.toml:" in done.stderr or name == "a file"


SPREAD = {  # the same for a survey
    "a key": ("seed = 18", f'seed = 18\n"{EVIL}" = 1'),
    "a table": ("[seats]", f'["{EVIL}"]\na = 1\n[seats]'),
    "a construction": ('floor = "wood floor on joists"', f'floor = "{EVIL}"'),
    "a quantity": ('height = "1.10 m"', f'height = "1.10 {EVIL}"'),
    "a distribution": ("width = { normal", f'width = {{ "{EVIL}"')}


@pytest.mark.parametrize("name", SPREAD)
def test_messages_about_a_survey(name, tmp_path):
    old, new = SPREAD[name]
    text = (DEMO.parent / "survey.toml").read_text()
    assert old in text
    (tmp_path / "\x1bwrong.toml").write_text(text.replace(old, new, 1))
    done = run("survey", "\x1bwrong.toml", "--out", tmp_path / "out", cwd=tmp_path)
    assert done.returncode == 2 and not ALIVE.search(done.stderr), done.stderr
    assert all(piece in done.stderr for piece in SHOWN) and "\\x1bwrong.toml:" in done.stderr, done.stderr


@pytest.mark.parametrize("arguments", [["check", "\x1b\u202e"], ["\x1b"], ["check", DEMO, "--\x1b"], ["view", DEMO, "--size", "\x1b"],
                                       ["listen", DEMO, "--out", "/proc/\x1b"], ["listen", DEMO, "--solver", "\x1b"],
                                       ["box", "--fs", "27 \x1b"], ["build", DEMO, "--qtc", "\x1b"], ["new", "/proc/\x1b/a"],
                                       ["driver", "\x1b.csv"], ["compare", DEMO, "\x1b"], ["explain", "\x1b"],
                                       ["listen", DEMO, "--threads", "\x1b"], ["map", DEMO, "--frequency", "\x1b"],
                                       ["survey", "\x1b"], ["survey", DEMO.parent / "survey.toml", "--part", "\x1b"],
                                       ["survey", DEMO.parent / "survey.toml", "--merge", "--out", "\x1b"]],
                         ids=lambda words: " ".join(map(str, words[:1] + words[2:])).replace("\x1b", "ESC"))
def test_messages_about_options(arguments, tmp_path):
    done = run(*arguments, cwd=tmp_path)
    assert done.returncode == 2 and done.stdout == "" and not ALIVE.search(done.stderr) and "\\x1b" in done.stderr, done.stderr


@pytest.mark.parametrize("text", [b"frequency_hz,\x1b[2J\0END\n1,2\n", b"frequency_hz,impedance_ohm\n20,\x1b\0END\n",
                                  b"\0\x1b", b"frequency_hz,impedance_ohm\n\xff\xfe\x1b,3\n"])
def test_messages_about_a_table(text, tmp_path):
    (tmp_path / "ohms.csv").write_bytes(text)
    done = run("driver", "ohms.csv", cwd=tmp_path)
    assert done.returncode == 2 and not ALIVE.search(done.stderr), done.stderr
    assert b"END" not in text or "END" in done.stderr or "ohms.csv" in done.stderr


def test_answers_to_questions(tmp_path):
    """What is typed is shown again."""
    typed = b"\x1b[2Jmy\0room\x07\n" + b"\x1b\0 m\n4 m\n" * 40
    done = subprocess.run([PROGRAM, "new", "--ask", tmp_path / "a.toml"], input=typed, capture_output=True, timeout=60)
    assert done.returncode in (0, 2)
    said = (done.stdout + done.stderr).decode("utf-8", "surrogateescape")
    assert not ALIVE.search(said), ALIVE.search(said)
