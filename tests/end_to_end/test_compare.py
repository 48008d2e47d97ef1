"""`compare`: saved answers and room files beside each other, by hand from what `listen` and `plan` give."""
import csv

import h5py
import numpy as np
import pytest

from runner import DEMO, run, run_json


@pytest.fixture(scope="module")
def two(tmp_path_factory):
    folder = tmp_path_factory.mktemp("two")
    other = folder / "other.toml"
    text = DEMO.read_text()
    assert text.count('volume = "25 L"') == 1
    other.write_text(text.replace('volume = "25 L"', 'volume = "13 L"'))
    heard = [run_json("listen", file, "--out", folder / name) for file, name in ((DEMO, "a"), (other, "b"))]
    return folder, other, heard


def test_two_answers(two):
    folder, other, (first, second) = two
    out = folder / "compared"
    c = run_json("compare", folder / "a" / "listen.h5", folder / "b" / "listen.h5", "--out", out)
    wanted = np.array(second["seat_average_db"]) - first["seat_average_db"]
    assert np.allclose(c["difference_db"], wanted, atol=1e-9)
    for key in ("spread_db", "balance_db", "reach_hz"):
        assert (c["first"][key], c["second"][key]) == (first[key], second[key])
    assert c["in_files"] == [{"key": "box.volume", "first": "25 L", "second": "13 L"}]
    page = (out / "compare.html").read_text()
    assert c["in_words"] in page and "box.volume" in page and "http://" not in page.replace("http://www.w3.org", "")
    with open(out / "compare.csv", newline="") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) == len(wanted)
    said = run("compare", folder / "a" / "listen.h5", folder / "b" / "listen.h5").stdout
    assert "box.volume: 25 L -> 13 L" in said


def test_room_files_are_listened_to(two):
    folder, other, _ = two
    files = run_json("compare", DEMO, other)
    saved = run_json("compare", folder / "a" / "listen.h5", folder / "b" / "listen.h5")
    assert np.allclose(files["difference_db"], saved["difference_db"], atol=1e-9)


def test_a_plan_beside_what_is_placed(two):
    folder, _, (first, _) = two
    run_json("plan", DEMO, "--out", folder / "plan")
    with h5py.File(folder / "plan" / "plan.h5") as file:
        spread, average = file["at_build/criteria/spread"][()], file["at_build/seat_average"][:]
    c = run_json("compare", folder / "a" / "listen.h5", folder / "plan" / "plan.h5")
    assert c["first"]["spread_db"] == first["spread_db"]
    assert c["second"]["spread_db"] == spread
    assert np.allclose(c["second"]["seat_average_db"], average, atol=1e-9)
    assert c["in_files"] == []


def test_what_cannot_be_compared(tmp_path):
    bad = tmp_path / "rank.h5"
    bad.write_bytes(b"no HDF5")
    for second, word in ((tmp_path / "none.h5", "no such file"), (bad, "not written by boxroom"), (tmp_path / "none.toml", "none.toml")):
        done = run("compare", DEMO, second)
        assert done.returncode == 2 and word in done.stderr and done.stderr.count("\n") == 1, done.stderr
