"""The window on a virtual screen: replayed drags end where they should, what is shown is what
`listen` gives, and the pictures hold what they must (compared by content, never by pixels).
"""
import json
import re
import shutil

import numpy as np
import pytest

from runner import DEMO, ROOMS, room_text, run, run_json
from window import drag, handle, key, mouse, needs_screen, pixel_of, run_view, view, view_by_hand

pytestmark = needs_screen

L_SHAPED = DEMO.with_name("l_shaped.toml")
WIDTH, LENGTH, GAP = 4.10, 5.20, 0.05  # rooms/demo.toml
NEAR = 0.03  # a pixel is about 7 mm of floor, and events lie on whole pixels [m]


def levels(document):
    return np.array([seat["level_db"] for seat in document["seats"]])


def moved(state, kind, number, dx, dy):
    """Events that take a thing by its handle and move it by (dx, dy) metres."""
    grab = handle(state, kind, number)
    x, y, z = grab["grab_m"]
    return drag(np.array(grab["pixel"]), pixel_of(state, (x + dx, y + dy, z)))


@pytest.fixture(scope="module")
def start(tmp_path_factory):
    return view(DEMO, tmp_path_factory.mktemp("start"))


def written(state):
    return [path for path in state["saved"] if path.endswith(".toml")][0]


def test_the_projection_of_the_state_is_the_one_drawn(start):
    for h in start["window"]["handles"]:
        assert pixel_of(start, h["grab_m"]) == pytest.approx(h["pixel"], abs=0.01)


def test_the_window_says_when_a_room_rings_as_none_does(start, tmp_path):
    live = tmp_path / "live.toml"
    walls = "[walls]\n" + "".join(f"{wall} = {{ absorption = 0.01 }}\n" for wall in
                                  ("left", "right", "front", "back", "floor", "ceiling"))
    live.write_text(re.sub(r"(?ms)^\[walls\].*?(?=^\[)", walls, DEMO.read_text()))
    said = [label["text"] for label in view(live, tmp_path)["window"]["labels"]]
    assert any(text.startswith("Too live: the mode at") and text.endswith("doors.") for text in said)
    assert not any("Too" in label["text"] for label in start["window"]["labels"])


def test_what_was_recorded_is_shown_while_all_stands_as_it_did(start, tmp_path):
    """Dotted, and said so; a box or a seat that is moved takes them away."""
    heard = run_json("listen", DEMO, "--out", tmp_path)
    level = np.array(heard["seats"][0]["level_db"]) - 20 * (np.array(heard["frequency_hz"]) > 50)
    (tmp_path / "a.csv").write_text("frequency_hz,level_db\n" + "".join(
        f"{f:.4f},{v:.3f}\n" for f, v in zip(heard["frequency_hz"], level)))
    room = tmp_path / "room.toml"
    room.write_text(DEMO.read_text() + f'\n[[recording]]\nseat = "{heard["seats"][0]["name"]}"\ncurve = "a.csv"\n')
    said = lambda state: [label["text"] for label in state["window"]["labels"]]
    there = view(room, tmp_path)
    assert "dotted: recorded at the seats" in said(there) and there["recordings"][0]["apart_db"] > 3
    assert "dotted: recorded at the seats" not in said(start)
    assert "dotted: recorded at the seats" not in said(view(room, tmp_path, moved(start, "sub", 0, 0.5, 1.0)))
    assert "dotted: recorded at the seats" not in said(view(room, tmp_path, moved(start, "seat", 0, 0.3, -0.3)))


def test_left_is_left(start):
    """The room is not mirrored: seen from behind the listeners, the left wall is on the left and the
    front wall behind the back wall (higher in the picture)."""
    left, right = pixel_of(start, (0, 2, 0)), pixel_of(start, (WIDTH, 2, 0))
    front, back = pixel_of(start, (2, 0, 0)), pixel_of(start, (2, LENGTH, 0))
    assert left[0] < right[0] and front[1] > back[1]


def test_untouched_it_shows_what_listen_gives(start, tmp_path):
    heard = run_json("listen", DEMO, "--out", tmp_path)
    assert np.abs(levels(start) - levels(heard)).max() < 1e-9
    assert start["spread_db"] == pytest.approx(heard["spread_db"], abs=1e-9)


def test_a_saved_run_opens_like_its_room_file(start, tmp_path):
    run_json("listen", DEMO, "--out", tmp_path)
    saved = view(tmp_path / "listen.h5", tmp_path)
    assert np.abs(levels(start) - levels(saved)).max() < 1e-9


def test_a_sub_goes_where_it_is_dragged(start, tmp_path):
    before = start["subs"][0]["footprint_m"]
    end = view(DEMO, tmp_path, moved(start, "sub", 0, 0.5, 1.9) + [key("w")], "--out", tmp_path)
    assert end["subs"][0]["footprint_m"] == pytest.approx([before[0] + 0.5, before[1] + 1.9], abs=NEAR)
    # The acoustic centre is in the panel that looks away from the nearest wall, the left one, and the
    # box has turned: its depth now lies along x.
    x, y = end["subs"][0]["footprint_m"]
    w, d, h = end["box"]["outer_m"]
    assert end["subs"][0]["stands_m"] == pytest.approx([d, w])
    assert end["subs"][0]["at_m"] == pytest.approx([x + d / 2, y, h / 2], abs=1e-6)
    built = run_json("build", DEMO, "--out", tmp_path)["outer_mm"]  # drawn on whole millimetres
    assert [1e3 * side for side in (w, d, h)] == pytest.approx(built, abs=1)
    # What it shows is what `listen` gives for that place, by way of the written room file.
    heard = run_json("listen", written(end), "--out", tmp_path)
    assert np.abs(levels(end) - levels(heard)).max() < 0.01
    assert np.abs(levels(end) - levels(start)).max() > 3  # and it did matter


def test_a_sub_stops_at_the_walls(start, tmp_path):
    end = view(DEMO, tmp_path, moved(start, "sub", 0, -1.0, 0.8))
    assert end["subs"][0]["footprint_m"][0] == pytest.approx(GAP + end["subs"][0]["stands_m"][0] / 2, abs=1e-6)
    grab = handle(start, "sub")
    x, y, width, height = start["window"]["room_px"]
    far = view(DEMO, tmp_path, drag(np.array(grab["pixel"]), (width - 4, 40)))  # the near right corner
    at = far["subs"][0]["footprint_m"]
    w, d = (side / 2 - 1e-6 for side in far["subs"][0]["stands_m"])
    assert GAP + w <= at[0] <= WIDTH - GAP - w and GAP + d <= at[1] <= LENGTH - GAP - d


def test_a_sub_does_not_enter_a_keep_out(start, tmp_path):
    """Dragged into the middle of the door swing (3.2 to 4.1, 4.3 to 5.2) it stays at its edge."""
    x, y = start["subs"][0]["footprint_m"]
    end = view(DEMO, tmp_path, moved(start, "sub", 0, 3.5 - x, 4.6 - y))
    at = end["subs"][0]["footprint_m"]
    w, d = (side / 2 for side in end["subs"][0]["stands_m"])
    assert at[0] + w <= 3.2 + 1e-6 or at[1] + d <= 4.3 + 1e-6
    assert min(abs(at[0] + w - 3.2), abs(at[1] + d - 4.3)) < 1e-6  # against its edge


def test_a_seat_goes_where_it_is_dragged(start, tmp_path):
    before = start["seats"][1]["at_m"]
    end = view(DEMO, tmp_path, moved(start, "seat", 1, 0.3, -0.6) + [key("w")], "--out", tmp_path)
    assert end["seats"][1]["at_m"] == pytest.approx([before[0] + 0.3, before[1] - 0.6, before[2]], abs=NEAR)
    heard = run_json("listen", written(end), "--out", tmp_path)
    assert np.abs(levels(end) - levels(heard)).max() < 0.01


def test_keys(start, tmp_path):
    """Each key against what it says in the list."""
    ratio = 2 ** (1 / 48)
    up = view(DEMO, tmp_path, [key("period"), key("period"), key("period"), key("comma")])
    assert up["field"]["frequency_hz"] == pytest.approx(start["field"]["frequency_hz"] * ratio**2)
    larger = view(DEMO, tmp_path, [key("plus"), key("plus"), key("w")], "--out", tmp_path)
    assert larger["box"]["volume_l"] == pytest.approx(25 * 1.05**2)
    # Small 1972: Qtc/Qts = sqrt(1 + Vas/Vab), the driver and filling of the file.
    assert larger["box"]["qtc"] == pytest.approx(0.45 * (1 + 38 / (1.15 * 25 * 1.05**2)) ** 0.5, rel=1e-3)
    heard = run_json("listen", written(larger), "--out", tmp_path)
    assert np.abs(levels(larger) - levels(heard)).max() < 0.01
    nudged = view(DEMO, tmp_path, [key("Tab"), key("Right"), key("Down"), key("Down")])
    x, y, z = start["seats"][0]["at_m"]
    assert nudged["seats"][0]["at_m"] == pytest.approx([x + 0.05, y + 0.10, z])
    assert view(DEMO, tmp_path, [key("f")])["field"]["kind"] == "pressure"
    assert view(DEMO, tmp_path, [key("f"), key("f")])["field"]["kind"] == "none"
    again = view(DEMO, tmp_path, [key("plus"), key("Tab"), key("Left"), key("n"), key("r")])
    assert again["subs"] == start["subs"] and again["seats"] == start["seats"]
    listed = view(DEMO, tmp_path, [key("h")])
    assert any("write the arrangement" in label["text"] for label in listed["window"]["labels"])


def test_steps_are_taken_back(start, tmp_path):
    """u: the drag before last is undone as a whole; what is still changed is said."""
    pulled = moved(start, "sub", 0, 0.8, 0.6)
    once = view(DEMO, tmp_path, [*pulled, key("plus"), key("u")])
    assert len(once["changed"]) == 1 and once["box"] == start["box"]
    assert np.abs(levels(once) - levels(start)).max() > 0.3
    twice = view(DEMO, tmp_path, [*pulled, key("plus"), key("u"), key("u")])
    assert twice["changed"] == [] and np.abs(levels(twice) - levels(start)).max() < 1e-9
    assert "as at the beginning" in twice["window"]["message"]


def test_the_next_spot_is_the_one_that_rank_names(tmp_path):
    best = run_json("rank", DEMO, "--out", tmp_path)["spots"]
    for presses in (1, 3):
        end = view(DEMO, tmp_path, [key("n")] * presses)
        assert end["subs"][0]["at_m"] == pytest.approx(best[presses - 1]["positions_m"][0], abs=1e-6)
        assert end["spread_db"] == pytest.approx(best[presses - 1]["spread_db"], abs=0.01)


def test_the_next_mode(start, tmp_path):
    modes = [m["frequency_hz"] for m in run_json("modes", DEMO, "--out", tmp_path)["modes"]]
    at = view(DEMO, tmp_path, [key("m")])["field"]["frequency_hz"]
    assert at == pytest.approx(min(f for f in modes if f > start["field"]["frequency_hz"]))


def test_a_click_on_the_curves_sets_the_frequency(start, tmp_path):
    x, y, width, height = start["window"]["plot_px"]
    low, high = start["window"]["plot_hz"]
    pixel = (x + width * np.log(80 / low) / np.log(high / low), y + height / 2)
    end = view(DEMO, tmp_path, [mouse("LeftButtonPressEvent", pixel), mouse("LeftButtonReleaseEvent", pixel)])
    assert abs(np.log2(end["field"]["frequency_hz"] / 80)) < 1.5 / 48


def test_the_plane_is_at_mean_ear_height(start):
    assert start["field"]["height_m"] == pytest.approx((1.05 + 1.5 * 1.05 + 0.5 * 1.0) / 3)


L_ROOM = """title = "small L"
[room]
floor_plan = [[0, 0], [3.4, 0], [3.4, 1.6], [2.0, 1.6], [2.0, 3.2], [0, 3.2]]
height = 2.2
[walls]
edges = { absorption = 0.3 }
floor = { absorption = 0.2 }
ceiling = { absorption = 0.3 }
[[block]]
name = "chest"
from = [0, 1.5, 0]
to = [0.4, 2.1, 0.7]
surface = { absorption = 0.1 }
[[opening]]
name = "window"
from = [0.5, 0, 1]
to = [1.5, 0, 2]
[driver]
fs = 27
qts = 0.45
vas = "38 L"
[box]
volume = "12 L"
[analysis]
band = ["20 Hz", "80 Hz"]
per_octave = 6
[target]
band = ["25 Hz", "70 Hz"]
[[seat]]
name = "chair"
at = [0.8, 2.6, 1.05]
[[seat]]
name = "stool"
at = [2.7, 0.9, 1.0]
[[sub]]
name = "sub"
at = [0.2, 0.34, 0.18]
"""


@pytest.fixture(scope="module")
def l_start(tmp_path_factory):
    """A room that is no rectangle, solved by elements beside the window."""
    folder = tmp_path_factory.mktemp("l")
    room = folder / "l.toml"
    room.write_text(L_ROOM)
    return room, view(room, folder), folder


def test_a_floor_plan_shows_what_listen_gives(l_start, tmp_path):
    room, state, folder = l_start
    assert state["field"]["exact"]
    heard = run_json("listen", room, "--out", tmp_path)
    assert np.abs(levels(state) - levels(heard)).max() < 0.02
    texts = " ".join(label["text"] for label in state["window"]["labels"])
    assert "chest" in texts and "window" in texts  # named in the picture
    image = pytest.importorskip("PIL.Image")
    picture = np.asarray(image.open(folder / "screenshot.png").convert("RGB")).astype(int)
    field = []  # the field is drawn over the L, and not in its notch
    for x, y in ((1.0, 0.8), (2.8, 0.4), (1.2, 2.9), (2.8, 2.4)):
        px, py = pixel_of(state, (x, y, state["field"]["height_m"]))
        field.append(picture[picture.shape[0] - 1 - int(py), int(px)])
    blue = [colour[2] - colour[0] > 15 or colour.max() < 150 for colour in field[:3]]
    assert all(blue) and field[3].min() > 180


def test_drags_in_a_floor_plan(l_start, tmp_path):
    """A sub dragged into the notch stays at its walls; a seat goes where it is dragged; what is shown
    is what `listen` gives for the written room."""
    room, state, _ = l_start
    x, y = state["subs"][0]["footprint_m"]
    events = moved(state, "sub", 0, 2.7 - x, 2.6 - y) + moved(state, "seat", 0, 0.25, -0.4) + [key("w")]
    end = view(room, tmp_path, events, "--out", tmp_path)
    (x, y), (w, d) = end["subs"][0]["footprint_m"], end["subs"][0]["stands_m"]
    over_x, over_y = 2.0 - GAP - (x + w / 2), 1.6 - GAP - (y + d / 2)
    assert max(over_x, over_y) == pytest.approx(0, abs=1e-6)  # against a wall of the notch, a gap off it
    before = state["seats"][0]["at_m"]
    assert end["seats"][0]["at_m"] == pytest.approx([before[0] + 0.25, before[1] - 0.4, before[2]], abs=NEAR)
    heard = run_json("listen", written(end), "--out", tmp_path)
    assert np.abs(levels(end) - levels(heard)).max() < 0.05  # by another basis
    assert np.abs(levels(end) - levels(state)).max() > 3
    # While the hand holds it, the curves follow already: the same drag without letting go.
    held = view(room, tmp_path, moved(state, "sub", 0, 0.9, 0.1)[:-1])
    there = view(room, tmp_path, moved(state, "sub", 0, 0.9, 0.1))
    assert np.abs(levels(held) - levels(there)).max() < 0.1 and not held["field"]["exact"]
    assert there["field"]["exact"]


def test_a_floor_plan_on_the_grid(l_start, tmp_path):
    """Asked for; runs from each sub and each seat come and go beside the window."""
    room, state, _ = l_start
    heard = run_json("listen", room, "--solver", "grid", "--out", tmp_path)
    end = view(room, tmp_path, moved(state, "sub", 0, 0.9, 0.1) + [key("w")], "--out", tmp_path, "--solver", "grid")
    assert end["field"]["exact"]
    there = run_json("listen", written(end), "--solver", "grid", "--out", tmp_path)
    assert np.abs(levels(end) - levels(there)).max() < 0.1  # what a run on a grid may leave: 0.05 dB
    assert np.abs(levels(there) - levels(heard)).max() > 3


def test_a_rectangle_on_a_grid(start, tmp_path):
    heard = run_json("listen", DEMO, "--solver", "grid", "--out", tmp_path)
    shown = view(DEMO, tmp_path, None, "--solver", "grid")
    assert np.abs(levels(shown) - levels(heard)).max() < 0.1


def test_the_rooms_load_on_the_cone_counts_here_too(tmp_path):
    """Nearly 1 dB at the mode near 50 Hz of the small masonry room: `listen` and the window say the same."""
    text = DEMO.with_name("masonry_small.toml").read_text()
    free, loaded = tmp_path / "free.toml", tmp_path / "loaded.toml"
    free.write_text(text)
    loaded.write_text(text + "\n[analysis]\ncone_load = true\n")
    before, after = (run_json("listen", file, "--out", tmp_path / "out") for file in (free, loaded))
    shown = view(loaded, tmp_path)
    assert np.abs(levels(shown) - levels(after)).max() < 1e-9
    assert np.abs(levels(shown) - levels(before)).max() > 0.2
    # A room on a grid, where every place of a sub would be a run, says that it is left out.
    asked = run_view(loaded, "--screenshot", tmp_path / "a.png", "--solver", "grid", cwd=tmp_path)
    assert "cone_load is not counted" in asked.stderr


def test_the_field_hears_gain_delay_and_polarity(tmp_path):
    """The coloured plane is `listen` at its own points, whatever is dialled in at either sub."""
    dials = ["", 'gain = "-5 dB"\n', 'delay = "6 ms"\n', 'polarity = "-"\n',
             'gain = "-5 dB"\ndelay = "6 ms"\npolarity = "-"\n']
    frequencies, sides = [30, 35, 40, 45, 50, 60], ("left", "right", "front", "back", "floor", "ceiling")
    file, shown = tmp_path / "room.toml", []
    for dial in dials:
        def room(seats):
            text = room_text((3.6, 4.6, 2.5), dict.fromkeys(sides, "{ resistance = 5000 }"), seats,
                             [(0.4, 0.5, 0.3), (3.1, 0.5, 0.3)], frequencies)
            file.write_text(text.replace('name = "sub 1"\n', 'name = "sub 1"\n' + dial))
            return file
        field = view(room([(1.7, 2.6, 1.1), (2.9, 3.4, 1.1), (0.8, 3.9, 1.1)]), tmp_path)["field"]
        assert len(field["at_seats"]) == 3 and field["height_m"] == pytest.approx(1.1)
        heard = run_json("listen", room([at["point_m"] for at in field["at_seats"]]), "--out", tmp_path / "out")
        ours = np.array([at["level_db"] for at in field["at_seats"]])
        assert np.abs(ours - levels(heard)[:, frequencies.index(field["frequency_hz"])]).max() < 0.01
        shown.append(ours)
    for other in shown[:-1]:  # or a dial that is ignored would pass
        assert np.abs(other - shown[-1]).max() > 0.3


def test_without_a_display():
    done = run("view", DEMO)
    assert done.returncode == 2 and done.stdout == ""
    assert len(done.stderr.strip().splitlines()) == 1 and "xvfb-run" in done.stderr


def test_a_missing_replay_file(tmp_path):
    done = run_view(DEMO, "--replay", tmp_path / "none.log", cwd=tmp_path)
    assert done.returncode == 2 and "none.log" in done.stderr


@pytest.mark.parametrize("content, line", [(b"", None), (b"hello\n", 1), (bytes(range(256)) * 9, 1),
                                           (b"# StreamVersion 1.1\nMouseMoveEvent 9 9 0 0 0 0\nNonsense 1 2 0 0 0\n", 3),
                                           (b"# StreamVersion 1.1\nMouseMoveEvent far away\n", 2)])
def test_a_file_of_no_events(content, line, tmp_path):
    (tmp_path / "events.log").write_bytes(content)
    done = run_view(DEMO, "--replay", tmp_path / "events.log", "--json", "--quiet", cwd=tmp_path)
    if line is None:  # a recording in which nothing happened
        assert done.returncode == 0
    else:
        assert done.returncode == 2 and f"events.log:{line}: " in done.stderr, done.stderr


def overlaps(a, b):
    return a[0] < b[0] + b[2] and b[0] < a[0] + a[2] and a[1] < b[1] + b[3] and b[1] < a[1] + a[3]


@pytest.mark.parametrize("room", [*ROOMS, L_SHAPED], ids=lambda path: path.stem)
def test_pictures(room, tmp_path):
    image = pytest.importorskip("PIL.Image")
    state = view(room, tmp_path)
    picture = np.asarray(image.open(tmp_path / "screenshot.png").convert("RGB")).astype(int)
    height, width, _ = picture.shape
    window = state["window"]

    # Labels lie in the window, none on another.
    labels = [label["px"] for label in window["labels"]]
    assert len(labels) > 5
    for x, y, w, h in labels:
        assert x >= 0 and y >= 0 and x + w <= width and y + h <= height
    for i, a in enumerate(labels):
        for b in labels[i + 1:]:
            assert not overlaps(a, b), (a, b)

    # The room: the colours of the scale, from sand to dark blue, and no drawing beyond its part.
    x, y, w, h = window["room_px"]
    part = picture[height - int(y + h):height - int(y), int(x):int(x + w)].reshape(-1, 3)
    def present(colour, within=30):
        return (np.abs(part - colour).sum(axis=1) < within).sum()
    assert present((30, 60, 110), 90) > 500  # loud: dark blue
    assert len(np.unique(part // 16, axis=0)) > 60  # a field, not one flat colour

    # The curves: every seat's colour inside the axes, nothing of them outside.
    px, py, pw, ph = window["plot_px"]
    seats = [(31, 91, 153), (214, 128, 30), (112, 62, 138), (20, 140, 130)]
    chart = picture[height - int(py + ph):height - int(py), int(px):int(px + pw)]
    curves = 0
    for number, colour in enumerate(seats[:len(state["seats"])]):
        later = levels(state)[number + 1:] - levels(state)[number]
        if len(later) and np.abs(later).max(axis=1).min() < 1:
            continue  # in a symmetric room one seat's curve lies under another's
        hits = np.argwhere(np.abs(chart - colour).sum(axis=2) < 40)
        assert len(hits) > 40
        assert hits[:, 1].max() - hits[:, 1].min() > 0.8 * pw  # from end to end
        curves += 1
    assert curves
    beyond = picture[height - int(py + ph):height - int(py), int(px + pw) + 3:]
    assert (np.abs(beyond - [250, 249, 245]).sum(axis=2) > 60).mean() < 0.02


def test_a_curve_lies_where_its_numbers_say(start, tmp_path):
    """The seat average, the thick dark line, found again in the pixels."""
    image = pytest.importorskip("PIL.Image")
    state = view(DEMO, tmp_path)
    picture = np.asarray(image.open(tmp_path / "screenshot.png").convert("RGB")).astype(int)
    px, py, pw, ph = state["window"]["plot_px"]
    (low, high), (first, last) = state["window"]["plot_db"], state["window"]["plot_hz"]
    points = list(zip(state["frequency_hz"], state["seat_average_db"]))[8:60:4]
    assert len(points) == 13
    for f, level in points:
        x = px + pw * np.log(f / first) / np.log(last / first)
        y = picture.shape[0] - (py + ph * (level - low) / (high - low))
        near = picture[int(y) - 4:int(y) + 5, int(x) - 2:int(x) + 3]
        assert (np.abs(near - [34, 44, 54]).sum(axis=2) < 60).any(), f


@pytest.mark.skipif(not shutil.which("xdotool"), reason="xdotool is not installed")
def test_live_by_hand_and_played_back(start, tmp_path):
    """A real mouse and keyboard on the virtual screen; then the recorded events once more."""
    grab = handle(start, "sub")
    x, y, z = grab["grab_m"]
    high = start["window"]["height_px"]
    a, b = grab["pixel"], pixel_of(start, (x + 0.9, y + 0.7, z))
    way = [(a[0], high - 1 - a[1]), (b[0], high - 1 - b[1])]
    live = view_by_hand(DEMO, tmp_path, way, ["plus", "f", "a", "w", "p", "q"], "--out", tmp_path,
                        "--record", tmp_path / "events.log")
    before = start["subs"][0]["footprint_m"]
    # The larger box grew away from the walls, but by millimetres.
    assert live["subs"][0]["footprint_m"] == pytest.approx([before[0] + 0.9, before[1] + 0.7], abs=2 * NEAR)
    assert live["field"]["kind"] == "pressure" and len(live["saved"]) == 2
    heard = run_json("listen", written(live), "--out", tmp_path)
    assert np.abs(levels(live) - levels(heard)).max() < 0.01

    done = run_view(DEMO, "--replay", tmp_path / "events.log", "--json", "--quiet", cwd=tmp_path)
    played = json.loads(done.stdout)
    assert played["subs"] == live["subs"] and played["box"] == live["box"]


def random_events(seed, count):
    random = np.random.default_rng(seed)
    keys = ["h", "Tab", "Left", "Right", "Up", "Down", "n", "b", "period", "comma", "m", "M", "plus", "minus", "f",
            "s", "a", "v", "r", "F5", "Escape_not"]
    x, y, events = 600, 400, []
    for _ in range(count):
        what = random.integers(12)
        if what < 6:
            x, y = np.clip([x + random.normal(0, 60), y + random.normal(0, 60)], -20, 1300)
            events.append(mouse("MouseMoveEvent", (x, y)))
        elif what < 10:
            button = ["Left", "Right", "Middle"][random.integers(3)]
            events.append(mouse(f"{button}Button{['Press', 'Release'][random.integers(2)]}Event", (x, y)))
            if what == 9:
                events.append(mouse(f"MouseWheel{['Forward', 'Backward'][random.integers(2)]}Event", (x, y)))
        else:
            events.append(key(keys[random.integers(len(keys))]))
    return events


def test_random_events_in_a_floor_plan(l_start, tmp_path):
    """The same where places are learnt beside the window: nothing ends in the notch or in the chest."""
    end = view(l_start[0], tmp_path, random_events(2, 60))
    at, (w, d) = end["subs"][0]["footprint_m"], end["subs"][0]["stands_m"]
    for x0, y0, x1, y1 in ((2.0, 1.6, 3.4, 3.2), (0, 1.5, 0.4, 2.1)):
        assert not (at[0] + w / 2 > x0 + 1e-3 and at[0] - w / 2 < x1 - 1e-3 and
                    at[1] + d / 2 > y0 + 1e-3 and at[1] - d / 2 < y1 - 1e-3)
    for seat in end["seats"]:
        assert not (seat["at_m"][0] > 2.0 and seat["at_m"][1] > 1.6)
    assert np.isfinite(levels(end)).all() and end["field"]["exact"]


@pytest.mark.parametrize("size", ["1280x720", "1920x1080"])
def test_other_sizes(size, tmp_path):
    state = view(DEMO, tmp_path, None, "--size", size)
    width, height = map(int, size.split("x"))
    labels = [label["px"] for label in state["window"]["labels"]]
    assert len(labels) > 5
    for x, y, w, h in labels:
        assert x >= 0 and y >= 0 and x + w <= width and y + h <= height
    for i, a in enumerate(labels):
        assert not any(overlaps(a, b) for b in labels[i + 1:])


@pytest.mark.parametrize("size", ["1280", "0x0", "1280x720x3", "wide"])
def test_a_size_that_is_none(size, tmp_path):
    done = run("view", DEMO, "--size", size, cwd=tmp_path)
    assert done.returncode == 2 and "1920x1080" in done.stderr


def test_the_field_on_the_walls(tmp_path):
    """Key s: the walls take the field's colours, by the same scale as the plane."""
    image = pytest.importorskip("PIL.Image")
    pictures = []
    for events in ([key("f"), key("f"), key("f")], [key("s")]):
        state = view(DEMO, tmp_path, events, "--screenshot", tmp_path / "a.png")
        pictures.append(np.asarray(image.open(tmp_path / "a.png").convert("RGB")).astype(int))
    changed = []
    for point in ((0, 1.5, 2.0), (0, 4.0, 1.8), (1.5, 0, 2.1), (3.2, 0, 1.9)):  # left and front wall
        x, y = pixel_of(state, point)
        row, column = pictures[0].shape[0] - 1 - int(y), int(x)
        changed.append(np.abs(pictures[1][row, column] - pictures[0][row, column]).sum() > 60)
    assert all(changed)
    x, y = pixel_of(state, (2.0, 4.9, 0))  # the bare floor before the plane is as it was
    row, column = pictures[0].shape[0] - 1 - int(y), int(x)
    assert np.abs(pictures[1][row, column] - pictures[0][row, column]).sum() < 10


def test_random_events(tmp_path):
    """Whatever is done to it, it ends in order: boxes in the room, off the keep-outs, numbers finite."""
    end = view(DEMO, tmp_path, random_events(1, 150))
    at, (w, d) = end["subs"][0]["footprint_m"], end["subs"][0]["stands_m"]
    assert GAP + w / 2 - 1e-3 <= at[0] <= WIDTH - GAP - w / 2 + 1e-3
    assert GAP + d / 2 - 1e-3 <= at[1] <= LENGTH - GAP - d / 2 + 1e-3
    for x0, y0, x1, y1 in ((3.2, 4.3, 4.1, 5.2), (1.3, 0, 2.8, 0.3), (1.0, 3.25, 2.45, 4.15)):
        assert not (at[0] + w / 2 > x0 + 1e-3 and at[0] - w / 2 < x1 - 1e-3 and
                    at[1] + d / 2 > y0 + 1e-3 and at[1] - d / 2 < y1 - 1e-3)
    assert np.isfinite(levels(end)).all()
