"""The program against numbers from outside the project.

Exact transfer impedances: a separate program solved the wave equation with locally reacting walls
(1-D Green's function along one axis, complex eigenvalues along the other two). The finite-element
curve: a published test fixture, computed with FEniCS (pyrato, MIT licence, (c) 2021-2023 Marco
Berzborn and the pyfar developers), room scaled to 8 x 5 x 3 m.

Where ../shared/reference exists its whole tables are used; else the excerpt of them kept here.
"""
import json
import re

import numpy as np
import pytest

from runner import SOURCE, room_text, transfer_impedance

SHARED = SOURCE.parent / "shared" / "reference"

# Excerpts of ../shared/reference/*.json: frequency [Hz] -> Z(receiver) [Pa s/m3].
EXACT = {'six_resistive_walls': {'room': (4.1, 5.2, 2.45),
                         'source': (0.35, 0.4, 0.22),
                         'receivers': [(2.05, 3.5, 1.1), (1.1, 3.6, 1.15), (3.3, 4.6, 1.2)],
                         'walls': {'left': (9000.0, 0.0, 0.0),
                                   'right': (14000.0, 0.0, 0.0),
                                   'front': (7000.0, 0.0, 0.0),
                                   'back': (20000.0, 0.0, 0.0),
                                   'floor': (30000.0, 0.0, 0.0),
                                   'ceiling': (11000.0, 0.0, 0.0)},
                         'impedance': {20.0: [(1.309540164-34.471960066j),
                                              (1.286164887-32.343625859j),
                                              (-0.091940918-43.696524646j)],
                                       40.0: [(-8.778250559+18.674321981j),
                                              (59.93863868+71.763457868j),
                                              (-99.335965119+2.075707504j)],
                                       63.0: [(-23.399426055-33.273870789j),
                                              (-26.100982505-9.952848858j),
                                              (52.41742359+7.302409531j)],
                                       125.0: [(-7.601993324-153.150287797j),
                                               (-81.280179005-69.100831516j),
                                               (31.851652028-29.78942094j)],
                                       160.0: [(106.029647605-68.443891782j),
                                               (-31.040862486-115.565375313j),
                                               (160.80506274+152.174678632j)]}},
 'near_cube_damped': {'room': (3.0, 3.1, 2.9),
                      'source': (0.3, 0.3, 0.3),
                      'receivers': [(1.5, 2.0, 1.2), (2.2, 0.9, 1.2)],
                      'walls': {'left': (2000.0, 0.0, 0.0),
                                'right': (3000.0, 0.0, 0.0),
                                'front': (2500.0, 0.0, 0.0),
                                'back': (1800.0, 0.0, 0.0),
                                'floor': (8000.0, 0.0, 0.0),
                                'ceiling': (1500.0, 0.0, 0.0)},
                      'impedance': {20.0: [(22.887355135-25.933184687j), (23.889775237-23.590641774j)],
                                    40.0: [(6.925270199-31.377222435j), (15.463800833-26.018537026j)],
                                    63.0: [(-14.052601278-27.280032447j), (-8.226889423-56.540667973j)],
                                    125.0: [(-67.348317609+144.074552362j),
                                            (-31.690424299+96.331974796j)],
                                    160.0: [(173.27921988+25.328302109j),
                                            (45.800474285+26.971010426j)]}},
 'studs_and_concrete': {'room': (3.6, 6.3, 2.7),
                        'source': (3.3, 0.3, 0.25),
                        'receivers': [(1.8, 4.2, 1.1), (0.9, 4.4, 1.1)],
                        'walls': {'left': (1500.0, 9.0, 1841905.0517489),
                                  'right': (41000.0, 0.0, 0.0),
                                  'front': (2200.0, 11.0, 1834759.4581625),
                                  'back': (41000.0, 0.0, 0.0),
                                  'floor': (41000.0, 0.0, 0.0),
                                  'ceiling': (1800.0, 9.0, 2273956.854011)},
                        'impedance': {20.0: [(-0.700700554-41.810693744j),
                                             (-0.898084242-46.065478658j)],
                                      40.0: [(-0.602980271+0.933829672j), (-5.991386876-13.818369058j)],
                                      63.0: [(-13.782519024+3.130651041j), (-0.518933299-1.56452872j)],
                                      125.0: [(-63.323606907-243.078155189j),
                                              (15.077939124-65.112824399j)],
                                      160.0: [(311.930473438+370.166717163j),
                                              (392.228044033+426.999939234j)]}}}

# Excerpt of ../shared/reference/fem_room_8x5x3.csv: frequency [Hz], level [dB].
FINITE_ELEMENTS = [(1.174291, 68.61224), (4.397165, 66.38834), (7.620039, 63.92621), (10.842913, 62.1308),
 (14.065787, 61.10802), (17.288661, 60.91914), (20.511535, 60.59647), (23.734409, 55.39063),
 (26.957283, 55.10045), (30.180156, 57.88321), (33.40303, 61.27922), (36.625904, 60.99021),
 (39.848778, 62.22657), (43.071652, 66.15771), (46.294526, 65.3223), (49.5174, 64.59915)]


def exact_cases():
    """(name, room, walls as (R, M, K), source, receivers, frequencies, Z (F, receivers))."""
    if not SHARED.is_dir():
        return [(name, case["room"], case["walls"], case["source"], case["receivers"],
                 list(case["impedance"]), np.array(list(case["impedance"].values())))
                for name, case in EXACT.items()]
    cases = []
    for path in sorted(SHARED.glob("*.json")):
        data = json.loads(path.read_text())
        if "room_m" not in data:  # finite elements of a room that is no rectangle: not exact
            continue
        size = data["room_m"]
        parts = np.array(data["transfer_impedance_pa_s_per_m3"])
        cases.append((data["name"], (size["width"], size["length"], size["height"]),
                      {k: (w["resistance"], w["mass"], w["stiffness"]) for k, w in data["walls"].items()},
                      data["source_m"], data["receivers_m"], data["frequency_hz"],
                      parts[..., 0] + 1j * parts[..., 1]))
    assert len(cases) >= len(EXACT), f"{SHARED} holds {len(cases)} exact cases"
    return cases


@pytest.mark.parametrize("case", exact_cases(), ids=lambda case: case[0])
def test_exact_transfer_impedance(case, tmp_path):
    _, size, walls, source, receivers, frequencies, expected = case
    sheet = {name: f"{{ resistance = {r!r}, mass = {m!r}, stiffness = {k!r} }}"
             for name, (r, m, k) in walls.items()}
    text = room_text(size, sheet, receivers, [source], frequencies)
    ours = transfer_impedance(tmp_path, "room", text)[:, :, 0]
    ratio = ours / expected
    assert np.abs(20 * np.log10(np.abs(ratio))).max() < 0.01
    assert np.abs(np.degrees(np.angle(ratio))).max() < 0.1


def test_finite_elements(tmp_path):
    path = SHARED / "fem_room_8x5x3.csv"
    table = np.array(FINITE_ELEMENTS)
    if path.exists():
        rows = [line.split(",") for line in path.read_text().splitlines() if line[:1].isdigit()]
        table = np.array(rows, dtype=float)
    table = table[(table[:, 0] >= 1) & (table[:, 0] <= 50)]
    rho, c = 1.2041, 343.9
    walls = dict.fromkeys(["left", "right", "front", "back", "floor", "ceiling"],
                          f"{{ resistance = {15 * rho * c!r} }}")
    text = room_text((8, 5, 3), walls, [(3.3, 1.6, 1.8)], [(5.3, 3.6, 1.2)], table[:, 0], (c, rho))
    z = transfer_impedance(tmp_path, "fem", text)[:, 0, 0]
    # The published source has an unknown strength, so one constant offset is free. Its level is flat
    # towards 0 Hz, as p/U is between resistive walls: it is a constant volume velocity.
    error = 20 * np.log10(np.abs(z)) - table[:, 1]
    assert (error.max() - error.min()) / 2 < 0.15


@pytest.mark.skipif(not (SHARED / "fem_L_mixed.json").exists(), reason="tests/published has an excerpt")
def test_an_l_shaped_room_by_elements(tmp_path):
    data = json.loads((SHARED / "fem_L_mixed.json").read_text())
    text = re.sub(r"(?s)\[analysis\].*", f"[analysis]\nfrequencies = {data['frequency_hz']}\n",
                  data["room_file"])
    parts = np.array(data["transfer_impedance"])
    expected = 20 * np.log10(np.abs(parts[..., 0] + 1j * parts[..., 1]))
    ours = transfer_impedance(tmp_path, "room", text, "--solver", "modal")
    error = 20 * np.log10(np.abs(ours)) - expected
    error = error[expected > np.median(expected, axis=0) - 15]  # nulls left out
    assert np.sqrt((error ** 2).mean()) < 0.1 and np.abs(error).max() < 0.5
