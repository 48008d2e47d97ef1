"""`driver`: parameters out of impedance curves that NumPy makes from a driver's mechanics.

Z = Re + jwLe + K sqrt(jw) + Bl^2/(Rms + jwMms + 1/(jwCms)): Beranek & Mellow, Acoustics, ch. 6; K: Vanderkooy,
JAES 37(3) 1989. Known volume: Small, JAES 20(5) 1972. The driver is invented.
"""
import tomllib

import numpy as np
import pytest

from runner import C, RHO, run, run_json

RE, BL, MMS, RMS, CMS, LE, K, SD = 5.6, 9.5, 0.062, 2.4, 5.2e-4, 0.9e-3, 0.04, 0.0346
BOX, MASS = 0.025, 0.030
FS = 1 / (2 * np.pi * np.sqrt(MMS * CMS))
QES, QMS = np.sqrt(MMS / CMS) * RE / BL**2, np.sqrt(MMS / CMS) / RMS
QTS = QES * QMS / (QES + QMS)
VAS = RHO * C**2 * SD**2 * CMS * 1e3
FREQUENCY = np.geomspace(8, 1500, 220)


def impedance(mms=MMS, cms=CMS, f=FREQUENCY):
    s = 2j * np.pi * f
    return RE + s * LE + K * np.sqrt(s) + BL**2 / (RMS + s * mms + 1 / (s * cms))


def in_box(volume):
    return 1 / (1 / CMS + RHO * C**2 * SD**2 / volume)


def write(path, z, f=FREQUENCY, noise=0.01, phase=True, separator=",", comma="."):
    rng = np.random.default_rng(5)
    lines = [separator.join(["frequency_hz", "impedance_ohm"] + ["phase_deg"] * phase)]
    for one, value in zip(f, z):
        row = [one, abs(value) * (1 + noise * rng.standard_normal())]
        row += [np.degrees(np.angle(value)) + 57 * noise * rng.standard_normal()] * phase
        lines.append(separator.join(f"{number:.6g}".replace(".", comma) for number in row))
    path.write_text("\n".join(lines) + "\n")
    return path


def expect_within(found, key, truth, share):
    assert found[key] == pytest.approx(truth, rel=share)
    assert found[key + "_low"] < found[key] < found[key + "_high"]
    # 90 % intervals miss one time in ten: three times as wide never, unless they are too narrow.
    half = (found[key + "_high"] - found[key + "_low"]) / 2
    assert abs(found[key] - truth) < 3 * half


@pytest.mark.parametrize("phase", [False, True])
def test_free_air(tmp_path, phase):
    found = run_json("driver", write(tmp_path / "free.csv", impedance(), phase=phase), cwd=tmp_path)
    for key, truth, share in (("fs_hz", FS, 0.005), ("qts", QTS, 0.02), ("qes", QES, 0.02), ("qms", QMS, 0.04),
                              ("re_ohm", RE, 0.02), ("le_h", LE, 0.2)):
        expect_within(found, key, truth, share)
    assert "vas_l" not in found and found["warnings"] == []


def test_vas_by_both_ways_is_the_same_and_is_pasted(tmp_path):
    free = write(tmp_path / "free.csv", impedance())
    boxed = write(tmp_path / "boxed.csv", impedance(cms=in_box(BOX)))
    weighed = write(tmp_path / "weighed.csv", impedance(mms=MMS + MASS))
    volume = ["--box", "25 L", "--boxed", boxed]
    mass = ["--mass", "30 g", "--weighed", weighed]
    by_volume = run_json("driver", free, *volume, cwd=tmp_path)
    by_mass = run_json("driver", free, *mass, "--sd", "346 cm2", cwd=tmp_path)
    both = run_json("driver", free, *volume, *mass, "--sd", "346 cm2", cwd=tmp_path)
    for found in (by_volume, by_mass, both):
        expect_within(found, "vas_l", VAS, 0.05)
        pasted = tomllib.loads(found["toml"])["driver"]
        assert float(pasted["fs"].split()[0]) == pytest.approx(FS, rel=0.005)
        room = tmp_path / "room.toml"
        room.write_text("[room]\nwidth=4\nlength=5\nheight=2.4\n[walls]\nleft='brick'\n" + found["toml"])
        assert "driver" not in run("check", room).stderr  # the walls are short of five, the driver of nothing
    expect_within(both, "mms_g", 1e3 * MMS, 0.03)
    expect_within(both, "bl_tm", BL, 0.03)
    assert both["warnings"] == []
    no_area = run_json("driver", free, *mass, cwd=tmp_path)
    assert "vas_l" not in no_area and "--sd" in no_area["warnings"][0]


def test_a_finished_box(tmp_path):
    curve = write(tmp_path / "boxed.csv", impedance(cms=in_box(0.02)))
    growth = np.sqrt(1 + VAS / 20)
    found = run_json("driver", curve, "--in-box", cwd=tmp_path)
    expect_within(found, "fc_hz", FS * growth, 0.005)
    expect_within(found, "qtc", QTS * growth, 0.02)
    wanted = "add filling" if QTS * growth > 0.73 else "take out"
    assert wanted in found["advice"]
    assert "take out" in run_json("driver", curve, "--in-box", "--qtc", "1.7", cwd=tmp_path)["advice"]


def test_tables_as_they_come(tmp_path):
    z = impedance()
    by_semicolon = write(tmp_path / "a.csv", z, separator=";", comma=",")
    assert run_json("driver", by_semicolon)["fs_hz"] == pytest.approx(FS, rel=0.005)
    order = np.random.default_rng(1).permutation(len(z))
    shuffled = write(tmp_path / "b.csv", z[order], f=FREQUENCY[order])
    found = run_json("driver", shuffled)
    assert found["fs_hz"] == pytest.approx(FS, rel=0.005) and "sorted" in found["warnings"][0]
    gap = (FREQUENCY < 60) | (FREQUENCY > 200)
    assert run_json("driver", write(tmp_path / "c.csv", z[gap], f=FREQUENCY[gap]))["qts"] == \
        pytest.approx(QTS, rel=0.03)
    few = np.array([12, 18, 23, 26, 28, 31, 36, 45, 80, 300.0])
    found = run_json("driver", write(tmp_path / "d.csv", impedance(f=few), f=few, noise=0.002))
    expect_within(found, "qts", QTS, 0.1)


@pytest.mark.parametrize("text, words", [
    ("", "empty"), ("frequency_hz,impedance_ohm\n", "no row"), ("1,2\n", "header"),
    ("frequency_hz,impedance_ohm\n10,5,4,2\n", "decimal points"), ("frequency_hz,impedance_ohm\n10,x\n", "number"),
    ("frequency_hz,impedance_ohm\n10,nan\n", "number"), ("\0\xff" * 40, "header"),
    ("frequency_hz,impedance_ohm\n10,4\n20,5\n", "points"),
    ("frequency_hz,impedance_ohm\n" + "".join(f"{f},8\n" for f in range(10, 200)), "resonance")])
def test_bad_tables_get_a_sentence(tmp_path, text, words):
    path = tmp_path / "bad.csv"
    path.write_text(text)
    done = run("driver", path)
    assert done.returncode == 2 and words in done.stderr and "bad.csv" in done.stderr
    assert done.stdout == "" and len(done.stderr.splitlines()) == 1


def test_bad_options_get_a_sentence(tmp_path):
    curve = write(tmp_path / "free.csv", impedance())
    for options, words in ((["--box", "25 L"], "--boxed"), (["--weighed", curve], "--mass"),
                           (["--box", "25 L", "--boxed", curve], "not above"),
                           (["--mass", "1 g", "--weighed", curve], "too little"),
                           (["--mass", "20 L", "--weighed", curve], "--mass"),
                           (["--in-box", "--box", "25 L", "--boxed", curve], "alone"), (["--qtc", "0.7"], "--in-box")):
        done = run("driver", curve, *options)
        assert done.returncode == 2 and words in done.stderr, done.stderr
    assert run("driver", tmp_path / "none.csv").returncode == 2
    assert run("driver", tmp_path).returncode == 2


def test_nothing_is_overwritten(tmp_path):
    curve = write(tmp_path / "impedance.csv", impedance())
    before = curve.read_bytes()
    assert run("driver", curve, "--out", tmp_path).returncode == 2
    assert curve.read_bytes() == before
    assert run("driver", curve, "--out", tmp_path / "results").returncode == 0
    assert (tmp_path / "results" / "impedance.csv").exists()
