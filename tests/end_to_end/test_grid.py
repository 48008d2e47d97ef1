"""The grid solver as a user meets it: the same answers in a rectangle, answers in any other room."""
import json
import os
import re
import shutil
import subprocess

import numpy as np
import pytest

from runner import PROGRAM, SOURCE, WALLS, room_text, run, run_json, transfer_impedance

L_SHAPED = (SOURCE / "rooms" / "l_shaped.toml").read_text()
FREQUENCIES = [20.0, 31.5, 50.0, 63.0, 80.0, 100.0]
SIZE, SEATS, SUBS = (3.2, 4.1, 2.4), [(1.4, 2.9, 1.1), (2.3, 2.5, 1.0)], [(0.35, 0.4, 0.22)]


def planned(text, size):
    """The same room with its rectangle given as a floor plan and its walls by edge."""
    x, y = size[:2]
    text = re.sub(r"width = .*\nlength = .*\n",
                  f"floor_plan = [[0.0, 0.0], [{x}, 0.0], [{x}, {y}], [0.0, {y}]]\n", text)
    for wall, edge in {"front": 1, "right": 2, "back": 3, "left": 4}.items():
        text = re.sub(rf"(?m)^{wall} = ", f"edge_{edge} = ", text)
    return text


def test_grid_agrees_with_modal_and_a_floor_plan_with_its_rectangle(tmp_path):
    text = room_text(SIZE, WALLS, SEATS, SUBS, FREQUENCIES)
    modal = transfer_impedance(tmp_path, "modal", text)
    grid = transfer_impedance(tmp_path, "grid", text, "--solver", "grid")
    assert np.abs(20 * np.log10(np.abs(grid / modal))).max() < 0.5
    assert np.abs(np.angle(grid / modal, deg=True)).max() < 3
    assert not np.array_equal(grid, modal)
    # Four corners of a rectangle are the rectangle, so the modal solver is chosen again.
    plan = transfer_impedance(tmp_path, "plan", planned(text, SIZE))
    np.testing.assert_allclose(plan, modal, rtol=1e-12)


def test_a_room_that_is_no_rectangle_says_so_and_is_answered(tmp_path):
    file = tmp_path / "room.toml"
    file.write_text(L_SHAPED.replace('step = "0.10 m"', 'step = "0.40 m"') +
                    "\n[analysis]\nband = [20, 130]\nper_octave = 12\n")
    heard = run_json("listen", file, cwd=tmp_path)
    assert any("by elements" in warning for warning in heard["warnings"])
    ranked = run_json("rank", file, cwd=tmp_path)
    for spot in ranked["spots"]:
        x, y, _ = spot["positions_m"][0]
        assert not (x > 3.6 and y > 3.0), "a box stands outside the L"
        assert not (1.5 < x < 2.7 and y > 5.1), "a box stands in the chimney breast"
    # Its modes are those of elements: the lowest is the air of the door, which swings on the room.
    modes = run_json("modes", file, cwd=tmp_path)["modes"]
    frequencies = [mode["frequency_hz"] for mode in modes]
    assert len(modes) > 10 and frequencies == sorted(frequencies) and frequencies[-1] <= 130
    assert all("order" not in mode and mode["decay_time_s"] > 0 for mode in modes)
    assert all(note["frequency_hz"] in frequencies for note in heard["ringing"])


WRONG = {
    "crossing outline": ('["5.4 m", "0 m"], ["5.4 m", "3.0 m"]', '["5.4 m", "3.0 m"], ["5.4 m", "0 m"]'),
    "two corners": (re.search(r"(?s)floor_plan = .*?\]\]", L_SHAPED).group(),
                    'floor_plan = [["0 m", "0 m"], ["5 m", "0 m"]]'),
    "plan and width": ('height = "2.4 m"', 'height = "2.4 m"\nwidth = "5 m"'),
    "unknown edge": ("edge_2 =", "edge_9 ="),
    "seat in a block": ('at = ["3.20 m", "2.60 m", "1.00 m"]', 'at = ["2.0 m", "5.2 m", "1.0 m"]'),
    "seat outside the plan": ('at = ["3.20 m", "2.60 m", "1.00 m"]', 'at = ["4.5 m", "4 m", "1.0 m"]'),
    "block without a surface": ('surface = "brick, plastered"\n', ""),
    "block without volume": ('to = ["2.7 m", "5.4 m", "2.4 m"]', 'to = ["1.5 m", "5.4 m", "2.4 m"]'),
    "opening off the wall": ('from = ["0 m", "3.0 m", "0 m"]\nto = ["0 m",', 'from = ["0.4 m", "3.0 m", "0 m"]\nto = ["0.4 m",'),
    "opening past the wall": ('to = ["0 m", "3.9 m", "2.04 m"]', 'to = ["0 m", "6 m", "2.04 m"]'),
    "opening with a depth": ('to = ["0 m", "3.9 m", "2.04 m"]', 'to = ["0.2 m", "3.9 m", "2.04 m"]'),
    "a window in all edges": ('edges = "brick, plastered"',
                              'edges = ["brick, plastered", { made_of = "solid door", area = 1.8 }]'),
    "a block in parts": ('surface = "brick, plastered"',
                         'surface = ["brick, plastered", { made_of = "solid door", area = 0.5 }]'),
    "a door larger than its edge": ('made_of = "solid door", area = "1.8 m2"', 'made_of = "solid door", area = "90 m2"'),
    "unknown space": ('space = "hall"', 'space = "hull"'),
    "space in the room": ('to = ["-0.12 m"', 'to = ["0.50 m"'),
}


@pytest.mark.parametrize("name", WRONG)
def test_wrong_plans(tmp_path, name):
    old, new = WRONG[name]
    assert old in L_SHAPED
    file = tmp_path / "wrong.toml"
    file.write_text(L_SHAPED.replace(old, new, 1))
    done = run("check", file, cwd=tmp_path)
    assert done.returncode == 2, done.stdout
    assert re.search(r"wrong\.toml:\d+: .+ -- .+", done.stderr), done.stderr


DOOR = """[[opening]]
name = "door"
from = [3.2, 1.0, 0.0]
to = [3.2, 1.9, 2.0]
"""


def test_an_opening_is_seen_by_elements_and_by_the_grid(tmp_path):
    shut = room_text(SIZE, WALLS, SEATS, SUBS, FREQUENCIES)
    text = shut.replace("[driver]", DOOR + "[driver]")
    elements = transfer_impedance(tmp_path, "elements", text)
    hole = transfer_impedance(tmp_path, "hole", text, "--solver", "grid")
    assert np.abs(20 * np.log10(np.abs(hole / elements))).max() < 1
    assert np.abs(20 * np.log10(np.abs(transfer_impedance(tmp_path, "shut", shut) / elements))).max() > 3
    file = tmp_path / "door.toml"
    file.write_text(text)
    assert run_json("check", file, cwd=tmp_path)["solver"] == "modal"
    # Elements end at 320 Hz; the grid does not.
    file.write_text(text.replace(str(FREQUENCIES[-1]), "330.0"))
    assert run_json("check", file, cwd=tmp_path)["solver"] == "grid"


def test_the_modes_of_an_open_room_begin_with_the_air_in_its_door(tmp_path):
    text = room_text(SIZE, WALLS, SEATS, SUBS, [10.0, 100.0])
    modes = {}
    for name, room in {"shut": text, "open": text.replace("[driver]", DOOR + "[driver]")}.items():
        (tmp_path / f"{name}.toml").write_text(room)
        modes[name] = run_json("modes", tmp_path / f"{name}.toml", cwd=tmp_path)["modes"]
    # c/(2 pi) sqrt(S/(l V)), l = 2 x 0.85 sqrt(S/pi) (Kinsler et al., 4th ed., sec. 10.8): a door in
    # the middle of a wall that is endless. Here it stands on the floor, which makes l longer.
    area = 0.9 * 2.0
    helmholtz = 343.2 / (2 * np.pi) * np.sqrt(area / (1.7 * np.sqrt(area / np.pi) * np.prod(SIZE)))
    lowest = modes["open"][0]
    assert lowest["order"] == [0, 0, 0] and 0.7 * helmholtz < lowest["frequency_hz"] < 1.05 * helmholtz
    assert "measured_decay_time_s" not in lowest
    assert all(mode["order"] != [0, 0, 0] for mode in modes["shut"])
    # The door takes from every mode and stiffens it; what was measured beside it is of shut rooms.
    by_order = {tuple(mode["order"]): mode for mode in modes["open"]}
    followed = [(mode, by_order[tuple(mode["order"])]) for mode in modes["shut"] if tuple(mode["order"]) in by_order]
    assert len(followed) >= len(modes["shut"]) - 2  # lifted beyond the band
    for shut, mode in followed:
        assert mode["frequency_hz"] > shut["frequency_hz"] - 0.2
        assert mode["decay_time_s"] < 1.02 * shut["decay_time_s"]
        assert mode["measured_decay_time_s"] == shut["measured_decay_time_s"]


def test_both_solvers_say_how_far_they_lie_apart(tmp_path):
    file = tmp_path / "room.toml"
    file.write_text(room_text(SIZE, WALLS, SEATS, SUBS, FREQUENCIES))
    told = run_json("listen", file, "--solver", "both", cwd=tmp_path)["solver_agreement"]
    # The same from two runs of one solver each.
    modal, grid = (run_json("listen", file, "--solver", s, cwd=tmp_path) for s in ("modal", "grid"))
    apart = np.array([np.subtract(m["level_db"], g["level_db"]) for m, g in zip(modal["seats"], grid["seats"])])
    for seat, differences in zip(told["seats"], np.abs(apart)):
        level = np.array(modal["seats"][told["seats"].index(seat)]["level_db"])
        heard = level >= np.median(level) - 15
        assert seat["largest_db"] == pytest.approx(differences[heard].max(), abs=1e-4)
        assert seat["at_hz"] == FREQUENCIES[int(np.argmax(np.where(heard, differences, -1)))]
        assert seat["rms_db"] == pytest.approx(np.sqrt(np.mean(differences[heard] ** 2)), abs=1e-4)
    assert 0 < told["largest_db"] < 0.5 and told["largest_deg"] < 3
    assert "solvers" in run("listen", file, "--solver", "both", cwd=tmp_path).stdout
    l_shaped = tmp_path / "l.toml"
    l_shaped.write_text(L_SHAPED)
    by_elements = run_json("listen", l_shaped, "--solver", "both", cwd=tmp_path)
    assert any("by elements" in warning for warning in by_elements["warnings"])
    assert by_elements["solver_agreement"]["rms_db"] > 0.1  # the grid moves its walls by 30 mm
    assert run("rank", file, "--solver", "both", cwd=tmp_path).returncode == 2


def test_the_report_says_what_the_model_holds(tmp_path):
    quick = ('step = "0.10 m"', 'step = "0.50 m"')
    coarse = "\n[analysis]\nband = [25, 125]\nper_octave = 6\n"
    file = tmp_path / "l.toml"
    file.write_text(L_SHAPED.replace(*quick) + coarse)
    run_json("plan", file, "--out", tmp_path / "l", cwd=tmp_path)
    page = (tmp_path / "l" / "report.html").read_text()
    assert "one block, one open doorway or window, one space next door" in page
    assert "doors and windows are shut.</" not in page.replace("all other doors and windows are shut.</", "")
    assert "solved by elements that lie along its walls" in page
    # Its drawing is the room's: six corners where the file has them, a gap where the door is open.
    plan = re.search(r'<svg class="plan".*?</svg>', page, re.S)[0]
    scale, x0, y0 = (float(re.search(rf'data-{name}="([\d.]+)"', plan)[1]) for name in ("scale", "x", "y"))
    path = re.search(r'class="walls" d="([^"]+)"', plan)[1]
    corners = [((float(x) - x0) / scale, (float(y) - y0) / scale) for x, y in re.findall(r"[ML]([\d.]+) ([\d.]+)", path)]
    wanted = [(0, 0), (5.4, 0), (5.4, 3.0), (3.6, 3.0), (3.6, 5.4), (0, 5.4)]
    assert sum(corners, ()) == pytest.approx(sum(wanted, ()), abs=0.001)
    gap = re.search(r'class="opening" d="M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)"', plan)
    ends = [(float(gap[1]) - x0) / scale, (float(gap[2]) - y0) / scale, (float(gap[4]) - y0) / scale]
    assert ends == pytest.approx([0, 3.0, 3.9], abs=0.001)

    demo = (SOURCE / "rooms" / "demo.toml").read_text()
    file.write_text(demo.replace(*quick) + coarse)
    planned = run_json("plan", file, "--solver", "both", "--out", tmp_path / "demo", cwd=tmp_path)
    page = (tmp_path / "demo" / "report.html").read_text()
    assert planned["solver_agreement"]["largest_db"] < 0.5
    assert "The two solvers against each other" in page and "solved exactly" in page
    assert "doors and windows are shut" in page


def test_several_subs_in_a_room_on_the_grid(tmp_path):
    file = tmp_path / "l.toml"
    file.write_text(L_SHAPED.replace('step = "0.10 m"', 'step = "0.60 m"') +
                    "\n[analysis]\nband = [25, 125]\nper_octave = 6\n")
    ranked = run_json("rank", file, "--subs", "2", "--solver", "grid", cwd=tmp_path)
    assert len(ranked["spots"][0]["positions_m"]) == 2
    assert "not drawn" in ranked["reason"]


def test_the_room_loads_the_cone(tmp_path):
    demo = (SOURCE / "rooms" / "masonry_small.toml").read_text()
    free, loaded = tmp_path / "free.toml", tmp_path / "loaded.toml"
    free.write_text(demo)
    loaded.write_text(demo + "\n[analysis]\ncone_load = true\n")
    before, after = (run_json("listen", file, "--out", tmp_path / file.stem, cwd=tmp_path)
                     for file in (free, loaded))
    change = np.array(after["cone_load_db"])
    assert "cone_load_db" not in before
    # One sub: every seat's level moves by what the cone's volume velocity does.
    for a, b in zip(after["seats"], before["seats"]):
        np.testing.assert_allclose(np.subtract(a["level_db"], b["level_db"]), change, atol=1e-6)
    # It tells where the room answers with most pressure, at one of its modes, and hardly elsewhere.
    worst = after["frequency_hz"][int(np.argmax(np.abs(change)))]
    modes = [mode["frequency_hz"] for mode in run_json("modes", free, cwd=tmp_path)["modes"]]
    assert min(abs(worst - mode) for mode in modes) < 1 and 0.3 < np.abs(change).max() < 3
    assert np.median(np.abs(change)) < 0.1
    loaded.write_text(demo + "\n[analysis]\ncone_load = 3\n")
    done = run("check", loaded, cwd=tmp_path)
    assert done.returncode == 2 and re.search(r"loaded\.toml:\d+: .*cone_load.* -- ", done.stderr)


def test_a_solved_room_is_kept_and_anything_but_the_whole_of_it_is_solved_anew(tmp_path):
    file = tmp_path / "room.toml"
    file.write_text(L_SHAPED[:L_SHAPED.index("[[space]]")] + L_SHAPED[L_SHAPED.index("# An invented"):] +
                    "\n[analysis]\nfrequencies = [31, 47, 63, 88, 110]\n")
    cache = tmp_path / "cache"

    def levels(*options, folder=cache):
        done = run("listen", file, "--json", *options, cwd=tmp_path, XDG_CACHE_HOME=str(folder))
        assert done.returncode == 0, done.stderr
        return np.array([seat["level_db"] for seat in json.loads(done.stdout)["seats"]])

    first = levels()
    (kept,) = (cache / "boxroom").iterdir()
    whole, written = kept.read_bytes(), kept.stat().st_ino
    np.testing.assert_array_equal(levels(), first)
    assert kept.stat().st_ino == written  # read, and not solved again
    for damaged in (whole[: len(whole) // 2], whole[:-9] + b"x" + whole[-8:], b""):
        kept.write_bytes(damaged)
        np.testing.assert_array_equal(levels(), first)
        assert kept.read_bytes() == whole
    written = kept.stat().st_ino
    np.testing.assert_array_equal(levels("--fresh"), first)
    assert kept.stat().st_ino != written
    (tmp_path / "file").write_text("no folder")
    np.testing.assert_array_equal(levels(folder=tmp_path / "file"), first)
    # Two at once.
    shutil.rmtree(cache)
    both = [subprocess.Popen([PROGRAM, "listen", str(file), "--json", "--out", str(tmp_path / f"r{n}")],
                             env=os.environ | {"XDG_CACHE_HOME": str(cache)}, stdout=subprocess.PIPE,
                             stderr=subprocess.DEVNULL) for n in range(2)]
    for run_of in both:
        heard = json.loads(run_of.communicate()[0])
        np.testing.assert_array_equal([seat["level_db"] for seat in heard["seats"]], first)
    assert [path.name for path in (cache / "boxroom").iterdir()] == [kept.name]
    assert kept.read_bytes() == whole
