"""Synthetic measured rooms: solved on the grid (the other solver), with furniture, other walls, other
sizes and noise that the room file does not know of. No inverse crime: `fit` solves by modes.

The room file's walls are names; the truth draws their resistance within a factor of two either way
(the spread of published tables), sides and places within a tape's error, and puts a wardrobe or a sofa
in as a block.
"""
import numpy as np

from runner import run_json

NAMES = {"left": "brick, plastered", "right": "timber frame, plastered", "front": "brick, plastered",
         "back": "timber frame, plastered", "floor": "wood floor on joists", "ceiling": "timber frame, plastered"}
BAND = ["20 Hz", "120 Hz"]


STRIPS = {"window": "window glass, double", "door": "solid door"}


def strips_of(seed, size):
    """A window in the right wall and a door in the front one: (from, to) along them [m], from floor to ceiling,
    as a floor plan can have them."""
    rng = np.random.default_rng(2000 + seed)
    window, door = rng.uniform(1.0, 2.0), rng.uniform(0.7, 0.9)
    window_at, door_at = rng.uniform(0.3, size[1] - 0.3 - window), rng.uniform(0.3, size[0] - 0.3 - door)
    return {"window": (window_at, window_at + window), "door": (door_at, door_at + door)}


def room_of(size, walls, strips):
    """[room] and [walls] with the strips where they are: a floor plan round from the front left corner."""
    x, y, z = map(float, size)
    (d0, d1), (w0, w1) = strips["door"], strips["window"]
    corners = [(0, 0), (d0, 0), (d1, 0), (x, 0), (x, w0), (x, w1), (x, y), (0, y)]
    edges = ["front", "door", "front", "right", "window", "right", "back", "left"]
    return ["[room]", f"floor_plan = {[[round(float(a), 4), round(float(b), 4)] for a, b in corners]}",
            f"height = {z:.4f}", "[walls]", *(f"edge_{n + 1} = {walls[edge]}" for n, edge in enumerate(edges)),
            f"floor = {walls['floor']}", f"ceiling = {walls['ceiling']}"]


def text_of(size, walls, seats, subs, furniture=(), recordings=(), top=125, strips=None, air=None):
    lines = ["[room]", *(f"{k} = {v:.4f}" for k, v in zip(("width", "length", "height"), size)), "[walls]",
             *(f"{k} = {v}" for k, v in walls.items())] if strips is None else room_of(size, walls, strips)
    for n, (low, high) in enumerate(furniture):
        lines += ["[[block]]", f'name = "furniture {n}"', f"from = {list(map(float, low))}",
                  f"to = {list(map(float, high))}", "surface = { absorption = 0.1 }"]
    lines += ["[air]", f"speed_of_sound = {343.2 * ((273.15 + air) / 293.15) ** 0.5:.3f}"] if air is not None else []
    lines += ["[driver]", "fs = 27", "qts = 0.45", 'vas = "38 L"', "[box]", 'volume = "25 L"']
    for name, places in (("seat", seats), ("sub", subs)):
        for n, at in enumerate(places):
            lines += [f"[[{name}]]", f'name = "{name} {n}"', f"at = {[round(float(v), 4) for v in at]}"]
    for seat, sub, curve in recordings:
        lines += ["[[recording]]", f'seat = "seat {seat}"', f'sub = "sub {sub}"', f'curve = "{curve}"']
    lines += ["[target]", f"band = {BAND}", "[analysis]", f'band = ["17 Hz", "{top} Hz"]', "per_octave = 48",
              "[spots]", 'step = "0.5 m"', "[robustness]", "draws = 10"]
    return "\n".join(lines) + "\n"


def any_piece(seed, size, kept_free):
    """A cupboard, a low board or a sofa by any wall but the front one, 30 cm clear of seats and boxes."""
    rng = np.random.default_rng(1000 + seed)
    while True:
        wide, deep, high = rng.uniform(0.8, 2.2), rng.uniform(0.35, 0.9), rng.uniform(0.6, 2.2)
        wall = rng.choice(["back", "left", "right"])
        across = 0 if wall == "back" else 1
        start = rng.uniform(0.1, size[across] - 0.1 - wide)
        low, high = np.zeros(3), np.array([wide, deep, high] if wall == "back" else [deep, wide, high])
        low[across] = start
        if wall != "left":
            low[1 - across] = size[1 - across] - deep
        high = high + low
        if all(np.any((at < low - 0.3) | (at > high + 0.3)) for at in kept_free):
            return low, high


def synthetic(folder, seed, subs=1, seats=5, furniture=True, known=False, varied=False, later=None):
    """Path of a room file with recordings, and the truth behind them; `known`: its file has the furniture;
    `varied`: any piece of furniture instead of a wardrobe of 1.2 x 0.6 x 2.0 m, a window and a door where they
    are, air up to 4 degrees off, and sides that are 1 % off instead of 2 cm, of which the file knows; `later`: the
    curves have phases, of each sub so much later [s] and with this sign."""
    rng = np.random.default_rng(seed)
    size = np.array([rng.uniform(3.4, 4.6), rng.uniform(4.4, 5.6), rng.uniform(2.3, 2.6)])
    places = [np.array([x, y, 1.1]) * [size[0], size[1], 1] for x, y in
              [(0.3, 0.65), (0.5, 0.65), (0.7, 0.65), (0.4, 0.85), (0.75, 0.85), (0.25, 0.45)][:seats]]
    stands = [np.array([0.35, 0.4, 0.25]), np.array([size[0] - 0.35, 0.4, 0.25])][:subs]
    first = folder / "first.toml"
    walls = {k: f'"{v}"' for k, v in NAMES.items()}
    first.write_text(text_of(size, walls, places, stands))
    # The branches behind the names are not told; as true walls stand their absorptions, drawn anew.
    table = {"brick, plastered": 0.02, "timber frame, plastered": 0.15, "wood floor on joists": 0.15,
             "window glass, double": 0.1, "solid door": 0.1}
    true_walls = {k: f"{{ absorption = {table[v] * 2 ** rng.uniform(-1, 1):.4f} }}"
                  for k, v in {**NAMES, **(STRIPS if varied else {})}.items()}
    strips = strips_of(seed, size) if varied else None
    air = 20 + np.random.default_rng(3000 + seed).uniform(-4, 4) if varied else None
    if varied:
        for wall, strip in (("right", "window"), ("front", "door")):
            area = (strips[strip][1] - strips[strip][0]) * size[2]
            walls[wall] = f'["{NAMES[wall]}", {{ made_of = "{STRIPS[strip]}", area = "{area:.2f} m2" }}]'
    true_size = size + rng.uniform(-0.02, 0.02, 3) * (size / 2 if varied else 1)
    true_seats = [p + rng.uniform(-0.02, 0.02, 3) for p in places]
    true_subs = [p + rng.uniform(-0.02, 0.02, 3) for p in stands]
    blocks = []
    if furniture and varied:
        blocks.append(any_piece(seed, true_size, true_seats + true_subs))
    elif furniture:
        x = rng.uniform(0.5, true_size[0] - 1.7)
        blocks.append(((x, true_size[1] - 0.6, 0), (x + 1.2, true_size[1], 2.0)))
    truth = folder / "truth.toml"
    recordings = []
    for sub in range(subs):
        truth.write_text(text_of(true_size, true_walls, true_seats, [true_subs[sub]], blocks, top=140, strips=strips, air=air))
        heard = run_json("listen", truth, "--solver", "grid", "--out", folder / f"truth{sub}", "--quiet")
        for seat in range(seats):
            level = np.array(heard["seats"][seat]["level_db"]) + rng.uniform(-10, 10)
            level += 0.3 * rng.standard_normal(len(level))
            name = f"{seat}{sub}.csv"
            columns = [heard["frequency_hz"], level]
            if later is not None:
                delay, sign = later[sub]
                columns.append(np.array(heard["seats"][seat]["phase_deg"]) - 360 * delay * np.array(columns[0])
                               + (180 if sign < 0 else 0) + 3 * rng.standard_normal(len(level)))
            (folder / name).write_text("frequency_hz,level_db" + ",phase_deg" * (later is not None) + "\n" + "".join(
                ",".join(f"{v:.5f}" for v in row) + "\n" for row in zip(*columns)))
            recordings.append((seat, sub, name))
    path = folder / "room.toml"
    text = text_of(size, walls, places, stands, blocks if known else (), recordings)
    path.write_text(text + 'room = "4 cm"\n' if varied else text)
    return path
