"""boxroom build: the contract's keys, sums by hand, and a box that follows its file."""
import math
import re

import pytest

from runner import DEMO, ROOMS, run, run_json

GOOD = DEMO.read_text()
rooms = pytest.mark.parametrize("room", ROOMS, ids=lambda path: path.stem)


def build(tmp_path, text, *options):
    path = tmp_path / "room.toml"
    path.write_text(text)
    return run_json("build", path, "--out", tmp_path / "out", *options, cwd=tmp_path)


def with_build(lines):
    return GOOD.replace("[spots]", "[build]\n" + lines + "\n[spots]", 1)


def shell_litres(box):
    """Outer less inner volume."""
    return (math.prod(box["outer_mm"]) - math.prod(box["inner_mm"])) * 1e-6


@rooms
@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_contract(room, units, tmp_path):
    box = run_json("build", room, "--units", units, "--out", tmp_path / "out", cwd=tmp_path)
    for key in ["net_l", "filling_gain", "apparent_l", "driver_l", "amplifier_l", "bracing_l", "gross_l",
                "thickness_mm", "sheets", "waste_percent", "weight_kg", "first_internal_mode_hz"]:
        assert isinstance(box[key], (int, float)), key
    assert box["gross_l"] == pytest.approx(
        box["net_l"] + box["driver_l"] + box["amplifier_l"] + box["bracing_l"], abs=1e-9)
    assert box["gross_l"] == pytest.approx(math.prod(box["inner_mm"]) * 1e-6, rel=1e-12)
    assert box["net_l"] == pytest.approx(25, abs=0.1)
    assert box["apparent_l"] == pytest.approx(1.15 * box["net_l"])
    for inner, outer in zip(box["inner_mm"], box["outer_mm"]):
        assert outer == pytest.approx(inner + 2 * box["thickness_mm"])
    step = 1 if units == "metric" else 25.4 / 16
    for side in box["outer_mm"]:
        assert side / step == pytest.approx(round(side / step), abs=1e-6)
    assert box["first_internal_mode_hz"] == pytest.approx(343.2 / (2e-3 * max(box["inner_mm"])))
    assert 0 <= box["waste_percent"] < 100


# Small to large, by data sheets as they are invented for these tests: fs, Qts, Vas, Sd, net volume.
BOXES = [("60 Hz", 0.5, "3 L", "55 cm2", "1.6 L"), ("40 Hz", 0.38, "9 L", "130 cm2", "8 L"),
         ("35 Hz", 0.5, "18 L", "", "0.28 ft3"), ("22 Hz", 0.4, "250 L", "1150 cm2", "120 L"),
         ("18 Hz", 0.5, "21 ft3", "260 in2", "20 ft3")]


@pytest.mark.parametrize("units", ["metric", "imperial"])
@pytest.mark.parametrize("lines", ["", "[build]\nbraces = 2", "[build]\ndouble_front = true\ncleats = false",
                                   'thickness = "12 mm"', '[build]\njoint = "mitred"'])
@pytest.mark.parametrize("fs, qts, vas, sd, volume", BOXES)
def test_any_box_adds_up(fs, qts, vas, sd, volume, lines, units, tmp_path):
    """Files without [build] and with it, any driver: the shell's panels fill outer less inner volume
    exactly, what stands inside is the bracing, and the sum of volumes closes."""
    text = re.sub(r"(?ms)^\[(driver|amplifier|box)\].*?(?=^\[)", "", GOOD)
    text += f'[driver]\nfs = "{fs}"\nqts = {qts}\nvas = "{vas}"\n' + (f'sd = "{sd}"\n' if sd else "")
    text += f'[box]\nvolume = "{volume}"\n{lines}\n'
    box = build(tmp_path, text, "--units", units)
    number, unit = volume.split()  # 1 ft3 = 28.3168 L
    litres = float(number) * (1 if unit == "L" else 28.316846592)
    assert box["net_l"] == pytest.approx(litres, abs=0.1)
    assert box["gross_l"] == pytest.approx(
        box["net_l"] + box["driver_l"] + box["amplifier_l"] + box["bracing_l"], abs=1e-9)
    assert sum(p["count"] * p["piece_volume_l"] for p in box["panels"]) == pytest.approx(shell_litres(box))
    assert sum(p["count"] * p["piece_volume_l"] for p in box["inner_parts"]) == pytest.approx(box["bracing_l"])
    if "mitred" not in lines:
        boards = sum(p["count"] * p["length_mm"] * p["width_mm"] for p in box["panels"])
        assert boards * box["thickness_mm"] * 1e-6 == pytest.approx(shell_litres(box), rel=1e-9)
    assert box["thickness_mm"] == pytest.approx(12 if "thickness" in lines else 19)


@pytest.mark.parametrize("double", ["true", "false"])
def test_without_bracing_all_of_the_board_is_in_the_shell(double, tmp_path):
    box = build(tmp_path, with_build(f"double_front = {double}\nbraces = 0\ncleats = false"))
    boards = sum(p["count"] * p["length_mm"] * p["width_mm"] for p in box["panels"])
    assert boards * box["thickness_mm"] * 1e-6 == pytest.approx(shell_litres(box), rel=1e-9)
    assert box["bracing_l"] == 0 and box["inner_parts"] == []
    assert box["waste_percent"] == pytest.approx(100 - 1e2 * boards / (box["sheets"] * 2438.4 * 1219.2))


def test_weight_by_hand(tmp_path):
    """Shell of 700 kg/m3 less the holes, what stands in it, 16 g of filling per litre."""
    box = build(tmp_path, with_build(
        'density = "700 kg/m3"\nbraces = 0\ncleats = false\ndriver_cut_out = "232 mm"\n'
        'amplifier_cut_out = ["180 mm", "220 mm"]\ndriver_mass = "6 kg"\namplifier_mass = "3.5 kg"'))
    holes = math.pi / 4 * 0.232**2 * 0.019 + 0.18 * 0.22 * 0.019
    assert box["weight_kg"] == pytest.approx(
        0.7 * shell_litres(box) - 700 * holes + 6 + 3.5 + 0.016 * box["net_l"], rel=1e-6)


def test_given_volumes_are_kept(tmp_path):
    box = build(tmp_path, with_build(
        'driver_volume = "1.9 L"\namplifier_volume = "0 L"\nbracing_volume = "0.8 L"'))
    assert [box[k] for k in ("driver_l", "amplifier_l", "bracing_l")] == pytest.approx([1.9, 0, 0.8])
    assert box["qtc_range"][0] == box["qtc_range"][1]  # nothing is estimated


def test_an_estimate_off_by_its_limit_moves_qtc(tmp_path):
    """Small 1972: Qtc = Qts sqrt(1 + Vas/(gain V)), by hand for both ends."""
    box = build(tmp_path, GOOD)
    error = sum(item["error_l"] for item in box["volumes"])
    assert error > 0
    for sign, qtc in zip((1, -1), box["qtc_range"]):
        assert qtc == pytest.approx(0.45 * (1 + 38 / (1.15 * (box["net_l"] + sign * error))) ** 0.5)


def test_size_on_the_command_line(tmp_path):
    assert build(tmp_path, GOOD, "--volume", "40 L")["net_l"] == pytest.approx(40, abs=0.1)
    assert build(tmp_path, GOOD, "--qtc", "0.9")["qtc"] == pytest.approx(0.9, abs=0.005)


def test_height_limit_is_kept(tmp_path):
    box = build(tmp_path, GOOD.replace('gap = "0.05 m"', 'gap = "0.05 m"\ntallest = "0.32 m"'))
    assert box["outer_mm"][2] <= 320 + 1e-6
    assert box["net_l"] == pytest.approx(25, abs=0.1)


def test_plan_and_build_mean_the_same_box(tmp_path):
    """What plan.csv gives as the outer size of the chosen box is what is sawn, to whole millimetres."""
    import csv
    plan = run_json("plan", DEMO, "--out", tmp_path / "plan", cwd=tmp_path)
    with open(tmp_path / "plan" / "plan.csv", newline="") as file:
        rows = list(csv.DictReader(file))
    volume = plan["build"]["volume_l"]
    row = min(rows, key=lambda r: abs(float(r["net_volume_l"]) - volume))
    box = build(tmp_path, GOOD, "--volume", f"{volume!r} L")
    for side, name in zip(box["outer_mm"], ["outer_width_m", "outer_depth_m", "outer_height_m"]):
        assert side == pytest.approx(1e3 * float(row[name]), abs=2.6)


def test_a_driver_too_wide_is_refused(tmp_path):
    path = tmp_path / "room.toml"
    path.write_text(with_build('driver_cut_out = "0.5 m"'))
    done = run("build", path, "--out", tmp_path / "out", cwd=tmp_path)
    assert done.returncode == 2 and "driver_cut_out" in done.stderr
    assert not (tmp_path / "out").exists()


def test_text_says_both_units_and_the_cautions(tmp_path):
    for units in ("metric", "imperial"):
        said = run("build", DEMO, "--units", units, "--out", tmp_path / "out", cwd=tmp_path).stdout
        assert " mm" in said and " in" in said and " kg" in said and " lb" in said
        for word in ("respirator", "router", "Tipping", "Mains", "Heat", "Edges"):
            assert word in said


def test_the_report_holds_the_box_that_plan_recommends(tmp_path):
    plan = run_json("plan", DEMO, "--out", tmp_path / "out", cwd=tmp_path)
    page = (tmp_path / "out" / "report.html").read_text()
    box = build(tmp_path, GOOD, "--volume", f"{plan['build']['volume_l']!r} L")
    section = page[page.index("The box to saw"):]
    for panel in box["panels"] + box["inner_parts"]:
        assert panel["name"] in section and f"{panel['length_mm']:.0f}" in section
    assert section.count("<svg") >= 1 + box["sheets"] and "respirator" in section
    assert (tmp_path / "out" / "cut_list.csv").exists() and (tmp_path / "out" / "box.svg").exists()


def test_plan_recommends_only_what_can_be_built(tmp_path):
    """A deep driver rules out shallow boxes; an impossible hole is a warning, not the end of the plan."""
    path = tmp_path / "room.toml"
    path.write_text(with_build('driver_depth = "290 mm"\nbraces = 0'))
    plan = run_json("plan", path, "--out", tmp_path / "out", cwd=tmp_path)
    box = run_json("build", path, "--volume", f"{plan['build']['volume_l']!r} L", "--out", tmp_path / "out2",
                   cwd=tmp_path)
    assert box["inner_mm"][1] + 19 - 290 >= 20 - 2.6  # whole millimetres
    free = run_json("plan", DEMO, "--out", tmp_path / "out3", cwd=tmp_path)
    assert plan["build"]["volume_l"] > free["build"]["volume_l"]


def test_remarks_where_the_file_and_the_wood_disagree(tmp_path):
    said = " ".join(build(tmp_path, with_build('bracing_volume = "4 L"'))["remarks"])
    assert "Brace and cleats" in said
    assert "Brace and cleats" not in " ".join(build(tmp_path, GOOD)["remarks"])


def test_filling_from_empty_to_the_limit_of_physics(tmp_path):
    """Small 1972 with the net volume times each gain; 1.40 is the isothermal limit."""
    box = build(tmp_path, GOOD)
    steps = box["filling_steps"]
    assert steps[0]["gain"] == 1 and steps[-1]["gain"] == pytest.approx(1.4)
    for step in steps:
        assert step["apparent_l"] == pytest.approx(step["gain"] * box["net_l"])
        assert step["qtc"] == pytest.approx(0.45 * (1 + 38 / step["apparent_l"]) ** 0.5)


def test_cut_list_csv(tmp_path):
    import csv
    box = build(tmp_path, GOOD)
    pieces = box["panels"] + box["inner_parts"]
    with open(tmp_path / "out" / "cut_list.csv", newline="") as file:
        rows = list(csv.DictReader(file))
    assert pieces
    assert [r["letter"] for r in rows] == list("ABCDEFGH"[:len(rows)])
    assert [(r["piece"], int(r["count"])) for r in rows] == [(p["name"], p["count"]) for p in pieces]
    for row, panel in zip(rows, pieces):
        assert float(row["length_mm"]) == pytest.approx(panel["length_mm"], abs=0.05)
        whole, _, part = row["length_in"].removesuffix(" in").rpartition(" ")
        inches = float(whole or 0) + (int(part.split("/")[0]) / int(part.split("/")[1]) if "/" in part else float(part))
        assert abs(25.4 * inches - panel["length_mm"]) <= 25.4 / 32 + 0.01
