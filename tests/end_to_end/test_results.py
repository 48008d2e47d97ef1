"""What the files and numbers mean: read back with h5py and recomputed with NumPy."""
import csv
import json
import re
import tomllib

import h5py
import numpy as np
import pytest

from runner import C, DEMO, RHO, ROOMS, WALLS, room_text, run, run_json, transfer_impedance, without_tables

SIZE = (4.1, 5.2, 2.45)
SEATS = [(1.1, 3.6, 1.15), (3.3, 4.6, 1.2)]
SUB = (0.35, 0.4, 0.22)
FREQUENCIES = [20, 31.5, 40, 63, 80, 100, 125, 160]


def close_in_db(a, b):
    return np.abs(20 * np.log10(np.abs(a / b))).max(), np.abs(np.degrees(np.angle(a / b))).max()


@pytest.fixture(scope="module", params=ROOMS, ids=lambda path: path.stem)
def heard(request, tmp_path_factory):
    """A room file, its `listen` document and its result folder."""
    folder = tmp_path_factory.mktemp(request.param.stem)
    return request.param, run_json("listen", request.param, "--out", folder), folder


def test_hdf5_contract(heard):
    room, document, folder = heard
    with h5py.File(folder / "listen.h5") as file:
        f, s = len(document["frequency_hz"]), len(document["seats"])
        q = len(tomllib.loads(room.read_text())["sub"])
        shapes = {"frequency": (f,), "seats/position": (s, 3), "seats/name": (s,), "subs/position": (q, 3),
                  "transfer_impedance": (f, s, q), "level": (f, s), "volume_velocity": (f, q)}
        for name, shape in shapes.items():
            assert file[name].shape == shape, name
        for name in ["transfer_impedance", "volume_velocity"]:
            assert file[name].dtype == np.complex128  # compound {r, i} of doubles
        texts = [v.decode() if isinstance(v, bytes) else str(v) for v in file.attrs.values()]
        assert room.read_text() in texts  # the file explains itself
        assert any(re.search(r"\d+\.\d+", t) for t in texts if len(t) < 80)  # the program's version
        assert any("modal" in t for t in texts if len(t) < 80)


@pytest.mark.parametrize("command, name", [("listen", "listen.h5"), ("rank", "rank.h5"), ("plan", "plan.h5")])
def test_every_dataset_says_what_it_is(command, name, tmp_path):
    assert run(command, DEMO, "--out", tmp_path).returncode == 0
    found = []

    def visit(path, item):
        if isinstance(item, h5py.Dataset):
            found.append(path)
            assert {"units", "description"} <= set(item.attrs), path
            assert len(item.attrs["description"]) > 0, path

    with h5py.File(tmp_path / name) as file:
        file.visititems(visit)
        assert len(file.attrs) >= 3
    assert len(found) >= 3


def test_level_is_the_sum_of_the_subs(heard):
    _, document, folder = heard
    with h5py.File(folder / "listen.h5") as file:
        pressure = np.einsum("fsq,fq->fs", file["transfer_impedance"][:], file["volume_velocity"][:])
        level = 20 * np.log10(np.abs(pressure) / 20e-6)
        assert np.abs(level - file["level"][:]).max() < 1e-9
        assert np.allclose(level.T, [seat["level_db"] for seat in document["seats"]], atol=1e-6)
        turn = np.exp(1j * np.radians([seat["phase_deg"] for seat in document["seats"]])).T
        assert np.abs(np.angle(pressure / turn)).max() < 1e-5
        assert np.allclose(document["frequency_hz"], file["frequency"][:])


def test_spread_and_average_by_definition(heard):
    """DESIGN sections 3 and 12: a mean over log-frequency, by the trapezoidal rule. The grid has 48 points an
    octave, and more round the modes."""
    room, document, _ = heard
    weight = np.array([seat.get("weight", 1.0) for seat in tomllib.loads(room.read_text())["seat"]])
    weight = weight / weight.sum()
    f = np.array(document["frequency_hz"])
    even = 10 * 2 ** (np.arange(int(48 * np.log2(20)) + 1) / 48)
    assert all(np.abs(f / point - 1).min() < 1e-9 for point in even)
    assert np.all(np.diff(f) > 0) and np.diff(np.log2(f)).max() < 1 / 48 + 1e-9
    level = np.array([seat["level_db"] for seat in document["seats"]])
    mean = weight @ level
    deviation = np.sqrt(weight @ (level - mean) ** 2)
    inside = (f >= 30 * (1 - 1e-9)) & (f <= 120 * (1 + 1e-9))
    x = np.log(f[inside])
    assert document["spread_db"] == pytest.approx(np.trapz(deviation[inside], x) / (x[-1] - x[0]), abs=1e-6)
    average = 10 * np.log10(weight @ 10 ** (level / 10))
    assert np.allclose(document["seat_average_db"], average, atol=1e-6)


def test_csv_against_hdf5(heard):
    _, _, folder = heard
    with open(folder / "listen.csv", newline="") as file:
        rows = [row for row in csv.reader(file) if row]
    head, body = rows[0], np.array(rows[1:], dtype=float)
    assert "Hz" in head[0] or "hz" in head[0]
    with h5py.File(folder / "listen.h5") as file:
        assert np.allclose(body[:, 0], file["frequency"][:], rtol=1e-4)
        levels = file["level"][:]
        for seat in range(levels.shape[1]):  # some column holds this seat's level
            distance = np.abs(body - levels[:, seat : seat + 1]).max(axis=0)
            assert distance.min() < 0.01, file["seats/name"][seat]


def test_ranked_spot_is_what_listen_hears(tmp_path):
    ranked = run_json("rank", DEMO, "--out", tmp_path / "rank")["spots"]
    for spot in (ranked[0], ranked[len(ranked) // 2]):
        (position,) = spot["positions_m"]
        copy = tmp_path / "placed.toml"
        copy.write_text(without_tables(DEMO.read_text(), "sub")
                        + f'\n[[sub]]\nname = "ranked"\nat = {[float(v) for v in position]}\n')
        heard = run_json("listen", copy, "--out", tmp_path / "listen")
        for key in ["spread_db", "unevenness_db", "balance_db"]:
            assert heard[key] == pytest.approx(spot[key], abs=2e-3), key
        assert heard["reach_hz"] == pytest.approx(spot["reach_hz"], rel=0.02)


def test_swapping_source_and_receiver_changes_nothing(tmp_path):
    there = transfer_impedance(tmp_path, "there", room_text(SIZE, WALLS, [SEATS[0]], [SUB], FREQUENCIES))
    back = transfer_impedance(tmp_path, "back", room_text(SIZE, WALLS, [SUB], [SEATS[0]], FREQUENCIES))
    assert np.allclose(there, back, rtol=1e-7, atol=0)


def test_mirrored_room(tmp_path):
    here = transfer_impedance(tmp_path, "here", room_text(SIZE, WALLS, SEATS, [SUB], FREQUENCIES))
    walls = {**WALLS, "left": WALLS["right"], "right": WALLS["left"]}
    flip = lambda p: (SIZE[0] - p[0], p[1], p[2])
    text = room_text(SIZE, walls, [flip(p) for p in SEATS], [flip(SUB)], FREQUENCIES)
    assert np.allclose(here, transfer_impedance(tmp_path, "mirror", text), rtol=1e-6, atol=0)


@pytest.mark.parametrize("order", [(1, 0, 2), (2, 1, 0), (0, 2, 1), (1, 2, 0)])
def test_turned_room(order, tmp_path):
    """Naming the axes otherwise is the same room; it makes the solver sum other axes in closed form."""
    here = transfer_impedance(tmp_path, "here", room_text(SIZE, WALLS, SEATS, [SUB], FREQUENCIES))
    names = [("left", "right"), ("front", "back"), ("floor", "ceiling")]
    turn = lambda p: tuple(p[axis] for axis in order)
    walls = {new: WALLS[old] for place, axis in enumerate(order)
             for new, old in zip(names[place], names[axis])}
    text = room_text(turn(SIZE), walls, [turn(p) for p in SEATS], [turn(SUB)], FREQUENCIES)
    level, phase = close_in_db(here, transfer_impedance(tmp_path, "turned", text))
    assert level < 1e-3 and phase < 1e-2


def test_sealed_room_is_an_air_spring(tmp_path):
    """Far below the first mode p = rho c^2 U/(j w V) wherever one stands."""
    walls = dict.fromkeys(WALLS, "{ resistance = 1e9 }")
    z = transfer_impedance(tmp_path, "sealed", room_text(SIZE, walls, SEATS, [SUB], [1, 20, 40, 80]))
    spring = RHO * C**2 / (2j * np.pi * 1 * np.prod(SIZE))
    # What the lowest mode, 33 Hz, adds at 1 Hz is of the order of 2 (1/33)^2 = 0.2 %.
    assert np.abs(z[0] / spring - 1).max() < 1e-2


def test_gain_delay_and_polarity(tmp_path):
    """What the settings of a sub do to level and phase, by hand."""
    text = room_text(SIZE, WALLS, SEATS, [SUB], FREQUENCIES)
    one = run_json("listen", _write(tmp_path / "one.toml", text), "--out", tmp_path / "one")
    louder = run_json("listen", _write(tmp_path / "six.toml", text.replace(
        "[analysis]", 'gain = "6 dB"\ndelay = "5 ms"\npolarity = "-"\n[analysis]')),
        "--out", tmp_path / "six")
    f = np.array(one["frequency_hz"])
    for before, after in zip(one["seats"], louder["seats"]):
        assert np.allclose(np.array(after["level_db"]) - before["level_db"], 6, atol=1e-6)
        turned = np.radians(np.array(after["phase_deg"]) - before["phase_deg"])
        expected = np.pi - 2 * np.pi * f * 0.005  # exp(+jwt): a delay turns the phase back
        assert np.abs(np.angle(np.exp(1j * (turned - expected)))).max() < 1e-6


def _write(path, text):
    path.write_text(text)
    return path


@pytest.mark.parametrize("command", ["listen", "rank", "plan"])
def test_threads_do_not_change_the_answer(command, tmp_path):
    answers = [run_json(command, DEMO, "--threads", n, "--out", tmp_path / n) for n in ("1", "2", "5")]
    for answer in answers:
        answer.pop("timing_s")
        for path in ("report", "planned"):  # where there is one
            answer.pop(path, None)
    assert answers[0] == answers[1] == answers[2]


def test_grid_solver_agrees_with_the_modal_one(tmp_path):
    """DESIGN section 8: 0.5 dB away from deep nulls; a few points in a damped room."""
    walls = dict.fromkeys(WALLS, "{ resistance = 2500 }")
    text = room_text((3.0, 3.1, 2.9), walls, [(1.5, 2.0, 1.2)], [(0.3, 0.3, 0.3)], [20, 31.5, 40, 63, 80])
    level, phase = close_in_db(transfer_impedance(tmp_path, "grid", text, "--solver", "grid"),
                               transfer_impedance(tmp_path, "modal", text))
    assert level < 0.5 and phase < 3


def test_loudest_level(heard):
    """The cone's travel on an endless floor by hand, p = rho (2 pi f)^2 Sd x/(2 pi r) (Beranek, Acoustics,
    ch. 4); what the room adds is the same for any level."""
    room, document, _ = heard
    text = tomllib.loads(room.read_text())
    f = np.array(document["frequency_hz"])
    top, open_top = np.array(document["max_level_db"]), np.array(document["half_space_max_level_db"])
    assert len(document["limited_by"]) == len(f)
    assert set(document["limited_by"]) <= {"excursion", "voltage", "current", "power"}
    assert np.allclose(top - open_top, np.array(document["seat_average_db"]) - document["half_space_db"])
    if len(text["sub"]) != 1:
        return
    unit = {"cm2": 1e-4, "in2": 0.0254**2, "mm": 1e-3, "in": 0.0254}
    sd, xmax = (float(number) * unit[name] for number, name in
                (text["driver"][key].split() for key in ("sd", "xmax")))
    by_cone = 20 * np.log10(RHO * 2 * np.pi * f**2 * sd * xmax / np.sqrt(2) / 20e-6)
    cone = np.array(document["limited_by"]) == "excursion"
    assert cone.any() and not cone.all()
    assert np.allclose(open_top[cone], by_cone[cone], atol=1e-6)
    assert (open_top[~cone] < by_cone[~cone]).all()


def test_smallest_box_for_a_level(tmp_path):
    """Asking for more can only take a larger box; asking for too much is said so."""
    found = []
    for level in (60, 95, 100, 140):
        path = _write(tmp_path / "wanted.toml", DEMO.read_text().replace(
            "[target]", f'[target]\nlevel = "{level} dB"\ndown_to = "32 Hz"'))
        document = run_json("plan", path, "--out", tmp_path / "wanted")
        boxes = document["loudest"]["boxes"]
        enough = [box["volume_l"] for box in boxes if box["level_db"] >= level]
        found.append(document["loudest"].get("smallest_volume_l"))
        assert (found[-1] is None) == (not enough)
    assert found[0] <= (found[1] or 1e9) and found[3] is None
    assert "misses the 140 dB asked" in document["loudest"]["reason"]


SEARCH = '[robustness]\ndraws = 20\n[target]'


@pytest.mark.parametrize("subs", [1, 2, 4])
def test_ranked_set_is_what_listen_hears(subs, tmp_path):
    """A set's criteria are those of its subs, with its settings, in the room: `listen` says the same."""
    path = _write(tmp_path / "search.toml", DEMO.read_text().replace('step = "0.10 m"', 'step = "0.25 m"')
                  .replace("[target]", SEARCH))
    document = run_json("rank", path, "--subs", subs, "--out", tmp_path / "rank")
    best = document["spots"][0]
    assert [spot["rank"] for spot in document["spots"]] == list(range(1, len(document["spots"]) + 1))
    scores = [spot["score"] for spot in document["spots"]]
    assert scores == sorted(scores)
    text = without_tables(DEMO.read_text(), "sub")
    for n, (at, s) in enumerate(zip(best["positions_m"], best["settings"])):
        assert s["polarity"] in (1, -1) and s["gain_db"] <= 0 <= s["delay_ms"]
        assert abs(s["gain_db"] * 2 - round(s["gain_db"] * 2)) < 1e-9
        assert abs(s["delay_ms"] * 10 - round(s["delay_ms"] * 10)) < 1e-6
        text += (f'\n[[sub]]\nname = "{n}"\nat = {at}\ngain = "{s["gain_db"]} dB"\n'
                 f'delay = "{s["delay_ms"]} ms"\npolarity = "{"+" if s["polarity"] > 0 else "-"}"\n')
    assert len(best["positions_m"]) == len(best["settings"]) == subs
    heard = run_json("listen", _write(tmp_path / "placed.toml", text), "--out", tmp_path / "listen")
    for key in ["spread_db", "unevenness_db", "balance_db", "level_db"]:
        assert heard[key] == pytest.approx(best[key], abs=5e-3), key
    top = document["spots"][:10]
    assert sum(spot["share_of_wins"] for spot in top) == pytest.approx(1)

    # The equaliser: the exported sections, run through NumPy, give the criteria "equalised" claims.
    exported = json.loads((tmp_path / "rank" / "equaliser.json").read_text())
    chosen = document["spots"][document["choice"] - 1]["equalised"]
    assert exported["filters"] == chosen["filters"]
    f = np.array([25.0, 40.0, 63.0, 100.0, 150.0])
    gains = []
    for group in exported["biquads"]:
        z = np.exp(-2j * np.pi * f / group["sample_rate_hz"])
        total = np.ones(len(f), complex)
        for b in group["sections"]:
            total *= (b["b0"] + b["b1"] * z + b["b2"] * z * z) / (1 + b["a1"] * z + b["a2"] * z * z)
        gains.append(20 * np.log10(np.abs(total)))
    assert np.allclose(*gains, atol=0.02)  # 48 and 96 kHz agree where bass is
    assert max(gains[0]) < 4.1
    with h5py.File(tmp_path / "rank" / "rank.h5") as file:
        assert file["spots/position"].shape == (len(scores), subs, 3)
        assert file["spots/gain"].shape == (len(scores), subs)


def test_subs_in_the_file(tmp_path):
    path = _write(tmp_path / "search.toml", DEMO.read_text().replace('step = "0.10 m"', 'step = "0.40 m"')
                  .replace("[target]", "[search]\nsubs = [2, 1]\n" + SEARCH))
    document = run_json("rank", path, "--out", tmp_path / "rank")
    assert [one["subs"] for one in document["by_subs"]] == [1, 2]
    best = [one["spots"][0]["spread_db"] for one in document["by_subs"]]
    assert best[1] < best[0]  # a second sub is there for the seats
