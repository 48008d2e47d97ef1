"""The commands as DESIGN section 4 promises them: keys, types, files, exit status."""
import csv
import json
import numbers
import pathlib
import re
import shutil
import subprocess
import tomllib
from xml.etree import ElementTree

import pytest

from runner import DEMO, ROOMS, run, run_json

CRITERIA = ["spread_db", "unevenness_db", "balance_db", "reach_hz"]
rooms = pytest.mark.parametrize("room", ROOMS, ids=lambda path: path.stem)


def is_number(value):
    return isinstance(value, numbers.Real) and not isinstance(value, bool)


def expect_numbers(table, keys):
    for key in keys:
        assert is_number(table[key]), f"{key} = {table[key]!r}"


def expect_common(document, phases=1):
    """`check` and `box` solve nothing, so they may have no phase to time."""
    assert len(document["timing_s"]) >= phases and all(map(is_number, document["timing_s"].values()))
    assert all(isinstance(w, str) for w in document["warnings"])


def expect_point(value):
    assert len(value) == 3 and all(is_number(v) for v in value)


def test_there_are_four_rooms():
    assert len(ROOMS) >= 4
    for room in ROOMS:  # each opens with a comment that says what it shows
        assert room.read_text().startswith("#")


@rooms
def test_check(room, tmp_path):
    expect_common(run_json("check", room, cwd=tmp_path), phases=0)
    assert run("check", room, cwd=tmp_path).stdout.strip()


@rooms
def test_box(room, tmp_path):
    box = run_json("box", room, cwd=tmp_path)
    expect_common(box, phases=0)
    expect_numbers(box, ["fc_hz", "qtc", "volume_l", "f3_hz", "peak_db", "apparent_volume_l",
                         "efficiency", "spl_1w_1m_db"])
    assert box["apparent_volume_l"] == pytest.approx(1.15 * box["volume_l"])
    # Small 1972: fc/fs = Qtc/Qts = sqrt(1 + Vas/Vab), by hand from the driver in every room file.
    growth = (1 + 38 / box["apparent_volume_l"]) ** 0.5
    assert box["qtc"] == pytest.approx(0.45 * growth, rel=1e-3)
    assert box["fc_hz"] == pytest.approx(27 * growth, rel=1e-3)


def test_box_from_the_command_line(tmp_path):
    sheet = ["--fs", "27 Hz", "--qts", "0.45", "--vas", "38 L"]
    by_qtc = run_json("box", *sheet, "--qtc", "0.7", cwd=tmp_path)
    expect_common(by_qtc, phases=0)
    assert by_qtc["qtc"] == pytest.approx(0.7)
    assert by_qtc["apparent_volume_l"] == pytest.approx(38 / ((0.7 / 0.45) ** 2 - 1), rel=1e-9)
    assert by_qtc["fc_hz"] == pytest.approx(42.0, rel=1e-9)
    assert "efficiency" not in by_qtc  # Qes is not known
    by_volume = run_json("box", *sheet, "--volume", f"{by_qtc['volume_l']!r} L", cwd=tmp_path)
    assert by_volume["qtc"] == pytest.approx(0.7, rel=1e-6)


def test_boxes_side_by_side(tmp_path):
    """Several at once are each what it is alone, in JSON, table, CSV and pictures."""
    out = tmp_path / "boxes"
    several = run_json("box", DEMO, "--qtc", "0.6", "--qtc", "0.707", "--volume", "13 L", "--out", out, cwd=tmp_path)
    alone = [run_json("box", DEMO, *one, cwd=tmp_path)
             for one in (("--qtc", "0.6"), ("--qtc", "0.707"), ("--volume", "13 L"))]
    assert several["boxes"] == [one["boxes"][0] for one in alone]
    assert several["boxes"][0]["qtc"] == several["qtc"] == pytest.approx(0.6)
    table = run("box", DEMO, "--qtc", "0.6", "--volume", "13 L", cwd=tmp_path).stdout.splitlines()
    assert table[0].split() == ["volume", "apparent", "Qtc", "fc", "F3", "peak", "overshoot"]
    assert table[2].split()[:2] == ["13", "L"]
    with open(out / "box_response.csv", newline="") as file:
        rows = list(csv.DictReader(file))
    at = min(rows, key=lambda row: abs(float(row["frequency_hz"]) - several["boxes"][1]["f3_hz"]))
    assert float(at["level_db_2"]) == pytest.approx(-3.01, abs=0.2)
    pictures = sorted(path.stem for path in out.glob("*.svg"))
    assert pictures == ["box_cone_travel", "box_group_delay", "box_impedance", "box_response", "box_step"]
    for picture in out.glob("*.svg"):
        text = "".join(ElementTree.parse(picture).getroot().itertext())
        assert "Qtc 0.60" in text and "13 L" in text
    refused = run("box", DEMO, *["--qtc", "0.7"] * 13, cwd=tmp_path)
    assert refused.returncode == 2 and "12 at most" in refused.stderr


@rooms
def test_modes(room, tmp_path):
    document = run_json("modes", room, cwd=tmp_path)
    expect_common(document)
    expect_numbers(document, ["schroeder_hz"])
    assert len(document["modes"]) > 3
    for mode in document["modes"]:
        expect_numbers(mode, ["frequency_hz", "decay_time_s", "q"])
        assert len(mode["order"]) == 3 and all(isinstance(n, int) for n in mode["order"])
        # Maluski & Gibbs 2004: timber frame like 0.15, heavy rooms like 0.02; Everest, ch. 11, at 125 Hz.
        if "measured_decay_time_s" in mode:
            shortest, longest = mode["measured_decay_time_s"]
            above = mode["frequency_hz"] > 100
            assert (shortest, longest) == (0.35, 1.5) if above else 7 < longest / shortest < 10
    frequencies = [mode["frequency_hz"] for mode in document["modes"]]
    assert frequencies == sorted(frequencies)


@rooms
def test_listen(room, tmp_path):
    document = run_json("listen", room, "--out", "here", cwd=tmp_path)
    expect_common(document)
    expect_numbers(document, CRITERIA)
    count = len(document["frequency_hz"])
    assert count > 100
    for key in ["frequency_hz", "seat_average_db", "half_space_db"]:
        assert len(document[key]) == count and all(map(is_number, document[key]))
    names = [seat["name"] for seat in tomllib.loads(room.read_text())["seat"]]
    assert [seat["name"] for seat in document["seats"]] == names
    for seat in document["seats"]:
        assert len(seat["level_db"]) == len(seat["phase_deg"]) == count
    assert {"listen.h5", "listen.csv"} <= {p.name for p in (tmp_path / "here").iterdir()}


@rooms
def test_map(room, tmp_path):
    expect_common(run_json("map", room, "--out", "here", cwd=tmp_path))
    assert len(list((tmp_path / "here").glob("*.vti"))) >= 2  # spread by spot, level by place
    for picture in (tmp_path / "here").glob("*.png"):
        assert picture.read_bytes().startswith(b"\x89PNG")
    assert list((tmp_path / "here").glob("*.png"))


@rooms
def test_rank(room, tmp_path):
    document = run_json("rank", room, "--out", "here", cwd=tmp_path)
    expect_common(document)
    spots = document["spots"]
    assert [spot["rank"] for spot in spots] == list(range(1, len(spots) + 1))
    assert spots
    for spot in spots:
        expect_numbers(spot, CRITERIA + ["level_db", "score"])
        assert spot["positions_m"]
        for position in spot["positions_m"]:
            expect_point(position)
    scores = [spot["score"] for spot in spots]
    assert scores == sorted(scores)  # lower is better


@rooms
def test_plan(room, tmp_path):
    plan = run_json("plan", room, "--out", "here", cwd=tmp_path)
    expect_common(plan)
    expect_numbers(plan["half_space"], ["best_qtc", "best_volume_l"])
    expect_numbers(plan["in_room"], ["best_qtc", "best_volume_l"])
    assert plan["in_room"]["positions_m"]
    for position in plan["in_room"]["positions_m"]:
        expect_point(position)
    expect_numbers(plan["textbook"], ["qtc", "volume_l"])
    assert plan["textbook"]["qtc"] == pytest.approx(0.707, abs=0.02)
    assert isinstance(plan["recommendation"], str) and plan["recommendation"].strip()
    rows = plan["balance_by_qtc"]
    for row in rows:
        expect_numbers(row, ["qtc", "volume_l", "half_space_db", "in_room_db"])
    qtc = [row["qtc"] for row in rows]
    assert qtc == sorted(qtc) and qtc[0] == pytest.approx(0.5) and qtc[-1] == pytest.approx(1.2)
    least = min(row["half_space_db"] for row in rows)  # the half-space best by the same criterion
    best = [row for row in rows if row["qtc"] == pytest.approx(plan["half_space"]["best_qtc"])]
    assert best and best[0]["half_space_db"] == pytest.approx(least, abs=1e-9)

    names = {p.name for p in (tmp_path / "here").iterdir()}
    assert {"report.html", "plan.h5", "plan.csv"} <= names
    assert any(n.endswith(".png") for n in names) and any(n.endswith(".vti") for n in names)
    assert not [n for n in names if "tmp" in n or n.endswith("~")]  # temporary files are renamed


def keep_outs_and_walls(room):
    sheet = tomllib.loads(room.read_text())
    return sheet["room"], sheet["keep_out"]


def test_recommended_spot_is_allowed(tmp_path):
    """The demo's box stands in the room and its centre in none of the keep-outs (metric file)."""
    metres = lambda text: float(text.removesuffix(" m"))
    room, forbidden = keep_outs_and_walls(DEMO)
    x, y, z = run_json("plan", DEMO, cwd=tmp_path)["in_room"]["positions_m"][0]
    assert 0 < x < metres(room["width"]) and 0 < y < metres(room["length"]) and 0 < z < 1
    assert forbidden
    for area in forbidden:
        (x0, y0), (x1, y1) = map(metres, area["from"]), map(metres, area["to"])
        assert not (x0 < x < x1 and y0 < y < y1), area["name"]


def test_default_folder_is_beside_the_current_one(tmp_path):
    assert run("listen", DEMO, cwd=tmp_path).returncode == 0
    assert [p.name for p in tmp_path.iterdir()] == ["demo-results"]
    assert (tmp_path / "demo-results" / "listen.h5").exists()


def test_new_writes_a_file_that_passes_and_never_overwrites(tmp_path):
    path = tmp_path / "mine.toml"
    assert run("new", path).returncode == 0
    text = path.read_text()
    assert "#" in text
    checked = run("check", path, cwd=tmp_path)
    assert checked.returncode == 0, checked.stderr
    path.write_text("precious")
    again = run("new", path)
    assert again.returncode == 2 and "mine.toml" in again.stderr
    assert path.read_text() == "precious"


def test_quiet_says_nothing_on_standard_error(tmp_path):
    done = run("rank", DEMO, "--quiet", cwd=tmp_path)
    assert done.returncode == 0 and done.stderr == ""


def test_progress_bar_only_on_a_terminal(tmp_path):
    done = run("plan", DEMO, cwd=tmp_path)
    assert done.returncode == 0
    assert "\r" not in done.stderr and "\x1b" not in done.stderr + done.stdout


def test_imperial(tmp_path):
    metric, imperial = (run("box", DEMO, "--units", u, cwd=tmp_path).stdout
                        for u in ("metric", "imperial"))
    assert "ft3" in imperial and "ft3" not in metric
    # Keys name their unit, so the JSON document does not change.
    a, b = (run_json("box", DEMO, "--units", u, cwd=tmp_path) for u in ("metric", "imperial"))
    assert a["volume_l"] == b["volume_l"] == pytest.approx(25)


@pytest.mark.parametrize("option, value", [("--volume", "20 Hz"), ("--qtc", "0.7 m"), ("--fs", "27 L"),
                                           ("--filling", "lots")])
def test_a_wrong_option_is_named(option, value, tmp_path):
    options = {"--fs": "27 Hz", "--qts": "0.45", "--vas": "38 L", "--filling": "1.1"}
    if option != "--qtc":
        options["--volume"] = "20 L"
    options[option] = value
    done = run("box", *(word for pair in options.items() for word in pair), cwd=tmp_path)
    assert done.returncode == 2 and option in done.stderr, done.stderr


@pytest.mark.parametrize("asked", [{"OMP_NUM_THREADS": "100000"}, {"OMP_NUM_THREADS": "2147483647"},
                                   {"OMP_NUM_THREADS": "-7"}, {"OMP_NUM_THREADS": "100000,2"}],
                         ids=lambda asked: asked["OMP_NUM_THREADS"])
def test_any_number_of_threads_is_survived(asked, tmp_path):
    """A team of a hundred thousand overflows OpenMP's stack, unless the program bounds it."""
    done = run("listen", DEMO, "--json", "--quiet", "--out", tmp_path / "many", **asked)
    assert done.returncode == 0, done.stderr
    usual = run_json("listen", DEMO, "--threads", "2", "--out", tmp_path / "two")
    assert json.loads(done.stdout)["seat_average_db"] == usual["seat_average_db"]
    assert run("listen", DEMO, "--threads", "1024", "--out", tmp_path / "option").returncode == 0


def test_view_without_a_display_says_so(tmp_path):
    done = run("view", DEMO, cwd=tmp_path)
    assert done.returncode in (1, 2) and done.stderr.strip()


@pytest.mark.parametrize("arguments", [
    [], ["dance"], ["plan"], ["plan", "absent.toml"], ["listen", DEMO, "--solver", "magic"],
    ["listen", DEMO, "--units", "cubits"], ["rank", DEMO, "--threads", "-1"],
    ["rank", DEMO, "--threads", "many"], ["box"], ["box", "--fs", "27 Hz"],
    ["box", "--fs", "27 L", "--qts", "0.45", "--vas", "38 L", "--qtc", "0.7"],
    ["box", "--fs", "27 Hz", "--qts", "0.45", "--vas", "38 L", "--qtc", "0.3"],
    ["listen", DEMO, "--frobnicate"],
], ids=lambda a: " ".join(map(str, a)).replace(str(DEMO), "demo") or "nothing")
def test_wrong_command_line(arguments, tmp_path):
    done = run(*arguments, cwd=tmp_path)
    assert done.returncode == 2 and done.stderr.strip()
    assert done.stdout == "" and not list(tmp_path.iterdir())


def test_every_wall_can_be_looked_up(tmp_path):
    """`walls` has every name that a file may use, with a number that lies within its own doubt, and a source."""
    walls = run_json("walls", cwd=tmp_path)["walls"]
    assert len(walls) > 15 and len({w["name"] for w in walls}) == len(walls)
    text = run("walls", cwd=tmp_path).stdout
    for wall in walls:
        assert wall["low"] <= wall["absorption_125_hz"] + 0.005 and wall["absorption_125_hz"] <= wall["high"] + 0.005
        assert wall["source"] and wall["name"] in text
    assert max(map(len, text.splitlines())) <= 100
    # Values printed in the books that are named (Barron 2003, App. D; Self et al. 2009, Table 29.3).
    at_125 = {w["name"]: w["absorption_125_hz"] for w in walls}
    assert at_125["plaster on lath"] == pytest.approx(0.14, abs=0.005)
    assert at_125["window glass, single"] == pytest.approx(0.30, abs=0.005)
    assert at_125["solid door"] == pytest.approx(0.10, abs=0.005)


def test_topics_are_explained(tmp_path):
    topics = run_json("explain", cwd=tmp_path)["topics"]
    listed = run("explain", cwd=tmp_path).stdout
    for topic in topics:
        assert topic["name"] in listed
        said = run("explain", topic["name"], cwd=tmp_path)
        assert said.returncode == 0 and len(said.stdout) > 200 and max(map(len, said.stdout.splitlines())) <= 120
    assert "spread" in run("explain", "criteria", cwd=tmp_path).stdout
    wrong = run("explain", "layout", cwd=tmp_path)
    assert wrong.returncode == 2 and "did you mean 'layouts'?" in wrong.stderr


def test_a_locale_with_decimal_commas_changes_nothing(tmp_path):
    """As on a German desktop: numbers are read and written with points, whatever the libraries ask of the locale."""
    sources = pathlib.Path("/usr/share/i18n/locales/de_DE")
    if not sources.exists() or not shutil.which("localedef"):
        pytest.skip("there is nothing here to make a locale of")
    subprocess.run(["localedef", "-i", "de_DE", "-f", "UTF-8", tmp_path / "de_DE.UTF-8"], check=True)
    here = {"LOCPATH": str(tmp_path), "LC_ALL": "de_DE.UTF-8", "LANG": "de_DE.UTF-8"}
    heard = subprocess.run(["printf", "%.1f", "0,5"], env=here, capture_output=True, text=True)
    assert heard.stdout == "0,5"  # the locale is there: coreutils obeys it
    texts = []
    for environment in (here, {}):
        folder = tmp_path / "out"
        said = ""
        for command in (("rank", DEMO), ("build", DEMO, "--volume", "25 L"), ("box", DEMO)):
            done = run(*command, "--json", "--quiet", "--out", folder, **environment)
            assert done.returncode == 0, done.stderr
            said += re.sub(r'"timing_s": \{[^}]*\}', "", done.stdout)
        said += "".join(path.read_text() for path in sorted(folder.glob("*.[csv][sv][vgi]")))
        texts.append(said)
    assert texts[0] == texts[1] and "," in texts[0] and len(texts[0]) > 100_000
