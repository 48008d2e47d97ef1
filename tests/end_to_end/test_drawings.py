"""The builder's drawings as a reader of SVG sees them: to scale, apart, on A4 and Letter."""
import re
import xml.etree.ElementTree as ElementTree

import pytest

from runner import DEMO, run, run_json

SVG = "{http://www.w3.org/2000/svg}"
SHAPES = {
    "plain": ("", []),
    "everything": ('joint = "mitred"\ndouble_front = true\nbraces = 2\ndriver_cut_out = "232 mm"\n'
                   'driver_frame = "262 mm"\namplifier_cut_out = ["180 mm", "230 mm"]', ["--units", "imperial"]),
    "many small sheets": ('sheet = ["1.2 m", "0.6 m"]\ngrain = true', ["--volume", "90 L"]),
}


@pytest.fixture(scope="module", params=SHAPES)
def built(request, tmp_path_factory):
    folder = tmp_path_factory.mktemp("build")
    lines, options = SHAPES[request.param]
    room = folder / "room.toml"
    room.write_text(DEMO.read_text().replace("[spots]", f"[build]\n{lines}\n[spots]", 1))
    return run_json("build", room, "--out", folder / "out", *options, cwd=folder), folder / "out"


def read(path):
    root = ElementTree.parse(path).getroot()
    scale = float(re.search(r"1:([\d.]+)", root.find(SVG + "title").text).group(1))
    return root, scale


def test_sized_for_a4_and_letter(built):
    for path in built[1].glob("*.svg"):
        root, _ = read(path)
        width, height = (float(root.get(k).removesuffix("mm")) for k in ("width", "height"))
        assert root.get("viewBox") == f"0 0 {width:g} {height:g}"  # a millimetre is a millimetre
        assert width <= 279.4 - 2 * 9 and height <= 210 - 2 * 9
        assert all(float(t.get("font-size")) >= 2.8 for t in root.iter(SVG + "text"))


def test_each_drawing_is_a_png_too(built):
    names = {p.stem for p in built[1].glob("*.svg")}
    assert names == {p.stem for p in built[1].glob("*.png")}
    assert names == {"box"} | {f"cutting_plan_{n + 1}" for n in range(built[0]["sheets"])}
    for path in built[1].glob("*.png"):
        assert path.read_bytes()[:8] == b"\x89PNG\r\n\x1a\n"


def test_the_hole_is_to_scale(built):
    box, folder = built
    root, scale = read(folder / "box.svg")
    circles = [2 * float(c.get("r")) * scale for c in root.iter(SVG + "circle")]
    assert any(d == pytest.approx(box["driver_cut_out_mm"], abs=0.05) for d in circles)


def test_outer_sides_are_to_scale(built):
    box, folder = built
    root, scale = read(folder / "box.svg")
    lengths = [scale * (abs(float(l.get("x1")) - float(l.get("x2"))) + abs(float(l.get("y1")) - float(l.get("y2"))))
               for l in root.iter(SVG + "line")]
    assert len(box["outer_mm"]) == 3
    for side in box["outer_mm"]:
        assert any(length == pytest.approx(side, abs=0.1) for length in lengths)


def test_pieces_on_the_sheets(built):
    """Every piece of the cut list, to scale, on its sheet and a saw cut from its neighbours."""
    box, folder = built
    drawn = []
    for sheet in range(box["sheets"]):
        root, scale = read(folder / f"cutting_plan_{sheet + 1}.svg")
        pieces = []
        for r in root.iter(SVG + "rect"):
            if r.get("width") != "100%":
                pieces.append([float(r.get(k)) * scale for k in ("x", "y", "width", "height")])
        drawn += [sorted(p[2:]) for p in pieces]
        for i, (x, y, w, h) in enumerate(pieces):
            for u, v, a, b in pieces[:i]:
                apart = max(u - x - w, x - u - a, v - y - h, y - v - b)
                assert apart >= 3.2 - 0.05
    wanted = [sorted((p["length_mm"], p["width_mm"])) for p in box["panels"] + box["inner_parts"] for _ in range(p["count"])]
    assert len(drawn) == len(wanted)
    for a, b in zip(sorted(drawn), sorted(wanted)):
        assert a == pytest.approx(b, abs=0.1)


def test_nothing_is_left_of_a_larger_plan(tmp_path):
    """A second run with fewer sheets must not leave the first one's behind."""
    room = tmp_path / "room.toml"
    small = DEMO.read_text().replace("[spots]", '[build]\nsheet = ["0.6 m", "0.6 m"]\n[spots]', 1)
    room.write_text(small)
    before = run_json("build", room, "--out", tmp_path / "out", cwd=tmp_path)["sheets"]
    room.write_text(DEMO.read_text())
    after = run_json("build", room, "--out", tmp_path / "out", cwd=tmp_path)["sheets"]
    assert before > after
    assert len(list((tmp_path / "out").glob("cutting_plan_*.svg"))) == after
