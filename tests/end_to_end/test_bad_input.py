"""Wrong room files: exit 2, a message with file:line and a mend, and nothing written."""
import json
import os
import re

import pytest

from runner import DEMO, run

GOOD = DEMO.read_text()

# name: (a piece of the demo file, what stands there instead). The fault is on the first line that
# changes; where a whole key or table is missing, any line of the file will do (None).
WRONG_VALUE = {
    "unknown key": ('width = "4.10 m"', 'width = "4.10 m"\nbreadth = "4 m"', 1),
    "misspelt key": ("qts = 0.45", "qst = 0.45", None),
    "unknown table": ("[walls]", "[carpets]\nthick = true\n[walls]", 0),
    "wrong unit": ('width = "4.10 m"', 'width = "4.10 L"', 0),
    "unknown unit": ('fs = "27 Hz"', 'fs = "27 Hertzes"', 0),
    "text for a number": ('fs = "27 Hz"', 'fs = "low"', 0),
    "empty text": ('vas = "38 L"', 'vas = ""', 0),
    "trailing text": ('vas = "38 L"', 'vas = "38 L or so"', 0),
    "wrong type": ("qts = 0.45", "qts = [0.45]", 0),
    "boolean for a number": ('height = "2.45 m"', "height = true", 0),
    "negative length": ('width = "4.10 m"', 'width = "-4.10 m"', 0),
    "no height": ('height = "2.45 m"', 'height = "0 m"', 0),
    "not a number": ("qts = 0.45", "qts = nan", 0),
    "infinite": ('length = "5.20 m"', "length = inf", 0),
    "Qts above Qes": ("qts = 0.45", "qts = 0.55", None),
    "negative power": ('power = "250 W"', 'power = "-250 W"', 0),
    "unknown construction": ('left = "brick, plastered"', 'left = "cheese"', 0),
    "absorption above one": ('left = "brick, plastered"', "left = { absorption = 1.4 }", 0),
    "no resistance": ('left = "brick, plastered"', "left = { mass = 11 }", 0),
    "negative mass": ('left = "brick, plastered"', "left = { resistance = 2000, mass = -1 }", 0),
    "unknown wall": ('left = "brick, plastered"', 'lefft = "brick, plastered"', None),
    "filling above the limit": ("filling = 1.15", "filling = 1.9", 0),
    "no box": ('volume = "25 L"', 'volume = "0 L"', 0),
    "sweep upside down": ("qtc = [0.5, 1.2]", "qtc = [1.2, 0.5]", 0),
    "sweep below Qts": ("qtc = [0.5, 1.2]", "qtc = [0.3, 1.2]", 0),
    "seat outside": ('at = ["1.35 m", "3.60 m", "1.05 m"]', 'at = ["9 m", "3.60 m", "1.05 m"]', 0),
    "seat in two dimensions": ('at = ["1.35 m", "3.60 m", "1.05 m"]', 'at = ["1.35 m", "3.60 m"]', 0),
    "negative weight": ("weight = 1.5", "weight = -1.5", 0),
    "sub outside": ('at = ["0.35 m", "0.40 m", "0.22 m"]', 'at = ["0.35 m", "0.40 m", "3 m"]', 0),
    "polarity": ('at = ["0.35 m", "0.40 m", "0.22 m"]',
                 'at = ["0.35 m", "0.40 m", "0.22 m"]\npolarity = "sideways"', 1),
    "no step": ('step = "0.10 m"', 'step = "0 m"', 0),
    "band upside down": ('band = ["30 Hz", "120 Hz"]', 'band = ["120 Hz", "20 Hz"]', 0),
    "wrong slope": ('slope = "0 dB/oct"', 'slope = "0 Hz"', 0),
    "not TOML": ("[walls]", "[walls", 0),
    "key twice": ("qts = 0.45", "qts = 0.45\nqts = 0.46", 1),
    "no walls": (re.search(r"(?s)\[walls\].*?(?=\n# An invented)", GOOD).group(), "", None),
    "no ceiling": ('ceiling = "plasterboard on studs, double"', "", None),
    "no fs": ('fs = "27 Hz"', "", None),
    "unknown board": ("[spots]", '[build]\nmaterial = "chocolate"\n[spots]', 1),
    "unknown joint": ("[spots]", '[build]\njoint = "tape"\n[spots]', 1),
    "yes for true": ("[spots]", '[build]\ndouble_front = "yes"\n[spots]', 1),
    "sheet of one side": ("[spots]", '[build]\nsheet = ["2.44 m"]\n[spots]', 1),
    "kerf in litres": ("[spots]", '[build]\nkerf = "3 L"\n[spots]', 1),
    "half a brace": ("[spots]", "[build]\nbraces = 0.5\n[spots]", 1),
    "frame inside the hole": ("[spots]", '[build]\ndriver_cut_out = "0.24 m"\ndriver_frame = "0.2 m"\n[spots]', 2),
    "sum and part": ("filling = 1.15", 'filling = 1.15\nextra_volume = "3 L"\n[build]\ndriver_volume = "1 L"', 3),
    "crossover without a frequency": ("[spots]", "[crossover]\norder = 4\n[spots]", 0),
    "unknown crossover": ("[spots]", '[crossover]\nfrequency = 80\ntype = "brick wall"\n[spots]', 2),
    "crossover of order 3": ("[spots]", "[crossover]\nfrequency = 80\norder = 3\n[spots]", 2),
    "unknown key of crossover": ("[spots]", "[crossover]\nfrequency = 80\nslope = 24\n[spots]", 2),
    "main nowhere": ("[spots]", '[[main]]\nname = "left"\n[spots]', 0),
    "main outside": ("[spots]", '[[main]]\nat = ["9 m", "1 m", "1 m"]\n[spots]', 1),
    "main of order 3": ("[spots]", "[[main]]\nat = [1, 1, 1]\nlow_end = 40\nlow_end_order = 3\n[spots]", 3),
    "sensitivity in watts": ("[spots]", '[[main]]\nat = [1, 1, 1]\nsensitivity = "90 W"\n[spots]', 2),
    "high-pass as text": ("[spots]", '[[main]]\nat = [1, 1, 1]\nhigh_pass = "yes"\n[spots]', 2),
    "half a sub": ("[spots]", "[search]\nsubs = [1.5]\n[spots]", 1),
    "a volume twice": ("[spots]", '[search]\nvolumes = ["13 L", "13 L"]\n[spots]', 1),
    "a volume in metres": ("[spots]", '[search]\nvolumes = ["13 m"]\n[spots]', 1),
    "a sub's volume in metres": ("[[sub]]", '[[sub]]\nvolume = "13 m"', 1),
    "five subs": ("[spots]", "[search]\nsubs = [5]\n[spots]", 1),
    "draws below zero": ("[spots]", "[robustness]\ndraws = -1\n[spots]", 1),
    "wall factor below one": ("[spots]", "[robustness]\nwall = 0.5\n[spots]", 1),
    "seats wrong by a litre": ("[spots]", '[robustness]\nseat = "1 L"\n[spots]', 1),
    "no gain step": ("[spots]", '[settings]\ngain_step = "0 dB"\n[spots]', 1),
    "unknown key of build": ("[spots]", '[build]\nglue = "much"\n[spots]', 1),
    "a window larger than its wall": ('left = "brick, plastered"',
                                      'left = ["brick, plastered", { made_of = "window glass", area = "40 m2" }]', 0),
    "a door of no area": ('left = "brick, plastered"',
                          'left = ["brick, plastered", { made_of = "solid door", area = "-1 m2" }]', 0),
    "a part of cheese": ('left = "brick, plastered"', 'left = ["brick, plastered", { made_of = "cheese", area = 1 }]', 0),
    "a part without an area": ('left = "brick, plastered"', 'left = ["brick, plastered", "solid door"]', 0),
    "unknown contents": ('contents = "furnished"', 'contents = "cosy"', 0),
    "contents of minus": ('contents = "furnished"', 'contents = { absorption_area = "-6 m2" }', 0),
    "contents next door": ("[spots]", '[[space]]\nname = "hall"\nfrom = [5, 0, 0]\nto = [7, 5, 2]\n'
                           'walls = { absorption = 0.1 }\ncontents = "soft"\n[spots]', 5),
    "a window in all walls next door": (
        "[spots]", '[[space]]\nname = "hall"\nfrom = [5, 0, 0]\nto = [7, 5, 2]\n'
        'walls = ["concrete", { made_of = "window glass", area = 1 }]\n[spots]', 4),
    "a window larger than its wall next door": (
        "[spots]", '[[space]]\nname = "hall"\nfrom = [5, 0, 0]\nto = [7, 5, 2]\nwalls = "concrete"\n'
        'left = ["concrete", { made_of = "window glass", area = 11 }]\n[spots]', 5),
    "the crossover's old place": ("[spots]", '[build]\ncrossover = "90 Hz"\n[spots]', 1),
    "a very deep key": ("[spots]", f"{30_000 * 'a.'}a = 1\n[spots]", 0),
    "very many brackets": ("[spots]", f"x = {30_000 * '['}\n[spots]", 0),
    "a very long name": ('name = "armchair"', f'name = "{30_000 * "w"}"', 0),
    "no name of a seat": ('name = "armchair"\nat', "at", None),
}


def spoil(old, new):
    assert old in GOOD
    return GOOD.replace(old, new, 1)


def refuse(text, tmp_path, command="plan"):
    """Runs the command on a wrong file and returns what it says."""
    path = tmp_path / "wrong.toml"
    path.write_text(text)
    done = run(command, path, "--out", tmp_path / "out", "--json", cwd=tmp_path)
    assert done.returncode == 2, (done.returncode, done.stderr)
    assert done.stdout == ""
    assert not (tmp_path / "out").exists() or not list((tmp_path / "out").iterdir())
    assert [p.name for p in tmp_path.iterdir() if p.is_file()] == ["wrong.toml"]
    assert "terminate" not in done.stderr
    return done.stderr


@pytest.mark.parametrize("name", WRONG_VALUE)
def test_refused_with_file_and_line(name, tmp_path):
    old, new, offset = WRONG_VALUE[name]
    said = refuse(spoil(old, new), tmp_path)
    lines = [int(n) for n in re.findall(r"wrong\.toml:(\d+)", said)]
    assert lines, said
    if offset is not None:
        assert GOOD[: GOOD.index(old)].count("\n") + 1 + offset in lines, said


def test_every_fault_at_once(tmp_path):
    text = (GOOD.replace('width = "4.10 m"', 'width = "4.10 L"', 1).replace("filling = 1.15", "filling = 9", 1)
            .replace('fs = "27 Hz"', 'fs = "27 m"', 1))
    said = refuse(text, tmp_path, "check")
    assert len(set(re.findall(r"wrong\.toml:(\d+)", said))) >= 3, said


def test_message_says_how_to_mend(tmp_path):
    said = refuse(spoil('left = "brick, plastered"', 'left = "brick plastered"'), tmp_path)
    assert "brick, plastered" in said  # the nearest known construction


@pytest.mark.parametrize("table", ["seat", "driver", "room"])
def test_missing_table(table, tmp_path):
    text = re.sub(rf"(?ms)^\[+{table}\]+.*?(?=^\[|\Z)", "", GOOD)
    said = refuse(text, tmp_path)
    assert re.search(r"wrong\.toml:\d+", said) and table in said


@pytest.mark.parametrize("content", [b"", b"\x00\x01\x02", b"\xff\xfe title", b"title = 'x'\r\r\n[["],
                         ids=["empty", "zeros", "not UTF-8", "broken"])
def test_not_a_room_file(content, tmp_path):
    path = tmp_path / "odd.toml"
    path.write_bytes(content)
    done = run("check", path, cwd=tmp_path)
    assert done.returncode == 2 and re.search(r"odd\.toml:\d+", done.stderr), done.stderr


def test_absolute_main_beside_a_relative_sub(tmp_path):
    text = GOOD.replace('sd = "330 cm2"', "", 1) + '\n[[main]]\nat = [1, 1, 1]\nsensitivity = "90 dB"\n'
    said = refuse(text, tmp_path, "listen")
    assert f"wrong.toml:{text.count(chr(10))}" in said and "sensitivity" in said and "sd" in said


@pytest.mark.parametrize("arguments", [
    ["box", "--fs", "27 Hz", "--qts", "0.45", "--vas", "38", "--qtc", "0.7"],
    ["box", "--fs", "27 Hz", "--qts", "0.45", "--vas", "38 L", "--volume", "20"],
    ["build", DEMO, "--volume", "25"], ["build", DEMO, "--volume", "0 L"], ["build", DEMO, "--volume", "a lot"]])
def test_a_volume_on_the_command_line_without_its_unit(arguments, tmp_path):
    """A bare number is SI, so 38 means cubic metres: told, not worked out."""
    done = run(*arguments, cwd=tmp_path)
    assert done.returncode == 2 and done.stdout == "" and "38 L" in done.stderr
    assert len(done.stderr.strip().splitlines()) == 1


def test_listen_without_a_sub(tmp_path):
    assert "sub" in refuse(re.sub(r"(?ms)^\[\[sub\]\].*?(?=^\[)", "", GOOD), tmp_path, "listen")


def test_no_spot_left(tmp_path):
    """Keep-outs may leave no floor: that is a fault of the file, told as such."""
    everywhere = '\n[[keep_out]]\nname = "all"\nfrom = ["0 m", "0 m"]\nto = ["4.1 m", "5.2 m"]\n'
    path = tmp_path / "full.toml"
    path.write_text(GOOD + everywhere)
    done = run("plan", path, "--out", tmp_path / "out", cwd=tmp_path)
    assert done.returncode == 2 and done.stderr.strip()
    assert not (tmp_path / "out").exists() or not list((tmp_path / "out").iterdir())


@pytest.mark.parametrize("kind", ["folder", "pipe", "device", "large", "stream"])
def test_no_file_at_all(kind, tmp_path):
    """Told in a sentence, and not waited for: a pipe may never speak, a device never end."""
    path = {"folder": tmp_path, "device": "/dev/zero", "stream": "/dev/stdin"}.get(kind, tmp_path / "odd")
    if kind == "pipe":
        os.mkfifo(path)
    if kind == "large":
        with open(path, "wb") as file:
            file.truncate(3_000_000_000)  # takes no room on the disk, and is not read through
    done = run("check", path, cwd=tmp_path, timeout=60)
    assert done.returncode == 2 and len(done.stderr.strip().splitlines()) == 1, done.stderr
    assert " -- " in done.stderr and "terminate" not in done.stderr


def test_unwritable_output(tmp_path):
    (tmp_path / "taken").write_text("a file, not a folder")
    done = run("listen", DEMO, "--out", tmp_path / "taken", cwd=tmp_path)
    assert done.returncode in (1, 2) and "taken" in done.stderr
    assert (tmp_path / "taken").read_text() == "a file, not a folder"


def test_nothing_of_the_input_is_alive_on_the_terminal(tmp_path):
    """Titles, names, paths and options with what a terminal obeys (ECMA-48, Unicode TR 9) come out as text."""
    evil = "x\\u001b[2J\\u0007\\u202e\\u009b\\n y"
    text = re.sub(r'^title = ".*"', lambda _: f'title = "{evil}"', GOOD, flags=re.M)
    text = text.replace('name = "sofa, left"', f'name = "{evil}"')
    assert text.count(evil) == 2
    path = tmp_path / "\x1b[31mroom.toml"
    path.write_text(text)
    alive = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u200e\u200f\u2028-\u202e\u2066-\u2069]")
    for command in ("check", "listen", "rank", "plan", "build"):
        for options in ([], ["--json"]):
            done = run(command, path, "--out", tmp_path / "\x1bout", *options)
            assert done.returncode == 0, done.stderr
            assert not alive.search(done.stdout + done.stderr)
    for arguments in (["check", "no\x1bfile.toml"], ["no\x1bcommand"], ["check", DEMO, "--no\x1boption"]):
        done = run(*arguments)
        assert done.returncode == 2 and not alive.search(done.stderr) and "\\x1b" in done.stderr


def test_a_folder_whose_name_is_no_utf_8(tmp_path):
    folder = os.fsdecode(os.fsencode(tmp_path) + b"/\xff\xfe")
    for command in ("listen", "plan"):
        done = run(command, DEMO, "--json", "--quiet", "--out", folder)
        assert done.returncode == 0 and json.loads(done.stdout), done.stderr


@pytest.mark.parametrize("command, step", [(("rank", "--subs", "2"), "1 cm"), (("plan",), "1 cm"),
                                           (("plan", "--subs", "1"), "1 cm"), (("map",), "1 cm")],
                         ids=lambda value: " ".join(value) if isinstance(value, tuple) else value)
def test_more_memory_than_is_stated_is_refused_before_it_is_taken(command, step, tmp_path):
    """Spots by the hundred thousand and as many seats as a file may hold: numbers and a mend, at once. Where it
    is said to do, the same command gets past that point."""
    seats = "".join(f'[[seat]]\nname = "{i}"\nat = [{0.8 + i * 0.005}, 3.5, 1.1]\n' for i in range(400))
    path = tmp_path / "fine.toml"
    path.write_text(spoil('step = "0.10 m"', f'step = "{step}"') + (seats if "map" in command or "1" in command else ""))
    done = run(*command, path, cwd=tmp_path, timeout=30)
    assert done.returncode == 2 and len(done.stderr.strip().splitlines()) == 1, done.stderr
    said = re.search(r"step: 1 cm between spots make about (\d+)0{3} of them and take ([\d.]+) GB of memory, more than 2\.0 GB"
                     r' -- write step = "(\d+) cm"; --memory (\d+) allows it', done.stderr)
    assert said and int(said[1]) > 50 and 1 < int(said[3]) <= 100 and float(said[2]) <= int(said[4])
    assert not list(tmp_path.glob("fine-results/*"))


@pytest.mark.parametrize("table", ["seat", "sub", "keep_out", "block"])
def test_tables_without_end(table, tmp_path):
    said = refuse(GOOD + f'\n[[{table}]]\nname = "x"\n' * 600, tmp_path, "check")
    assert re.search(rf"wrong\.toml:\d+: \[\[{table}\]\] stands there \d+ times -- write at most 500", said), said


@pytest.mark.parametrize("old, new, said", [
    ('to = ["2.70 m", "3.40 m", "2.00 m"]', 'to = ["1.91 m", "3.40 m", "2.00 m"]', "narrower than 2 cm"),
    ('to = ["2.70 m", "3.40 m", "2.00 m"]', 'to = ["2.70 m", "3.40 m", "0.01 m"]', "narrower than 2 cm"),
    ('from = ["-1.00 m", "3.52 m", "0 m"]', 'from = ["2.69 m", "3.52 m", "0 m"]', "narrower than 2 cm"),
    ('from = ["-1.00 m", "3.52 m", "0 m"]', 'from = ["3.00 m", "3.52 m", "0 m"]', "does not meet its space"),
    ('from = ["-1.00 m", "3.52 m", "0 m"]', 'from = ["-1.00 m", "4.50 m", "0 m"]', "does not meet its space")])
def test_an_opening_that_nothing_goes_through(old, new, said, tmp_path):
    """Refused by `check`, with its line, and not by a solver later."""
    text = (DEMO.parent / "open_door.toml").read_text()
    assert text.count(old) == 1
    text = text.replace(old, new)
    fault = refuse(text, tmp_path, "check")
    line = int(re.search(r"wrong\.toml:(\d+)", fault)[1])
    assert text.splitlines()[line - 1].split()[0] in ("to", "space") and said in fault, fault
    assert line > text[: text.index("[[opening]]")].count("\n")


@pytest.mark.parametrize("table", ["opening", "space"])
def test_openings_and_spaces_that_overlap(table, tmp_path):
    """A second one in the place of the first, under another name: refused at its line, and both are named."""
    text = (DEMO.parent / "open_door.toml").read_text()
    start = text.index(f"[[{table}]]")
    end = text.find("\n[", start + 1)
    block = text[start : end if end > 0 else len(text)].rstrip() + "\n"
    name = re.search(r'name = "([^"]+)"', block)[1]
    second = block.replace(f'name = "{name}"', 'name = "twin"', 1)
    fault = refuse(text + "\n" + second, tmp_path, "check")
    assert "twin" in fault and name in fault, fault
    assert ("overlaps" if table == "opening" else "reaches into") in fault
    line = int(re.search(r"wrong\.toml:(\d+)", fault)[1])
    assert line > text.count("\n") and "from" in (text + "\n" + second).splitlines()[line - 1]
