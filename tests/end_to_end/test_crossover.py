"""Subs and main loudspeakers through the crossover, worked out again with SciPy's filters."""
import h5py
import numpy as np
import pytest
from scipy import signal

from runner import C, RHO, WALLS, room_text, run, run_json, transfer_impedance

ROOM = (4.4, 5.6, 2.5)
SEATS = [(2.0, 3.6, 1.1), (2.8, 3.9, 1.05)]
SUBS = [(0.4, 0.45, 0.22), (4.0, 5.1, 0.22)]
MAINS = [(1.1, 0.7, 0.9), (3.3, 0.7, 0.9)]
FREQUENCIES = [20, 31.5, 40, 50, 57, 63, 72, 80, 90, 100, 113, 125, 160]


def text(kind, order, mains=True, driver=""):
    lines = room_text(ROOM, WALLS, SEATS, SUBS, FREQUENCIES).replace('vas = "38 L"', 'vas = "38 L"\n' + driver)
    lines += f'[target]\nband = ["40 Hz", "130 Hz"]\n[crossover]\nfrequency = "80 Hz"\ntype = "{kind}"\norder = {order}\n'
    for number, at in enumerate(MAINS if mains else []):
        lines += f'[[main]]\nname = "main {number}"\nat = {[float(v) for v in at]}\nlow_end = "50 Hz"\n'
        lines += ('low_end_order = 4\ngain = "-2 dB"\ndelay = "3 ms"\npolarity = "-"\n' if number == 0 else
                  "high_pass = false\n")
    return lines


def filters(kind, order, f):
    """Low-pass and high-pass at f from scipy.signal; Linkwitz-Riley is a Butterworth of half the order twice."""
    half = order // 2 if kind == "linkwitz-riley" else order
    times = 2 if kind == "linkwitz-riley" else 1
    out = []
    for shape in ("low", "high"):
        b, a = signal.butter(half, 2 * np.pi * 80, shape, analog=True)
        out.append(signal.freqs(b, a, 2 * np.pi * f)[1] ** times)
    return out


@pytest.mark.parametrize("kind", ["butterworth", "linkwitz-riley"])
@pytest.mark.parametrize("order", [2, 4])
def test_sum_at_the_seats(kind, order, tmp_path):
    path = tmp_path / "room.toml"
    path.write_text(text(kind, order))
    document = run_json("listen", path, "--out", tmp_path / "out")
    said = document["crossover"]
    assert (said["type"], said["order"], said["frequency_hz"]) == (kind, order, 80)
    f = np.array(document["frequency_hz"])
    low, high = filters(kind, order, f)
    with h5py.File(tmp_path / "out" / "listen.h5") as file:
        z, u = file["transfer_impedance"][:], file["volume_velocity"][:]
    subs = np.einsum("fsq,fq->fs", z, u) * low[:, None]
    # The mains' own transfer impedances: subs standing in their places.
    z = transfer_impedance(tmp_path, "mains", room_text(ROOM, WALLS, SEATS, MAINS, FREQUENCIES))
    mains = np.zeros_like(subs)
    for number in range(2):
        own = signal.freqs(*signal.butter(4 if number == 0 else 2, 2 * np.pi * 50, "high", analog=True),
                           2 * np.pi * f)[1]
        drive = own * (10 ** (-2 / 20) * -1 * np.exp(-2j * np.pi * f * 3e-3) * high if number == 0 else 1)
        # As loud as the relative sub, which gives 20 uPa at 1 m over an endless floor: p = j w rho U/(2 pi r).
        mains += z[:, :, number] * (20e-6 * 2 * np.pi / (2j * np.pi * f * RHO) * drive)[:, None]

    def level(p):
        return 10 * np.log10(np.abs(p) ** 2 / 4e-10)

    for s, seat in enumerate(said["seats"]):
        assert np.allclose(seat["level_db"], level(subs + mains)[:, s], atol=0.01)
    for key, p in (("subs_average_db", subs), ("mains_average_db", mains), ("sum_average_db", subs + mains)):
        assert np.allclose(said[key], 10 * np.log10(np.mean(np.abs(p) ** 2, axis=1) / 4e-10), atol=0.01)
    # The advice, by trying every delay and polarity.
    near = (f >= 80 / np.sqrt(2)) & (f <= 80 * np.sqrt(2))
    x = np.log(f[near])

    def loss(delay, polarity):
        turned = subs * polarity * np.exp(-2j * np.pi * f * delay)[:, None]
        lost = 20 * np.log10((np.abs(turned) + np.abs(mains)) / np.abs(turned + mains))
        return np.trapz(np.mean(lost[near], axis=1), x) / (x[-1] - x[0])

    best = min(loss(n * 1e-4, polarity) for n in range(-150, 151) for polarity in (1, -1))
    agreement = said["agreement"]
    assert agreement["as_set"]["loss_db"] == pytest.approx(loss(0, 1), abs=0.01)
    assert agreement["best"]["loss_db"] == pytest.approx(best, abs=0.01)
    assert loss(agreement["best"]["subs_delay_ms"] * 1e-3, agreement["best"]["subs_polarity"]) == \
        pytest.approx(best, abs=0.01)
    with h5py.File(tmp_path / "out" / "listen.h5") as file:
        assert np.allclose(file["crossover/sum"][:], said["sum_average_db"], atol=1e-9)
        assert file["crossover/level"].shape == (len(f), len(SEATS))
    rows = (tmp_path / "out" / "crossover.csv").read_text().splitlines()
    assert len(rows) == len(f) + 1 and rows[0].startswith("frequency_hz,subs_average_db,mains_average_db")


def test_a_crossover_changes_nothing_else(tmp_path):
    """The subs by themselves are what they were, so that `listen`, `rank` and `plan` agree."""
    with_it, without = tmp_path / "with.toml", tmp_path / "without.toml"
    with_it.write_text(text("linkwitz-riley", 4))
    without.write_text(room_text(ROOM, WALLS, SEATS, SUBS, FREQUENCIES) + '[target]\nband = ["40 Hz", "130 Hz"]\n')
    a, b = (run_json("listen", path, "--out", tmp_path / "out") for path in (with_it, without))
    assert "crossover" not in b
    for key in ("seat_average_db", "spread_db", "unevenness_db", "balance_db"):
        assert np.allclose(a[key], b[key], atol=1e-9)


def test_low_pass_alone(tmp_path):
    path = tmp_path / "room.toml"
    path.write_text(text("butterworth", 2, mains=False))
    document = run_json("listen", path, "--out", tmp_path / "out")
    low, _ = filters("butterworth", 2, np.array(document["frequency_hz"]))
    assert np.allclose(document["crossover"]["sum_average_db"],
                       np.array(document["seat_average_db"]) + 20 * np.log10(np.abs(low)), atol=1e-6)
    assert "agreement" not in document["crossover"]


def test_sensitivity_is_the_level_in_free_air(tmp_path):
    """In a room of nearly matched walls a loudspeaker sounds as outdoors, give or take their echo."""
    walls = {name: f"{{ resistance = {RHO * C} }}" for name in WALLS}
    driver = 'qes = 0.495\nqms = 4.95\nre = "3.4 ohm"\nsd = "330 cm2"'
    lines = room_text((12.0, 12.0, 12.0), walls, [(6.0, 7.0, 6.0)], [(1.0, 1.0, 1.0)], [150, 160, 170, 180])
    lines = lines.replace('vas = "38 L"', 'vas = "38 L"\n' + driver)
    lines += '[target]\nband = ["150 Hz", "180 Hz"]\n[[main]]\nat = [6.0, 6.0, 6.0]\nsensitivity = "88 dB"\n'
    path = tmp_path / "open.toml"
    path.write_text(lines)
    said = run_json("listen", path, "--out", tmp_path / "out")["crossover"]
    # Walls of z = rho c swallow what meets them head-on; the nearest echo comes back 11 times weaker.
    assert np.mean(said["mains_average_db"]) == pytest.approx(88, abs=0.7)


def test_plan_shows_it(tmp_path):
    path = tmp_path / "room.toml"
    path.write_text(text("linkwitz-riley", 4) + '[spots]\nstep = 0.6\n')
    done = run("plan", path, "--out", tmp_path / "out", "--quiet")
    assert done.returncode == 0, done.stderr
    assert "with the main loudspeakers" in done.stdout
    page = (tmp_path / "out" / "report.html").read_text()
    assert 'id="crossing"' in page and (tmp_path / "out" / "crossover.csv").exists()


def test_the_cones_load_counts_in_the_sum(tmp_path):
    """With [analysis] cone_load the subs in the sum are the loaded ones that `listen` shows."""
    driver = 'qes = 0.495\nqms = 4.95\nre = "3.4 ohm"\nsd = "330 cm2"'
    loaded = text("butterworth", 4, mains=False, driver=driver).replace("[analysis]", "[analysis]\ncone_load = true")
    path = tmp_path / "room.toml"
    path.write_text(loaded)
    document = run_json("listen", path, "--out", tmp_path / "out")
    low, _ = filters("butterworth", 4, np.array(document["frequency_hz"]))
    assert np.allclose(document["crossover"]["sum_average_db"],
                       np.array(document["seat_average_db"]) + 20 * np.log10(np.abs(low)), atol=1e-6)
    path.write_text(loaded.replace("[crossover]\n", "[map]\n").replace('type = "butterworth"\norder = 4\n', ""))
    alone = run_json("listen", path, "--out", tmp_path / "out")
    assert "crossover" not in alone
    assert np.allclose(alone["seat_average_db"], document["seat_average_db"], atol=1e-9)
