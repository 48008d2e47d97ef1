"""The grid solver as a user meets it: the same answers in a rectangle, answers in any other room."""
import re

import numpy as np
import pytest

from runner import SOURCE, WALLS, room_text, run, run_json, transfer_impedance

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
    assert any("grid" in warning for warning in heard["warnings"])
    assert any("move walls" in warning for warning in heard["warnings"])
    ranked = run_json("rank", file, cwd=tmp_path)
    for spot in ranked["spots"]:
        x, y, _ = spot["positions_m"][0]
        assert not (x > 3.6 and y > 3.0), "a box stands outside the L"
        assert not (1.5 < x < 2.7 and y > 5.1), "a box stands in the chimney breast"
    for command in (["modes", file], ["listen", file, "--solver", "modal"]):
        done = run(*command, cwd=tmp_path)
        assert done.returncode == 2 and "rectangle" in done.stderr


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
